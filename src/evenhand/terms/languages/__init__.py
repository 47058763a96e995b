"""Languages: catalogues of what is said, a subject each, and sentences that are told in their reader's language."""

from evenhand.terms.languages.catalogues import LANGUAGES, MEANT, NAMES, Words, language_among, read_words, sentence
from evenhand.terms.languages.rows import in_a_row
from evenhand.terms.languages.telling import (
    ENGLISH,
    DaySpan,
    Moment,
    Sentence,
    Speech,
    filled,
    is_bare,
    pattern_of,
    said_of,
    told,
)

__all__ = [
    "ENGLISH",
    "LANGUAGES",
    "MEANT",
    "NAMES",
    "DaySpan",
    "Moment",
    "Sentence",
    "Speech",
    "Words",
    "filled",
    "in_a_row",
    "is_bare",
    "language_among",
    "pattern_of",
    "read_words",
    "said_of",
    "sentence",
    "told",
]
