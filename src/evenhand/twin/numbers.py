"""The roster's numbers, and the wrong numbers that get typed when a hand is enrolled."""

from __future__ import annotations

from collections.abc import Collection

import numpy as np

__all__ = ["WRONG_NUMBERS", "roster_numbers", "typed_wrong"]

# Somebody else's number comes last; phone and street are chosen freely and then written into the roster.
WRONG_NUMBERS = ("phone", "street", "swapped", "dropped", "zero_lost", "somebody_else")


def roster_numbers(rng: np.random.Generator, zero_led: np.ndarray, long: np.ndarray) -> list[str]:
    """Return one unique number a person: text of four digits or more, leading zeros kept.

    `zero_led` and `long` (people,) mark those whose number begins with 0 or has a digit more than the others'.
    Source: drawing at random and not consecutively is common practice, no source.
    """
    people = len(zero_led)
    digits = max(4, len(str(people * 6)))
    low = 10 ** (digits - 1)
    from_zero = rng.permutation(np.arange(low // 10, low))
    others = rng.permutation(np.setdiff1d(np.arange(low // 10, 10 * low), from_zero[: int(zero_led.sum())]))
    longer = rng.permutation(np.arange(10 * low, 20 * low))
    values = others[:people].copy()
    values[zero_led] = from_zero[: int(zero_led.sum())]
    values[long] = longer[: int(long.sum())]
    return [str(value).zfill(digits) for value in values]


def typed_wrong(rng: np.random.Generator, kind: str, number: str, taken: Collection[str]) -> str:
    """Return what was typed in place of `number`, a number that nobody in `taken` has.

    For `phone` and `street` any free number of that length serves: the caller writes it into the roster.
    Raises ValueError where a kind has no free outcome.
    """
    if kind in {"phone", "street"}:
        tries = rng.integers(10 ** (len(number) - 1), 10 ** len(number), 200)
        outcomes = [str(value) for value in tries]
    elif kind == "swapped":
        outcomes = [number[:i] + number[i + 1] + number[i] + number[i + 2 :] for i in range(len(number) - 1)]
    elif kind == "dropped":
        outcomes = [number[:i] + number[i + 1 :] for i in range(1, len(number))]
    elif kind == "zero_lost":
        outcomes = [number.lstrip("0")]
    else:
        raise ValueError(f"no such wrong number: {kind}")
    free = [typed for typed in outcomes if typed not in taken and typed != number]
    if not free:
        raise ValueError(f"every {kind} form of {number} belongs to somebody")
    return free[int(rng.integers(len(free)))] if kind != "zero_lost" else free[0]
