"""The tables of supervision: who may enrol others at each reader, proved by what, and who would take over."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table
from evenhand.terms.languages import sentence

__all__ = [
    "OWN_DECISIONS",
    "PROOF_DAYS",
    "STANDING_IN_WORDS",
    "STANDING_STATES",
    "SUCCESSORS",
    "SUPERVISION",
    "UNCOVERED",
]

_INSTANT = "s since 1970-01-01T00:00:00Z"

PROOF_DAYS = 42
"""A proof that is older is told as old: six weeks outlast a holiday. Common practice, no source."""

STANDING_STATES = ("proved", "old")
"""The states in which somebody stands at a reader as a supervisor who can come."""

STANDING_IN_WORDS = {
    "proved": sentence("proved"),
    "old": sentence("proved long ago"),
    "unproved": sentence("not proved yet"),
    "roster": sentence("no supervisor on the roster"),
    "withdrew": sentence("hand not to be held"),
    "left": sentence("has left"),
    "number": sentence("not one person's number"),
}
"""Each state as lists show it."""

SUPERVISION = Table(
    "supervision",
    "Who may enrol others at each reader, and what proves that they can",
    (
        Column("reader", "text", "The reader", required=True),
        Column("number", "text", "The number enrolled with authority", required=True),
        Column("person", "text", "Whose number it is; empty where nobody or several people hold it"),
        Column("name", "text", "The person's name, else the name on the reader's list"),
        Column("told_by", "text", "What tells of the authority", required=True, allowed=("list", "round")),
        Column("since", "date", "The day of the enrolment as supervisor there; empty where it is not told"),
        Column("proved_at", "instant", "The last punch of theirs there since that enrolment", unit=_INSTANT),
        Column("leaves_on", "date", "Their last day, where it is told and near or over"),
        Column(
            "state",
            "text",
            "proved, proved long ago (old), not proved yet, or why they do not count: no supervisor on the roster, a "
            "hand given up (withdrew), left, or a number that is not one person's (number)",
            required=True,
            allowed=(*STANDING_STATES, "unproved", "roster", "withdrew", "left", "number"),
        ),
    ),
    key=("reader", "number"),
)

UNCOVERED = Table(
    "uncovered",
    "How far a reader's supervisors are there when the others who use it are",
    (
        Column("reader", "text", "The reader", required=True),
        Column("shifts", "count", "Shifts of the others who are enrolled there", required=True),
        Column("alone", "count", "Shifts among them that no supervisor's shift touches", required=True),
        Column("days", "count", "Days on which at least half as many others came there as usual", required=True),
        Column("absent", "count", "Days among them on which no supervisor punched anywhere", required=True),
    ),
    key=("reader",),
)

OWN_DECISIONS = Table(
    "own_decisions",
    "What somebody decided about their own hours or their own hand",
    (
        Column("kind", "text", "What", required=True, allowed=("correction", "hours_owed", "enrolment")),
        Column("decision", "text", "Its number, or the item of the round", required=True),
        Column("person", "text", "Who decided, and about whom", required=True),
        Column("author", "text", "The name it was decided under", required=True),
        Column("reader", "text", "At which reader, for an enrolment"),
        Column("at", "instant", "When it was decided", required=True, unit=_INSTANT),
    ),
)

SUCCESSORS = Table(
    "successors",
    "Who could stand at a reader in somebody's place, the likeliest first",
    (
        Column("reader", "text", "The reader", required=True),
        Column("person", "text", "Who could", required=True),
        Column("name", "text", "The person's name", required=True),
        Column("number", "text", "The number", required=True),
        Column("is_supervisor", "yes_no", "Whether the roster names them a supervisor", required=True),
        Column("is_enrolled", "yes_no", "Whether the reader holds their hand", required=True),
        Column("presentations", "count", "Accepted there in the last four weeks", required=True),
        Column(
            "shifts",
            "count",
            "Their shifts of the last four weeks that no remaining supervisor's touches",
            required=True,
        ),
    ),
    key=("reader", "person"),
)
