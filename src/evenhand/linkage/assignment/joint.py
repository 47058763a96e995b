"""Take all strays together: what is given to one is no longer free for another.

Blocks of strays that share candidates are solved by themselves: exactly, by summing out one stray after the other,
wherever their tables stay small enough; else by sum-product message passing, whose answer is exact on trees and close
on the rest. Source: D. Koller and N. Friedman, Probabilistic Graphical Models (2009), ch. 9 to 11; assignment by
scipy.optimize.linear_sum_assignment.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from evenhand.linkage.assignment.block import IMPOSSIBLE, Block
from evenhand.linkage.assignment.elimination import eliminated, elimination_order
from evenhand.linkage.strays import Ints
from evenhand.linkage.weights.match_weights import Floats

__all__ = ["best_choices", "best_plan", "blocks_of", "marginals"]

SWEEPS = 60
DAMPING = 0.4


def blocks_of(size: int, ties: Sequence[tuple[int, int]]) -> list[list[int]]:
    """Return the groups of two strays or more that ties connect, each in order; of `size` strays in all."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    if not ties:
        return []
    one, other = np.array(ties, dtype=np.int64).T
    tied = coo_array((np.ones(len(one)), (one, other)), shape=(size, size))
    _, label = connected_components(tied, directed=False)
    order = np.argsort(label, kind="stable")
    groups = np.split(order, np.flatnonzero(np.diff(label[order])) + 1)
    return [group.tolist() for group in groups if len(group) > 1]


def marginals(block: Block) -> list[Floats]:
    """Return for each stray the probability of every choice, nobody first, over all assignments of the block."""
    order = elimination_order([len(bits) for bits in block.bits], list(block.ties))
    return _by_messages(block) if order is None else eliminated(block, order)


def best_choices(block: Block, choices: Sequence[Ints]) -> list[int]:
    """Return the choice of each stray, 0 nobody, in the likeliest assignment of the whole block.

    `choices` are codes of each stray's choices after nobody; a small block is tried whole, a large one is assigned so
    that no code is used twice, which leaves ties of one number at two readers aside.
    """
    if block.is_small:
        total = _every_assignment(block)
        return [int(place) for place in np.unravel_index(int(total.argmax()), total.shape)]
    codes = np.unique(np.concatenate(list(choices)))
    weights = np.full((len(choices), len(codes)), IMPOSSIBLE)
    for at, mine in enumerate(choices):
        weights[at, np.searchsorted(codes, mine)] = block.bits[at][1:]
    return [
        0 if place < 0 else int(np.flatnonzero(mine == codes[place])[0]) + 1
        for place, mine in zip(best_plan(weights), choices, strict=True)
    ]


def best_plan(weights: Floats) -> list[int]:
    """Return for each stray the person (column) of the best assignment in which no person is used twice; -1 nobody.

    `weights` (strays, people) are bits against nobody.
    """
    from scipy.optimize import linear_sum_assignment

    strays = len(weights)
    private = np.full((strays, strays), IMPOSSIBLE)
    np.fill_diagonal(private, 0.0)
    _, columns = linear_sum_assignment(np.concatenate([weights, private], axis=1), maximize=True)
    return [int(column) if column < weights.shape[1] else -1 for column in columns]


def _every_assignment(block: Block) -> Floats:
    """The bits of every assignment, one axis a stray."""
    n = len(block.bits)
    total = np.zeros(tuple(len(bits) for bits in block.bits))
    for at, bits in enumerate(block.bits):
        total += bits.reshape([-1 if axis == at else 1 for axis in range(n)])
    for (one, other), tie in block.ties.items():
        sizes = [1] * n
        sizes[one], sizes[other] = tie.shape
        total += (tie if one < other else tie.T).reshape(sizes)
    return total


def _by_messages(block: Block) -> list[Floats]:
    """Sum-product over all ties at once, every tie in both directions, padded to the longest list of choices."""
    n, width = len(block.bits), max(map(len, block.bits))
    bits = np.full((n, width), IMPOSSIBLE)
    for at, of_one in enumerate(block.bits):
        bits[at, : len(of_one)] = of_one
    edges = np.array(list(block.ties), dtype=np.int64).reshape(-1, 2)
    ties = np.zeros((len(edges), width, width))
    for at, tie in enumerate(block.ties.values()):
        ties[at, : tie.shape[0], : tie.shape[1]] = tie
    sender, receiver = np.concatenate([edges[:, 0], edges[:, 1]]), np.concatenate([edges[:, 1], edges[:, 0]])
    ties = np.concatenate([ties, ties.transpose(0, 2, 1)])
    back = np.roll(np.arange(len(sender)), len(edges))
    sent = np.zeros((len(sender), width))
    for _ in range(SWEEPS):
        belief = bits.copy()
        np.add.at(belief, receiver, sent)
        message = _log2_sum((belief[sender] - sent[back])[:, :, None] + ties)
        message = np.maximum(message - message.max(axis=1, keepdims=True), IMPOSSIBLE)
        step = (1 - DAMPING) * (message - sent)
        sent += step
        if float(np.abs(step).max(initial=0.0)) < 1e-4:
            break
    total = bits.copy()
    np.add.at(total, receiver, sent)
    chance = np.exp2(total - total.max(axis=1, keepdims=True))
    chance /= chance.sum(axis=1, keepdims=True)
    return [np.asarray(chance[at, : len(of_one)]) for at, of_one in enumerate(block.bits)]


def _log2_sum(bits: Floats) -> Floats:
    top = bits.max(axis=1, keepdims=True)
    return np.asarray(top[:, 0] + np.log2(np.exp2(bits - top).sum(axis=1)))
