"""Who works where and when, and when they lay a hand down: shifts, leave, lapses, readers used."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

DAY_S, HOUR_S = 86_400, 3600
FIRST_AT = 1_767_571_200  # 2026-01-05T00:00:00Z, a Monday
SHIFTS = ((6, 14), (8, 16), (14, 22), (22, 30))


@dataclass(frozen=True)
class Crew:
    """How a workplace works.

    `leave` is the share of planned shifts that fall into leave or sickness, in stretches; with `leave_planned` the
    schedule says so. `lapses` is the share of punches that are forgotten, `one_reader` the share of people who use one
    reader only. With `one_shift` everybody begins together; with `meals` people punch out and in for a meal.
    """

    people: int = 150
    readers: int = 8
    sites: int = 2
    days: int = 84
    leave: float = 0.03
    leave_planned: bool = True
    lapses: float = 0.01
    one_reader: float = 0.3
    one_shift: bool = False
    meals: bool = True
    scheduled: bool = True


@dataclass(frozen=True)
class Work:
    """What a crew did, as columns: shifts planned, and visits to readers in the order of time.

    `site`, `shift` are of each person; `home`, `second` the readers used; `planned_*` one row a shift that a schedule
    tells; `person`, `reader`, `day`, `at` (true UTC) and `way` (0 in, 1 out) one row a visit.
    """

    crew: Crew
    site: np.ndarray
    shift: np.ndarray
    home: np.ndarray
    second: np.ndarray
    planned_person: np.ndarray
    planned_at: np.ndarray
    person: np.ndarray
    reader: np.ndarray
    day: np.ndarray
    at: np.ndarray
    way: np.ndarray


def work(rng: np.random.Generator, crew: Crew) -> Work:
    """Let a crew work its days: five days of seven, each person's own two days off."""
    count, days = crew.people, crew.days
    site = np.arange(count) % crew.sites
    at_site = [np.flatnonzero(np.arange(crew.readers) % crew.sites == place) for place in range(crew.sites)]
    home = np.array([rng.choice(at_site[place]) for place in site])
    second = np.array([rng.choice(at_site[place]) for place in site])
    second = np.where(rng.random(count) < crew.one_reader, home, second)
    shift = np.zeros(count, int) if crew.one_shift else rng.choice(len(SHIFTS), count, p=(0.35, 0.35, 0.2, 0.1))
    off = rng.integers(0, 7, count)
    weekday = np.arange(days) % 7
    planned = (weekday[None, :] != off[:, None]) & (weekday[None, :] != (off[:, None] + 1) % 7)
    away = _away(rng, crew)
    person, day = np.nonzero(planned & ~away)
    told = planned & ~away if crew.leave_planned else planned
    planned_person, planned_day = np.nonzero(told if crew.scheduled else np.zeros_like(told))
    starts, ends = (np.array([hours[end] for hours in SHIFTS]) * HOUR_S for end in (0, 1))
    early = rng.gamma(2.0, 150.0, len(person)) - 60  # minutes before the start, rarely after it
    habit = rng.normal(0, 180, count)
    turns = [(starts[shift[person]] - early + habit[person], 0)]
    if crew.meals:
        out = starts[shift[person]] + 4 * HOUR_S + rng.normal(0, 900, len(person))
        turns += [(out, 1), (out + 1800 + rng.normal(0, 240, len(person)), 0)]
    turns.append((ends[shift[person]] + rng.gamma(2.0, 120.0, len(person)), 1))
    visits = [
        np.column_stack([person, day, FIRST_AT + day * DAY_S + when, np.full(len(person), way)]) for when, way in turns
    ]
    rows = np.concatenate(visits)
    rows = rows[rng.random(len(rows)) >= crew.lapses]
    rows = rows[np.argsort(rows[:, 2], kind="stable")].astype(np.int64)
    who = rows[:, 0]
    reader = np.where(rng.random(len(rows)) < 0.7, home[who], second[who])
    return Work(
        crew,
        site,
        shift,
        home,
        second,
        planned_person,
        FIRST_AT + planned_day * DAY_S + starts[shift[planned_person]],
        who,
        reader,
        rows[:, 1],
        rows[:, 2],
        rows[:, 3],
    )


def _away(rng: np.random.Generator, crew: Crew) -> np.ndarray:
    """Days of leave and sickness, in stretches of one to twelve days (people, days)."""
    away = np.zeros((crew.people, crew.days), bool)
    mean = 4.0
    for who in range(crew.people):
        for _ in range(rng.poisson(crew.leave * crew.days / mean)):
            begins = int(rng.integers(crew.days))
            away[who, begins : begins + min(1 + int(rng.exponential(mean - 1)), 12)] = True
    return away
