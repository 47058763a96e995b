"""The tables of who agreed to which hours, who said that something is wrong, and what was answered."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table
from evenhand.terms.languages import sentence

__all__ = [
    "DISPUTED_IN_WORDS",
    "DISPUTED_KINDS",
    "DISPUTES",
    "DISPUTE_ANSWERS",
    "DISPUTE_OUTCOMES",
    "OPEN_DISPUTES",
    "SIGNOFFS",
    "STATEMENT_CODES",
    "UNAPPROVED",
    "UNDONE_SIGNOFFS",
]

INSTANT = "s since 1970-01-01T00:00:00Z"
WAYS = ("paper", "reader", "desk")
DISPUTED_KINDS = ("day", "punch", "premium", "pay", "enrolment", "release", "other")
DISPUTED_IN_WORDS = {
    "day": sentence("day"),
    "punch": sentence("punch"),
    "premium": sentence("premium"),
    "pay": sentence("pay"),
    "enrolment": sentence("enrolment"),
    "release": sentence("release"),
    "other": sentence("other"),
}
DISPUTE_OUTCOMES = ("accepted", "rejected", "withdrawn", "extended")

STATEMENT_CODES = Table(
    "statement_codes",
    "The codes printed on statements, by which whoever holds the paper agrees to the hours on it or disputes them",
    (
        Column("issue", "count", "Running number", required=True),
        Column("code", "text", "The code, as printed", required=True),
        Column("person", "text", "Whose statement it is", required=True),
        Column("first_day", "date", "First day of the pay period", required=True),
        Column("last_day", "date", "Last day of the pay period", required=True),
        Column("digest", "text", "SHA-256 of the hours printed", required=True),
        Column("made_at", "instant", "When it was first printed", required=True, unit=INSTANT),
    ),
    key=("issue",),
)

SIGNOFFS = Table(
    "signoffs",
    "Hours of a pay period that the person confirmed or a supervisor approved, bound to these very hours",
    (
        Column("signoff", "count", "Running number", required=True),
        Column(
            "action",
            "text",
            "The person confirms, a supervisor approves, or either is taken back",
            required=True,
            allowed=("confirm", "approve", "withdraw"),
        ),
        Column("person", "text", "Whose hours", required=True),
        Column("first_day", "date", "First day of the pay period", required=True),
        Column("last_day", "date", "Last day of the pay period", required=True),
        Column("digest", "text", "SHA-256 of the hours signed", required=True),
        Column("hours", "text", "The hours signed, by day and item in seconds, as JSON", required=True),
        Column("supervisor", "text", "Who approved, by the roster's identifier; empty where the person confirmed"),
        Column("way", "text", "Keyed back from paper, at a reader's page, or at the desk", required=True, allowed=WAYS),
        Column("withdraws", "count", "The sign-off that it takes back"),
        Column("author", "text", "Who entered it; the person, where they did so themselves", required=True),
        Column("reason", "text", "Why it is taken back; empty otherwise"),
        Column("made_at", "instant", "When", required=True, unit=INSTANT),
    ),
    key=("signoff",),
)

DISPUTES = Table(
    "disputes",
    "What a person says is wrong in their own record",
    (
        Column("dispute", "count", "Running number", required=True),
        Column("person", "text", "Whose record", required=True),
        Column("kind", "text", "What is disputed", required=True, allowed=DISPUTED_KINDS),
        Column("day", "date", "The day it is about, where it is one"),
        Column("line", "text", "The line as the person points at it: a punch, a premium, a reader, a form"),
        Column("says", "text", "What it should say, and how the person knows", required=True),
        Column("way", "text", "On paper, at a reader's page, or at the desk", required=True, allowed=WAYS),
        Column("answer_by", "date", "The day by which to answer", required=True),
        Column("rule", "text", "What sets that day, and the last one that it allows", required=True),
        Column("author", "text", "Who entered it; the person, where they did so themselves", required=True),
        Column("made_at", "instant", "When", required=True, unit=INSTANT),
    ),
    key=("dispute",),
)

DISPUTE_ANSWERS = Table(
    "dispute_answers",
    "What was answered to a dispute; the last word counts",
    (
        Column("answer", "count", "Running number", required=True),
        Column("dispute", "count", "To which dispute", required=True),
        Column(
            "outcome",
            "text",
            "The person is right, is not, has taken it back, or the time to answer is extended",
            required=True,
            allowed=DISPUTE_OUTCOMES,
        ),
        Column("correction", "count", "The correction that mends it"),
        Column("decision", "count", "The decision about hours owed that mends it"),
        Column("reason", "text", "Why, in words for the person", required=True),
        Column("answer_by", "date", "The day by which to answer from then on, where it is extended"),
        Column("author", "text", "Who answered", required=True),
        Column("made_at", "instant", "When", required=True, unit=INSTANT),
    ),
    key=("answer",),
)

OPEN_DISPUTES = Table(
    "open_disputes",
    "Disputes that wait for an answer",
    (
        *(column for column in DISPUTES.columns if column.name not in ("way", "author")),
        Column("is_extended", "yes_no", "Whether the time to answer was extended", required=True),
    ),
    key=("dispute",),
)

UNAPPROVED = Table(
    "unapproved",
    "Whose hours of the period no supervisor has approved as they are, where the settings want it",
    (
        Column("person", "text", "Whose hours", required=True),
        Column("supervisors", "text", "Who may approve them, identifiers with a space between", required=True),
    ),
    key=("person",),
)

UNDONE_SIGNOFFS = Table(
    "undone_signoffs",
    "Sign-offs of hours that have changed since",
    (
        Column("signoff", "count", "The sign-off", required=True),
        Column("action", "text", "Confirmed or approved", required=True, allowed=("confirm", "approve")),
        Column("person", "text", "Whose hours", required=True),
        Column("first_day", "date", "First day of the pay period", required=True),
        Column("last_day", "date", "Last day of the pay period", required=True),
        Column("supervisor", "text", "Who approved"),
        Column("made_at", "instant", "When it was signed", required=True, unit=INSTANT),
        Column("differs", "text", "What differs, in words", required=True),
        Column("seconds", "seconds", "By how much the days differ, added up", required=True, unit="s"),
    ),
    key=("signoff",),
)
