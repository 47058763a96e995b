"""From bits to probabilities: every block of strays solved together."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from evenhand.linkage.bits.match_weights import Floats
from evenhand.linkage.bits.scoring import total_bits
from evenhand.linkage.bits.weights import Weights
from evenhand.linkage.seen.pairs import Pairs
from evenhand.linkage.seen.roster import Roster
from evenhand.linkage.seen.strays import Ints, Strays
from evenhand.linkage.together.jointly import Block, best_choices, blocks_of, marginals
from evenhand.linkage.together.ties import Choices, tie_table, tied_pairs

__all__ = ["Flags", "together"]

Flags = npt.NDArray[np.bool_]

LEAST_CHANCE = 1e-5  # less likely candidates are not carried into the joint solution
MOST_CHOICES = 12
PLAUSIBLE = 1e-3  # whoever is less likely for a stray leaves the others as they are


def together(
    strays: Strays,
    roster: Roster,
    pairs: Pairs,
    parts: dict[str, Floats],
    by_itself: Floats,
    weights: Weights,
    people: int,
) -> tuple[Floats, Floats, Flags]:
    """Return P(person) a pair, P(nobody) a stray, and the pairs of the likeliest assignment, all strays together."""
    bits = total_bits(parts)
    kept = [_kept(pairs, at, by_itself) for at in range(strays.size)]
    choices = [pairs.person[places] for places in kept]
    habit = parts["days"] + parts["parity"] + parts["time"] + parts["site"]
    offered = [Choices(pairs.person[at], parts["number"][at], habit[at]) for at in kept]
    plausible = [set(pairs.person[at[by_itself[at] >= PLAUSIBLE]].tolist()) for at in kept]
    ties = tied_pairs(strays, roster, choices, plausible)
    tables = {
        (one, other): tie_table(
            kind, offered[one], offered[other], weights, digits=len(strays.number[other]), people=people
        )
        for (one, other), kind in ties.items()
    }
    tied: dict[int, list[tuple[int, int]]] = {}
    for edge in tables:
        tied.setdefault(edge[0], []).append(edge)
    chance, nobody, is_best = np.zeros(len(bits)), np.ones(strays.size), np.zeros(len(bits), dtype=bool)
    for group in blocks_of(strays.size, list(tables)):
        rank = {at: place for place, at in enumerate(group)}
        block = Block(
            bits=tuple(np.concatenate([[0.0], bits[kept[at]]]) for at in group),
            ties={(rank[one], rank[other]): tables[one, other] for at in group for one, other in tied.get(at, ())},
        )
        for at, found in zip(group, marginals(block), strict=True):
            nobody[at] = found[0]
            chance[kept[at]] = found[1:]
        owners = [[f"{strays.reader[at]}/{who}" for who in choices[at].tolist()] for at in group]
        for at, choice in zip(group, best_choices(block, owners), strict=True):
            if choice:
                is_best[kept[at][choice - 1]] = True
    return chance, nobody, is_best


def _kept(pairs: Pairs, stray: int, by_itself: Floats) -> Ints:
    places = np.arange(pairs.first[stray], pairs.until[stray])
    best = places[np.argsort(-by_itself[places], kind="stable")][:MOST_CHOICES]
    return best[by_itself[best] >= LEAST_CHANCE]
