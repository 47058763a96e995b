"""What two strays say about each other: nobody is at two places at once, and one number is mostly one person's."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from evenhand.linkage.bits.match_weights import Floats
from evenhand.linkage.bits.weights import Weights
from evenhand.linkage.seen.evidence import TRAVEL_S
from evenhand.linkage.seen.roster import Roster
from evenhand.linkage.seen.strays import Ints, Strays
from evenhand.linkage.together.jointly import IMPOSSIBLE

__all__ = ["Choices", "tie_table", "tied_pairs"]


@dataclass(frozen=True)
class Choices:
    """The people a stray may go to, with the bits of the number and of what each was doing meanwhile."""

    person: Ints
    number_bits: Floats
    habit_bits: Floats


def tied_pairs(
    strays: Strays, roster: Roster, choices: Sequence[Ints], plausible: Sequence[set[int]]
) -> dict[tuple[int, int], str]:
    """Return the pairs of strays that bear on each other: `apart`, `same_number` or `two_numbers`.

    Apart are two that share a candidate and cannot be one person's: numbers at one reader whose times interleave,
    or punches at two sites within ten minutes. The same number at two readers of a site is mostly one person's.
    Two numbers that share a candidate at the same time explain the same silence of that candidate. A candidate
    counts as shared where it is `plausible` for both strays, or for others under the same number.
    """
    site = roster.sites_of(strays.reader).tolist()
    by_number: dict[tuple[str, int], list[int]] = {}
    for stray, number in enumerate(strays.number):
        by_number.setdefault((number, site[stray]), []).append(stray)
    sharing: dict[int, list[int]] = {}
    for alike in by_number.values():
        likely = set().union(*(plausible[stray] for stray in alike))
        for stray in alike:
            for who in likely.intersection(choices[stray].tolist()):
                sharing.setdefault(who, []).append(stray)
    together = {tuple(sorted(pair)) for of_one in sharing.values() for pair in combinations(of_one, 2)}
    same = {pair for alike in by_number.values() for pair in combinations(alike, 2)}
    found: dict[tuple[int, int], str] = {}
    for one, other in sorted(together | same):
        if _cannot_be_one(strays, one, other, same_site=site[one] == site[other]):
            found[one, other] = "apart"
        elif (one, other) in same and strays.holder[one] == strays.holder[other] == "":
            found[one, other] = "same_number"
        elif strays.number[one] != strays.number[other] and _same_days(strays, one, other):
            found[one, other] = "two_numbers"
    return found


def tie_table(
    kind: str,
    mine: Choices,
    theirs: Choices,
    weights: Weights,
    *,
    digits: int,
    people: int,
) -> Floats:
    """Return the bits that each pair of choices adds, nobody first.

    What speaks for a person by being away, or by their hours, speaks once however many strays it explains. For one
    number at two readers the evidence of the number (of so many `digits`) counts once too, and the second owner is
    the first with chance `same_number` instead of drawn afresh.
    """
    same = mine.person[:, None] == theirs.person[None, :]
    table = np.zeros((len(mine.person) + 1, len(theirs.person) + 1))
    if kind == "apart":
        table[1:, 1:][same] = IMPOSSIBLE
        return table
    counted_twice = np.maximum(np.minimum(mine.habit_bits[:, None], theirs.habit_bits[None, :]), 0.0)
    if kind == "two_numbers":
        table[1:, 1:][same] = weights.two_numbers_bits - counted_twice[same]
        return table
    # one person's second reader has the first one's number for certain; another's has it by coincidence
    for_certain = digits * math.log2(10)
    table += math.log2(1 - weights.same_number)
    table[0, 0] = math.log2(weights.same_number / weights.nobody) + for_certain
    known = weights.same_number * weights.wrong_again * people / (1 - weights.nobody)
    again = math.log2(known) + for_certain - theirs.number_bits[None, :] - counted_twice
    table[1:, 1:][same] = again[same]
    return table


def _cannot_be_one(strays: Strays, one: int, other: int, *, same_site: bool) -> bool:
    first, second = (strays.at[strays.first[stray] : strays.until[stray]] for stray in (one, other))
    if strays.reader[one] == strays.reader[other]:
        different = strays.number[one] != strays.number[other]
        return bool(different and first[0] <= second[-1] and second[0] <= first[-1])
    if same_site:
        return False
    after = np.searchsorted(second, first)
    gap = np.minimum(
        np.abs(first - second[np.minimum(after, len(second) - 1)]), np.abs(first - second[np.maximum(after - 1, 0)])
    )
    return bool(gap.min() <= TRAVEL_S)


def _same_days(strays: Strays, one: int, other: int) -> bool:
    first, second = (strays.day[strays.first[stray] : strays.until[stray]] for stray in (one, other))
    return bool(np.isin(first, second).any())
