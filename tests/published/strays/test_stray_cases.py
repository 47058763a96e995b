"""Distances, match weights, EM, assignment, calibration and one joint attribution against references in cases.json.

`sourced` says how the source was read: seen, from memory, or computed (by two programs or full enumeration).
"""

from __future__ import annotations

import json
from itertools import permutations
from pathlib import Path
from typing import Any

import numpy as np
import polars as pl
import pytest
from bench.calibration import calibration
from rapidfuzz.distance import OSA, DamerauLevenshtein, Levenshtein

from evenhand.linkage.assignment.joint import IMPOSSIBLE, Block, best_plan, marginals
from evenhand.linkage.comparisons.number_errors import NumberErrors
from evenhand.linkage.weights.estimation import maximise
from evenhand.linkage.weights.match_weights import Floats, agreement_bits, share_bits
from evenhand.linkage.weights.parameters import ERROR_KINDS, Weights
from evenhand.linkage.weights.scoring import mixture_bits
from evenhand.terms.likeness.explain import explain
from evenhand.terms.likeness.slips import likelihoods
from evenhand.terms.sources import PEOPLE

CASES = json.loads((Path(__file__).parent / "cases.json").read_text(encoding="utf-8"))


def of_kind(kind: str) -> Any:
    chosen = [case for case in CASES if case["kind"] == kind]
    assert chosen
    return pytest.mark.parametrize("case", chosen, ids=[case["id"] for case in chosen])


def only(name: str) -> dict[str, Any]:
    return next(case for case in CASES if case["id"] == name)


@of_kind("edit_distance")
def test_the_distance_that_counts_a_slip_as_one_is_the_restricted_one(case: dict[str, Any]) -> None:
    a, b, expected = case["inputs"]["a"], case["inputs"]["b"], case["expected"]
    assert OSA.distance(a, b) == expected["osa_restricted"]
    assert Levenshtein.distance(a, b) == expected["levenshtein"]
    assert DamerauLevenshtein.distance(a, b) == expected["damerau_unrestricted"]
    one_step = {kind for kind in likelihoods(b, a) if kind not in {"jump", "twin", "jump_twin", "phonetic"}}
    if a.isdigit() and not one_step & {"zeros_lost", "zeros_added"}:
        assert bool(one_step) == (expected["osa_restricted"] == 1)


@of_kind("match_weight")
def test_a_match_weight_is_the_logarithm_of_a_ratio(case: dict[str, Any]) -> None:
    m, u = case["inputs"]["m"], case["inputs"]["u"]
    agree, disagree = agreement_bits([1, 0], [1, 1], m, u)
    assert agree == pytest.approx(case["expected"]["agree"], abs=1e-12)
    assert disagree == pytest.approx(case["expected"]["disagree"], abs=1e-12)


@of_kind("weight_to_probability")
def test_a_weight_becomes_a_probability(case: dict[str, Any]) -> None:
    # a stray with one candidate: the candidate's weight is against nobody
    found = [float(marginals(Block((np.array([0.0, bits]),), {}))[0][1]) for bits in case["inputs"]["w"]]
    assert found == pytest.approx(case["expected"]["p"], abs=1e-9)


@of_kind("likelihood_ratio")
def test_days_that_fit_multiply(case: dict[str, Any]) -> None:
    inputs = case["inputs"]
    bits = agreement_bits(inputs["days_fitting"], inputs["days"], inputs["a"], inputs["b"])
    assert float(bits) == pytest.approx(case["expected"]["bits"], abs=1e-9)


def matched(patterns: Floats, share: float, m: Floats, u: Floats) -> tuple[Floats, Floats]:
    """P(matched | pattern) and P(pattern), fields independent: the expectation of Winkler 1988."""
    of_m = np.prod(np.where(patterns > 0, m, 1 - m), axis=1) * share
    of_u = np.prod(np.where(patterns > 0, u, 1 - u), axis=1) * (1 - share)
    return of_m / (of_m + of_u), of_m + of_u


def fitted(inputs: dict[str, Any], rounds: int, pseudo: float = 0.0) -> tuple[float, Floats, Floats, float]:
    patterns = np.array([[int(mark) for mark in pattern] for pattern in inputs["counts"]], dtype=np.float64)
    counts = np.array(list(inputs["counts"].values()), dtype=np.float64)
    start = inputs["start"]
    share, m, u = start["lambda"], np.array(start["m"]), np.array(start["u"])
    for _ in range(rounds):
        mine = counts * matched(patterns, share, m, u)[0]
        others, ones = counts - mine, np.ones(len(counts))
        share = maximise(counts, mine / counts, ones, start["lambda"], pseudo)
        m = np.array(
            [maximise(mine, column, ones, prior, pseudo) for column, prior in zip(patterns.T, start["m"], strict=True)]
        )
        u = np.array(
            [
                maximise(others, column, ones, prior, pseudo)
                for column, prior in zip(patterns.T, start["u"], strict=True)
            ]
        )
    return share, m, u, float(counts @ np.log(matched(patterns, share, m, u)[1]))


@of_kind("fs_em")
def test_expectation_and_maximisation_reach_the_published_limit(case: dict[str, Any]) -> None:
    for rounds, name, exact in ((1, "after_1", 1e-9), (3000, "limit", 1e-6)):
        share, m, u, log_likelihood = fitted(case["inputs"], rounds)
        expected = case["expected"][name]
        assert share == pytest.approx(expected["lambda"], abs=exact)
        assert m == pytest.approx(expected["m"], abs=exact)
        assert u == pytest.approx(expected["u"], abs=exact)
        assert log_likelihood == pytest.approx(expected.get("loglik", log_likelihood), abs=1e-6)


