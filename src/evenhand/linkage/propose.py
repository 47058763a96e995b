"""Propose owners for strays: a probability for everybody who could be meant, and for nobody on the roster."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import polars as pl

from evenhand.linkage.bits.fitting import fitted_weights
from evenhand.linkage.bits.match_weights import Floats
from evenhand.linkage.bits.scoring import alone, fixed_bits, score, total_bits
from evenhand.linkage.bits.weights import Weights
from evenhand.linkage.results import candidates_frame, strays_frame
from evenhand.linkage.seen.pairs import Pairs, candidate_pairs, without_rejected
from evenhand.linkage.seen.roster import Roster, roster_of
from evenhand.linkage.seen.seeing import add_decided, named_beside, seen_of
from evenhand.linkage.seen.strays import Ints, Strays, group_strays
from evenhand.linkage.seen.tries import tried_both
from evenhand.linkage.together.solve import together
from evenhand.terms.columns import Frame
from evenhand.terms.settings import Policy

__all__ = ["Linkage", "link"]


@dataclass(frozen=True)
class Linkage:
    """Frames STRAYS and CANDIDATES, the weights they were computed with, and what cannot be.

    `impossible` holds the (stray, person) -> punches that the person cannot have made; `punches_of` every
    stray's punches in order of time.
    """

    strays: Frame
    candidates: Frame
    weights: Weights
    impossible: dict[tuple[str, str], frozenset[int]]
    punches_of: dict[str, tuple[int, ...]]

    def punch_owners(self, stray: str) -> list[tuple[int, dict[str, float]]]:
        """Return for each punch of a stray the probability of every candidate; the rest is nobody's.

        The punches of a number at a reader that compares hands are one person's, less those the person
        cannot have made.
        """
        rows = self.candidates.filter(pl.col("stray") == stray).select("person", "probability").rows()
        return [
            (
                punch,
                {who: 0.0 if punch in self.impossible.get((stray, who), ()) else chance for who, chance in rows},
            )
            for punch in self.punches_of[stray]
        ]


def link(
    punches: Frame,
    *,
    people: Frame,
    readers: Frame,
    enrolments: Frame,
    owned: Frame,
    schedules: Frame,
    refused: Frame,
    explanations: Frame,
    policy: Policy,
    confirmed: Collection[tuple[str, str, str]] = (),
    rejected: Collection[tuple[str, str, str]] = (),
    number_alone: Collection[str] = (),
    weights: Weights | None = None,
    learn: bool = True,
) -> Linkage:
    """Return the posterior over owners of `punches` (columns punch, reader, number, at, direction, holder).

    `holder` is empty for punches nobody owns; where punches are owned but doubted it names their owner, and
    `owned` must not hold them. `refused` are refused presentations (RECORDED), `explanations` EXPLANATIONS of
    the numbers. `policy` is the
    workplace's own. `confirmed` and `rejected` are (reader, number, person) that somebody decided before.
    """
    strays = group_strays(
        punches, dict(readers.select("reader", "zone").iter_rows()), policy, number_alone=number_alone
    )
    roster = roster_of(people, readers, owned, schedules)
    beside = named_beside(strays, roster, enrolments)
    tried, logging = tried_both(strays, roster, refused)
    known = _coded(confirmed, strays, roster)
    holders = {(at, roster.code[holder]) for at, holder in enumerate(strays.holder) if holder in roster.code}
    pairs = candidate_pairs(strays, roster, explanations, beside, {*tried, *known, *holders})
    pairs = without_rejected(pairs, _coded(rejected, strays, roster))
    start = weights or Weights()
    seen, forbidden = seen_of(strays, roster, pairs, explanations, enrolments, beside, start, policy)
    add_decided(seen, strays, pairs, tried, logging, known, roster)
    fixed = fixed_bits(seen, strays, roster, pairs, start)
    fitted = fitted_weights(start, seen, fixed, strays, roster, pairs, policy) if learn and strays.size else start
    bits = score(seen, fixed, fitted)
    total = total_bits(bits)
    by_itself, _ = alone(total, pairs)
    chance, nobody, is_best = together(strays, roster, pairs, bits, by_itself, fitted, seen.people)
    impossible = _by_name(forbidden, chance, strays, roster, pairs)
    return Linkage(
        strays=strays_frame(strays, nobody),
        candidates=candidates_frame(strays, roster, pairs, seen, bits, chance, by_itself, is_best, fitted),
        weights=fitted,
        impossible=impossible,
        punches_of={
            name: tuple(strays.punch[strays.first[at] : strays.until[at]].tolist())
            for at, name in enumerate(strays.name)
        },
    )


def _coded(decided: Collection[tuple[str, str, str]], strays: Strays, roster: Roster) -> set[tuple[int, int]]:
    by_key: dict[tuple[str, str], list[int]] = {}
    for at, key in enumerate(zip(strays.reader, strays.number, strict=True)):
        by_key.setdefault(key, []).append(at)
    return {
        (at, roster.code[person])
        for reader, number, person in decided
        if person in roster.code
        for at in by_key.get((reader, number), ())
    }


def _by_name(
    forbidden: tuple[Ints, Ints], chance: Floats, strays: Strays, roster: Roster, pairs: Pairs
) -> dict[tuple[str, str], frozenset[int]]:
    found: dict[tuple[str, str], set[int]] = {}
    likely = chance[forbidden[0]] > 0
    for pair, place in zip(*(column[likely].tolist() for column in forbidden), strict=True):
        key = strays.name[int(pairs.stray[pair])], roster.person[int(pairs.person[pair])]
        found.setdefault(key, set()).add(int(strays.punch[place]))
    return {key: frozenset(punches) for key, punches in found.items()}
