"""Every slip from every number of a set, counted: how many land on another number of the set.

Numbers of one length are whole numbers below ten to the power of their digits, so that 417 with four digits
is 0417. Every pair of a number and a wrong number is counted once, whichever way the slip can come about.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np
import numpy.typing as npt

from evenhand.terms.likeness.keypad import neighbours

__all__ = ["SLIP_KINDS", "Ints", "landing", "shortened", "wrong_numbers"]

Ints = npt.NDArray[np.int64]

# `neighbour` is the part of `single` that hits a key beside the one meant, on a telephone's pad
SLIP_KINDS = ("single", "neighbour", "adjacent", "jump", "twin", "jump_twin", "phonetic")


def wrong_numbers(values: Ints, digits: int, kind: str) -> Iterator[tuple[Ints, Ints]]:
    """Yield (values, wrong) arrays: numbers of the set and what one slip of `kind` makes of them."""
    yield from _MAKERS[kind](values, digits)


def landing(values: Ints, digits: int, kind: str) -> tuple[int, int]:
    """Return how many slips of `kind` land on another number of the set, and how many there are.

    Source: the classes of J. Verhoeff, Error Detecting Decimal Codes, Mathematical Centre Tracts 29, 1969.
    """
    held = np.zeros(10**digits, dtype=bool)
    held[values] = True
    hits = total = 0
    for _, wrong in wrong_numbers(values, digits, kind):
        hits += int(held[wrong].sum())
        total += len(wrong)
    return hits, total


def shortened(values: Ints, digits: int) -> Iterator[tuple[Ints, Ints]]:
    """Yield (values, what is left) for one digit dropped; each distinct outcome of a number comes once."""
    for at in range(digits):
        unit = 10**at
        left = values // (10 * unit) * unit + values % unit
        # dropping either of two equal digits side by side leaves the same number
        first = np.ones(len(values), dtype=bool)
        if at:
            first = _digit(values, at) != _digit(values, at - 1)
        yield values[first], left[first]


def _digit(values: Ints, at: int) -> Ints:
    digit: Ints = values // 10**at % 10
    return digit


def _single(values: Ints, digits: int) -> Iterator[tuple[Ints, Ints]]:
    for at in range(digits):
        for more in range(1, 10):
            now = _digit(values, at)
            yield values, values + ((now + more) % 10 - now) * 10**at


def _neighbour(values: Ints, digits: int) -> Iterator[tuple[Ints, Ints]]:
    near = {int(digit): [int(other) for other in others] for digit, others in neighbours().items()}
    for at in range(digits):
        now = _digit(values, at)
        for digit, others in near.items():
            meant = values[now == digit]
            for other in others:
                yield meant, meant + (other - digit) * 10**at


def _exchanged(step: int) -> Callable[[Ints, int], Iterator[tuple[Ints, Ints]]]:
    def make(values: Ints, digits: int) -> Iterator[tuple[Ints, Ints]]:
        for at in range(digits - step):
            low, high = _digit(values, at), _digit(values, at + step)
            differ = low != high
            wrong = values + (high - low) * 10**at + (low - high) * 10 ** (at + step)
            yield values[differ], wrong[differ]

    return make


def _both(step: int) -> Callable[[Ints, int], Iterator[tuple[Ints, Ints]]]:
    def make(values: Ints, digits: int) -> Iterator[tuple[Ints, Ints]]:
        for at in range(digits - step):
            now = _digit(values, at)
            same = now == _digit(values, at + step)
            for more in range(1, 10):
                wrong = values + ((now + more) % 10 - now) * (10**at + 10 ** (at + step))
                yield values[same], wrong[same]

    return make


def _phonetic(values: Ints, digits: int) -> Iterator[tuple[Ints, Ints]]:
    for at in range(digits - 1):
        low, high = _digit(values, at), _digit(values, at + 1)
        unit = 10**at
        tens = (low == 0) & (high >= 2)
        yield values[tens], (values + (10 + high - 10 * high) * unit)[tens]
        teens = (high == 1) & (low >= 2)
        yield values[teens], (values + (10 * low - 10 - low) * unit)[teens]


_MAKERS: dict[str, Callable[[Ints, int], Iterator[tuple[Ints, Ints]]]] = {
    "single": _single,
    "neighbour": _neighbour,
    "adjacent": _exchanged(1),
    "jump": _exchanged(2),
    "twin": _both(1),
    "jump_twin": _both(2),
    "phonetic": _phonetic,
}
