"""Who held which number from when to when, where rosters said several things of it one after the other.

What the rosters of a time said holds for that time: a number that is somebody else's now was its earlier holder's
before. A roster tells what it says from the day it is taken; it may have been so for some days by then, which is a
question where both were there. What one day's roster said and another of that day took back was mistaken.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Any

import polars as pl

from evenhand.terms.civil_days import civil_days
from evenhand.terms.columns import Frame
from evenhand.terms.sources import PEOPLE
from evenhand.terms.tables import NUMBER_DOUBTS

__all__ = ["NumbersHeld", "days_taken", "numbers_held"]

Day = dt.date
ONE_DAY = dt.timedelta(days=1)


@dataclass(frozen=True)
class NumbersHeld:
    """The roster (PEOPLE) with a row for each span in which somebody held a number, and `in_doubt` (NUMBER_DOUBTS).

    `hired_on` and `left_on` of a row are the first and the last day of its span, both inclusive; an empty one is open.
    """

    people: Frame
    in_doubt: Frame


@dataclass
class _Held:
    """A person's number from `first` to `last`, both inclusive, as what rosters said of it: see ROSTER_TOLD.

    `left_on` is the last day that was told while the number was theirs. `is_change` says that the roster had another
    number for them before.
    """

    person: str
    number: str
    first: Day | None
    last: Day | None
    told: int | None
    told_by: int
    ended: int | None
    left_on: Day | None
    is_change: bool


def days_taken(taken: Frame, zone: str) -> dict[int, Day]:
    """Return on which day, in a zone, each roster (ROSTERS_TAKEN) was taken, by its take."""
    days = civil_days(taken["taken_at"], pl.repeat(zone, taken.height, dtype=pl.String, eager=True))
    return dict(zip(taken["take"], days, strict=True))


def numbers_held(people: Frame, told: Frame, gone: Frame, days: Mapping[int, Day]) -> NumbersHeld:
    """Return who held which number from when to when.

    `told` is ROSTER_TOLD, `gone` (person, take) whom the roster lists no longer since that take, `days` on which day
    each roster was taken. Everybody of whom nothing is told holds their number while they are employed.
    """
    if told.is_empty():
        return NumbersHeld(people, NUMBER_DOUBTS.empty())
    unlisted = dict(gone.select("person", "take").iter_rows())
    held = [
        one
        for person, said in groupby(told.sort("person", "position").to_dicts(), key=lambda row: row["person"])
        for one in _of_person(list(said), unlisted.get(person), days)
    ]
    doubts: list[dict[str, Any]] = []
    standing: list[_Held] = []
    for _, claims in groupby(sorted(held, key=lambda one: one.number), key=lambda one: one.number):
        standing += _settled(list(claims), days, doubts)
    rows = PEOPLE.rows(
        {"person": one.person, "number": one.number, "hired_on": one.first, "left_on": one.last} for one in standing
    )
    spans = rows.select("person", "number", "hired_on", "left_on")
    is_told = pl.col("person").is_in(told["person"].unique().implode())
    theirs = people.drop("number", "hired_on", "left_on").join(spans, on="person").select(people.columns)
    without = people.filter(is_told).join(theirs, on="person", how="anti").with_columns(number=pl.lit(None, pl.String))
    every = pl.concat([people.filter(~is_told), theirs, without]).sort("person", maintain_order=True)
    return NumbersHeld(every, NUMBER_DOUBTS.rows(doubts))


def _of_person(said: Sequence[Mapping[str, Any]], gone: int | None, days: Mapping[int, Day]) -> Iterator[_Held]:
    """Yield what somebody held by their own statements alone, each number while they were employed."""
    employed = _employed(said)
    numbers = [list(rows) for _, rows in groupby(said, key=lambda row: row["number"])]
    for place, rows in enumerate(numbers):
        number, ended = rows[0]["number"], rows[-1]["ended"]
        if number is None:
            continue
        until = days.get(ended) if ended is not None else None
        if ended is None and rows[-1]["left_on"] is None:
            ended = gone
        since = days.get(rows[0]["told"]) if place else None
        for first, last in employed:
            bound = last if until is None else until if last is None else min(last, until)
            over = since is not None and last is not None and last < since and len(employed) > 1
            if over or (first is not None and bound is not None and bound < first):
                continue
            yield _Held(
                person=rows[0]["person"],
                number=number,
                first=first,
                last=bound,
                told=rows[0]["told"],
                told_by=rows[0]["told_by"],
                ended=ended,
                left_on=rows[-1]["left_on"],
                is_change=place > 0,
            )


def _employed(said: Iterable[Mapping[str, Any]]) -> list[tuple[Day | None, Day | None]]:
    """Return the spans of employment: the last that was said, and those before that somebody came back after."""
    before: list[tuple[Day | None, Day | None]] = []
    now: tuple[Day | None, Day | None] | None = None
    for one in said:
        first, last = one["hired_on"], one["left_on"]
        if now is not None and now[1] is not None and first is not None and first > now[1]:
            before.append(now)
        elif first is not None and last is not None and first > last and last not in [span[1] for span in before]:
            began = now[0] if now is not None and (now[0] is None or now[0] <= last) else None
            before.append((began, last))
        now = (first, None if first is not None and last is not None and first > last else last)
    return [*before, *([now] if now else [])]


def _settled(claims: list[_Held], days: Mapping[int, Day], doubts: list[dict[str, Any]]) -> list[_Held]:
    """Return the claims to one number with what was another's taken off, in the order in which they ended.

    Where two who are both there hold it by the roster of now, both claims stay, and it is nobody's alone.
    """
    standing = [replace(one) for one in sorted(claims, key=lambda one: (_over(one, days), one.person))]
    for place, earlier in enumerate(standing):
        for later in standing[place + 1 :]:
            if later.person != earlier.person and _over(earlier, days) < _over(later, days) and _meet(earlier, later):
                doubt = _part(earlier, later, days)
                if doubt is not None:
                    doubts.append(doubt)
    return [one for one in standing if one.first is None or one.last is None or one.first <= one.last]


def _over(one: _Held, days: Mapping[int, Day]) -> Day:
    """Return from which day on the number was theirs no longer, as far as anybody said."""
    ended = days.get(one.ended, Day.max) if one.ended is not None else Day.max
    return ended if one.last is None else min(ended, one.last + ONE_DAY)


def _meet(one: _Held, other: _Held) -> bool:
    def ends_before(left: Day | None, right: Day | None) -> bool:
        return left is not None and right is not None and left < right

    empty = any(ends_before(each.last, each.first) for each in (one, other))
    return not empty and not ends_before(one.last, other.first) and not ends_before(other.last, one.first)


def _part(earlier: _Held, later: _Held, days: Mapping[int, Day]) -> dict[str, Any] | None:
    """Part two claims that meet, by what was told when; return what remains in doubt (NUMBER_DOUBTS), if anything."""
    if earlier.ended is None:
        return _part_after_last_day(earlier, later, days)
    known = later.told_by - 1 if later.told is None else later.told
    by = earlier.ended if later.told is None else min(earlier.ended, later.told)
    given = days.get(by, Day.max)
    vouched = _last_vouched(earlier, given, days)
    if vouched is None or (later.told is None and known < earlier.ended):
        _end(earlier, later.first)  # a roster of the same day took it back, or both had it by one roster
        return None
    begins = days.get(later.told) if later.is_change and later.told is not None else later.first
    if earlier.left_on is not None and begins is not None and begins > earlier.left_on:
        _end(earlier, earlier.left_on + ONE_DAY)
        _begin(later, earlier.left_on + ONE_DAY)
        return None
    since = _since(later, vouched)
    if since > vouched and not later.is_change and later.first is not None:
        _end(earlier, later.first)
        return None
    _end(earlier, given)
    _begin(later, given)
    return _doubt(earlier, later, since, by)


def _part_after_last_day(leaver: _Held, later: _Held, days: Mapping[int, Day]) -> dict[str, Any] | None:
    """Part the claim of somebody who has left and keeps the number on the roster from that of who has it too."""
    by = later.told_by if later.told is None else later.told
    vouched = _last_vouched(leaver, days.get(by, Day.min), days)
    if leaver.last is None or vouched is None or days[by] <= leaver.last:
        return None  # told while both were there: nobody's alone
    since = _since(later, vouched)
    _begin(later, leaver.last + ONE_DAY)
    return _doubt(leaver, later, since, by)


def _since(later: _Held, vouched: Day) -> Day:
    """Return since when the number may have been the later holder's: employed, and not told otherwise by a roster."""
    is_new = later.told is not None and (later.is_change or later.first is None)
    return vouched + ONE_DAY if is_new else later.first or Day.min


def _last_vouched(one: _Held, before: Day, days: Mapping[int, Day]) -> Day | None:
    """Return the last day before another on which a roster was taken that may have told of a claim."""
    since = days.get(one.told, Day.min) if one.told is not None else Day.min
    return max((day for day in days.values() if since <= day < before), default=None)


def _end(one: _Held, before: Day | None) -> None:
    last = Day.min if before is None else before - ONE_DAY
    one.last = last if one.last is None else min(one.last, last)
    one.first = Day.max if before is None else one.first


def _begin(one: _Held, on: Day) -> None:
    one.first = on if one.first is None else max(one.first, on)


def _doubt(earlier: _Held, later: _Held, since: Day, take: int) -> dict[str, Any] | None:
    """Return the days on which the number may have been the later holder's already, and is the earlier one's."""
    first = since if earlier.first is None else max(earlier.first, since)
    if earlier.last is None or first > earlier.last:
        return None
    return {
        "number": earlier.number,
        "person": earlier.person,
        "later": later.person,
        "first_on": None if first == Day.min else first,
        "last_on": earlier.last,
        "take": take,
    }
