"""Hold every claim against the truth, family by family, and print both.

OPENBLAS_NUM_THREADS=1 python -m bench.adverse --seeds 3
python -m bench.adverse --only strays --family "hard all round"
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from typing import Any

import numpy as np
from bench.adverse import claims
from bench.adverse.claims import EXPECTED, PRINTED, WORDED, Row
from bench.adverse.families import CLOCKS, FEWEST_OF, SCORES, STRAYS, THRESHOLDS
from bench.adverse.reliability import at_about_90, print_table, reliability

from evenhand.terms.words import counted


def _most(family: str) -> int | None:
    """How many workplaces of a large kind are made at most."""
    return next((most for size, most in FEWEST_OF.items() if family.endswith(f" {size}")), None)


KINDS: dict[str, tuple[dict[str, Any], Callable[..., Iterator[Row]]]] = {
    "rest": (SCORES, claims.at_rest),
    "changes": (SCORES, claims.when_changed),
    "dates": ({name: given for name, given in SCORES.items() if not _most(name)}, claims.dates),
    "strays": (STRAYS, claims.strays),
    "clocks": (CLOCKS, claims.clocks),
    "thresholds": (THRESHOLDS, claims.thresholds),
}
JUDGING = 7001
"""First of the seeds that judge: nothing was chosen by them. Those from 1001 on are for choosing."""
FEWEST_ADVISED = 10
"""People advised to enrol again, over all workplaces of a family, from which a ratio says anything."""
IN_PERCENT = (
    "cause",
    "shape",
    "dates",
    "swapped",
    "wrong",
    "threshold moved",
    "clocks off",
    "how far",
    "rate of a hand",
    "saved lies",
    "seen at all",
    "likeliest",
    "somebody",
)
MOST = 400
"""Workplaces of a kind at most, where a number of strays is asked for."""


def main() -> None:
    """Print the table of claims and truths."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--seeds", type=int, default=3, help="workplaces of each family")
    asked.add_argument("--first-seed", type=int, default=JUDGING)
    asked.add_argument("--only", choices=list(KINDS))
    asked.add_argument("--family", action="append", help="may be given several times; else every family")
    asked.add_argument("--jobs", type=int, default=2)
    asked.add_argument(
        "--strays-at-90", type=int, default=0, help=f"go on, to {MOST} workplaces, until so many were said to be 0.9"
    )
    asked.add_argument("--as-tables", action="store_true", help="one table a kind of claim, as docs/claims.md has them")
    given = asked.parse_args()
    print(f"seeds {given.first_seed} to {given.first_seed + given.seeds - 1} of each family; all of it invented")
    tasks = [
        (kind, family, seed)
        for kind, (families, _) in KINDS.items()
        if given.only in {None, kind}
        for family in families
        if not given.family or family in given.family
        for seed in range(given.first_seed, given.first_seed + min(given.seeds, _most(family) or given.seeds))
    ]
    tasks.sort(key=lambda task: FEWEST_OF.get(task[1].split(", ")[-1], len(tasks)))  # the longest first
    found: dict[tuple[str, str], list[Row]] = defaultdict(list)
    places: Counter[tuple[str, str]] = Counter()
    spent = 0.0
    with ProcessPoolExecutor(given.jobs) as pool:
        for count, (task, (rows, processor)) in enumerate(zip(tasks, pool.map(_measure, tasks), strict=True), start=1):
            found[task[:2]] += rows
            places[task[:2]] += 1
            spent += processor
            print(f"\r{count} of {len(tasks)} ", end="", file=sys.stderr, flush=True)
        for family in [family for kind, family in found if kind == "strays"]:
            key = ("strays", family)
            while at_about_90(found[key]) < given.strays_at_90 and places[key] < MOST:
                first = given.first_seed + places[key]
                more = [(*key, seed) for seed in range(first, first + 2 * given.jobs)]
                for rows, processor in pool.map(_measure, more):
                    found[key] += rows
                    places[key] += 1
                    spent += processor
    print(file=sys.stderr)
    for kind, (families, _) in KINDS.items():
        seen = {family: found[kind, family] for family in families if (kind, family) in found}
        counts = {family: places[kind, family] for family in seen}
        if given.as_tables and seen:
            _print_table(kind, seen, counts)
            if kind == "strays":
                print_table(seen, counts)
        elif seen:
            _print_kind(kind, seen, counts)
    print(f"{spent:.0f} s of one processor")


