"""Due dates of everybody: each law's day with event, rule, version and reading, and the one that binds.

Whoever works at several places is bound by the laws of all of them: the earliest day to destroy, the latest to keep.
"""

from __future__ import annotations

from collections.abc import Collection

import polars as pl

from evenhand.records.retention.lapses import after
from evenhand.records.retention.law import WORDS_OF_EVENTS, Law, Term
from evenhand.records.retention.laws import laws_of
from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.languages import sentence, unnamed

__all__ = ["BINDING", "DUE_DATES", "EVENTS", "binding_dates", "due_dates"]

DUE_BY = sentence("{due_on} by {law} ({place})")
"""A due date that another law would set, as the chosen one keeps it."""

_READER = Column("reader", "text", "The reader that holds the hand; empty for time records")

EVENTS = Table(
    "retention_events",
    "What starts the clocks of a person at a place: a row for each reader that held the hand, and one without",
    (
        Column("person", "text", "The person", required=True),
        _READER,
        Column("place", "text", "Where the law is looked for: ISO 3166, such as US-IL", required=True),
        Column("enrolled_on", "date", "Since when the reader holds the hand"),
        Column("last_interaction", "date", "The last presentation at the reader; without a reader, at any"),
        Column("purpose_ended", "date", "When nothing was left to hold the hand for; empty while there is"),
        Column("purpose_why", "text", "What ended it, in words"),
        Column("found_unnecessary", "date", "When a review found that it need not be held"),
        Column("last_entry", "date", "The last day of the person's time records"),
        Column("employment_ended", "date", "The last day of work; empty while employed"),
        Column("gone_on", "date", "When the reader's own list proved that the hand was gone"),
    ),
    key=("person", "reader", "place"),
)

DUE_DATES = Table(
    "due_dates",
    "What each law says of each person: destroy by, or keep through",
    (
        Column("person", "text", "The person", required=True),
        _READER,
        Column(
            "clock", "text", "Whether it is the last day to hold or the last day to keep", allowed=("destroy", "keep")
        ),
        Column("day", "date", "That day", required=True),
        Column("law", "text", "The law's short name", required=True),
        Column("cites", "text", "Where it is written", required=True),
        Column("place", "text", "The place that brought it in", required=True),
        Column("event", "text", "What started the clock", required=True, allowed=tuple(WORDS_OF_EVENTS)),
        Column("started_on", "date", "On which day", required=True),
        Column("rule", "text", "How long it runs, in words", required=True),
        Column("version", "date", "Since when the rule is in force", required=True),
        Column("reading", "text", "What was chosen where the text leaves a doubt"),
        Column("checked", "text", "Whether the text was read: seen, memory, or common practice", required=True),
    ),
    key=("person", "reader", "clock", "law", "place", "event"),
)

BINDING = Table(
    "binding_dates",
    "The due date that binds each person and reader, and which others it was chosen from",
    (
        *DUE_DATES.columns,
        Column("chosen_from", "text", "The other days and their laws, where places or laws differ"),
    ),
    key=("person", "reader", "clock"),
)


def due_dates(events: Frame, *, own: Collection[Law] = ()) -> Frame:
    """Return what each law says of each row of EVENTS (DUE_DATES), by person, reader, clock and day.

    A hand concerns the rows with a reader, time records those without; what has not happened starts no clock. `own`
    are rules of the workplace beside the law.
    """
    found = [DUE_DATES.empty()]
    for (place,), here in events.partition_by("place", as_dict=True).items():
        for law in laws_of(str(place), own=own):
            of_hands = law.clock == "destroy" or any(term.event == "gone_on" for term in law.terms)
            rows = here.filter(pl.col("reader").is_not_null() == of_hands)
            found += [_of_term(rows, law, term) for term in law.terms]
    return pl.concat(found).sort("person", "reader", "clock", "day", "law", "place", nulls_last=True)


def _of_term(rows: Frame, law: Law, term: Term) -> Frame:
    started = rows.filter(pl.col(term.event).is_not_null())
    said = {
        "clock": law.clock,
        "law": law.code,
        "cites": law.cites,
        "event": term.event,
        "rule": term.words,
        "reading": law.reading or None,
        "checked": law.checked,
    }
    made = started.with_columns(
        day=after(pl.col(term.event), term.period),
        started_on=pl.col(term.event),
        version=pl.lit(law.since),
        **{name: pl.lit(value, pl.String) for name, value in said.items()},
    )
    return made.select(pl.col(name).cast(dtype) for name, dtype in DUE_DATES.schema.items())


def binding_dates(due: Frame) -> Frame:
    """Return the due dates (BINDING) that bind each person and reader: the earliest to destroy, the latest to keep.

    A law for keeping counts with its latest term; so nothing is held because one of its events came earlier.
    """
    key = ["person", "reader", "clock"]
    days = pl.col("day").dt.epoch("d")
    ordered = due.with_columns(
        order=pl.when(pl.col("clock") == "destroy").then(days).otherwise(-days),
        has_no_source=pl.col("checked").str.contains("no source"),  # of two on one day the law is named
    ).sort(*key, "order", "has_no_source", "law", "place", nulls_last=True)
    said = pl.format(unnamed(DUE_BY), pl.col("day").dt.to_string("%Y-%m-%d"), pl.col("cites"), pl.col("place"))
    others = pl.col("said").slice(1).unique(maintain_order=True).str.join("; ")
    bound = (
        ordered.with_columns(said=said)
        .group_by(key, maintain_order=True)
        .agg(*(pl.col(name).first() for name in DUE_DATES.names if name not in key), chosen_from=others)
        .with_columns(pl.col("chosen_from").replace("", None))
    )
    return BINDING.check(bound.select(pl.col(name).cast(dtype) for name, dtype in BINDING.schema.items()))
