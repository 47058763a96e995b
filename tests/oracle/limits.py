"""The rests and breaks of Directive 2003/88/EC, from a person's runs of work; its averages are not held here.

Sources: articles 3 (11 hours of rest in each 24, which run from the beginning of a shift: Case C-151/02, paragraphs 94
and 95, from memory), 4 (a break in a day of more than six hours) and 5 (35 hours of rest in each seven days, counted
from the person's first civil day: a reading). A shift is what its punches bound, its breaks within.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from tests.oracle.clocks import DAY, Clock
from tests.oracle.punches import Run

__all__ = ["Breach", "breaches_of"]

Breach = tuple[str, int, int, int]
"""Which limit, the minutes at which what is found begins and ends, and how many minutes of rest there are."""
REST, BREAK_AFTER, WEEKLY_REST = 11 * 60, 6 * 60, 35 * 60


def breaches_of(runs: Sequence[Run], clock: Clock) -> set[Breach]:
    """Return where the rests and breaks fall short."""
    by_shift: dict[int, list[Run]] = {}
    for run in runs:
        by_shift.setdefault(run.shift, []).append(run)
    shifts = [(of_shift[0].since, of_shift[-1].until) for of_shift in by_shift.values()]
    found: set[Breach] = set()
    for (_, rested), (starts, _) in pairwise(shifts):
        if starts - rested < REST:
            found.add(("daily_rest", rested, starts, starts - rested))
    for number, (starts, ends) in enumerate(shifts):
        left = max(0, starts + DAY - ends)
        # What follows a rest that is too short itself is no second breach.
        follows = shifts[number + 1][0] - ends if number + 1 < len(shifts) else REST
        if left < REST <= follows:
            found.add(("daily_rest", ends, max(starts + DAY, ends), left))
    for of_shift in by_shift.values():
        whole = all(before.until == after.since for before, after in pairwise(of_shift))
        starts, ends = of_shift[0].since, of_shift[-1].until
        if whole and ends - starts > BREAK_AFTER:
            found.add(("break", starts, ends, 0))
    return found | (_short_weeks(shifts, clock) if shifts else set())


def _short_weeks(shifts: Sequence[tuple[int, int]], clock: Clock) -> set[Breach]:
    first, last = shifts[0][0], shifts[-1][1]
    day = clock.civil[first - clock.begins] // DAY
    found: set[Breach] = set()
    low = _midnight(day, clock)
    while low < last:
        day += 7
        high = _midnight(day, clock)
        within = [(max(starts, low), min(ends, high)) for starts, ends in shifts if starts < high and ends > low]
        free_from = [low, *(ends for _, ends in within)]
        free = max(until - since for since, until in zip(free_from, [*(s for s, _ in within), high], strict=True))
        # Rest goes on after the last work that is known, so a week that has not passed cannot fail.
        if within and free < WEEKLY_REST and last >= high - DAY:
            found.add(("weekly_rest", low, high, free))
        low = high
    return found


def _midnight(day: int, clock: Clock) -> int:
    """Return the first minute of a civil day."""
    near = day * DAY - clock.civil[0] - 3 * 60  # clocks change by less
    return clock.begins + next(k for k in range(near, len(clock.civil)) if clock.civil[k] >= day * DAY)
