"""What makes a file unlikely to be what it is taken for, though its rows can be read: somebody has to look at it."""

from __future__ import annotations

from datetime import date, timedelta

import polars as pl

from evenhand.layouts import Rows
from evenhand.store import frames
from evenhand.store.database import Store
from evenhand.terms.columns import Frame
from evenhand.terms.likeness.names import folded
from evenhand.terms.zones import civil_date

__all__ = ["unlikely"]

FEWEST = 5  # people, or punches
MOST = 0.5  # of them
AHEAD_DAYS = 1  # a reader east of here is a day ahead


def unlikely(store: Store, rows: Rows, today: date | None) -> str:
    """Return why the rows are unlikely to be what the file is taken for, in one sentence; '' where nothing speaks so.

    `today` is the day on which it is looked at; without it no log is of the future.
    """
    if rows.table.name == "people":
        with store.reading() as conn:
            return _of_others(frames.people(conn), rows.frame)
    if rows.table.name == "punches" and today is not None:
        return _of_the_future(rows.frame, today)
    return ""


def _of_others(before: Frame, after: Frame) -> str:
    """Return what is said of a roster that gives most people it shares with the stored one a wholly different name."""
    words = [folded(pl.col(name)).str.split(" ") for name in ("name", "name_before")]
    met = after.join(before.select("person", name_before="name"), on="person").drop_nulls(["name", "name_before"])
    others = met.filter(words[0].list.set_intersection(words[1]).list.len() == 0)
    if met.height < FEWEST or others.height <= MOST * met.height:
        return ""
    person, was, now = others.select("person", "name_before", "name").row(0)
    return (
        f"It gives {others.height:,} of the {met.height:,} people it shares with the roster another name, such as "
        f"{person} {was} now {now}: it may be another workplace's, or have a column sorted apart from the rest."
    )


def _of_the_future(punches: Frame, today: date) -> str:
    """Return what is said of a log of which most punches lie after today."""
    if punches.height < FEWEST:
        return ""
    days = pl.from_epoch(punches["at"], time_unit="s").dt.date()
    ahead = int((days > today + timedelta(days=AHEAD_DAYS)).sum())
    if ahead <= MOST * punches.height:
        return ""
    last = civil_date("UTC", int(punches["at"].max()))  # type: ignore[arg-type]
    return (
        f"{ahead:,} of its {punches.height:,} punches lie in the future, up to {last.isoformat()}: its dates, or the "
        "reader's clock, are wrong."
    )
