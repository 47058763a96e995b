"""How fresh each reader's punches are: the last one, the file that brought it, and what came a day."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import polars as pl

from evenhand.jobs.reckoning import Reckoning
from evenhand.store.tables import PUNCH_SHIFT
from evenhand.terms.columns import Frame
from evenhand.terms.zones import DAY_S, offsets_of

__all__ = ["DAYS", "ReaderFreshness", "find_freshness"]

DAYS = 28


@dataclass(frozen=True)
class ReaderFreshness:
    """One reader: its last punch, the last file that brought punches of it, and its punches a day.

    `per_day` counts what it logged on each of the last `DAYS` days up to `last_day`, in the zone of its clock. What is
    None was not seen in the half year that is looked at.
    """

    reader: str
    site: str
    zone: str
    last_at: int | None
    take: int | None
    file: str
    taken_at: int | None
    per_day: Sequence[int]
    last_day: date


def find_freshness(reckoning: Reckoning) -> list[ReaderFreshness]:
    """Return every reader, the one that has been silent for longest first."""
    of, as_of = reckoning.snapshot, int(reckoning.as_of.timestamp())
    files = {row["take"]: row for row in of.takes.iter_rows(named=True)}
    logged = of.recorded.select("reader", "at", take=pl.col("punch") // 2**PUNCH_SHIFT)
    last = {
        reader: (at, take)
        for reader, at, take in logged.group_by("reader").agg(pl.col("at").max(), pl.col("take").max()).iter_rows()
    }
    lately = logged.filter(pl.col("at") > as_of - (DAYS + 1) * DAY_S, pl.col("at") <= as_of)
    by_reader = {str(name[0]): rows for name, rows in lately.group_by("reader")}
    found = []
    for row in of.readers.iter_rows(named=True):
        reader = row["reader"]
        at, take = last.get(reader, (None, None))
        file = files.get(take, {"file": "", "taken_at": None})
        per_day, last_day = _per_day(by_reader.get(reader, lately.clear()), row["zone"], as_of)
        found.append(
            ReaderFreshness(
                reader, row["site"], row["zone"], at, take, file["file"], file["taken_at"], per_day, last_day
            )
        )
    return sorted(found, key=lambda one: (one.last_at or 0, one.reader))


def _per_day(rows: Frame, zone: str, as_of: int) -> tuple[list[int], date]:
    offsets = offsets_of(zone)
    last = int(offsets.to_local(pl.Series([as_of]).to_numpy())[0]) // DAY_S
    counts = Counter((offsets.to_local(rows["at"].to_numpy()) // DAY_S).tolist())
    return [counts[day] for day in range(last - DAYS + 1, last + 1)], date(1970, 1, 1) + timedelta(days=last)
