from __future__ import annotations

from datetime import date

import polars as pl
import pytest

from evenhand.terms.likeness.explain import explain
from evenhand.terms.sources import PEOPLE

ROSTER = PEOPLE.rows(
    [
        {"person": "A", "name": "Ana", "number": "4821", "phone": "555-010-7730"},
        {"person": "B", "name": "Ben", "number": "0417", "address": "12 Rye Street, 88"},
        {"person": "C", "name": "Cy", "number": "3057", "phone": "555-010-4281", "hired_on": date(2026, 3, 9)},
        {"person": "D", "name": "Dee", "number": None},
    ]
)


def kinds(keyed: str) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for row in explain(pl.Series([keyed]), ROSTER).iter_rows(named=True):
        found.setdefault(row["person"], set()).add(row["kind"])
    return found


def test_a_swap_and_a_telephones_end_both_explain_a_number() -> None:
    assert kinds("4281") == {"A": {"adjacent"}, "C": {"phone"}}


def test_zeros_that_a_list_lost_are_recognised() -> None:
    assert "zeros_lost" in kinds("417")["B"]
    assert "zeros_added" in kinds("00417")["B"]


def test_a_house_number_and_a_date_are_recognised() -> None:
    assert kinds("0012") == {"B": {"address"}}
    assert kinds("0309") == {"C": {"date"}}


def test_ones_own_number_is_the_kind_own() -> None:
    assert kinds("4821")["A"] == {"own"}


def test_nobody_explains_a_number_far_from_all() -> None:
    assert explain(pl.Series(["999999"]), ROSTER).height == 0


def test_several_known_ends_share_the_likelihood() -> None:
    # of four digits Cy knows one telephone end and three dates: 0903, 0309, 0326, 2026 are four, apart from phone
    row = explain(pl.Series(["0309"]), ROSTER).row(0, named=True)
    assert row["likelihood"] == pytest.approx(1 / 4)
