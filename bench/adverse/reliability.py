"""What was said of strays, in bins, beside how often it was so; of how many, so that each figure can be judged."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

import numpy as np
from bench.adverse.claims import CERTAIN, PRINTED, WORDED, Row
from scipy import stats

__all__ = ["at_about_90", "print_table", "reliability"]

EDGES = (0.0, 0.05, 0.3, 0.7, 0.85, 0.95, 0.99, 0.999, 1.0001)
ABOUT_90, ABOVE = (0.85, 0.95), (0.95, 0.99)
FEWEST = 30
"""Candidates from which a share of them is judged."""


def reliability(rows: Sequence[Row]) -> Iterator[str]:
    """Yield a line for each bin of what was said, percentages and words apart."""
    for claim in (PRINTED, WORDED):
        pairs = _pairs(rows, claim)
        for low, high in pairwise(EDGES):
            within = pairs[(pairs[:, 0] >= low) & (pairs[:, 0] < high)]
            if len(within):
                yield f"{claim}: said {within[:, 0].mean():.3f}, true {within[:, 1].mean():.3f} of {len(within)}"


def at_about_90(rows: Sequence[Row]) -> int:
    """Return how many candidates were said to be 0.85 to 0.95, where that is printed."""
    pairs = _pairs(rows, PRINTED)
    return int(((pairs[:, 0] >= ABOUT_90[0]) & (pairs[:, 0] < ABOUT_90[1])).sum())


def print_table(found: Mapping[str, Sequence[Row]], places: Mapping[str, int]) -> None:
    """Print a Markdown table as docs/strays.md has it: a row a kind, percentages and words apart."""
    print("\n| kind | workplaces | said | seen | said | seen | a person, as good as certain | nobody |")
    print("|" + " --- |" * 8)
    for claim in (PRINTED, WORDED):
        for family, rows in found.items():
            if any(row.claim == claim for row in rows):
                _print_row(f"{family}{', a word' if claim == WORDED else ''}", places[family], rows, claim)
        every = [row for rows in found.values() for row in rows]
        if any(row.claim == claim for row in every):
            _print_row(f"all, {claim.removeprefix('stray, ')}", sum(places.values()), every, claim)


def _print_row(kind: str, places: int, rows: Sequence[Row], claim: str) -> None:
    pairs = _pairs(rows, claim)
    cells = [part for low, high in (ABOUT_90, ABOVE) for part in _said_and_seen(pairs, low, high)]
    sure = [
        [row.true for row in rows if row.claim == f"{CERTAIN}, {who}{'' if claim == PRINTED else ', a word'}"]
        for who in ("a person", "nobody")
    ]
    cells += [f"{sum(right):.0f} of {len(right)}" if right else "none" for right in sure]
    print(f"| {kind} | {places} | {' | '.join(cells)} |")


def _said_and_seen(pairs: np.ndarray, low: float, high: float) -> tuple[str, str]:
    within = pairs[(pairs[:, 0] >= low) & (pairs[:, 0] < high)]
    if not len(within):
        return "", "none"
    right, count = int(within[:, 1].sum()), len(within)
    few = ", too few" if count < FEWEST else ""
    # Wilson (1927), by a library; strays of one workplace are weighed together, so that it is a little narrow
    sure = stats.binomtest(right, count).proportion_ci(method="wilson")
    return f"{within[:, 0].mean():.2f}", f"{right / count:.2f} of {count} ({sure.low:.2f} to {sure.high:.2f}){few}"


def _pairs(rows: Sequence[Row], claim: str) -> np.ndarray:
    return np.array([(row.said, row.true) for row in rows if row.claim == claim], dtype=np.float64).reshape(-1, 2)
