"""The tables of what payroll was told, and of what is owed beside it."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table

__all__ = ["CLOSED_CHANGES", "HANDED_OFF", "HANDED_OFF_LINES"]

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
