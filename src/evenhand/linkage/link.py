"""Propose whose strays are: a probability for everybody who could be meant, and for nobody on the roster."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import polars as pl

from evenhand.linkage.assignment.solve import solve
from evenhand.linkage.blocking import candidate_pairs
from evenhand.linkage.comparisons.attempts import logs_refusals, tried_both
from evenhand.linkage.comparisons.compare import Decisions, compare_pairs
from evenhand.linkage.comparisons.lists import names_beside
from evenhand.linkage.results import candidates_frame, impossible_frame, punches_frame, strays_frame
from evenhand.linkage.roster import PeopleColumns
from evenhand.linkage.strays import StrayColumns, group_strays
from evenhand.linkage.tables import PAIRS
from evenhand.linkage.weights.fitting import fitted_weights
from evenhand.linkage.weights.parameters import Weights
from evenhand.linkage.weights.scoring import alone, fixed_bits, score, total_bits
from evenhand.linkage.weights.unlooked import unlooked_people
from evenhand.terms.columns import Frame
from evenhand.terms.settings import Policy

__all__ = ["Linkage", "link"]


@dataclass(frozen=True)
class Linkage:
    """What was found: STRAYS with their STRAY_PUNCHES, CANDIDATES, and punches they cannot have made.

    The last is `impossible` (IMPOSSIBLE_PUNCHES).
    """

    strays: Frame
    punches: Frame
    candidates: Frame
    impossible: Frame


def link(
    punches: Frame,
    *,
    roster: PeopleColumns,
    readers: Frame,
    enrolments: Frame,
    refused: Frame,
    explanations: Frame,
    policy: Policy,
    confirmed: Frame,
    rejected: Frame,
) -> Linkage:
    """Return the posterior over the candidates for `punches` (columns punch, reader, number, at, direction, holder).

    `holder` is empty for unattributed punches; where punches are attributed but doubted it names whose they are now.
    `roster` is everybody with the punches attributed to them, doubted or not. `refused` are refused presentations
    (RECORDED), `explanations` EXPLANATIONS of the numbers. `policy` is the workplace's own; `confirmed` and `rejected`
    (DECIDED) is decided.
    """
    zones = dict(readers.select("reader", "zone").iter_rows())
    strays = group_strays(punches, zones, policy)
    roster = roster.without(punches["punch"])
    # the lists of other readers say nothing, and are most of them
    enrolments = enrolments.join(strays.keys(), on="reader", how="semi")
    names = names_beside(strays, roster, enrolments)
    decisions = Decisions(
        tried_both=tried_both(strays, roster, refused),
        confirmed=_placed(confirmed, strays, roster),
        logs_refusals=logs_refusals(strays, refused),
    )
    holders = _placed(pl.select(reader=strays.reader, number=strays.number, person=strays.holder), strays, roster)
    also = pl.concat([names.bearers, decisions.tried_both, decisions.confirmed, holders])
    ruled_out = _placed(rejected, strays, roster)
    pairs = candidate_pairs(strays, roster, explanations, also, ruled_out)
    unlooked = unlooked_people(strays, roster, pairs, np.bincount(ruled_out["stray"].to_numpy(), minlength=strays.size))
    start = Weights()
    compared = compare_pairs(
        strays,
        roster,
        pairs,
        explanations=explanations,
        enrolments=enrolments,
        names=names,
        decisions=decisions,
        weights=start,
        policy=policy,
    )
    fixed = fixed_bits(compared, strays, roster, pairs, start)
    fitted = fitted_weights(start, compared, fixed, strays, roster, pairs, unlooked, policy) if strays.size else start
    bits = score(compared, fixed, fitted)
    lump = unlooked.odds(compared, pairs, fitted)
    by_itself, _ = alone(total_bits(bits), pairs, lump)
    solution = solve(strays, roster, pairs, bits, by_itself, lump, fitted, compared.people)
    return Linkage(
        strays=strays_frame(strays, solution.nobody, solution.others),
        punches=punches_frame(strays),
        candidates=candidates_frame(strays, roster, pairs, compared, bits, by_itself, solution, fitted),
        impossible=impossible_frame(strays, roster, pairs, compared),
    )


def _placed(decided: Frame, strays: StrayColumns, roster: PeopleColumns) -> Frame:
    """The PAIRS of what was decided about people (reader, number, person)."""
    placed = decided.join(strays.keys(), on=["reader", "number"]).join(roster.keys(), on="person")
    return placed.select(PAIRS.names).unique()
