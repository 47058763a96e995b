"""Everybody on the roster as columns: employment, site, punches by time, schedules by time, usual hours."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.linkage.strays import Ints, direction_codes
from evenhand.linkage.weights.match_weights import Floats
from evenhand.terms.columns import Frame
from evenhand.terms.zones import DAY_S

Flags = npt.NDArray[np.bool_]

__all__ = ["BINS", "NEVER", "Flags", "PeopleColumns", "Timeline", "key_of", "ranges", "roster_of", "row_of"]

NEVER = 2**40
FEWEST_FOR_HOURS = 8  # punches that show somebody's usual hours
BINS = 48  # half hours of the day
SHIFT_BITS = 40  # a person's code above, an instant below: one sorted key for both


@dataclass(frozen=True)
class Timeline:
    """Instants by person and time: `key` is person and instant in one number, sorted; `punch` is -1 where none is."""

    key: Ints
    punch: Ints
    person: Ints
    at: Ints
    ends: Ints
    reader: Ints
    direction: Ints

    def between(self, person: Ints, starts: Ints, ends: Ints) -> tuple[Ints, Ints]:
        """Return for each person the first place at or after `starts` and the first after `ends`."""
        left = np.searchsorted(self.key, key_of(person, starts), side="left")
        last = key_of(person, ends)
        right = left.copy()
        if len(self.key):
            # most spans hold nothing, which the first place after them tells without a second search
            some = (left < len(self.key)) & (self.key[np.minimum(left, len(self.key) - 1)] <= last)
            right[some] = np.searchsorted(self.key, last[some], side="right")
        return left, right

    def only(self, kept: Flags | Ints) -> Timeline:
        """Return these rows alone; where they are named by their places, in that order."""
        return Timeline(*(column[kept] for column in vars(self).values()))


@dataclass(frozen=True)
class PeopleColumns:
    """People by code. Days count from 1970-01-01; `site` and the sites of readers are codes, -1 unknown.

    `set_aside` are punches attributed to them that are asked about: whoever has some then is neither silent nor there.
    """

    person: pl.Series
    name: pl.Series
    number: pl.Series
    site: Ints
    hired: Ints
    left: Ints
    readers: pl.Series
    reader_site: Ints
    attributed: Timeline
    attributed_site: Ints
    schedule: Timeline
    set_aside: Timeline | None = None

    @property
    def size(self) -> int:
        """Return how many people there are."""
        return len(self.person)

    @cached_property
    def site_counts(self) -> Ints:
        """Return everybody's punches by site (people, sites)."""
        sites = int(max(self.site.max(initial=0), self.reader_site.max(initial=0))) + 1
        placed = self.attributed_site >= 0
        cell = self.attributed.person[placed] * sites + self.attributed_site[placed]
        return np.bincount(cell, minlength=self.size * sites).reshape(self.size, sites)

    @cached_property
    def has_schedule(self) -> Flags:
        """Return who is scheduled."""
        return np.bincount(self.schedule.person, minlength=self.size) > 0

    @cached_property
    def has_hours(self) -> Flags:
        """Return whose usual hours are known, from a schedule or from enough punches."""
        return self.has_schedule | (np.bincount(self.attributed.person, minlength=self.size) >= FEWEST_FOR_HOURS)

    @cached_property
    def days_there(self) -> Timeline:
        """Return the first punch of everybody's days."""
        own = self.attributed
        day = own.at // DAY_S
        return own.only((np.diff(own.person, prepend=-1) != 0) | (np.diff(day, prepend=-1) != 0))

    def without(self, punches: pl.Series) -> PeopleColumns:
        """Return the roster as it is if these punches are nobody's."""
        kept = ~pl.Series(self.attributed.punch).is_in(punches.implode()).to_numpy()
        if kept.all():
            return self
        return replace(
            self,
            attributed=self.attributed.only(kept),
            attributed_site=self.attributed_site[kept],
            set_aside=self.attributed.only(~kept),
        )

    def codes_of(self, people: pl.Series) -> Ints:
        """Return the code of each person, -1 for one who is not on the roster."""
        return _places(people, self.person)

    def sites_of(self, readers: pl.Series) -> Ints:
        """Return the code of each reader's site, -1 for a reader that is not listed."""
        place = _places(readers, self.readers)
        return np.where(place >= 0, np.append(self.reader_site, -1)[place], -1)

    def keys(self) -> Frame:
        """Return person, number and code (`who`) of everybody, to be joined with what is known of numbers."""
        return pl.select(person=self.person, number=self.number, who=pl.int_range(self.size, dtype=pl.Int64))

    def usual(self, people: Ints) -> Floats:
        """Return each person's shares of punches over half hours of the day (people, BINS), smoothed."""
        seen = self._spread_over(people, BINS, lambda at: at % DAY_S // (DAY_S // BINS))
        found = 0.02 + 0.5 * seen + 0.25 * (np.roll(seen, 1, axis=1) + np.roll(seen, -1, axis=1))
        return np.asarray(found / found.sum(axis=1, keepdims=True))

    def weekdays(self, people: Ints) -> Floats:
        """Return each person's shares of punches over the days of the week (people, 7; Thursday first), smoothed."""
        found = 0.5 + self._spread_over(people, 7, lambda at: at // DAY_S % 7)
        return np.asarray(found / found.sum(axis=1, keepdims=True))

    def _spread_over(self, people: Ints, bins: int, bin_of: Callable[[Ints], Ints]) -> Ints:
        first, until = self.attributed.between(people, np.zeros_like(people), np.full_like(people, NEVER - 1))
        counts = until - first
        cell = np.repeat(np.arange(len(people)), counts) * bins + bin_of(self.attributed.at[ranges(first, counts)])
        return np.bincount(cell, minlength=len(people) * bins).reshape(len(people), bins)


def roster_of(people: Frame, readers: Frame, attributed: Frame, schedules: Frame) -> PeopleColumns:
    """Return the roster of PEOPLE, READERS, ATTRIBUTED and SCHEDULES frames."""
    person = people["person"]
    listed = readers.unique("reader", keep="first", maintain_order=True)
    sites = pl.concat([people["site"].drop_nulls(), listed["site"].drop_nulls()]).unique().sort()
    reader_site = _places(listed["site"], sites)
    timeline = _timeline(attributed.with_columns(ends="at"), person, listed["reader"])
    planned = schedules.select("person", at="starts_at", ends="ends_at", punch=-1, reader=None, direction=None)
    return PeopleColumns(
        person=person,
        name=people["name"],
        number=people["number"].fill_null("").str.strip_chars(),
        site=_places(people["site"], sites),
        hired=_days(people["hired_on"], -NEVER),
        left=_days(people["left_on"], NEVER),
        readers=listed["reader"],
        reader_site=reader_site,
        attributed=timeline,
        attributed_site=np.where(timeline.reader >= 0, np.append(reader_site, -1)[timeline.reader], -1),
        schedule=_timeline(planned, person, listed["reader"]),
    )


def _timeline(frame: Frame, people: pl.Series, readers: pl.Series) -> Timeline:
    person = _places(frame["person"], people)
    every = Timeline(
        key=key_of(person, frame["at"].to_numpy()),
        punch=frame["punch"].to_numpy(),
        person=person,
        at=frame["at"].to_numpy(),
        ends=frame["ends"].to_numpy(),
        reader=_places(frame["reader"].cast(pl.String), readers),
        direction=direction_codes(frame["direction"].cast(pl.String)),
    )
    known = every if (person >= 0).all() else every.only(person >= 0)
    return known if (known.key[1:] >= known.key[:-1]).all() else known.only(np.argsort(known.key, kind="stable"))


def key_of(row: Ints, at: Ints) -> Ints:
    """Return row and instant in one number, by which both are sorted at once."""
    return (row << SHIFT_BITS) + np.clip(at, 0, NEVER - 1)


def row_of(key: Ints) -> Ints:
    """Return the row of what `key_of` returns."""
    return key >> SHIFT_BITS


def _places(values: pl.Series, among: pl.Series) -> Ints:
    """The place of each value among distinct ones, -1 where it is not there."""
    found = values.cast(pl.Enum(among), strict=False).to_physical()
    return found.cast(pl.Int64).fill_null(-1).to_numpy()


def _days(days: pl.Series, when_empty: int) -> Ints:
    return days.to_physical().cast(pl.Int64).fill_null(when_empty).to_numpy()


def ranges(first: Ints, counts: Ints) -> Ints:
    """Return the places first, first + 1, ... of each range, one range after the other."""
    total = int(counts.sum())
    offsets = np.repeat(np.cumsum(counts) - counts, counts)
    return np.arange(total) - offsets + np.repeat(first, counts)
