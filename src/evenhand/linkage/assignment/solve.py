"""From bits to probabilities: every block of strays solved together."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import polars as pl

from evenhand.linkage.assignment.block import Block
from evenhand.linkage.assignment.joint import best_choices, blocks_of, marginals
from evenhand.linkage.assignment.ties import Choices, tie_table, tied_pairs
from evenhand.linkage.blocking import Pairs
from evenhand.linkage.roster import Flags, PeopleColumns
from evenhand.linkage.strays import Ints, StrayColumns
from evenhand.linkage.weights.match_weights import Floats
from evenhand.linkage.weights.parameters import Weights
from evenhand.linkage.weights.scoring import total_bits

__all__ = ["Solution", "solve"]

LEAST_CHANCE = 1e-5  # less likely candidates are not carried into the joint solution
MOST_CHOICES = 12
PLAUSIBLE = 1e-3  # whoever is less likely for a stray leaves the others as they are


@dataclass(frozen=True)
class Solution:
    """P(person) a pair, P(nobody) and P(others) a stray, and the pairs of the likeliest assignment, all together.

    Others are those on the roster who were not looked at.
    """

    chance: Floats
    nobody: Floats
    others: Floats
    is_best: Flags


def solve(
    strays: StrayColumns,
    roster: PeopleColumns,
    pairs: Pairs,
    parts: dict[str, Floats],
    by_itself: Floats,
    lump: Floats,
    weights: Weights,
    people: int,
) -> Solution:
    """Return the solution from the bits of each part and each pair's chance `by_itself`.

    `lump` is the odds of those not looked at against nobody here, a stray each. What two strays say about each other
    is the same for both, so that they are solved as one and parted afterwards.
    """
    bits = total_bits(parts) - np.log2(1 + lump)[pairs.stray]
    kept = _kept(pairs, by_itself)
    solution = _each_alone(pairs, kept, bits, strays.size)
    choices = pl.select(
        stray=pl.Series(pairs.stray[kept]),
        who=pl.Series(pairs.person[kept]),
        is_plausible=pl.Series(by_itself[kept] >= PLAUSIBLE),
    )
    ties = tied_pairs(strays, roster, choices)
    habit = parts["days"] + parts["parity"] + parts["time"] + parts["site"]
    until = np.cumsum(np.bincount(pairs.stray[kept], minlength=strays.size))
    places = np.split(kept, until[:-1]) if strays.size else []
    digits = strays.number.str.len_chars().to_list()
    tables: dict[int, dict[tuple[int, int], Floats]] = {}
    for one, other, kind in ties.iter_rows():
        mine, theirs = (
            Choices(pairs.person[places[at]], parts["number"][places[at]], habit[places[at]]) for at in (one, other)
        )
        table = tie_table(kind, mine, theirs, weights, digits=digits[other], people=people)
        tables.setdefault(one, {})[one, other] = table
    reader = strays.reader.rank("dense").to_numpy().astype(np.int64)
    for group in blocks_of(strays.size, ties.select("one", "other").rows()):
        rank = {at: place for place, at in enumerate(group)}
        block = Block(
            bits=tuple(np.concatenate([[0.0], bits[places[at]]]) for at in group),
            ties={
                (rank[one], rank[other]): table for at in group for (one, other), table in tables.get(at, {}).items()
            },
        )
        meant = [reader[at] * roster.size + pairs.person[places[at]] for at in group]
        for at, found, choice in zip(group, marginals(block), best_choices(block, meant), strict=True):
            solution.nobody[at] = found[0]
            solution.chance[places[at]] = found[1:]
            solution.is_best[places[at]] = np.arange(1, len(found)) == choice
    no_candidates = solution.nobody
    return replace(solution, nobody=no_candidates / (1 + lump), others=no_candidates * lump / (1 + lump))


def _kept(pairs: Pairs, by_itself: Floats) -> Ints:
    """The likeliest pairs of each stray, by stray, the likeliest first."""
    order = np.lexsort((-by_itself, pairs.stray))
    rank = np.arange(pairs.size) - pairs.first[pairs.stray[order]]
    return order[(rank < MOST_CHOICES) & (by_itself[order] >= LEAST_CHANCE)]


def _each_alone(pairs: Pairs, kept: Ints, bits: Floats, strays: int) -> Solution:
    """The solution where no stray bears on another; those that do are put in their places afterwards."""
    stray = pairs.stray[kept]
    top = np.zeros(strays)
    np.maximum.at(top, stray, bits[kept])
    odds = np.exp2(bits[kept] - top[stray])
    total = np.exp2(-top) + np.bincount(stray, weights=odds, minlength=strays)
    chance, is_best = np.zeros(pairs.size), np.zeros(pairs.size, dtype=bool)
    chance[kept] = odds / total[stray]
    is_first = np.diff(stray, prepend=-1) > 0
    is_best[kept] = is_first & (bits[kept] > 0)
    return Solution(chance, np.exp2(-top) / total, np.zeros(strays), is_best)
