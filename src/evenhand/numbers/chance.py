"""The chance that a slip lands on somebody else's number, computed by counting every slip there is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from evenhand.numbers.slip_counts import SLIP_KINDS, landing, shortened
from evenhand.terms.likeness.slips import likelihoods

__all__ = ["VERHOEFF_SHARES", "Chance", "chance_of_clash", "chance_of_landing", "expected_at_random", "slip_chance"]

# Source: J. Verhoeff, Error Detecting Decimal Codes, Mathematical Centre Tracts 29, 1969, shares among 12,112
# wrong six-digit numbers (from memory; the parts add up).
VERHOEFF_SHARES: dict[str, float] = {
    "single": 0.7905,
    "adjacent": 0.1021,
    "jump": 0.0082,
    "twin": 0.0055,
    "phonetic": 0.0049,
    "jump_twin": 0.0029,
}

# Digits dropped or added are 10 to 20 % of slips across studies (N. R. Wagner, The Laws of Cryptography, on Verhoeff);
# how they part among these kinds is a guess, no source.
SLIP_SHARES: dict[str, float] = {
    **{kind: 0.85 * share for kind, share in VERHOEFF_SHARES.items()},
    "dropped": 0.06,
    "doubled": 0.04,
    "added": 0.02,
    "zeros_lost": 0.02,
    "zeros_added": 0.01,
}


@dataclass(frozen=True)
class Chance:
    """How many slips land on somebody else, of how many, by kind; `overall` weighs the kinds by their shares."""

    by_kind: dict[str, tuple[int, int]]
    overall: float

    def share(self, kind: str) -> float:
        """Return the share of one kind's slips that land on somebody else; 0 where there are none."""
        hits, total = self.by_kind[kind]
        return hits / total if total else 0.0


def chance_of_landing(numbers: Iterable[str], shares: Mapping[str, float] = VERHOEFF_SHARES) -> Chance:
    """Return the chance, exact, that a slip from one of these numbers is another of them.

    Every slip of a kind counts alike. `dropped` is counted too and stays out of `overall`, since readers set to
    one length refuse it; the kinds are weighed by `shares`.
    """
    by_length: dict[int, list[int]] = {}
    for number in set(numbers):
        if number.isdigit():
            by_length.setdefault(len(number), []).append(int(number))
    sets = {length: np.array(sorted(values), dtype=np.int64) for length, values in by_length.items()}
    counted = dict.fromkeys((*SLIP_KINDS, "dropped"), (0, 0))
    for length, values in sets.items():
        for kind in SLIP_KINDS:
            counted[kind] = _sum(counted[kind], landing(values, length, kind))
        shorter = sets.get(length - 1, np.empty(0, dtype=np.int64))
        for _, left in shortened(values, length):
            counted["dropped"] = _sum(counted["dropped"], (int(np.isin(left, shorter).sum()), len(left)))
    weighed = sum(shares.get(kind, 0.0) * hits / total for kind, (hits, total) in counted.items() if total)
    return Chance(counted, weighed / sum(shares.values()))


def slip_chance(keyed: str, meant: str) -> float:
    """Return P(keyed | meant, one slip was made), over every kind of slip."""
    return sum(SLIP_SHARES[kind] * chance for kind, chance in likelihoods(keyed, meant).items())


def expected_at_random(people: int, digits: int) -> float:
    """Return the expected chance for numbers drawn at random: (N - 1) / (10^d - 1), whatever the kind of slip."""
    return (people - 1) / (10**digits - 1) if people else 0.0


def chance_of_clash(people: int, numbers: int) -> float:
    """Return the chance that two people choose the same of so many numbers, each being as likely as any other.

    It is the least there can be: people choose some numbers far more often than others.
    Source: R. von Mises (1939), birthdays; here logarithms are added, so that no product runs out of digits.
    """
    if people > numbers:
        return 1.0
    return float(-np.expm1(np.log1p(-np.arange(people) / numbers).sum())) if people else 0.0


def _sum(one: tuple[int, int], other: tuple[int, int]) -> tuple[int, int]:
    return one[0] + other[0], one[1] + other[1]
