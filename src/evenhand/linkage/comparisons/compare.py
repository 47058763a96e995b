"""Compare every pair of a stray and a person once, and keep what was found: the comparison vectors."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import polars as pl

from evenhand.linkage.blocking import Pairs
from evenhand.linkage.comparisons.contradictions import impossible_punches
from evenhand.linkage.comparisons.lists import Counts, NamesBeside, compare_lists
from evenhand.linkage.comparisons.nonmatches import times_of_nobody
from evenhand.linkage.comparisons.number_errors import NumberErrors, former_numbers, number_errors
from evenhand.linkage.comparisons.times import Times, compare_times
from evenhand.linkage.comparisons.work import compare_stretches
from evenhand.linkage.roster import Flags, PeopleColumns
from evenhand.linkage.strays import Ints, StrayColumns
from evenhand.linkage.weights.match_weights import Floats
from evenhand.linkage.weights.parameters import LENGTHS, Weights
from evenhand.terms.columns import Frame
from evenhand.terms.settings import Policy

__all__ = ["Comparisons", "Decisions", "compare_pairs"]


@dataclass(frozen=True)
class Decisions:
    """What is known of pairs beside what the model compares, each as PAIRS.

    `tried_both` numbers within seconds, `confirmed` by somebody before; `logs_refusals` says which strays stand at a
    reader that logs what it refuses.
    """

    tried_both: Frame
    confirmed: Frame
    logs_refusals: Flags


@dataclass(frozen=True)
class Comparisons:
    """Everything compared of the pairs, a pair each unless said otherwise.

    `counts` holds agreements by kind; `no_matchs_times`, a stray each, is the log2 density of its times if they were
    those of somebody unknown. `impossible` and `unemployed` count punches, `barred` lists them as (pair, place).
    `holds` says whose own number it is, `is_held` where it is anybody's, `is_seldom_there` who was seldom there while
    the stray was not either, `former` how much likelier the number is among those of people not employed then than
    at random; `people` is how many were employed. `length`, a stray each, is its place among LENGTHS; `stray` is the
    stray of each pair.
    """

    counts: dict[str, Counts]
    times: Times
    no_matchs_times: Floats
    errors: NumberErrors
    impossible: Ints
    unemployed: Ints
    barred: tuple[Ints, Ints]
    digits: Floats
    holds: Flags
    is_held: Flags
    is_seldom_there: Flags
    former: Floats
    people: int
    length: Ints
    stray: Ints


def compare_pairs(
    strays: StrayColumns,
    roster: PeopleColumns,
    pairs: Pairs,
    *,
    explanations: Frame,
    enrolments: Frame,
    names: NamesBeside,
    decisions: Decisions,
    weights: Weights,
    policy: Policy,
) -> Comparisons:
    """Return what is found of the pairs."""
    stretches = compare_stretches(strays, roster, pairs, policy)
    holder = roster.codes_of(strays.holder)
    holds = holder[pairs.stray] == pairs.person
    counts = {
        "days": Counts(stretches.days_k, stretches.days_n),
        "parity": Counts(stretches.parity_k, stretches.parity_n),
        **compare_lists(strays, roster, pairs, enrolments, names, holds),
        **_decided(strays, roster, pairs, decisions),
    }
    barred = impossible_punches(strays, roster, pairs)
    who, day = pairs.person[barred[0]], strays.shift_day[barred[1]]
    unemployed = (day < roster.hired[who]) | (day > roster.left[who])
    times = compare_times(strays, roster, pairs, weights)
    return Comparisons(
        counts=counts,
        times=times,
        no_matchs_times=times_of_nobody(strays, roster, pairs, times, weights),
        errors=number_errors(strays, roster, pairs, explanations),
        impossible=np.bincount(barred[0][~unemployed], minlength=pairs.size),
        unemployed=np.bincount(barred[0][unemployed], minlength=pairs.size),
        barred=barred,
        digits=strays.number.str.len_chars().cast(pl.Float64).to_numpy()[pairs.stray],
        holds=holds,
        is_held=holder[pairs.stray] >= 0,
        is_seldom_there=stretches.is_seldom_there,
        former=former_numbers(strays, roster)[pairs.stray],
        people=_employed_meanwhile(strays, roster),
        length=np.searchsorted(LENGTHS, strays.stretch_until - strays.stretch_first),
        stray=pairs.stray,
    )


def _decided(strays: StrayColumns, roster: PeopleColumns, pairs: Pairs, decisions: Decisions) -> dict[str, Counts]:
    decided = np.isin(np.arange(strays.size), decisions.confirmed["stray"].to_numpy())
    by_chance = np.full(pairs.size, 1 / max(roster.size, 2))
    return {
        "refused": Counts(
            pairs.are_in(decisions.tried_both).astype(np.int64),
            decisions.logs_refusals[pairs.stray].astype(np.int64),
        ),
        "confirmed": Counts(
            pairs.are_in(decisions.confirmed).astype(np.int64), decided[pairs.stray].astype(np.int64), by_chance
        ),
    }


def _employed_meanwhile(strays: StrayColumns, roster: PeopleColumns) -> int:
    if not strays.size:
        return 1
    return max(int(((roster.hired <= strays.day.max()) & (roster.left >= strays.day.min())).sum()), 1)
