"""Measure the plan of an enrolment day: 300 people, 8 readers, one day, every person with costs of their own."""

from __future__ import annotations

import argparse
import time

import numpy as np

from evenhand.enrolment.planning.plan import EnrolmentDay, plan_day
from evenhand.enrolment.tables import COSTS, STANDING, STATIONS, VISITS
from evenhand.terms.columns import Frame

SLOTS = 16


def invented(rng: np.random.Generator, people: int, readers: int) -> tuple[Frame, Frame, Frame, Frame]:
    """Return visits, stations, standing and costs: two shifts that overlap, one in seven slots forbidden to each."""
    names = [f"R{n}" for n in range(readers)]
    visits, costs, running = [], [], 0
    for n in range(2 * readers):
        for far in (0, 1):
            visits.append((running, f"S{n:02d}", names[(n // 2 + far) % readers], True, far == 0))
            running += 1
        costs += [(f"S{n:02d}", slot, int(rng.integers(10, 31))) for slot in range(SLOTS)]
    for n in range(people):
        person, first = f"P{n:03d}", int(rng.integers(readers))
        for far in (0, 1) if n % 10 == 0 else (0,):
            visits.append((running, person, names[(first + far) % readers], False, True))
            running += 1
        shift = range(10) if rng.random() < 0.5 else range(6, SLOTS)
        costs += [(person, slot, int(rng.integers(5, 40))) for slot in shift if rng.random() > 0.15]
    return (
        VISITS.rows(dict(zip(VISITS.names, row, strict=True)) for row in visits),
        STATIONS.rows({"reader": name, "places": 4} for name in names),
        STANDING.empty(),
        COSTS.rows(dict(zip(COSTS.names, row, strict=True)) for row in costs),
    )


def main() -> None:
    """Print the minutes, the bound, the gap and the time, for several seeds."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--people", type=int, default=300)
    words.add_argument("--readers", type=int, default=8)
    words.add_argument("--seeds", type=int, default=3)
    words.add_argument("--seconds", type=float, default=8.0)
    given = words.parse_args()
    for attended in (True, False):
        for seed in range(given.seeds):
            frames = invented(np.random.default_rng(seed), given.people, given.readers)
            began = time.perf_counter()
            planned = plan_day(EnrolmentDay(*frames, slots=SLOTS, attended=attended), seconds=given.seconds)
            took = time.perf_counter() - began
            print(
                f"{'attended' if attended else 'unattended':10}  seed {seed}  {planned.plan.height} visits  "
                f"{planned.left_out.height} left out  {planned.minutes} min  bound {planned.bound}  "
                f"gap {planned.gap:.2%}  {took:.1f} s"
            )


if __name__ == "__main__":
    main()
