"""Hand out new numbers: at random inside a scheme, far from all others, never one anybody would guess."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from itertools import islice

import numpy as np

from evenhand.numbers.chance import slip_chance
from evenhand.numbers.design import strings
from evenhand.numbers.schemes import Scheme, members, obvious
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.likeness.known_numbers import known_numbers
from evenhand.terms.likeness.slips import one_slip_away
from evenhand.terms.records import Refusal

__all__ = ["Allocated", "allocate", "known_by_heart", "nearness"]

# Where every free number is one slip from another: enough of them to choose among; more would change little.
LOOKED_AT = 60


@dataclass(frozen=True)
class Allocated:
    """A new number, with how many slips away the nearest number in use is (2 stands for two or more)."""

    number: str
    slips_away: int
    nearest: tuple[str, ...]


def allocate(
    count: int,
    scheme: Scheme,
    *,
    taken: Collection[str],
    avoid: Collection[str] = (),
    rng: np.random.Generator,
) -> tuple[Allocated, ...]:
    """Return `count` new numbers of the scheme, each the least confusable among free ones drawn at random.

    `taken` are all numbers in use or used of late; `avoid` those that mean something to somebody. Obvious
    numbers and the neighbours in counting of any number in use are never given.
    Raises Refusal where the scheme has too few free numbers.
    """
    used = set(taken)
    barred = used | set(avoid) | set(strings(obvious(scheme.digits).tolist(), scheme.digits))
    drawn = strings(rng.permutation(members(scheme)).tolist(), scheme.digits)
    free = dict.fromkeys(number for number in drawn if number not in barred)
    if count > len(free):
        raise Refusal(_too_few(scheme, len(free), count))
    # A number that is too near to one in use stays so, since more only come into use: each is looked at once.
    candidates = iter(tuple(free))
    near_used = {other for number in used for other in _confusable_with(number)}
    given: list[Allocated] = []
    while len(given) < count:
        apart = (number for number in candidates if number not in near_used and not _follows(number, used))
        best = next(apart, None) or _least_near(free, used)
        if best is None:
            raise Refusal(_too_few(scheme, len(given), count))
        near = tuple(sorted(other for other in _confusable_with(best) if other in used))
        given.append(Allocated(best, 1 if near else 2, near))
        used.add(best)
        near_used.update(_confusable_with(best))
        del free[best]
    return tuple(given)


def _too_few(scheme: Scheme, free: int, count: int) -> str:
    return told(
        "{says} has {free} free numbers, not {count}; choose a longer or closer spacing.",
        says=scheme.says,
        free=free,
        count=count,
    )


def _least_near(free: Collection[str], used: Collection[str]) -> str | None:
    looked_at = islice((number for number in free if not _follows(number, used)), LOOKED_AT)
    return min(looked_at, key=lambda number: nearness(number, used), default=None)


def nearness(number: str, used: Collection[str]) -> float:
    """Return the chance, summed over the numbers in use, that one slip turns this number into them or them into it."""
    return sum(
        slip_chance(number, other) + slip_chance(other, number) for other in _confusable_with(number) if other in used
    )


def known_by_heart(people: Frame) -> frozenset[str]:
    """Return the ends of telephones, the house numbers and the dates on the roster: never to be handed out."""
    return frozenset(known_numbers(people)["number"])


def _confusable_with(number: str) -> set[str]:
    return set(one_slip_away(number)) - {number}


def _follows(number: str, used: Collection[str]) -> bool:
    value, digits = int(number), len(number)
    return any(str(value + step).zfill(digits) in used for step in (-1, 1))
