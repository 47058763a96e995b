"""The frames that an enrolment day is planned from, and those it gives."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table

__all__ = ["ATTENDED", "COSTS", "DEMANDS", "LEFT_OUT", "PLAN", "STANDING", "STATIONS", "VISITS"]

_INSTANT = "s since 1970-01-01T00:00:00Z"

VISITS = Table(
    "visits",
    "Who must lay a hand down where: one row for each reader that would do, so that several rows are a choice",
    (
        Column("visit", "count", "Running number; one visit ends at one of its readers", required=True),
        Column("person", "text", "Whose hand", required=True),
        Column("reader", "text", "A reader that would do", required=True),
        Column("is_supervisor", "yes_no", "Whether the person enrols as a supervisor", required=True),
        Column("is_needed", "yes_no", "Whether the visit must be made; others only fill a need", required=True),
    ),
    key=("visit", "reader"),
)

STATIONS = Table(
    "stations",
    "The readers of the day, and how many people each can enrol in a slot",
    (
        Column("reader", "text", "The reader", required=True),
        Column("places", "count", "People it can enrol in one slot", required=True, unit="people"),
    ),
    key=("reader",),
)

STANDING = Table(
    "standing",
    "Supervisors a reader holds before the day begins",
    (
        Column("reader", "text", "The reader", required=True),
        Column("person", "text", "The supervisor", required=True),
    ),
    key=("reader", "person"),
)

DEMANDS = Table(
    "demands",
    "When work must go on: spans that forbid calling a person or a department away, or make it dearer",
    (
        Column("person", "text", "Whom it binds; empty for the whole department"),
        Column("department", "text", "Which department it binds; empty with no person binds everybody"),
        Column("starts_at", "instant", "From when", required=True, unit=_INSTANT),
        Column("ends_at", "instant", "Until when", required=True, unit=_INSTANT),
        Column("weight", "count", "What a minute away counts, usually 1; empty forbids it, 0 is a break"),
    ),
)

COSTS = Table(
    "costs",
    "What it costs to call a person away in a slot; where there is no row the person cannot come",
    (
        Column("person", "text", "Who", required=True),
        Column("slot", "count", "The slot of the day, from 0", required=True),
        Column("minutes", "count", "Weighted minutes away from work", required=True, unit="min"),
    ),
    key=("person", "slot"),
)

PLAN = Table(
    "plan",
    "Who goes to which reader in which slot",
    (
        Column("visit", "count", "The visit", required=True),
        Column("person", "text", "Whose hand", required=True),
        Column("reader", "text", "At which reader", required=True),
        Column("slot", "count", "In which slot, from 0", required=True),
        Column("is_supervisor", "yes_no", "Whether the person enrols as a supervisor", required=True),
        Column("minutes", "count", "Weighted minutes away from work", required=True, unit="min"),
    ),
    key=("visit",),
)

ATTENDED = Table(
    "attended",
    "The supervisor who stands at a reader through a slot and proves the own hand before each enrolment",
    (
        Column("reader", "text", "At which reader", required=True),
        Column("slot", "count", "In which slot, from 0", required=True),
        Column("person", "text", "The supervisor", required=True),
    ),
    key=("reader", "slot"),
)

LEFT_OUT = Table(
    "left_out",
    "Who is not in the plan, and why",
    (
        Column("person", "text", "Who; empty where a reader is left short of supervisors"),
        Column("reader", "text", "At which reader, where it is one"),
        Column("why", "text", "Why, in words", required=True),
        Column("round", "text", "On which round they are, or were, where that is why"),
    ),
)
