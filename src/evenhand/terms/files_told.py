"""The tables of what the files taken told, and when: who and which numbers were listed before, clocks, zones, spans."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table

__all__ = [
    "CLOCK_CHANGES",
    "EARLIER_LAST_DAYS",
    "ENROLMENT_HISTORY",
    "FILES",
    "FORMER_NUMBERS",
    "GONE_PEOPLE",
    "HANDS_REPLACED",
    "LAST_SEEN",
    "NUMBERS_TOLD",
    "PRESENTED_UNDER",
    "ROSTERS_TAKEN",
    "ROSTER_TOLD",
    "SETTINGS_NOTICED",
    "TAKE_SPANS",
    "WRITTEN_ZONES",
]

GONE_PEOPLE = Table(
    "gone_people",
    "Whom a whole roster listed no longer, since which file",
    (
        Column("person", "text", "The person, who stays on file", required=True),
        Column("take", "count", "The taking of the roster that left them out", required=True),
        Column("file", "text", "That roster's file", required=True),
        Column("taken_at", "instant", "When it was taken", required=True, unit="s since 1970-01-01T00:00:00Z"),
    ),
    key=("person",),
)

ENROLMENT_HISTORY = Table(
    "enrolment_history",
    "Every enrolment that readers ever listed, with the list that shows it no longer, where there is one",
    (
        Column("reader", "text", "The reader", required=True),
        Column("number", "text", "Under which number", required=True),
        Column("name", "text", "The name beside it"),
        Column("enrolled_on", "date", "The day the hand was enrolled, where a list says so"),
        Column("told_at", "instant", "When the list was taken that told of it last", required=True),
        Column("gone", "count", "The taking of the list that shows it no longer"),
        Column("gone_file", "text", "That list's file"),
        Column("gone_at", "instant", "When that list was taken", unit="s since 1970-01-01T00:00:00Z"),
    ),
    key=("reader", "number"),
)

HANDS_REPLACED = Table(
    "hands_replaced",
    "Each hand under a number of which a reader's list has said something else since, or that it lists anew",
    (
        Column("reader", "text", "The reader", required=True),
        Column("number", "text", "Under which number", required=True),
        Column("name", "text", "The name that stood beside it"),
        Column("enrolled_on", "date", "The day that hand was enrolled, where a list said so"),
        Column("gone", "count", "The taking of the list that shows another, or the number anew; empty for neither"),
        Column("gone_file", "text", "That list's file"),
        Column("gone_at", "instant", "When that list was taken", unit="s since 1970-01-01T00:00:00Z"),
    ),
)

LAST_SEEN = Table(
    "last_seen",
    "The last presentation under each number at each reader, whatever came of it",
    (
        Column("reader", "text", "The reader", required=True),
        Column("number", "text", "The number keyed", required=True),
        Column("last_at", "instant", "When", required=True, unit="s since 1970-01-01T00:00:00Z"),
    ),
    key=("reader", "number"),
)

ROSTER_TOLD = Table(
    "roster_told",
    "What rosters said of numbers and days of employment, one after the other, where a later one said something else",
    (
        Column("person", "text", "The person", required=True),
        Column("position", "count", "Which of the person's statements, from 1 for the earliest", required=True),
        Column("number", "text", "The number"),
        Column("hired_on", "date", "First day of employment"),
        Column("left_on", "date", "Last day of employment"),
        Column("told", "count", "The taking that said so; empty where a later one is all that is known"),
        Column("told_by", "count", "A taking by which it had been said, at the latest", required=True),
        Column("ended", "count", "The taking that said something else; empty for what is said now"),
    ),
    key=("person", "position"),
)

ROSTERS_TAKEN = Table(
    "rosters_taken",
    "When which roster was taken",
    (
        Column("take", "count", "The taking", required=True),
        Column("taken_at", "instant", "When", required=True, unit="s since 1970-01-01T00:00:00Z"),
    ),
    key=("take",),
)

PRESENTED_UNDER = Table(
    "presented_under",
    "Every presentation under some numbers",
    (
        Column("reader", "text", "The reader", required=True),
        Column("number", "text", "The number keyed", required=True),
        Column("at", "instant", "When", required=True, unit="s since 1970-01-01T00:00:00Z"),
        Column("outcome", "text", "What came of it; accepted where it is empty", required=True),
    ),
)

EARLIER_LAST_DAYS = Table(
    "earlier_last_days",
    "The last day of an earlier employment of those who came back, whose first day on the roster is later",
    (
        Column("person", "text", "The person", required=True),
        Column("left_on", "date", "The last day before they came back", required=True),
    ),
    key=("person",),
)

CLOCK_CHANGES = Table(
    "clock_changes",
    "What readers' clocks were said to run in before a later file changed it",
    (
        Column("reader", "text", "The reader", required=True),
        Column("take", "count", "The taking that changed its zone", required=True),
        Column("zone", "text", "The IANA zone until then", required=True),
    ),
    key=("reader", "take"),
)

SETTINGS_NOTICED = Table(
    "settings_noticed",
    "When a file of settings, a layout or a rule of the workplace's own was found to differ from before",
    (
        Column("running", "count", "Running number", required=True),
        Column("file", "text", "The file within the workspace", required=True),
        Column("is_gone", "yes_no", "Whether it was found to be gone", required=True),
        Column("noticed_at", "instant", "When", required=True, unit="s since 1970-01-01T00:00:00Z"),
        Column("author", "text", "Who changed it, where somebody did on the pages"),
        Column("reason", "text", "Why"),
        Column("withdraws", "count", "The change that this takes back"),
    ),
    key=("running",),
)

FORMER_NUMBERS = Table(
    "former_numbers",
    "Which numbers were people's by the roster until a later file changed that",
    (
        Column("person", "text", "Whose number it was", required=True),
        Column("number", "text", "The number", required=True),
        Column("then", "text", "The number it gave them instead; empty where it gave none"),
        Column("take", "count", "The taking of the roster that changed it", required=True),
        Column("file", "text", "That roster's file", required=True),
        Column("until", "instant", "When it was taken", required=True, unit="s since 1970-01-01T00:00:00Z"),
    ),
    key=("person", "number", "take"),
)

WRITTEN_ZONES = Table(
    "written_zones",
    "The zone in which a file's times are written, where whoever took it said so",
    (
        Column("take", "count", "The taking", required=True),
        Column("zone", "text", "The IANA zone", required=True),
    ),
    key=("take",),
)

TAKE_SPANS = Table(
    "take_spans",
    "From when to when the punches in a file reach, reader by reader, also those that were known",
    (
        Column("take", "count", "The taking", required=True),
        Column("reader", "text", "The reader", required=True),
        Column("first_at", "instant", "The first", required=True, unit="s since 1970-01-01T00:00:00Z"),
        Column("last_at", "instant", "The last", required=True, unit="s since 1970-01-01T00:00:00Z"),
    ),
    key=("take", "reader"),
)

NUMBERS_TOLD = Table(
    "numbers_told",
    "The numbers on the roster and on the readers' lists, each with the file that told it last",
    (
        Column("take", "count", "The taking", required=True),
        Column("table", "text", "The table the number is in", required=True, allowed=("people", "enrolments")),
        Column("number", "text", "The number", required=True),
    ),
)

FILES = Table(
    "files",
    "The files taken, by name",
    (
        Column("take", "count", "The taking, the upper half of its punches' numbers", required=True),
        Column("file", "text", "The file's name", required=True),
    ),
    key=("take",),
)

# ---- what passes between rooms
