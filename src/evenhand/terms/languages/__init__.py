"""Languages: catalogues of what is said, a subject each, and sentences that are told in their reader's language."""

from evenhand.terms.languages.catalogues import LANGUAGES, MEANT, NAMES, Words, language_among, read_words, sentence
from evenhand.terms.languages.patterns import filled, form_of, is_bare, pattern_of, unnamed
from evenhand.terms.languages.rows import in_a_row
from evenhand.terms.languages.telling import ENGLISH, OF_FILE, Sentence, Speech, clock_told, of_file, said_of, told
from evenhand.terms.languages.writing import DaySpan, Moment

__all__ = [
    "ENGLISH",
    "LANGUAGES",
    "MEANT",
    "NAMES",
    "OF_FILE",
    "DaySpan",
    "Moment",
    "Sentence",
    "Speech",
    "Words",
    "clock_told",
    "filled",
    "form_of",
    "in_a_row",
    "is_bare",
    "language_among",
    "of_file",
    "pattern_of",
    "read_words",
    "said_of",
    "sentence",
    "told",
    "unnamed",
]
