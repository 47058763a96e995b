"""What strays say about each other, and what comes of it, by trying every assignment."""

from __future__ import annotations

from itertools import product
from math import log2
from typing import Any

import numpy as np
import polars as pl
import pytest

from evenhand.linkage import Linkage
from evenhand.linkage.assignment.joint import IMPOSSIBLE
from evenhand.linkage.assignment.ties import Choices, tie_table
from evenhand.linkage.weights.parameters import Weights
from tests.linkage.scene import attributed, everybody_else, linked, shifts, stray

WEEK = range(5)
PLANNED = {
    "A": (WEEK, 6),
    "B": (WEEK, 6),
    "C": (WEEK, 6),
    **{f"X{at}": (WEEK, 6 if at % 2 else 14) for at in range(20)},
}
BUSY = everybody_else(WEEK)
WEIGHTS = Weights(nobody=0.2, same_number=0.75, wrong_again=0.5, two_numbers_bits=-6.0)
# 7 and 9 may own either stray, 8 the first alone
MINE = Choices(np.array([7, 8, 9]), np.array([4.0, 2.0, 1.0]), np.array([3.0, 6.0, -2.0]))
THEIRS = Choices(np.array([9, 7]), np.array([1.5, 2.5]), np.array([4.0, 5.0]))


def table(kind: str) -> list[list[float]]:
    found: list[list[float]] = tie_table(kind, MINE, THEIRS, WEIGHTS, digits=4, people=16).tolist()
    return found


def test_two_strays_that_are_two_peoples_are_never_given_to_one() -> None:
    assert table("apart") == [[0, 0, 0], [0, 0, IMPOSSIBLE], [0, 0, 0], [0, IMPOSSIBLE, 0]]


def test_two_numbers_of_one_person_are_unlikely_and_the_same_silence_speaks_once() -> None:
    # 7 speaks for itself with 3 bits and 5: the 3 are the same; 9 speaks against the first, which is said once anyway
    assert table("two_numbers") == [[0, 0, 0], [0, 0, -6 - 3], [0, 0, 0], [0, -6, 0]]


def test_one_number_at_two_readers_is_the_first_owners_again_with_its_own_chance() -> None:
    afresh, digits = log2(1 - 0.75), 4 * log2(10)
    # who owns the second is the first's owner with 3/4, instead of nobody by 1/5 or one of 16 by 1/20 each; what the
    # number is worth counts once, and is certain from the first on
    nobody = log2(0.75 / 0.2) + digits
    again = log2(0.75 * 0.5 / (0.8 / 16)) + digits
    expected = [
        [nobody, afresh, afresh],
        [afresh, afresh, again - 2.5 - 3],
        [afresh, afresh, afresh],
        [afresh, again - 1.5, afresh],
    ]
    assert np.array(table("same_number")) == pytest.approx(np.array(expected))


def of_stray(linkage: Linkage, name: str) -> list[dict[str, Any]]:
    """The candidates carried into the joint solution: the dozen likeliest, each with a chance of 1e-5 at least."""
    rows = linkage.candidates.filter(pl.col("stray") == name, pl.col("alone") >= 1e-5)
    return rows.sort("alone", descending=True).head(12).to_dicts()


def lump(linkage: Linkage, name: str) -> float:
    """The odds of whoever was not looked at against nobody here."""
    row = linkage.strays.filter(pl.col("stray") == name).row(0, named=True)
    return row["others"] / row["nobody"]


def by_trying(
    one: list[dict[str, Any]], other: list[dict[str, Any]], tie: Any, lumps: tuple[float, float]
) -> tuple[dict[str, float], ...]:
    """P(owner) of two strays from each candidate's bits and `tie` (bits) of every two choices; None is no candidate."""
    odds = {
        (mine and mine["person"], theirs and theirs["person"]): 2.0
        ** ((mine["bits"] if mine else 0.0) + (theirs["bits"] if theirs else 0.0) + tie(mine, theirs))
        * (1.0 if mine else 1 + lumps[0])
        * (1.0 if theirs else 1 + lumps[1])
        for mine, theirs in product([None, *one], [None, *other])
    }
    total = sum(odds.values())
    found: tuple[dict[str, float], ...] = ({}, {})
    for owners, chance in odds.items():
        for at, owner in enumerate(owners):
            found[at][owner] = found[at].get(owner, 0.0) + chance / total
    return found