def test_pseudo_counts_keep_a_weight_from_the_border() -> None:
    _, m, _, _ = fitted(only("STR-013")["inputs"], 500, pseudo=1.0)
    assert m.max() < 0.9999


@of_kind("assignment")
def test_the_assignment_is_the_published_one(case: dict[str, Any]) -> None:
    cost = np.array(case["inputs"]["cost"], dtype=np.float64)
    plan = best_plan(1000 - cost)  # everybody is worth assigning, the cheapest most
    placed = [(row, column) for row, column in enumerate(plan) if column >= 0]
    assert sum(cost[row, column] for row, column in placed) == case["expected"]["total"]
    if "columns" in case["expected"]:
        assert plan == case["expected"]["columns"]
    if "second_best" in case["expected"]:
        totals = sorted(sum(cost[row, column] for row, column in enumerate(p)) for p in permutations(range(len(cost))))
        assert totals[:2] == [case["expected"]["total"], case["expected"]["second_best"]]


@of_kind("calibration")
def test_scores_of_forecasts_are_the_published_ones(case: dict[str, Any]) -> None:
    inputs, expected = case["inputs"], case["expected"]
    if "y" not in inputs:
        assert calibration(inputs["brier"]["y"], inputs["brier"]["p"]).brier == pytest.approx(expected["brier"])
        assert calibration(**_named(inputs["log_loss"])).log_loss == pytest.approx(expected["log_loss"], abs=1e-9)
        return
    found = calibration(**_named(inputs))
    for name in ("brier", "reliability", "resolution", "uncertainty", "log_loss"):
        assert getattr(found, name) == pytest.approx(expected[name], abs=1e-9), name
    assert found.expected_error == pytest.approx(expected["ece"], abs=1e-9)
    assert found.brier == pytest.approx(found.reliability - found.resolution + found.uncertainty)
    assert {f"{said:.1f}": [size, pytest.approx(seen)] for said, size, seen in found.table} == expected["table"]


def _named(case: dict[str, list[float]]) -> dict[str, list[float]]:
    return {"happened": case["y"], "forecast": case["p"]}


def time_bits(minutes: float, scale: float = 10.0, elsewhere: float = 0.02) -> float:
    """The reference's own: a Laplace density with a part spread over the day, against a punch at any minute of it."""
    density = (1 - elsewhere) * np.exp(-abs(minutes) / scale) / (2 * scale) + elsewhere / 1440
    return float(np.log2(1440 * density))


def test_two_strays_and_three_people_taken_together() -> None:
    case = only("STR-020")
    inputs, expected = case["inputs"], case["expected"]
    people = list(inputs["people"])
    named = {name.replace("last_four", "phone"): share for name, share in inputs["mechanism_prior"].items()}
    shares = dict.fromkeys(ERROR_KINDS, 0.0) | named
    roster = PEOPLE.rows(
        [
            {"person": name, "name": name, "number": row["number"], "phone": f"555-01{row['known_last_fours'][0]}"}
            for name, row in inputs["people"].items()
        ]
    )
    explained = explain(pl.Series(inputs["strays"]), roster, neighbour_share=None).rows()
    table = np.empty((2, 3))
    for at, stray in enumerate(inputs["strays"]):
        for column, person in enumerate(people):
            pair = f"{stray}/{person}"
            fits = [(kind, chance) for keyed, who, kind, _, chance in explained if (keyed, who) == (stray, person)]
            errors = NumberErrors(
                pair=np.zeros(len(fits), dtype=np.int64),
                kind=np.array([ERROR_KINDS.index(kind) for kind, _ in fits], dtype=np.int64),
                likelihood=np.array([chance for _, chance in fits]),
                meant=pl.Series(["" for _ in fits], dtype=pl.String),
            )
            number = mixture_bits(errors, np.array([4.0]), Weights(errors=shares))
            n_jr, n_j, share = inputs["reader_counts_n_jr_n_j_share"][pair]
            parts = {
                "number": float(number[0]),
                "time": time_bits(inputs["minutes_from_missing_punch"][pair]),
                "reader": float(share_bits(n_jr, n_j, share, share)),
                "parity": float(agreement_bits(inputs["parity_fits"][pair], 1, 0.9, 0.1)),
                "prior_odds": float(np.log2(inputs["prior_each_known"] / inputs["prior_nobody"])),
            }
            assert parts == pytest.approx(expected["parts_bits"][pair], abs=1e-9)
            table[at, column] = sum(parts.values())
            assert table[at, column] == pytest.approx(expected["weight_bits_against_nobody"][pair], abs=1e-9)
    bits = tuple(np.concatenate([[0.0], row]) for row in table)
    names = ["nobody", *people]
    for stray, found in zip(inputs["strays"], (marginals(Block((row,), {}))[0] for row in bits), strict=True):
        assert dict(zip(names, found, strict=True)) == pytest.approx(expected["posterior_one_at_a_time"][stray])
    apart = np.zeros((4, 4))
    apart[1:, 1:] = np.where(np.eye(3, dtype=bool), IMPOSSIBLE, 0.0)
    together = marginals(Block(bits, {(0, 1): apart}))
    for stray, found in zip(inputs["strays"], together, strict=True):
        assert dict(zip(names, found, strict=True)) == pytest.approx(expected["posterior_jointly"][stray], abs=1e-9)
    plan = {stray: people[at] for stray, at in zip(inputs["strays"], best_plan(table), strict=True)}
    assert plan == expected["best_joint"]
