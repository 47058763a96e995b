"""Check digits, error counts and code sizes against published figures and exhaustive counts; sources in cases.json.

`sourced` says how the source was read: seen, from memory, or computed by enumeration.
"""

from __future__ import annotations

import json
from importlib import import_module
from itertools import combinations
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from rapidfuzz.distance import OSA, Hamming

from evenhand.numbers import VERHOEFF_SHARES, Scheme, chance_of_clash, chance_of_landing, expected_at_random, members
from evenhand.numbers.slip_counts import landing, shortened
from evenhand.terms.likeness.keypad import neighbours

CASES = json.loads((Path(__file__).parent / "cases.json").read_text(encoding="utf-8"))
KINDS = {"adjacent_transposition": "adjacent", "jump_transposition": "jump"}
CHECKS = {
    "iso7064_mod11_2": "iso7064.mod_11_2",
    "iso7064_mod11_10": "iso7064.mod_11_10",
    "iso7064_mod97_10": "iso7064.mod_97_10",
}


def of_kind(kind: str) -> Any:
    chosen = [case for case in CASES if case["kind"] == kind]
    assert chosen
    return pytest.mark.parametrize("case", chosen, ids=[case["id"] for case in chosen])


def as_text(values: Any, digits: int) -> list[str]:
    return [str(value).zfill(digits) for value in values]


@of_kind("table_total")
def test_the_error_shares_are_those_of_the_census(case: dict[str, Any]) -> None:
    total = case["expected"]["total"]
    assert sum(case["inputs"].values()) == total
    for kind, share in VERHOEFF_SHARES.items():
        name = next((long for long, short in KINDS.items() if short == kind), kind)
        assert share == pytest.approx(case["inputs"][name] / total, abs=5e-5)


@of_kind("check_digit")
def test_a_number_with_its_published_check_digit_is_in_the_scheme(case: dict[str, Any]) -> None:
    scheme, payload, check = case["inputs"]["scheme"], case["inputs"]["payload"], case["expected"]["check"]
    number = payload + check
    if scheme == "iso7064_mod37_36" or not number.isdigit() or len(number) > 8:
        module = import_module(f"stdnum.{scheme.replace('iso7064_mod', 'iso7064.mod_')}")
        assert module.is_valid(number)
        return
    assert int(number) in set(members(Scheme(len(number), check=CHECKS.get(scheme, scheme))).tolist())


@of_kind("error_detection_counts")
def test_slips_that_stay_unnoticed_are_as_many_as_counted(case: dict[str, Any]) -> None:
    inputs = case["inputs"]
    digits = inputs.get("digits") or inputs["digits_including_check"]
    name = inputs["scheme"]
    scheme = (
        Scheme(digits, step=int(name.rsplit(" ", 1)[1]))
        if name.startswith("multiples")
        else Scheme(digits, check=CHECKS.get(name, name))
    )
    values = members(scheme)
    assert len(values) == case["expected"]["valid_numbers"]
    for kind, (unnoticed, total) in case["expected"]["undetected_of_total"].items():
        assert landing(values, digits, KINDS.get(kind, kind)) == (unnoticed, total), kind


@of_kind("weighted_undetected")
def test_the_overall_share_weighs_the_kinds(case: dict[str, Any]) -> None:
    for name, share in case["expected"].items():
        numbers = as_text(members(Scheme(4, check=CHECKS.get(name, name))), 4)
        assert chance_of_landing(numbers).overall == pytest.approx(share, rel=1e-9)


@of_kind("omission_counts")
def test_a_dropped_digit_passes_about_one_time_in_ten(case: dict[str, Any]) -> None:
    for name, (passing, total) in case["expected"]["undetected_of_total"].items():
        four, three = (members(Scheme(digits, check=CHECKS.get(name, name))) for digits in (4, 3))
        left = [outcome for _, outcome in shortened(four, 4)]
        assert (sum(int(np.isin(one, three).sum()) for one in left), sum(map(len, left))) == (passing, total)


@of_kind("hit_probability")
def test_numbers_drawn_at_random_are_hit_as_often_as_they_are_many(case: dict[str, Any]) -> None:
    for (people, digits), chance in zip(case["inputs"]["pairs_N_d"], case["expected"]["p"], strict=True):
        assert expected_at_random(people, digits) == pytest.approx(chance, abs=1e-12)


@of_kind("birthday")
def test_people_who_choose_their_own_clash_as_birthdays_do(case: dict[str, Any]) -> None:
    numbers, people = case["inputs"]["numbers"], case["inputs"]["people"]
    assert chance_of_clash(people, numbers) == pytest.approx(case["expected"]["p_clash"], rel=1e-12)
    assert chance_of_clash(people - 1, numbers) < 0.5 < chance_of_clash(people, numbers)


@of_kind("hit_counts")
def test_numbers_in_a_row_are_hit_far_more_often(case: dict[str, Any]) -> None:
    counted = chance_of_landing(as_text(range(1000, 1500), 4)).by_kind
    expected = case["expected"]
    assert counted["single"] == tuple(expected["single"])
    assert counted["neighbour"] == tuple(expected["keypad_neighbour"])
    assert counted["adjacent"] == tuple(expected["adjacent_transposition"])


@of_kind("keypad_adjacency")
def test_the_pad_is_the_telephones(case: dict[str, Any]) -> None:
    assert neighbours() == case["expected"]["neighbours"]
    assert sum(map(len, neighbours().values())) == case["expected"]["orthogonal_directed_of_90"]


@of_kind("code_size")
def test_a_check_digit_reaches_the_most_numbers_no_two_of_which_are_one_slip_apart(case: dict[str, Any]) -> None:
    values = members(Scheme(4, check="damm"))
    assert len(values) == case["expected"]["size"]
    assert landing(values, 4, "single")[0] == landing(values, 4, "adjacent")[0] == 0


def test_a_step_of_19_keeps_every_two_numbers_two_slips_apart() -> None:
    # reference library: rapidfuzz, optimal string alignment distance (a swap of neighbours is one slip)
    for scheme in (Scheme(3, 19, 1), Scheme(3, check="damm")):
        numbers = as_text(members(scheme), 3)
        assert min(OSA.distance(one, other) for one, other in combinations(numbers, 2)) == 2
        assert min(Hamming.distance(one, other) for one, other in combinations(numbers, 2)) == 2
