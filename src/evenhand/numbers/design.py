"""Which length and which spacing suit a workplace, now and in ten years."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

import numpy as np

from evenhand.numbers.chance import VERHOEFF_SHARES, Chance, chance_of_clash, chance_of_landing, expected_at_random
from evenhand.numbers.schemes import Scheme, members, obvious
from evenhand.numbers.slip_counts import SLIP_KINDS
from evenhand.terms.languages import told
from evenhand.terms.likeness.explain import SLIP_NAMES
from evenhand.terms.records import Refusal

__all__ = ["Option", "design", "strings"]

# 19 is the smallest prime that divides no change a slip of the counted kinds can make; 13 misses only 14 for 40.
DIVISORS = (19, 13)


@dataclass(frozen=True)
class Option:
    """A scheme, how many numbers it gives, whether the roster with its growth fits, and the chance of a slip.

    `chance` counts the whole scheme as handed out, which is the worst it can become; for `any` numbers it is the
    expected chance once `people` are drawn at random.
    """

    scheme: Scheme
    capacity: int
    fits: bool
    chance: float
    why: str


def design(people: int, *, people_later: int, max_digits: int, min_digits: int = 4) -> tuple[Option, ...]:
    """Return the options, the one to choose first: the shortest spaced numbers into which `people_later` fit.

    `max_digits` is the shortest limit among the readers. Raises Refusal where no length would do.
    Source: exhaustive count of every slip; the capacity at distance 2 is at most 10^(d-1) (Singleton bound).
    """
    later = max(people, people_later)
    if 10**max_digits - len(obvious(max_digits)) < later:
        raise Refusal(
            told(
                "{later} people do not fit into {max_digits} digits; use readers that take longer numbers.",
                later=later,
                max_digits=max_digits,
            )
        )
    options = [
        _option(scheme, later)
        for digits in range(min(min_digits, max_digits), min(max_digits, 6) + 1)
        for scheme in (
            *(Scheme(digits, step, 1) for step in DIVISORS),
            Scheme(digits, check="damm"),
            Scheme(digits, check="verhoeff"),
            Scheme(digits),
        )
    ]
    return tuple(sorted(options, key=lambda option: (not option.fits, _rank(option), option.scheme.digits)))


def _rank(option: Option) -> float:
    # a slip in ten thousand does not pay for a digit more, keyed four times a day by everybody
    return option.chance + 1e-4 * option.scheme.digits


def _option(scheme: Scheme, later: int) -> Option:
    values = members(scheme)
    usable = len(values) - int(np.isin(values, obvious(scheme.digits)).sum())
    fits = usable >= later
    if scheme.step == 1 and not scheme.check:
        chance = expected_at_random(later, scheme.digits)
        clash = chance_of_clash(later, 10**scheme.digits)
        why: str = told(
            "drawn at random; nothing keeps two of them from lying one slip apart; were they chosen "
            "by people themselves, two would choose the same with a chance of {percent} at least",
            percent=_percent(clash),
        )
    else:
        counted = _counted(scheme)
        chance = counted.overall
        why = _missed(counted)
    return Option(
        scheme, usable, fits, chance, why if fits else told("{later} people do not fit; {why}", later=later, why=why)
    )


@cache
def _counted(scheme: Scheme) -> Chance:
    """Return how often a slip leads from one number of a scheme to another, counted once: it depends on that alone."""
    return chance_of_landing(strings(members(scheme).tolist(), scheme.digits))


def _percent(chance: float) -> str:
    return told("more than 99 %") if chance > 0.99 else f"{100 * chance:.2g} %"


def _missed(counted: Chance) -> str:
    kinds = [kind for kind in SLIP_KINDS if counted.by_kind[kind][0] and kind in VERHOEFF_SHARES]
    if not kinds:
        return told("no slip of the counted kinds leads to another of them")
    parts = [
        told(
            "{kind} {some} of {every}",
            some=counted.by_kind[kind][0],
            every=counted.by_kind[kind][1],
            kind=told(SLIP_NAMES[kind]),
        )
        for kind in kinds
    ]
    return told("slips that lead to another of them: {parts:commas}", parts=parts)


def strings(values: Iterable[int], digits: int) -> list[str]:
    """Return the values as numbers of one length, zeros in front."""
    return [str(value).zfill(digits) for value in values]
