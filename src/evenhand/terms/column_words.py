"""What the tables a workplace hands over, and their columns, are called in sentences."""

from __future__ import annotations

from evenhand.terms.languages import Sentence, sentence, told

__all__ = ["TABLE_WORDS", "column_in_words"]

TABLE_WORDS = (
    sentence("people"),
    sentence("readers"),
    sentence("enrolments"),
    sentence("punches"),
    sentence("schedules"),
    sentence("consent"),
    sentence("rates"),
    sentence("earnings"),
)
"""The tables by their names, which are words."""
COLUMN_WORDS = (
    sentence("address"),
    sentence("amount"),
    sentence("at"),
    sentence("capacity"),
    sentence("covers hours"),
    sentence("department"),
    sentence("direction"),
    sentence("earned from"),
    sentence("earned to"),
    sentence("ends at"),
    sentence("enrolled on"),
    sentence("floor"),
    sentence("form"),
    sentence("given on"),
    sentence("hired on"),
    sentence("hourly rate"),
    sentence("is supervisor"),
    sentence("kind"),
    sentence("label"),
    sentence("left on"),
    sentence("max digits"),
    sentence("name"),
    sentence("number"),
    sentence("outcome"),
    sentence("person"),
    sentence("phone"),
    sentence("place"),
    sentence("plan"),
    sentence("presentations"),
    sentence("reader"),
    sentence("salary for"),
    sentence("score"),
    sentence("site"),
    sentence("starts at"),
    sentence("supervisor"),
    sentence("time"),
    sentence("units"),
    sentence("valid from"),
    sentence("valid to"),
    sentence("withdrawn on"),
    sentence("zone"),
)
"""The columns of these tables as they are said."""


def column_in_words(name: str) -> Sentence:
    """Return what a declared column is called in sentences; raises KeyError for one that is none of these tables'."""
    word = name.replace("_", " ")
    if word not in COLUMN_WORDS:
        raise KeyError(name)
    return told(word)
