"""Hold every claim against the truth, family by family, and print both.

OPENBLAS_NUM_THREADS=1 python -m bench.adverse --seeds 3
python -m bench.adverse --only strays --family "hard all round"
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from itertools import pairwise
from typing import Any

import numpy as np
from bench.adverse import claims
from bench.adverse.claims import Row
from bench.adverse.families import CLOCKS, SCORES, STRAYS

KINDS: dict[str, tuple[dict[str, Any], Callable[..., Iterator[Row]]]] = {
    "rest": (SCORES, claims.at_rest),
    "changes": (SCORES, claims.when_changed),
    "dates": (SCORES, claims.dates),
    "strays": (STRAYS, claims.strays),
    "clocks": (CLOCKS, claims.clocks),
}
EDGES = (0.0, 0.05, 0.3, 0.7, 0.85, 0.95, 0.99, 1.0001)


def main() -> None:
    """Print the table of claims and truths."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--seeds", type=int, default=3, help="workplaces of each family")
    asked.add_argument("--first-seed", type=int, default=1)
    asked.add_argument("--only", choices=list(KINDS))
    asked.add_argument("--family")
    asked.add_argument("--jobs", type=int, default=2)
    given = asked.parse_args()
    began = time.perf_counter()
    print(f"seeds {given.first_seed} to {given.first_seed + given.seeds - 1} of each family; all of it invented")
    tasks = [
        (kind, family, seed)
        for kind, (families, _) in KINDS.items()
        if given.only in {None, kind}
        for family in families
        if given.family in {None, family}
        for seed in range(given.first_seed, given.first_seed + given.seeds)
    ]
    found: dict[tuple[str, str], list[Row]] = defaultdict(list)
    with ProcessPoolExecutor(given.jobs) as pool:
        for count, (task, rows) in enumerate(zip(tasks, pool.map(_measure, tasks), strict=True), start=1):
            found[task[:2]] += rows
            print(f"\r{count} of {len(tasks)} ", end="", file=sys.stderr, flush=True)
    print(file=sys.stderr)
    for kind in KINDS:
        for (of, family), rows in found.items():
            if of == kind:
                print(f"{kind}, {family}")
                for line in _lines(rows, given.seeds):
                    print(f"  {line}")
        if kind == "strays" and (rows := [row for (of, _), some in found.items() if of == kind for row in some]):
            print("strays, every family")
            for line in _reliability(rows):
                print(f"  {line}")
    print(f"{time.perf_counter() - began:.0f} s")


def _measure(task: tuple[str, str, int]) -> list[Row]:
    kind, family, seed = task
    families, measure = KINDS[kind]
    return list(measure(seed, *families[family]))


def _lines(rows: list[Row], seeds: int) -> Iterator[str]:
    by: dict[str, list[Row]] = defaultdict(list)
    for row in rows:
        by[row.claim].append(row)
    for claim, of in by.items():
        said, true = np.array([row.said for row in of]), np.array([row.true for row in of])
        if claim == "stray":
            yield from _reliability(of)
        elif claim.startswith("days"):
            yield f"{claim}: median {np.median(said):.0f}, never {np.isinf(said).sum()} of {len(of)}"
        elif claim.startswith(("cause", "shape", "dates", "swapped", "wrong")):
            yield f"{claim}: {100 * said.mean():.0f} % of {len(of)}"
        elif claim.startswith(("confirmable", "clocks off", "how far", "share")):
            yield f"{claim}: said {said.mean():.2f}, true {np.mean(true):.3f} of {len(of)}"
        else:
            yield f"{claim}: said {np.nansum(said) / seeds:.2f}, true {np.sum(true) / seeds:.2f}"


def _reliability(rows: list[Row]) -> Iterator[str]:
    pairs = np.array([(row.said, row.true) for row in rows if row.claim == "stray"])
    if not len(pairs):
        return
    for low, high in pairwise(EDGES):
        within = pairs[(pairs[:, 0] >= low) & (pairs[:, 0] < high)]
        if len(within):
            yield f"said {within[:, 0].mean():.3f}, true {within[:, 1].mean():.3f} ({len(within)})"


if __name__ == "__main__":
    main()
