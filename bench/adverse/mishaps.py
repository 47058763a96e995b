"""Whose numbers go wrong, and how: hands under wrong numbers, swapped numbers, strangers, slips, clocks, crews."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from bench.adverse.crew import DAY_S, Work

NOBODY = ""


@dataclass(frozen=True)
class Mishaps:
    """What goes wrong with numbers and times at a workplace, and how often.

    `wrong` people are enrolled at one reader under a number that is nobody's, `pairs` of people under each other's
    number at a reader. `outsiders` come under numbers that no roster knows. `slips` is the share of visits at which a
    wrong number is keyed first, a mate's or nobody's. A `clock` is off by so many minutes for a span of weeks; an
    `early` crew begins so many minutes earlier for a week, everywhere. Readers write `names` beside numbers or not.
    `unlike` is the share of wrong numbers that have nothing in common with the right one.
    """

    wrong: int = 0
    pairs: int = 0
    outsiders: int = 0
    slips: float = 0.0
    clock: int = 0
    early: int = 0
    names: bool = True
    unlike: float = 0.15


@dataclass(frozen=True)
class Numbers:
    """The number of each person, and what each is enrolled under where (`keyed`); `swapped` holds the pairs."""

    of: list[str]
    keyed: dict[tuple[int, int], str]
    swapped: list[tuple[int, int, int]]
    strangers: list[str]
    since: dict[tuple[int, int], int]


def draw_numbers(rng: np.random.Generator, work: Work, mishaps: Mishaps, digits: int = 5) -> Numbers:
    """Give everybody a number, and some a wrong one at a reader they use."""
    crew = work.crew
    drawn = rng.choice(10**digits, crew.people + mishaps.outsiders, replace=False)
    every = [str(value).zfill(digits) for value in drawn.tolist()]
    of, strangers = every[: crew.people], every[crew.people :]
    taken, keyed, since = set(every), {}, {}
    chosen = rng.permutation(crew.people).tolist()
    for who in chosen[: mishaps.wrong]:
        reader = int(work.home[who])
        number = _slipped(rng, of[who], taken, mishaps.unlike)
        taken.add(number)
        keyed[who, reader] = number
        since[who, reader] = int(rng.integers(0, crew.days // 2)) if rng.random() < 0.5 else 0
    rest, swapped = chosen[mishaps.wrong :], []
    for one in rest:
        if len(swapped) == mishaps.pairs:
            break
        mates = [two for two in rest if two != one and work.home[two] == work.home[one]]
        if mates and not any(one in pair[:2] for pair in swapped):
            two = int(rng.choice(mates))
            if any(two in pair[:2] for pair in swapped):
                continue
            reader = int(work.home[one])
            keyed[one, reader], keyed[two, reader] = of[two], of[one]
            swapped.append((one, two, reader))
    return Numbers(of, keyed, swapped, strangers, since)


def _slipped(rng: np.random.Generator, number: str, taken: set[str], unlike: float) -> str:
    """A number keyed wrongly: one digit, two turned round, one left out or doubled, or another number altogether."""
    while True:
        digits = list(number)
        place = int(rng.integers(len(digits) - 1))
        kind = "unlike" if rng.random() < unlike else rng.choice(["digit", "turned", "dropped", "doubled"])
        if kind == "digit":
            digits[place] = str(rng.integers(10))
        elif kind == "turned":
            digits[place], digits[place + 1] = digits[place + 1], digits[place]
        elif kind == "dropped":
            del digits[place]
        elif kind == "doubled":
            digits.insert(place, digits[place])
        else:
            digits = list(str(rng.integers(10 ** len(digits))).zfill(len(digits)))
        made = "".join(digits)
        if made not in taken:
            return made


def clock_shift(work: Work, mishaps: Mishaps) -> np.ndarray:
    """Seconds by which reader 0 is off at each visit, over the last three weeks."""
    late = (work.day >= work.crew.days - 21) & (work.reader == 0)
    return np.where(late, mishaps.clock * 60, 0)


def crew_shift(work: Work, mishaps: Mishaps) -> np.ndarray:
    """Seconds by which the people whose home is reader 0 come earlier in the last week, at whichever reader."""
    last = (work.day >= work.crew.days - 7) & (work.home[work.person] == 0) & (work.way == 0)
    return np.where(last, -mishaps.early * 60, 0)


def strangers_visits(rng: np.random.Generator, work: Work, count: int) -> np.ndarray:
    """Outsiders' visits: rows of (place among them, reader, day, at, way), at a reader of their own, for some weeks."""
    rows = []
    for one in range(count):
        reader, begins = int(rng.integers(work.crew.readers)), int(rng.integers(0, work.crew.days))
        hour = int(rng.choice([6, 8, 14]))
        for day in range(begins, min(begins + int(rng.integers(3, 25)), work.crew.days)):
            if day % 7 < 5:
                start = 1_767_571_200 + day * DAY_S + hour * 3600
                for at, way in ((start + rng.normal(-200, 240), 0), (start + 8 * 3600 + rng.normal(200, 240), 1)):
                    rows.append((one, reader, day, int(at), way))
    return np.array(rows, dtype=np.int64).reshape(-1, 5)
