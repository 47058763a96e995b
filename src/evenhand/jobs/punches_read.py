"""How much of the punches a snapshot reads: those around its weeks, and the last of those whose hands must go."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from datetime import date, timedelta

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.files_told import LAST_SEEN
from evenhand.terms.zones import utc_start

__all__ = ["numbers_of_several", "presentations_last_seen", "punches_around"]


def presentations_last_seen(
    seen_of: Callable[[Collection[str]], Frame], read: Mapping[str, Frame], recorded: Frame
) -> Frame:
    """Return the last presentation under each number at each reader (LAST_SEEN), as far as it may matter.

    What the snapshot holds tells of nearly everybody. Looked for further back are the numbers of hands that nobody laid
    down since, and those of everybody who left, is no longer listed, or said anything but yes of their hand.
    """
    keys = ["reader", "number"]
    recent = recorded.group_by(keys).agg(last_at=pl.col("at").max())
    people, said = read["people"], read["consent_decisions"].filter(pl.col("action") != "agree")
    ended = [
        people.filter(pl.col("left_on").is_not_null())["person"],
        read["gone_people"]["person"],
        read["consent"].filter(pl.col("withdrawn_on").is_not_null())["person"],
        said["person"],
    ]
    is_theirs = pl.col("person").is_in(pl.concat(ended).unique().implode())
    theirs = people.filter(is_theirs)["number"].drop_nulls()
    unused = read["enrolment_history"].join(recent, on=keys, how="anti")["number"]
    before = seen_of(pl.concat([theirs, read["former_numbers"]["number"], unused]).unique().to_list())
    every = pl.concat([recent.select(LAST_SEEN.names), before])
    return LAST_SEEN.check(every.group_by(keys).agg(pl.col("last_at").max()).sort(keys))


def numbers_of_several(roster_told: Frame) -> list[str]:
    """Return the numbers that several people had, one after the other or at once (`roster_told` is ROSTER_TOLD)."""
    had = roster_told.drop_nulls("number").group_by("number").agg(pl.col("person").n_unique())
    return had.filter(pl.col("person") > 1)["number"].sort().to_list()


def punches_around(
    recorded_of: Callable[..., Frame], read: Mapping[str, Frame], first: date, last: date | None, edge: int
) -> Frame:
    """Return the punches around the weeks, and further back those of whoever is paid now for a longer time."""
    since = utc_start(first - timedelta(days=edge))
    until = None if last is None else utc_start(last + timedelta(days=7 + edge))
    recorded = recorded_of(since=since, until=until)
    earned = read["earnings"].filter(pl.col("earned_from") < first, pl.col("earned_to") >= first)
    if earned.is_empty():
        return recorded
    theirs = pl.col("person").is_in(earned["person"].implode())
    from_day = min(earned["earned_from"].to_list()) - timedelta(days=6 + edge)
    keyed = [read[name].filter(theirs)["number"] for name in ("people", "former_numbers")]
    numbers = pl.concat(keyed).drop_nulls().unique().to_list()
    given = read["corrections"].filter(theirs, pl.col("punch") >= 0)["punch"].to_list()
    before = recorded_of(since=utc_start(from_day), until=since, numbers=numbers, punches=given)
    return pl.concat([before, recorded]).sort("reader", "at", "punch")
