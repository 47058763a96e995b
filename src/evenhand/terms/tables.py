"""The tables that pass from one room to the next."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table
from evenhand.terms.sources import PUNCHES

__all__ = [
    "ATTRIBUTED",
    "CORRECTIONS",
    "DISCREPANCIES",
    "EXPLANATIONS",
    "GAPS",
    "GIVEN",
    "NUMBER_DOUBTS",
    "OVERTAKEN_ATTRIBUTIONS",
    "PREMIUM_DECISIONS",
    "PUNCH_SHIFT",
    "READER_STEPS",
    "RECORDED",
    "REJECTED_ATTRIBUTIONS",
    "REJECTS",
    "SEEN",
]

PUNCH_SHIFT = 32
"""The number of a stored punch holds its take above these bits and its line below them."""

REJECTS = Table(
    "rejects",
    "Rows of a file that were not taken, each with its place and its reason",
    (
        Column("line", "count", "The line of the file, from 1; the row of a sheet", required=True),
        Column("column", "text", "The file's own header, or the column's position", required=True),
        Column("seen", "text", "What stood there"),
        Column("reason", "text", "What is wrong and what to do, in one sentence", required=True),
        Column("text", "text", "The whole line as it stands in the file; the cells of a sheet's row, parted by tabs"),
    ),
    key=("line",),
)

RECORDED = Table(
    "recorded",
    "Punches as stored: the file's row, never changed, under a number of its own",
    (
        Column("punch", "count", "The stored punch: the taking it came with and its line", required=True),
        *PUNCHES.columns,
    ),
    key=("punch",),
)

SEEN = Table(
    "seen",
    "Presentations counted by reader and number, whoever's they are",
    (
        Column("reader", "text", "At which reader", required=True),
        Column("number", "text", "The number keyed", required=True),
        Column("presentations", "count", "How often a hand was laid down", required=True),
        Column("punches", "count", "How many of them were accepted", required=True),
        Column("first_at", "instant", "The first that was accepted", unit="s since 1970-01-01T00:00:00Z"),
        Column("last_at", "instant", "The last that was accepted", unit="s since 1970-01-01T00:00:00Z"),
    ),
    key=("reader", "number"),
)

# ---- what people decide afterwards

CORRECTIONS = Table(
    "corrections",
    "Corrections: rows beside the punches, never in place of them",
    (
        Column("correction", "count", "Running number", required=True),
        Column(
            "action",
            "text",
            "add a punch, leave one out, say which way it went, say whose it is, or take a correction back",
            required=True,
            allowed=("add", "leave_out", "direct", "attribute", "withdraw"),
        ),
        Column("punch", "count", "The punch it is about, negative for an added one; empty when one is added"),
        Column("person", "text", "Whose hours change", required=True),
        Column("at", "instant", "When the added punch happened", unit="s since 1970-01-01T00:00:00Z"),
        Column("direction", "text", "The direction added or said", allowed=("in", "out")),
        Column("author", "text", "Who made the correction", required=True),
        Column("reason", "text", "Why", required=True),
        Column("made_at", "instant", "When it was made", required=True, unit="s since 1970-01-01T00:00:00Z"),
        Column("withdraws", "count", "The correction that it takes back, which may be one that took another back"),
        Column("holder", "text", "Whose number it was when the punch was attributed: '' nobody's, empty not known"),
    ),
    key=("correction",),
)

REJECTED_ATTRIBUTIONS = Table(
    "rejected_attributions",
    "Whose the punches under a number at a reader are not, as somebody said; the last word on each counts",
    (
        Column("rejection", "count", "Running number", required=True),
        Column("reader", "text", "The reader", required=True),
        Column("number", "text", "The number keyed", required=True),
        Column("person", "text", "Whose they are not", required=True),
        Column("is_withdrawn", "yes_no", "Whether this takes an earlier rejection back", required=True),
        Column("author", "text", "Who said so", required=True),
        Column("reason", "text", "Why", required=True),
        Column("made_at", "instant", "When", required=True, unit="s since 1970-01-01T00:00:00Z"),
    ),
    key=("rejection",),
)

PREMIUM_DECISIONS = Table(
    "premium_decisions",
    "What somebody said of hours of pay owed beside time worked; the last word on each person, workday and kind counts",
    (
        Column("decision", "count", "Running number", required=True),
        Column("person", "text", "To whom they are owed or not", required=True),
        Column("workday", "date", "The civil date on which the workday begins", required=True),
        Column(
            "kind",
            "text",
            "What they are owed for",
            required=True,
            allowed=("meal", "rest", "split_shift", "reporting", "call_back"),
        ),
        Column(
            "action",
            "text",
            "strike what the record presumes, owe so many hours in its place, or presume what it says again",
            required=True,
            allowed=("strike", "owe", "presume"),
        ),
        Column("hours", "money", "Hours of pay owed; empty where none are entered", minimum=0, unit="h"),
        Column("author", "text", "Who decided", required=True),
        Column("reason", "text", "Why", required=True),
        Column("made_at", "instant", "When", required=True, unit="s since 1970-01-01T00:00:00Z"),
    ),
    key=("decision",),
)

OVERTAKEN_ATTRIBUTIONS = Table(
    "overtaken_attributions",
    "Punches given to somebody by hand whose number the roster has since given to somebody else",
    (
        Column("punch", "count", "The punch", required=True),
        Column("reader", "text", "The reader", required=True),
        Column("number", "text", "The number keyed", required=True),
        Column("at", "instant", "When", required=True, unit="s since 1970-01-01T00:00:00Z"),
        Column("direction", "text", "Which way, where it is known", allowed=("in", "out")),
        Column("correction", "count", "The correction that gave it away", required=True),
        Column("person", "text", "To whom it was given", required=True),
        Column("holder", "text", "Whose number it is by the roster now", required=True),
        Column("author", "text", "Who gave it", required=True),
        Column("reason", "text", "Why", required=True),
        Column("made_at", "instant", "When it was given", required=True, unit="s since 1970-01-01T00:00:00Z"),
    ),
    key=("punch",),
)

NUMBER_DOUBTS = Table(
    "number_doubts",
    "Days on which a number counts as its earlier holder's and may have been the later one's already",
    (
        Column("number", "text", "The number", required=True),
        Column("person", "text", "Whose it counts as", required=True),
        Column("later", "text", "Who has it since", required=True),
        Column("first_on", "date", "The first of these days; empty where it reaches back to the beginning"),
        Column("last_on", "date", "The last", required=True),
        Column("take", "count", "The taking of the roster that gave it to the later one", required=True),
    ),
    key=("number", "person", "later"),
)

# ---- what is known of the files taken

ATTRIBUTED = Table(
    "attributed",
    "Accepted punches and whose each is, corrections applied: what hours are computed from, by person and time",
    (
        Column("punch", "count", "The stored punch; negative for one that a correction added", required=True),
        Column("person", "text", "Whose punch it is", required=True),
        Column("reader", "text", "The reader; empty for one that a correction added"),
        Column("zone", "text", "The zone of the reader's clock", required=True),
        Column("at", "instant", "When", required=True, unit="s since 1970-01-01T00:00:00Z"),
        Column("direction", "text", "Which way, where it is known", allowed=("in", "out")),
    ),
    key=("punch",),
)

DISCREPANCIES = Table(
    "discrepancies",
    "Where roster, readers' enrolments and punches disagree",
    (
        Column(
            "kind",
            "text",
            "What disagrees",
            required=True,
            allowed=(
                "not_enrolled",
                "wrong_number",
                "shared_number",
                "leaver_enrolled",
                "unknown_enrolment",
                "release_ended",
                "few_supervisors",
                "too_long",
                "near_capacity",
                "unproved",
                "lost_zeros",
                "no_number",
                "unattributed_punches",
                "supervisor_mismatch",
            ),
        ),
        Column("reader", "text", "At which reader, where it is one"),
        Column("person", "text", "The person concerned, where one is known"),
        Column("number", "text", "The number concerned"),
        Column("other", "text", "The other number or person it disagrees with"),
        Column("punches", "count", "Punches that show it", required=True),
        Column("first_at", "instant", "The first of them", unit="s since 1970-01-01T00:00:00Z"),
        Column("last_at", "instant", "The last of them", unit="s since 1970-01-01T00:00:00Z"),
        Column("evidence", "text", "The evidence, in words", required=True),
    ),
)

GAPS = Table(
    "gaps",
    "Where a period is not whole: logs that do not reach over it, and people who left no punch where one was to come",
    (
        Column("kind", "text", "What is missing", required=True, allowed=("site_day", "reader_log", "person_days")),
        Column("site", "text", "The site", required=True),
        Column("reader", "text", "The reader whose log is wanted, where it is one's"),
        Column("person", "text", "Who left no punch, where it is a person"),
        Column("day", "date", "The first day that is missing", required=True),
        Column("until", "date", "The last one", required=True),
        Column("days", "count", "How many days are missing", required=True),
        Column(
            "since",
            "instant",
            "The last presentation before, where the log ends within a day",
            unit="s since 1970-01-01T00:00:00Z",
        ),
        Column(
            "evidence", "text", "Why something was to come", required=True, allowed=("scheduled", "usual", "unknown")
        ),
        Column("usual", "count", "Presentations, or days worked, on the same days of the weeks before", required=True),
        Column("weeks", "count", "Of how many weeks before", required=True),
    ),
)

GIVEN = Table(
    "given",
    "Punches under one number at a reader that somebody gave to a person, where that stands",
    (
        Column("reader", "text", "The reader", required=True),
        Column("number", "text", "The number keyed", required=True),
        Column("person", "text", "Whose they were said to be", required=True),
        Column("punches", "count", "How many of them", required=True),
        Column("author", "text", "Who said so last", required=True),
        Column("made_at", "instant", "When", required=True, unit="s since 1970-01-01T00:00:00Z"),
    ),
    key=("reader", "number", "person"),
)

READER_STEPS = Table(
    "reader_steps",
    "For each reader, what to do at it, in an order that takes none of the last two supervisors who can come off it",
    (
        Column("reader", "text", "At which reader", required=True),
        Column("position", "count", "The step's place in the order, from 1", required=True),
        Column(
            "action",
            "text",
            "What to do",
            required=True,
            allowed=("enrol_supervisor", "enrol", "remove", "enrol_again"),
        ),
        Column("number", "text", "The number to key", required=True),
        Column("person", "text", "Whose hand"),
        Column("name", "text", "The person's name"),
        Column("why", "text", "Why, in words", required=True),
    ),
    key=("reader", "position"),
)

EXPLANATIONS = Table(
    "explanations",
    "For each keyed number, who could have meant it and by which kind of error",
    (
        Column("keyed", "text", "The number that was keyed", required=True),
        Column("person", "text", "Who could have meant it", required=True),
        Column("kind", "text", "The kind of error, such as adjacent for two digits swapped", required=True),
        Column("meant", "text", "The number it came from", required=True),
        Column("likelihood", "score", "P(keyed | the person and the kind)", required=True),
    ),
)
