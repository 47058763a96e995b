"""The tables of teaching: who practised when and what went well, and what became of the work of those who enrol."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table

__all__ = ["PRACTICES"]

_INSTANT = "s since 1970-01-01T00:00:00Z"

PRACTICES = Table(
    "practices",
    "Who played the round to practise on, and which parts went well; never changed, a row can be taken back by another",
    (
        Column("practice", "count", "Its running number", required=True),
        Column("person", "text", "Who practised", required=True),
        Column("code", "text", "The result as the phone showed it", required=True),
        Column("day", "date", "On which day, by the phone's clock", required=True),
        Column("edition", "count", "Of which edition of the round", required=True),
        Column("well", "text", "The themes that went well, with spaces between; empty where none did", required=True),
        Column("not_well", "text", "The others, with spaces between; empty where all went well", required=True),
        Column("way", "text", "How it came", required=True, allowed=("phone", "code")),
        Column("takes_back", "count", "The row that this one takes back; empty for a practice"),
        Column("author", "text", "Who sent or keyed it", required=True),
        Column("made_at", "instant", "When it came", required=True, unit=_INSTANT),
    ),
    key=("practice",),
)
