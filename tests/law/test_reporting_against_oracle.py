"""Reporting time of invented weeks against a reading of the wage orders' section 5 in civil hours, stretch by stretch.

It shares no line with the room: days are midnight to midnight, in a zone and month without a clock change, and times
are hours since the first midnight.
"""

from __future__ import annotations

import random
from collections import defaultdict
from collections.abc import Sequence
from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise

import pytest

from evenhand.terms.sources import SCHEDULES
from evenhand.terms.tables import ATTRIBUTED
from tests.law.weeks import hours_of, instant

LA = "America/Los_Angeles"
FIRST = date(2026, 5, 10)  # a Sunday
BEGINS = instant("2026-05-10 00:00", LA)
Stretch = tuple[float, float]
STARTS = (0.5, 6, 9, 14, 22)


def invent(rng: random.Random) -> tuple[list[Stretch], list[Stretch]]:
    """Return what was scheduled and what was worked on six days; quarter hours, at least one between two spans."""
    planned: list[Stretch] = []
    worked: list[Stretch] = []
    for day in range(6):
        starts = 24 * day + rng.choice(STARTS)
        if rng.random() < 0.8 and (not planned or planned[-1][1] < starts):
            planned.append((starts, starts + rng.choice([3, 6, 8, 10])))
        for _ in range(rng.choice([0, 1, 1, 1, 2])):
            begins = 24 * day + rng.choice(STARTS) + rng.choice([-3, -1, -0.25, 0, 0, 0, 0.5, 2])
            begins = max(begins, worked[-1][1] + 0.25 if worked else 0.0)
            worked.append((begins, begins + rng.choice([0.5, 1, 1.75, 2, 3.75, 4, 5, 8, 10])))
    return planned, worked


def shifts_of(worked: list[Stretch], toward: Sequence[Stretch] = ()) -> list[tuple[float, float]]:
    """Return begin and hours of work of each shift: spans at most five hours apart, a gap under half an hour paid.

    Where schedules are given, who comes back `toward` the start of one, after more than a meal's hour, begins anew.
    """
    shifts: list[tuple[float, float]] = []
    last = -99.0
    for begins, ends in worked:
        near_start, near_end = (any(abs(begins - one[side]) <= 1 for one in toward) for side in (0, 1))
        if begins - last > 5 or (begins - last > 1 and near_start and not near_end):
            shifts.append((begins, ends - begins))
        else:
            rest = begins - last if begins - last < 0.5 else 0
            shifts[-1] = (shifts[-1][0], shifts[-1][1] + rest + ends - begins)
        last = ends
    return shifts


def owed(planned: list[Stretch], worked: list[Stretch]) -> set[tuple[int, Decimal, str]]:
    """Return workday, hours and paragraph of all that is owed."""
    shifts, found, taken = shifts_of(worked), set(), set()
    by_day: defaultdict[int, list[Stretch]] = defaultdict(list)
    for one in planned:
        by_day[int(one[0] // 24)].append(one)
    for day, of_day in sorted(by_day.items()):
        later = [one[0] for one in planned if one[0] // 24 > day]
        theirs = []
        for number, (begins, _) in enumerate(shifts):
            in_day = 24 * day <= begins < 24 * (day + 1) or of_day[0][0] - 2 <= begins < of_day[-1][1]
            toward_next = bool(later) and begins >= later[0] - 2 and begins > of_day[-1][0]
            if in_day and not toward_next and number not in taken:
                theirs.append(number)
        taken |= set(theirs)
        scheduled, furnished = sum(b - a for a, b in of_day), sum(shifts[one][1] for one in theirs)
        reported = any(of_day[0][0] - 2 <= shifts[one][0] < of_day[-1][1] for one in theirs)
        due = min(max(scheduled / 2, 2), 4) - furnished
        if reported and furnished < scheduled / 2 and due > 0:
            found.add((day, Decimal(str(due)), "5(A)"))
    again = [(a, b) for a, b in pairwise(shifts_of(worked, planned)) if a[0] // 24 == b[0] // 24]
    found |= {(int(b[0] // 24), Decimal(str(2 - b[1])), "5(B)") for _, b in again if b[1] < 2}
    return found


def told(planned: list[Stretch], worked: list[Stretch]) -> set[tuple[int, Decimal, str]]:
    """Return the same of the room, for one person who is never scheduled twice a day."""
    punches = [(BEGINS + round(at * 3600), way) for span in worked for at, way in zip(span, ("in", "out"), strict=True)]
    attributed = ATTRIBUTED.rows(
        {"punch": k, "person": "Ada", "reader": "R1", "zone": LA, "at": at, "direction": way}
        for k, (at, way) in enumerate(punches, start=1)
    )
    plans = SCHEDULES.rows(
        {"person": "Ada", "starts_at": BEGINS + round(a * 3600), "ends_at": BEGINS + round(b * 3600)}
        for a, b in planned
    )
    hours = hours_of(attributed, LA, jurisdiction="california", schedules=plans)
    rows = hours.premiums.filter(kind="reporting").select("workday", "hours", "cites").rows()
    return {((day - FIRST) // timedelta(days=1), hours, cites[-4:]) for day, hours, cites in rows}


@pytest.mark.parametrize("batch", range(4))
def test_reporting_time_is_what_the_section_makes_of_invented_weeks(batch: int) -> None:
    # Among the later ones are days on which somebody comes back toward a scheduled start after some hours.
    for seed in (*range(50 * batch, 50 * batch + 50), 795 + batch, 806 + batch, 1089 + batch, 1223 + batch):
        planned, worked = invent(random.Random(seed))
        if worked:
            assert told(planned, worked) == owed(planned, worked), seed
