"""Hold hours, premiums and pay against the minute-by-minute oracle for as many random person-weeks as asked for.

`make oracle` runs a million: each jurisdiction, clocks that change, odd beginnings of workday and workweek, lost,
double and swapped punches, marked, unmarked and half marked readers, schedules, rates, salaries, bonuses,
differentials and decisions. Ends with 1 at the first person that differs, made smaller and printed. The same seed makes
the same people: `--seed` goes on where a run was stopped.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections import Counter, deque
from collections.abc import Generator, Sequence
from concurrent.futures import ProcessPoolExecutor
from datetime import UTC, datetime
from itertools import count
from multiprocessing import get_context

from evenhand.law import load_passes
from tests.oracle.held import hold, hold_seed, smaller, told_of
from tests.oracle.invented import invent

__all__ = ["main"]

DEFAULT_WEEKS, PEOPLE = 1_000_000, 400
BAR = 30


def _results(seed: int, people: int, processes: int) -> Generator[tuple[int, Counter[str], bool], None, None]:
    """Yield the results of one batch after the other, by seed, while some are being worked on ahead."""
    if processes == 1:
        yield from (hold_seed(each, people) for each in count(seed))
    # Frames have threads of their own, which a forked process would lack.
    with ProcessPoolExecutor(processes, mp_context=get_context("spawn"), initializer=load_passes) as pool:
        waiting = deque(pool.submit(hold_seed, seed + ahead, people) for ahead in range(2 * processes))
        try:
            for following in count(seed + len(waiting)):
                yield waiting.popleft().result()
                waiting.append(pool.submit(hold_seed, following, people))
        finally:
            pool.shutdown(wait=False, cancel_futures=True)


def main(argv: Sequence[str] | None = None) -> int:
    """Hold so many person-weeks; print how many of each kind, and the first person that differs."""
    asked = argparse.ArgumentParser(prog="python -m tests.oracle", description=__doc__)
    asked.add_argument("--weeks", type=int, default=DEFAULT_WEEKS, help="person-weeks to hold (default: %(default)s)")
    asked.add_argument("--seed", type=int, default=1_000_000, help="of the first batch (default: %(default)s)")
    asked.add_argument("--people", type=int, default=PEOPLE, help="people of a batch (default: %(default)s)")
    asked.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    told = asked.parse_args(argv)
    counted: Counter[str] = Counter()
    begun = datetime.now(tz=UTC)
    results = _results(told.seed, told.people, told.processes)
    for seed, of_batch, differs in results:
        if differs:
            results.close()
            _, differing = hold(invent(seed, told.people))
            print(f"\nafter {counted['weeks']:,} person-weeks, batch {seed} differs:")
            # What differs compiled alone does so no more here.
            print(*(told_of(smaller(differing)) if differing else ["not where it is held again"]), sep="\n")
            return 1
        counted += of_batch
        done = counted["weeks"]
        bar = "#" * min(BAR, BAR * done // told.weeks)
        print(f"\r[{bar:.<{BAR}}] {done:,} of {told.weeks:,} person-weeks agree, seed {seed}", end="", flush=True)
        if done >= told.weeks:
            results.close()
            break
    seconds = (datetime.now(tz=UTC) - begun).total_seconds()
    print(f"\n{counted.pop('weeks'):,} person-weeks agree, seeds {told.seed} to {seed}, in {seconds:.0f} s:")
    for what, many in sorted(counted.items()):
        print(f"  {what}: {many:,}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