def said(linkage: Linkage, name: str, among: dict[str, float]) -> dict[str, float]:
    rows = linkage.candidates.filter(pl.col("stray") == name).select("person", "probability").rows()
    # what two strays say about each other is the same for nobody here and for those not looked at
    no_candidates = linkage.strays.filter(pl.col("stray") == name).select(pl.col("nobody") + pl.col("others")).item()
    found = {**dict(rows), None: no_candidates}
    assert {owner for owner, chance in found.items() if chance > 0} == set(among)
    return {owner: found[owner] for owner in among}


def are_one(mine: dict[str, Any] | None, theirs: dict[str, Any] | None) -> bool:
    return mine is not None and theirs is not None and mine["person"] == theirs["person"]


@pytest.mark.parametrize("reader", ["GATE", "DOCK"])
def test_two_strays_that_share_candidates_are_what_every_assignment_together_says(reader: str) -> None:
    linkage = linked(stray("4281", shifts(WEEK)) + stray("4812", shifts(WEEK), reader), BUSY, planned=PLANNED)

    def tie(mine: dict[str, Any] | None, theirs: dict[str, Any] | None) -> float:
        if not are_one(mine, theirs):
            return 0.0
        assert mine is not None
        assert theirs is not None
        if reader == "GATE":  # two numbers at one reader whose times interleave
            return -200.0
        habits = (sum(one[part] for part in ("days", "parity", "time", "site")) for one in (mine, theirs))
        return Weights().two_numbers_bits - max(min(habits), 0.0)

    names = ("DOCK/4812", "GATE/4281") if reader == "DOCK" else ("GATE/4281", "GATE/4812")
    lumps = (lump(linkage, names[0]), lump(linkage, names[1]))
    assert min(lumps) > 0
    expected = by_trying(*(of_stray(linkage, name) for name in names), tie, lumps)
    for name, chances in zip(names, expected, strict=True):
        assert len(chances) > 3
        assert said(linkage, name, chances) == pytest.approx(chances, abs=1e-9)


def test_a_stray_that_bears_on_no_other_is_shared_by_its_own_bits() -> None:
    linkage = linked(stray("4281", shifts(WEEK)), BUSY + attributed("B", shifts(WEEK)), planned=PLANNED)
    rows = linkage.candidates
    odds = 2.0 ** rows["bits"].to_numpy()
    no_candidates = 1 + lump(linkage, "GATE/4281")
    assert rows["alone"].to_numpy() == pytest.approx(odds / (no_candidates + odds.sum()))
    kept = of_stray(linkage, "GATE/4281")
    total = no_candidates + sum(2.0 ** one["bits"] for one in kept)
    expected = {one["person"]: 2.0 ** one["bits"] / total for one in kept} | {None: no_candidates / total}
    assert said(linkage, "GATE/4281", expected) == pytest.approx(expected)
    # the likeliest come first, and the first alone is the best, since it is likelier than nobody
    assert rows["probability"].to_list() == sorted(rows["probability"], reverse=True)
    assert rows["is_best"].to_list() == [True] + [False] * (rows.height - 1)


def test_what_was_counted_stands_beside_each_candidate() -> None:
    linkage = linked(stray("4281", shifts(WEEK)), BUSY, planned=PLANNED)
    ana = linkage.candidates.filter(pl.col("person") == "A").row(0, named=True)
    # due and silent on all five days, nothing of her own to fit; punches four minutes before the bounds of her shift
    # and before the meal, of which half an hour counts
    assert (ana["days_k"], ana["days_n"], ana["parity_k"], ana["parity_n"]) == (5, 5, 0, 0)
    assert (ana["kind"], ana["meant"], ana["impossible"], ana["unemployed"]) == ("adjacent", "4821", 0, 0)
    assert ana["minutes_off"] == pytest.approx((4 + 30 + 30 + 4) / 4)
    assert (ana["refused_n"], ana["confirmed_n"], ana["name_n"], ana["dates_n"]) == (0, 0, 0, 0)
