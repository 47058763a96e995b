"""Sum over every assignment of a block without writing it out: one stray after the other is summed out of those tied.

Source: variable elimination and the calibration of its clique tree, D. Koller and N. Friedman, Probabilistic Graphical
Models (2009), ch. 9 and 10. Exact, and as cheap as few strays hang on one.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from evenhand.linkage.assignment.block import Block
from evenhand.linkage.weights.match_weights import Floats

__all__ = ["MOST_CELLS", "eliminated", "elimination_order"]

MOST_CELLS = 300_000
"""How large a table may become; beyond it an exact answer takes too long."""
MOST_HELD = 20_000_000
"""How many cells all tables together may have, each of 8 bytes, since they are kept until the last is summed out."""


def elimination_order(
    sizes: Sequence[int], ties: Sequence[tuple[int, int]]
) -> list[tuple[int, tuple[int, ...]]] | None:
    """Return which stray is summed out when, each with those it is tied to by then; None where tables grow too large.

    `sizes` are the numbers of choices. Whoever makes the smallest table goes first.
    """
    beside: list[set[int]] = [set() for _ in sizes]
    for one, other in ties:
        beside[one].add(other)
        beside[other].add(one)
    cells = [sizes[at] * math.prod(sizes[mate] for mate in beside[at]) for at in range(len(sizes))]
    left, order, held = set(range(len(sizes))), list[tuple[int, tuple[int, ...]]](), 0
    while left:
        at = min(left, key=lambda one: (cells[one], one))
        held += cells[at]
        if cells[at] > MOST_CELLS or held > MOST_HELD or len(beside[at]) > 20:
            return None
        mates = tuple(sorted(beside[at]))
        order.append((at, mates))
        left.discard(at)
        for mate in mates:
            beside[mate] = (beside[mate] | beside[at]) - {mate, at}
        for mate in mates:
            cells[mate] = sizes[mate] * math.prod(sizes[other] for other in beside[mate])
    return order


def eliminated(block: Block, order: Sequence[tuple[int, tuple[int, ...]]]) -> list[Floats]:
    """Return for each stray the probability of every choice, nobody first, over all assignments of the block.

    `order` is `elimination_order` of the block.
    """
    rank = {at: place for place, (at, _) in enumerate(order)}
    waiting: list[list[tuple[tuple[int, ...], Floats]]] = [[] for _ in order]
    for at, bits in enumerate(block.bits):
        waiting[rank[at]].append(((at,), bits))
    for pair, tie in block.ties.items():
        waiting[min(rank[at] for at in pair)].append((pair, tie))
    tables: list[Floats] = []
    told: list[Floats] = []
    for place, (at, mates) in enumerate(order):
        table = np.zeros([len(block.bits[one]) for one in (at, *mates)])
        for scope, part in waiting[place]:
            table = table + _spread(part, scope, (at, *mates))
        tables.append(table)
        top = table.max(axis=0)
        told.append(top + np.log2(np.exp2(table - top).sum(axis=0)))
        if mates:
            waiting[min(rank[mate] for mate in mates)].append((mates, told[-1]))
    found: list[Floats] = [np.empty(0)] * len(order)
    for place in range(len(order) - 1, -1, -1):
        at, mates = order[place]
        if mates:
            up = min(rank[mate] for mate in mates)
            scope = (order[up][0], *order[up][1])
            others = tuple(axis for axis, one in enumerate(scope) if one not in mates)
            kept = tuple(one for one in scope if one in mates)
            top = tables[up].max(axis=others, keepdims=True)
            seen = np.log2(np.exp2(tables[up] - top).sum(axis=others)) + np.squeeze(top, axis=others)
            tables[place] = tables[place] + _spread(seen, kept, (at, *mates)) - told[place]
        whole = tables[place]
        chance = np.exp2(whole - whole.max()).sum(axis=tuple(range(1, whole.ndim)))
        found[at] = np.asarray(chance / chance.sum())
    return found


def _spread(part: Floats, scope: tuple[int, ...], wanted: tuple[int, ...]) -> Floats:
    """A table over the strays `scope` as one that can be added to a table over `wanted`, which holds them all."""
    order = sorted(range(len(scope)), key=lambda axis: wanted.index(scope[axis]))
    ordered = np.transpose(part, order)
    sizes = iter(ordered.shape)
    return np.asarray(ordered.reshape([next(sizes) if one in scope else 1 for one in wanted]))
