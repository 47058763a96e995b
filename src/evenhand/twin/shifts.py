"""Shifts as planned and as worked: schedules, arrivals, meals, and the true spans between them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.terms.zones import DAY_S, offsets_of

__all__ = ["PATTERNS", "Movements", "Shifts", "plan_shifts", "true_movements"]

Ints = npt.NDArray[np.int64]
Flags = npt.NDArray[np.bool_]

_H = 3600
_TURNS = (1, 2, 5, 6, 7, 10, 11)  # two on, two off, three on: 12-hour crews over a fortnight
_OTHER_TURNS = (0, 3, 4, 8, 9, 12, 13)


@dataclass(frozen=True)
class Pattern:
    """A shift pattern: days of a fortnight that begins on a Sunday, civil start [s], length [s], share of people."""

    name: str
    days: tuple[int, ...]
    starts_s: int
    length_s: int
    share: float


def _fortnight(days: tuple[int, ...]) -> tuple[int, ...]:
    return days + tuple(day + 7 for day in days)


PATTERNS = (
    Pattern("early", _fortnight((1, 2, 3, 4, 5)), 6 * _H, 8 * _H, 0.3),
    Pattern("late", _fortnight((1, 2, 3, 4, 5)), 14 * _H, 8 * _H, 0.2),
    Pattern("night", _fortnight((2, 3, 4, 5, 6)), 22 * _H, 8 * _H, 0.15),
    Pattern("office", _fortnight((1, 2, 3, 4, 5)), 8 * _H, 8 * _H, 0.1),
    Pattern("long day", _TURNS, 6 * _H, 12 * _H, 0.07),
    Pattern("other long day", _OTHER_TURNS, 6 * _H, 12 * _H, 0.06),
    Pattern("long night", _TURNS, 18 * _H, 12 * _H, 0.06),
    Pattern("other long night", _OTHER_TURNS, 18 * _H, 12 * _H, 0.06),
)


@dataclass(frozen=True)
class Shifts:
    """Planned shifts as columns (shifts,): person, day from the first, start and end instants, whether worked."""

    person: Ints
    day: Ints
    starts: Ints
    ends: Ints
    worked: Flags


@dataclass(frozen=True)
class Movements:
    """What people truly did, as columns (movements,) by shift and time: going in and out.

    `kind` is 0 in, 1 out to the meal, 2 in from it, 3 out.
    """

    shift: Ints
    person: Ints
    at: Ints
    kind: npt.NDArray[np.int64]

    @property
    def goes_in(self) -> Flags:
        """Return whether each act goes in."""
        return np.asarray(self.kind % 2 == 0)


def plan_shifts(
    rng: np.random.Generator,
    pattern: Ints,
    zones: list[str],
    *,
    first_day: int,
    days: int,
    present: Flags,
) -> Shifts:
    """Return the shifts of everybody over `days` days from civil day `first_day` (days since 1970-01-01).

    `zones` has one zone a person; `present` (people, days) says who is employed and not on leave. Six people in a
    hundred of the five-day crews work the Saturday too, and three shifts in a hundred are not worked.
    """
    people = len(pattern)
    since_sunday = (first_day + 4 + np.arange(days)) % 14  # 1970-01-01 was a Thursday
    plan = np.zeros((len(PATTERNS), days), dtype=bool)
    for i, each in enumerate(PATTERNS):
        plan[i] = np.isin(since_sunday, each.days)
    planned = plan[pattern]
    saturdays = np.flatnonzero(since_sunday % 7 == 6)
    is_weekly = np.array([len(each.days) == 10 for each in PATTERNS])[pattern]
    planned[:, saturdays] |= (rng.random((people, len(saturdays))) < 0.06) & is_weekly[:, None]
    planned &= present
    person, day = np.nonzero(planned)
    starts_s = np.array([each.starts_s for each in PATTERNS])[pattern[person]]
    length_s = np.array([each.length_s for each in PATTERNS])[pattern[person]]
    wall = (first_day + day) * DAY_S + starts_s
    starts, ends = np.empty_like(wall), np.empty_like(wall)
    zone = np.array(zones)[person]
    for name in sorted(set(zones)):
        here = zone == name
        starts[here] = offsets_of(name).from_local(wall[here])[0]
        ends[here] = offsets_of(name).from_local(wall[here] + length_s[here])[0]
    return Shifts(person, day, starts, ends, rng.random(len(person)) >= 0.03)


def true_movements(rng: np.random.Generator, shifts: Shifts, people: int) -> Movements:
    """Return what happens on the shifts that are worked.

    People come a few minutes early, now and then late; leave a little after the end, sometimes an hour or two.
    Meals come in two sittings. Most punch a meal of 30 minutes or a little more; one person in eight takes 20 to
    29 minutes, a rest that is paid (29 CFR 785.18, 785.19); one in twenty stays and punches no meal.
    """
    habit, sitting = rng.random(people), rng.choice([-40, 40], people)
    shift = np.flatnonzero(shifts.worked)
    n = len(shift)
    person, starts, ends = shifts.person[shift], shifts.starts[shift], shifts.ends[shift]
    early = np.abs(rng.normal(6, 4, n)) * 60
    late = np.where(rng.random(n) < 0.05, rng.uniform(8, 30, n) * 60, 0)
    come = starts - early.astype(np.int64) + late.astype(np.int64)
    stay = np.where(rng.random(n) < 0.04, rng.uniform(30, 110, n), rng.exponential(3, n)) * 60
    leave = ends + stay.astype(np.int64)
    meal_out = (starts + ends) // 2 + (rng.normal(sitting[person], 14) * 60).astype(np.int64)
    is_short = habit[person] < 1 / 8
    minutes = np.where(is_short, rng.uniform(20, 29.9, n), 30.3 + np.minimum(rng.exponential(2, n), 12))
    meal_in = meal_out + (minutes * 60).astype(np.int64)
    punches_meal = habit[person] < 19 / 20
    at = np.stack([come, meal_out, meal_in, leave], axis=1)
    kept = np.stack([np.ones(n, bool), punches_meal, punches_meal, np.ones(n, bool)], axis=1)
    kind = np.broadcast_to(np.arange(4), (n, 4))
    return Movements(
        np.broadcast_to(shift[:, None], (n, 4))[kept],
        np.broadcast_to(person[:, None], (n, 4))[kept],
        at[kept],
        kind[kept].astype(np.int64),
    )
