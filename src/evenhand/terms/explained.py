"""The words of the trade and of the standards that pages use, each in a plain sentence or two, with where it is from.

The meanings are told in our own words. What ISO/IEC 2382-37 and 19795-1 say stands here from memory of the standards.
"""

from __future__ import annotations

from typing import NamedTuple

from evenhand.terms.languages import sentence

__all__ = ["GLOSSARY_WORDS", "Explained"]

VOCABULARY, TESTING = "ISO/IEC 2382-37", "ISO/IEC 19795-1"
PRACTICE = sentence("common practice, no source")


class Explained(NamedTuple):
    """A word, what it means, its source, and the name of its place on the page."""

    key: str
    word: str
    means: str
    source: str


GLOSSARY_WORDS = (
    Explained(
        "bits",
        sentence("bits of evidence"),
        sentence("How strongly a fact speaks for somebody or against them: one bit more doubles the odds."),
        "Fellegi, Sunter (1969)",
    ),
    Explained(
        "score",
        sentence("dissimilarity score"),
        sentence("How far a hand lay from what the reader keeps of it, as the reader says. Lower is closer."),
        VOCABULARY,
    ),
    Explained(
        "enrolment",
        sentence("enrolment"),
        sentence("Laying a hand down under a number, so that a reader keeps what it will be compared with."),
        VOCABULARY,
    ),
    Explained(
        "acquiring",
        sentence("failure to acquire"),
        sentence(
            "A hand was laid down and the reader could not use it, so nothing was compared. The rate is its share."
        ),
        TESTING,
    ),
    Explained(
        "false-match",
        sentence("false match rate"),
        sentence("Of the comparisons with another's hand, the share that the reader would take for the same hand."),
        TESTING,
    ),
    Explained(
        "false-non-match",
        sentence("false non-match rate"),
        sentence("Of the comparisons of a hand with itself, the share that the reader would take for another's hand."),
        TESTING,
    ),
    Explained(
        "mated",
        sentence("mated, non-mated comparison"),
        sentence(
            "Mated: a hand was compared with what is kept of the same hand. Non-mated: with what is kept of another."
        ),
        VOCABULARY,
    ),
    Explained(
        "platen",
        sentence("platen"),
        sentence("The surface of a reader on which a hand is laid, with posts between which the fingers go."),
        PRACTICE,
    ),
    Explained(
        "presentation",
        sentence("presentation"),
        sentence("One hand laid down at a reader after a number was keyed, whatever the reader answered."),
        VOCABULARY,
    ),
    Explained(
        "rounding",
        sentence("rounding"),
        sentence("Moving the time of a punch to the nearest step, such as a quarter of an hour, before it is paid."),
        "29 CFR 785.48(b)",
    ),
    Explained(
        "stray",
        sentence("stray"),
        sentence("Punches under one number at one reader of which it is not known, or doubted, whose they are."),
        PRACTICE,
    ),
    Explained(
        "threshold",
        sentence("threshold"),
        sentence(
            "The highest score that a reader accepts. A higher one refuses fewer people and lets more wrong hands pass."
        ),
        VOCABULARY,
    ),
    Explained(
        "workweek",
        sentence("workweek"),
        sentence("Seven days in a row that begin on the same day and hour each week, by which overtime is counted."),
        "29 CFR 778.105",
    ),
)
"""Each word once."""