def _print_kind(kind: str, found: dict[str, list[Row]], places: dict[str, int]) -> None:
    """Print every family's claims and truths, and of each claim the middle and the ends over the families."""
    figures: dict[str, list[tuple[float, str]]] = defaultdict(list)
    for family, rows in found.items():
        print(f"{kind}, {family}: {counted(places[family], 'workplace')}")
        for says in reliability(rows):
            print(f"  {says}")
        for claim, says, figure in _figures(rows, places[family]):
            print(f"  {says}")
            if figure is not None:
                figures[claim].append((figure, family))
    if kind == "strays" and found:
        print("strays, every family")
        for says in reliability([row for rows in found.values() for row in rows]):
            print(f"  {says}")
    if len(found) > 1 and figures:
        print(f"{kind}, over the families: lowest, middle, highest")
        for claim, of in figures.items():
            (low, least), (high, most) = min(of), max(of)
            middle = float(np.median([figure for figure, _ in of]))
            print(f"  {claim}: {low:.3g} ({least}), {middle:.3g}, {high:.3g} ({most})")


def _print_table(kind: str, found: dict[str, list[Row]], places: dict[str, int]) -> None:
    """Print a Markdown table of every claim of a kind: a row a family, the figure of each claim where it has one."""
    by = {family: list(_figures(rows, places[family])) for family, rows in found.items()}
    cells = {family: {claim: figure for claim, _, figure in told if figure is not None} for family, told in by.items()}
    columns = list(dict.fromkeys(claim.strip() for told in cells.values() for claim in told))
    print(f"\n| {kind} | {' | '.join(columns)} |\n|{' --- |' * (len(columns) + 1)}")
    for family, told in cells.items():
        figures = {claim.strip(): figure for claim, figure in told.items()}
        print(f"| {family} | {' | '.join(_short(figures.get(claim)) for claim in columns)} |")


def _short(figure: float | None) -> str:
    return "" if figure is None else "never" if np.isinf(figure) else f"{figure:.3g}"


def _measure(task: tuple[str, str, int]) -> tuple[list[Row], float]:
    kind, family, seed = task
    families, measure = KINDS[kind]
    began = time.process_time()
    return list(measure(seed, *families[family])), time.process_time() - began


def _figures(rows: list[Row], places: int) -> Iterator[tuple[str, str, float | None]]:
    """Each claim of some workplaces, in words and as one figure where it is to be compared with other families'."""
    by: dict[str, list[Row]] = defaultdict(list)
    for row in rows:
        by[row.claim].append(row)
    for claim, of in by.items():
        said, true = np.array([row.said for row in of]), np.array([row.true for row in of])
        if claim in {PRINTED, WORDED}:
            continue
        elif claim.startswith("days"):
            middle = float(np.median(said))
            yield claim, f"{claim}: median {middle:.0f}, never {np.isinf(said).sum()} of {len(of)}", middle
        elif claim.startswith(IN_PERCENT):
            yield claim, f"{claim}: {100 * said.mean():.0f} % of {len(of)}", 100 * float(said.mean())
        elif claim.startswith(("confirmable", "share")):
            says = f"{claim}: said {said.mean():.3f}, true {true.mean():.3f} of {len(of)}"
            yield claim, says, float(true.mean() - said.mean() if claim.startswith("share") else true.mean())
        elif "enrolling saves, hands changed" in claim:
            ratio = float(said.sum() / true.sum()) if len(of) >= FEWEST_ADVISED else None
            says = f"{claim}: said {said.sum() / places:.1f}, true {true.sum() / places:.1f}, of {len(of)}"
            yield f"{claim}: said over true", says, ratio
        else:
            says = f"{claim}: said {np.nansum(said) / places:.2f}, true {true.sum() / places:.2f}"
            yield claim, says, float((true if true.any() else np.nan_to_num(said)).sum() / places)
            if claim == EXPECTED:
                ratio = float(true.sum() / said.sum())
                yield f"{claim}, of those expected", f"{claim}: {ratio:.2f} of what was said", ratio


if __name__ == "__main__":
    main()
