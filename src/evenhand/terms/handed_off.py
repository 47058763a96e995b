"""The tables of what payroll was told, and of what is owed beside it."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table

__all__ = ["CLOSED_CHANGES", "HANDED_OFF", "HANDED_OFF_LINES", "PRINTED", "PRINTED_BEFORE", "TOLD_BEFORE"]

KEY = ("person", "workweek", "day", "item", "rate")
OF_LINE = (
    Column("person", "text", "Whose time or pay", required=True),
    Column("workweek", "date", "The civil date on which the workweek begins", required=True),
    Column(
        "day", "date", "The civil day it falls on; that of the workweek for what is paid by the week", required=True
    ),
    Column(
        "item", "text", "What it is owed for, as payroll's file names it: ordinary, base and the like", required=True
    ),
    Column("rate", "money", "The rate, where time is paid by one", unit="currency"),
)

HANDED_OFF = Table(
    "handed_off",
    "What is told to payroll, by person, day and item, in time and in money; lines of several files add up",
    (
        *OF_LINE,
        Column("seconds", "seconds", "Exact time, or hours of pay; 0 for money", required=True, unit="s"),
        Column("amount", "money", "Money to the cent; 0 for time", required=True, unit="currency"),
    ),
    key=KEY,
)

HANDED_OFF_LINES = Table(
    "handed_off_lines",
    "What files in force told payroll of some periods, and what adjustments yet to be handed off will",
    (
        Column("handoff", "count", "The file it stands in; for an adjustment, the file it adds to", required=True),
        Column("adjustment", "count", "The adjustment it is of, where it is one's"),
        Column("carrier", "count", "The file that carries the adjustment; empty where none does yet"),
        *HANDED_OFF.columns,
    ),
)

PRINTED = Table(
    "printed",
    "The figures of time that a file printed, row by row and field by field",
    (
        Column("person", "text", "Whose row", required=True),
        Column("workweek", "date", "Its workweek; empty in a row for the whole period"),
        Column("adjusts", "yes_no", "Whether the row corrects an earlier period", required=True),
        Column("field", "text", "The field of payroll's file, such as ordinary_hours", required=True),
        Column("figure", "money", "As printed: hours, minutes or seconds", required=True),
    ),
)

TOLD_BEFORE = Table(
    "told_before",
    "What other files told of the rows of a file, source by source",
    (
        Column("source", "count", "Which source: one for each file's own rows and each file's adjusting ones"),
        Column("person", "text", "Whose time", required=True),
        Column("workweek", "date", "The workweek", required=True),
        Column("adjusts", "yes_no", "Whether the row of the new file corrects an earlier period", required=True),
        Column("item", "text", "What it is owed for", required=True),
        Column("seconds", "seconds", "Exact time", required=True, unit="s"),
    ),
)

PRINTED_BEFORE = Table(
    "printed_before",
    "The figures that these sources printed for the same rows",
    (
        Column("source", "count", "Which source", required=True),
        Column("person", "text", "Whose time", required=True),
        Column("workweek", "date", "The workweek", required=True),
        Column("adjusts", "yes_no", "Whether the row of the new file corrects an earlier period", required=True),
        Column("field", "text", "The field of payroll's file", required=True),
        Column("figure", "money", "As printed", required=True),
    ),
)

CLOSED_CHANGES = Table(
    "closed_changes",
    "Where what is owed for a period is no longer what payroll was told, by person, day and item",
    (
        *OF_LINE,
        Column("seconds_before", "seconds", "As told", required=True, unit="s"),
        Column("seconds_after", "seconds", "As owed now", required=True, unit="s"),
        Column("amount_before", "money", "As told", required=True, unit="currency"),
        Column("amount_after", "money", "As owed now", required=True, unit="currency"),
    ),
    key=KEY,
)
