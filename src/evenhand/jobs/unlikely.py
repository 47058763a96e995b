"""What makes a file unlikely to be what it is taken for, though its rows can be read: somebody has to look at it."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date, timedelta

import polars as pl

from evenhand.layouts import Rows
from evenhand.store import frames
from evenhand.store.database import Store
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.likeness.names import folded
from evenhand.terms.words import called
from evenhand.terms.zones import civil_date

__all__ = ["unlikely"]

FEWEST = 5  # people, or punches
MOST = 0.5  # of them
HARDLY = 0.1  # of the numbers keyed, those that are somebody's
AHEAD_DAYS = 1  # a reader east of here is a day ahead


def unlikely(store: Store, rows: Rows, numbers: Collection[str], today: date | None, *, is_part: bool = False) -> str:
    """Return why the rows are unlikely to be what the file is taken for, in one sentence; '' where nothing speaks so.

    `numbers` are those that somebody holds or is enrolled under; `today` is the day on which it is looked at, without
    which no log is of the future. A list of people that `is_part` of the roster leaves the others their numbers.
    """
    if rows.table.name == "people":
        with store.reading() as conn:
            before = frames.people(conn)
            listed = before.join(frames.gone_people(conn), on="person", how="anti")
        clash = _of_somebody(listed, rows.frame, today) if is_part else ""
        return _of_others(before, rows.frame) or _moved_on(before, rows.frame) or clash
    if rows.table.name == "punches":
        future = _of_the_future(rows.frame, today) if today is not None else ""
        return future or _of_nobody(numbers, rows.frame)
    return ""


def _of_others(before: Frame, after: Frame) -> str:
    """Return what is said of a roster that gives most people it shares with the stored one a wholly different name."""
    words = [folded(pl.col(name)).str.split(" ") for name in ("name", "name_before")]
    met = after.join(before.select("person", name_before="name"), on="person").drop_nulls(["name", "name_before"])
    others = met.filter(words[0].list.set_intersection(words[1]).list.len() == 0)
    if met.height < FEWEST or others.height <= MOST * met.height:
        return ""
    person, was, now = others.select("person", "name_before", "name").row(0)
    return told(
        "It gives {others:,} of the {all_of:,} people it shares with the roster another name, "
        "such as {person} {was} now {now}: it may be another workplace's, or have a column "
        "sorted apart from the rest.",
        others=others.height,
        all_of=met.height,
        person=person,
        was=was,
        now=now,
    )


def _moved_on(before: Frame, after: Frame) -> str:
    """Return what is said of a roster that gives most people it shares with the stored one somebody else's number."""
    numbers = before.select("person", number_before="number").drop_nulls()
    met = after.select("person", "number").drop_nulls().join(numbers, on="person")
    moved = met.filter(
        pl.col("number") != pl.col("number_before"), pl.col("number").is_in(numbers["number_before"].implode())
    )
    if met.height < FEWEST or moved.height <= MOST * met.height:
        return ""
    person, now, was = moved.row(0)
    return told(
        "It gives {moved:,} of the {all_of:,} people it shares with the roster a number that was "
        "somebody else's, such as {person} {was} now {now}: its numbers may be sorted apart from "
        "the rest.",
        moved=moved.height,
        all_of=met.height,
        person=person,
        was=was,
        now=now,
    )


def _of_somebody(listed: Frame, after: Frame, today: date | None) -> str:
    """Return what is said of a part of the roster that gives somebody the number of another who is not in it."""
    here = pl.col("left_on").is_null() if today is None else pl.col("left_on").fill_null(today) >= today
    holders = listed.filter(here).select("person", "number", called_so="name").drop_nulls("number")
    others = holders.join(after, on="person", how="anti").rename({"person": "other"})
    clash = after.join(others, on="number", maintain_order="left")
    if clash.is_empty():
        return ""
    person, name, number, other, has = clash.select("person", "name", "number", "other", "called_so").row(0)
    return told(
        "It gives {who} the number {number}, which {other} has: both would be under it.",
        who=called(name, person),
        number=number,
        other=called(has, other),
    )


def _of_nobody(known: Collection[str], punches: Frame) -> str:
    """Return what is said of a log of which hardly any number is one that somebody holds or is enrolled under."""
    keyed = punches["number"].drop_nulls().unique()
    if len(known) < FEWEST or len(keyed) < FEWEST:
        return ""
    theirs = len({*known}.intersection(keyed))
    if theirs > HARDLY * len(keyed):
        return ""
    return told(
        "{theirs} of its {all_of:,} numbers, such as {number}, is anybody's on the roster or on a reader: another "
        "column may hold the numbers, or it is another workplace's log.",
        theirs=theirs or told("None"),
        all_of=len(keyed),
        number=keyed.sort()[0],
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
    return told(
        "{ahead:,} of its {all_of:,} punches lie in the future, up to {day}: its dates, or the "
        "reader's clock, are wrong.",
        ahead=ahead,
        all_of=punches.height,
        day=last.isoformat(),
    )
