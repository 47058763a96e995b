"""Hands that must be gone from readers: since when held, why, by when, and how far their removal is.

What proves a removal is the reader's own list, taken afterwards, that shows the hand no longer; never the word of
whoever was at the reader.
"""

from __future__ import annotations

from collections.abc import Sequence

import polars as pl

from evenhand.records.retention.due import BINDING, EVENTS, binding_dates, due_dates
from evenhand.records.retention.law import Law
from evenhand.terms.columns import Column, Frame, Table

__all__ = ["HELD_HANDS", "PLACES", "REMOVALS", "events_of", "removals"]

_INSTANT = "s since 1970-01-01T00:00:00Z"
STATES = ("held", "on_a_round", "said_done", "unlisted", "taken_over", "proved")

PLACES = Table(
    "places",
    "Whose laws bind somebody: those of the site of home, and of every reader used",
    (
        Column("person", "text", "The person", required=True),
        Column("place", "text", "The place, by ISO 3166", required=True),
    ),
    key=("person", "place"),
)

HELD_HANDS = Table(
    "hands",
    "Whose hand a reader holds, or held, as its own lists tell, and what rounds say of taking it off",
    (
        Column("person", "text", "Whose hand", required=True),
        Column("reader", "text", "The reader", required=True),
        Column("number", "text", "Under which number", required=True),
        Column("enrolled_on", "date", "Since when, as far as lists tell"),
        Column("last_interaction", "date", "The last presentation at the reader"),
        Column("is_listed", "yes_no", "Whether the reader's list shows it", required=True),
        Column(
            "is_taken_over",
            "yes_no",
            "Whether another, who has the number since, is accepted there, and no list tells whose hand it shows",
        ),
        Column("gone_on", "date", "When a list was taken that shows it no longer"),
        Column("gone_take", "count", "The taking of that list"),
        Column("gone_file", "text", "That list's file"),
        Column("round", "text", "The last round on which it was to be taken off"),
        Column("said_at", "instant", "When somebody at the reader said that it was taken off", unit=_INSTANT),
        Column("said_by", "text", "Who said so"),
    ),
    key=("person", "reader", "number"),
)

REMOVALS = Table(
    "removals",
    "Each hand that must be gone, by when and by which law, and how far its removal is",
    (
        *HELD_HANDS.columns,
        Column("state", "text", "How far the removal is", required=True, allowed=STATES),
        Column("purpose_ended", "date", "When the purpose ended; empty while there is one"),
        Column("purpose_why", "text", "What ended it"),
        *(column for column in BINDING.columns if column.name not in ("person", "reader", "clock")),
    ),
    key=("person", "reader", "number"),
)


def events_of(hands: Frame, purposes: Frame, entries: Frame, places: Frame) -> Frame:
    """Return what starts the clocks (EVENTS) of everybody in `hands` (HELD_HANDS) and `purposes` (PURPOSES).

    `entries` has person, `last_entry` and `last_interaction`; `places` (PLACES) are the laws' places of each person.
    """
    of_readers = hands.sort("number").unique(["person", "reader"], keep="last", maintain_order=True)
    time = pl.concat([hands.select("person"), purposes.select("person"), entries.select("person")]).unique()
    rows = []
    for part in (of_readers, time.join(entries, on="person", how="left")):
        known = part.join(purposes, on="person", how="left").join(places, on="person")
        rows.append(EVENTS.frame({name: known[name] for name in EVENTS.names if name in known.columns}))
    return pl.concat(rows)


def removals(hands: Frame, events: Frame, *, own: Sequence[Law] = ()) -> Frame:
    """Return every hand with a day by which it must be gone (REMOVALS), the earliest first.

    `events` are those of `events_of`; a hand without any due date is left out.
    """
    due = due_dates(events.filter(pl.col("reader").is_not_null()), own=own)
    bound = binding_dates(due.filter(pl.col("clock") == "destroy")).drop("clock")
    ended = events.filter(pl.col("reader").is_not_null()).unique(["person", "reader"], maintain_order=True)
    said = ended.select("person", "reader", "purpose_ended", "purpose_why")
    state = (
        pl.when(pl.col("gone_on").is_not_null())
        .then(pl.lit("proved"))
        .when("is_taken_over")
        .then(pl.lit("taken_over"))
        .when(~pl.col("is_listed"))
        .then(pl.lit("unlisted"))
        .when(pl.col("said_at").is_not_null())
        .then(pl.lit("said_done"))
        .when(pl.col("round").is_not_null())
        .then(pl.lit("on_a_round"))
        .otherwise(pl.lit("held"))
    )
    found = hands.join(said, on=["person", "reader"], how="left").join(bound, on=["person", "reader"])
    return REMOVALS.check(
        found.with_columns(state=state)
        .select(pl.col(name).cast(dtype) for name, dtype in REMOVALS.schema.items())
        .sort("day", "person", "reader", "number")
    )
