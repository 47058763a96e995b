"""Everybody on the roster as columns: employment, site, punches by time, schedules by time, usual hours."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.linkage.bits.match_weights import Floats
from evenhand.linkage.seen.strays import Ints, direction_codes
from evenhand.terms.columns import Frame
from evenhand.terms.zones import DAY_S

Flags = npt.NDArray[np.bool_]

__all__ = ["BINS", "NEVER", "Flags", "Roster", "Timeline", "ranges", "roster_of"]

NEVER = 2**40
FEWEST_FOR_HOURS = 8  # punches that show somebody's usual hours
BINS = 48  # half hours of the day
SHIFT_BITS = 40  # a person's code above, an instant below: one sorted key for both


@dataclass(frozen=True)
class Timeline:
    """Instants by person and time: `key` is person and instant in one number, sorted."""

    key: Ints
    person: Ints
    at: Ints
    ends: Ints
    reader: Ints
    direction: Ints

    def between(self, person: Ints, starts: Ints, ends: Ints) -> tuple[Ints, Ints]:
        """Return for each person the first place at or after `starts` and the first after `ends`."""
        left = np.searchsorted(self.key, _key(person, starts), side="left")
        last = _key(person, ends)
        right = left.copy()
        if len(self.key):
            # most spans hold nothing, which the first place after them tells without a second search
            some = (left < len(self.key)) & (self.key[np.minimum(left, len(self.key) - 1)] <= last)
            right[some] = np.searchsorted(self.key, last[some], side="right")
        return left, right


@dataclass(frozen=True)
class Roster:
    """People by code. Days count from 1970-01-01; `site` and the sites of readers are codes, -1 unknown.

    `site_counts` (people, sites) counts everybody's punches by site; `has_hours` says whose usual hours are known,
    from a schedule or from enough punches.
    """

    person: list[str]
    code: dict[str, int]
    name: list[str]
    number: list[str]
    site: Ints
    hired: Ints
    left: Ints
    readers: dict[str, int]
    reader_site: Ints
    owned: Timeline
    owned_site: Ints
    schedule: Timeline
    site_counts: Ints
    has_schedule: Flags
    has_hours: Flags

    @property
    def size(self) -> int:
        """Return how many people there are."""
        return len(self.person)

    def sites_of(self, readers: Sequence[str]) -> Ints:
        """Return the code of each reader's site, -1 for a reader that is not listed."""
        places = [self.readers.get(reader, -1) for reader in readers]
        return np.array([self.reader_site[place] if place >= 0 else -1 for place in places], dtype=np.int64)

    def usual(self, people: Ints) -> Floats:
        """Return each person's shares of punches over half hours of the day (people, BINS), smoothed."""
        found = np.full((len(people), BINS), 0.02)
        first, until = self.owned.between(people, np.zeros_like(people), np.full_like(people, NEVER - 1))
        counts = until - first
        rows = np.repeat(np.arange(len(people)), counts)
        places = ranges(first, counts)
        bins = self.owned.at[places] % DAY_S // (DAY_S // BINS)
        for shift, share in ((-1, 0.25), (0, 0.5), (1, 0.25)):
            np.add.at(found, (rows, (bins + shift) % BINS), share)
        return np.asarray(found / found.sum(axis=1, keepdims=True))


def roster_of(people: Frame, readers: Frame, owned: Frame, schedules: Frame) -> Roster:
    """Return the roster of PEOPLE, READERS, OWNED and SCHEDULES frames."""
    person = people["person"].to_list()
    code = {name: at for at, name in enumerate(person)}
    listed = readers.unique("reader", keep="first", maintain_order=True)
    sites = {site: at for at, site in enumerate(sorted({*people["site"].drop_nulls(), *listed["site"]}))}
    reader_codes = {name: at for at, name in enumerate(listed["reader"].to_list())}
    reader_site = np.array([sites[site] for site in listed["site"]], dtype=np.int64)
    timeline = _timeline(owned.with_columns(ends="at"), code, reader_codes)
    place = np.where(timeline.reader >= 0, reader_site[timeline.reader] if len(reader_site) else -1, -1)
    counts = np.zeros((len(person), max(len(sites), 1)), dtype=np.int64)
    np.add.at(counts, (timeline.person[place >= 0], place[place >= 0]), 1)
    planned = schedules.select("person", at="starts_at", ends="ends_at", reader=None, direction=None)
    schedule = _timeline(planned, code, reader_codes)
    has_schedule = np.zeros(len(person), dtype=bool)
    has_schedule[schedule.person] = True
    return Roster(
        person=person,
        code=code,
        name=[name or "" for name in people["name"].to_list()],
        number=[(number or "").strip() for number in people["number"].to_list()],
        site=np.array([sites.get(site, -1) for site in people["site"].to_list()], dtype=np.int64),
        hired=_days(people["hired_on"], -NEVER),
        left=_days(people["left_on"], NEVER),
        readers=reader_codes,
        reader_site=reader_site,
        owned=timeline,
        owned_site=place,
        schedule=schedule,
        site_counts=counts,
        has_schedule=has_schedule,
        has_hours=has_schedule | (np.bincount(timeline.person, minlength=len(person)) >= FEWEST_FOR_HOURS),
    )


def _timeline(frame: Frame, code: dict[str, int], readers: dict[str, int]) -> Timeline:
    known = frame.with_columns(
        who=pl.col("person").replace_strict(code, default=-1, return_dtype=pl.Int64),
        place=pl.col("reader").cast(pl.String).replace_strict(readers, default=-1, return_dtype=pl.Int64).fill_null(-1),
    ).filter(pl.col("who") >= 0)
    who, at = known["who"].to_numpy().astype(np.int64), known["at"].to_numpy().astype(np.int64)
    key = _key(who, at)
    order = np.argsort(key, kind="stable")
    return Timeline(
        key=key[order],
        person=who[order],
        at=at[order],
        ends=known["ends"].to_numpy().astype(np.int64)[order],
        reader=known["place"].to_numpy().astype(np.int64)[order],
        direction=direction_codes(known["direction"].cast(pl.String))[order],
    )


def _key(person: Ints, at: Ints) -> Ints:
    return (person << SHIFT_BITS) + np.clip(at, 0, NEVER - 1)


def _days(days: pl.Series, when_empty: int) -> Ints:
    return days.to_physical().cast(pl.Int64).fill_null(when_empty).to_numpy().astype(np.int64)


def ranges(first: Ints, counts: Ints) -> Ints:
    """Return the places first, first + 1, ... of each range, one range after the other."""
    total = int(counts.sum())
    offsets = np.repeat(np.cumsum(counts) - counts, counts)
    return np.arange(total) - offsets + np.repeat(first, counts)
