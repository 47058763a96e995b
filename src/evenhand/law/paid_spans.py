"""Part paid time into spans of one class, each with the rule that moved it there."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import numpy as np

from evenhand.law.compiling import run_pass
from evenhand.law.spans import Column, Pieces

__all__ = ["class_pieces"]


def part_pieces(
    starts: Any,
    ends: Any,
    overtime_from: Any,
    double_from: Any,
    rules: int,
    piece: Any,
    low: Any,
    high: Any,
    pay_class: Any,
    rule: Any,
) -> int:
    """Fill the spans of each piece by time: ordinary (class 0, rule 0), overtime (1) and double time (2).

    `overtime_from` and `double_from` hold the bounds of all pieces before any rule, then after each of the `rules`.
    Rules move the bounds between classes back, never on: what a rule moved lies between its own bound and the one
    before it, so that what the last rule moved comes first.
    """
    spans, pieces = 0, len(starts)
    for k in range(pieces):
        final = rules * pieces + k
        if starts[k] < overtime_from[final]:
            piece[spans], low[spans], high[spans] = k, starts[k], overtime_from[final]
            pay_class[spans], rule[spans] = 0, 0
            spans += 1
        if overtime_from[final] >= ends[k]:
            continue
        for number in range(rules, 0, -1):
            since = overtime_from[number * pieces + k]
            until = min(overtime_from[(number - 1) * pieces + k], double_from[final])
            if since < until:
                piece[spans], low[spans], high[spans] = k, since, until
                pay_class[spans], rule[spans] = 1, number
                spans += 1
        for number in range(rules, 0, -1):
            since, until = double_from[number * pieces + k], double_from[(number - 1) * pieces + k]
            if since < until:
                piece[spans], low[spans], high[spans] = k, since, until
                pay_class[spans], rule[spans] = 2, number
                spans += 1
    return spans


def class_pieces(paid: Pieces, classed: Sequence[tuple[str, Column, Column]], *, large: bool) -> tuple[Column, ...]:
    """Return piece, beginning, end, class and rule of each span; rules count from 1, 0 being none.

    `classed` holds the name of each rule that changed classes, and the bounds of every piece after it.
    """
    overtime_from = [paid.ends, *(overtime for _, overtime, _ in classed)]
    double_from = [paid.ends, *(double for _, _, double in classed)]
    room = len(paid.ends) + sum(
        int(np.count_nonzero(after < before))
        for bounds in (overtime_from, double_from)
        for before, after in pairwise(bounds)
    )
    filled = tuple(np.empty(room, dtype) for dtype in (np.int32, np.int64, np.int64, np.int8, np.int8))
    inputs = (paid.starts, paid.ends, np.concatenate(overtime_from), np.concatenate(double_from), len(classed))
    spans = run_pass(part_pieces, inputs, filled, large=large)
    return tuple(column[:spans] for column in filled)
