"""Civil time and elapsed time: offsets of a zone as a table, and the instants where days and weeks begin.

A zone becomes a short table of instants at which its offset changes, so that columns of millions of
instants are placed in civil time by one search instead of one conversion each.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from functools import cached_property, lru_cache
from zoneinfo import ZoneInfo

import numpy as np
import numpy.typing as npt

from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = [
    "DAY_S",
    "FIRST_YEAR",
    "LAST_YEAR",
    "WEEK_S",
    "Offsets",
    "check_reckoned",
    "civil_date",
    "day_start",
    "instants_at",
    "is_reckoned",
    "is_reckoned_day",
    "is_zone",
    "offsets_of",
    "utc_start",
    "week_starts",
]

DAY_S = 86_400
WEEK_S = 7 * DAY_S
FIRST_YEAR, LAST_YEAR = 1990, 2060

Instants = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Offsets:
    """A zone's offsets: from `starts[i]` on, civil time is the instant plus `offsets[i]` [s].

    `starts[0]` lies before every instant asked about.
    """

    zone: str
    starts: Instants
    offsets: Instants

    @cached_property
    def days_of_change(self) -> Instants:
        """Return the civil days, counted from 1970-01-01, on which clocks are set forward or back."""
        return (self.starts[1:] + np.minimum(self.offsets[1:], self.offsets[:-1])) // DAY_S

    def at(self, instants: Instants) -> Instants:
        """Return the offset [s] in force at each instant."""
        return self.offsets[np.maximum(np.searchsorted(self.starts, instants, side="right") - 1, 0)]

    def to_local(self, instants: Instants) -> Instants:
        """Return civil time, as seconds since 1970-01-01T00:00 on the wall."""
        return instants + self.at(instants)

    def from_local(self, local: Instants) -> tuple[Instants, Instants, npt.NDArray[np.bool_]]:
        """Return for each civil time its earlier and its later instant, and whether it exists at all.

        The two instants differ only in the hour repeated when clocks are set back. A time skipped when
        clocks are set forward does not exist; both its instants are then the moment of the change.
        """
        before, after = self.at(local - DAY_S), self.at(local + DAY_S)
        by_before, by_after = local - before, local - after
        before_holds, after_holds = self.at(by_before) == before, self.at(by_after) == after
        exists = before_holds | after_holds
        earlier = np.where(before_holds, by_before, by_after)
        later = np.where(after_holds, by_after, by_before)
        if not exists.all():
            change = self.starts[np.searchsorted(self.starts, by_before, side="right") - 1]
            earlier, later = np.where(exists, earlier, change), np.where(exists, later, change)
        return earlier, later, exists


def check_reckoned(day: date) -> date:
    """Return the day; raises Refusal where it lies outside the years for which zones' offsets are known here."""
    if not is_reckoned_day(day):
        raise Refusal(
            told(
                "{day:iso} lies outside the years {first} to {last}; give a day within them.",
                day=day,
                first=FIRST_YEAR + 1,
                last=LAST_YEAR - 1,
            )
        )
    return day


def is_reckoned_day(day: date) -> bool:
    """Whether a day lies within the years for which zones' offsets are known here."""
    return FIRST_YEAR < day.year < LAST_YEAR


def is_reckoned(instant: int) -> bool:
    """Whether an instant lies within the years for which zones' offsets are known here."""
    return utc_start(date(FIRST_YEAR + 1, 1, 1)) <= instant < utc_start(date(LAST_YEAR, 1, 1))


@lru_cache(maxsize=256)
def is_zone(name: str) -> bool:
    """Return whether the IANA time zone database, as Python's zoneinfo reads it, has a zone of this name."""
    try:
        ZoneInfo(name)
    except (ValueError, OSError, KeyError):
        return False
    return True


@lru_cache(maxsize=64)
def offsets_of(zone: str, first_year: int = FIRST_YEAR, last_year: int = LAST_YEAR) -> Offsets:
    """Return the offsets of `zone` from one year to another; raises KeyError where the zone is unknown.

    Source: the IANA time zone database as Python's zoneinfo reads it.
    """
    try:
        info = ZoneInfo(zone)
    except (ValueError, OSError) as error:
        raise KeyError(zone) from error

    def offset(instant: int) -> int:
        delta = datetime.fromtimestamp(instant, UTC).astimezone(info).utcoffset()
        assert delta is not None
        return int(delta.total_seconds())

    start = int(datetime(first_year, 1, 1, tzinfo=UTC).timestamp())
    end = int(datetime(last_year + 1, 1, 1, tzinfo=UTC).timestamp())
    starts, offsets = [start], [offset(start)]
    step = 7 * DAY_S  # no zone has changed twice within a week and back since 1990
    for left in range(start, end, step):
        low, high = left, left + step
        if offset(low) == offset(high):
            continue
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (middle, high) if offset(middle) == offset(low) else (low, middle)
        starts.append(high)
        offsets.append(offset(high))
    return Offsets(zone, np.array(starts, dtype=np.int64), np.array(offsets, dtype=np.int64))


def instants_at(zone: str, civil: datetime) -> tuple[int, ...]:
    """Return the instants, to the second, at which clocks in `zone` show a civil time (a datetime without a zone).

    There are none where clocks were set forward over it, and two, the earlier first, where they were set back.
    """
    local = np.array([(civil - datetime(1970, 1, 1)) // timedelta(seconds=1)], dtype=np.int64)
    earlier, later, exists = offsets_of(zone).from_local(local)
    if not exists[0]:
        return ()
    return (int(earlier[0]),) if earlier[0] == later[0] else (int(earlier[0]), int(later[0]))


def utc_start(day: date) -> int:
    """Return the instant at which a day begins in UTC, which places no hours: it bounds what is looked at."""
    return (day - date(1970, 1, 1)).days * DAY_S


def day_start(zone: str, day: date, seconds: int = 0) -> int:
    """Return the instant at which the civil day reaches `seconds` after midnight, in `zone`.

    A time that clocks skip is the moment of the change; a time that occurs twice is its first occurrence.
    """
    local = utc_start(day) + seconds
    earlier, _, _ = offsets_of(zone).from_local(np.array([local], dtype=np.int64))
    return int(earlier[0])


def week_starts(zone: str, weekday: int, seconds: int, first: date, last: date) -> tuple[list[date], Instants]:
    """Return the workweeks that cover `first` to `last`: their first civil dates, and their instants.

    A workweek is a fixed, recurring 168 hours beginning on `weekday` (0 is Monday), `seconds` after midnight.
    The instants hold one more entry than the dates: the end of the last workweek. Boundaries are civil times,
    so a week over a clock change has 167 or 169 elapsed hours.
    Source: 29 CFR 778.105 (a fixed and regularly recurring period of 168 hours).
    """
    begin = first - timedelta(days=(first.weekday() - weekday) % 7)
    if begin == first and seconds:
        begin -= timedelta(days=7)
    dates = [begin]
    while dates[-1] <= last:
        dates.append(dates[-1] + timedelta(days=7))
    instants = np.array([day_start(zone, day, seconds) for day in dates], dtype=np.int64)
    return dates[:-1], instants


def civil_date(zone: str, instant: int) -> date:
    """Return the civil date at `instant` in `zone`."""
    return datetime.fromtimestamp(instant, ZoneInfo(zone)).date()
