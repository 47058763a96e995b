"""What is signed is these very hours, and what differs from them is said."""

from __future__ import annotations

import hashlib
import json
from datetime import date

import pytest
import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from evenhand.records.signing import Hours, differences, digest_of, hours_of, read_hours, written
from evenhand.terms.handed_off import HANDED_OFF

MONDAY, TUESDAY = date(2026, 11, 2), date(2026, 11, 3)
ITEMS = st.sampled_from(("ordinary", "overtime", "double", "meal_premium", "differential:näght"))
HOURS = st.dictionaries(
    st.tuples(st.dates(date(2020, 1, 1), date(2030, 1, 1)), ITEMS), st.integers(1, 90_000), max_size=20
)


def test_money_and_the_order_of_lines_are_not_signed() -> None:
    line = {"person": "P1", "workweek": date(2026, 11, 1), "rate": None, "amount": "0"}
    rows = [
        {**line, "day": TUESDAY, "item": "overtime", "seconds": 1800},
        {**line, "day": MONDAY, "item": "ordinary", "seconds": 28800},
        {**line, "day": MONDAY, "item": "base", "seconds": 0, "amount": "146.00"},
    ]
    expected = {(MONDAY, "ordinary"): 28800, (TUESDAY, "overtime"): 1800}
    assert hours_of(HANDED_OFF.rows(rows)) == hours_of(HANDED_OFF.rows(rows[::-1])) == expected


def test_the_digest_is_sha_256_of_what_can_be_written_by_hand() -> None:
    # checked by hand: the text is written down here, and hashed by the standard library
    text = '[["2026-11-02","ordinary",28800],["2026-11-03","overtime",1800]]'
    hours = {(TUESDAY, "overtime"): 1800, (MONDAY, "ordinary"): 28800}
    assert digest_of(hours) == hashlib.sha256(text.encode()).hexdigest()


@given(HOURS)
def test_what_is_written_is_canonical_and_is_read_back(hours: Hours) -> None:
    # RFC 8785 as the package rfc8785 writes it
    assert written(hours).encode() == rfc8785.dumps(json.loads(written(hours)))
    assert read_hours(written(hours)) == hours


@given(HOURS, HOURS)
def test_two_digests_are_the_same_where_the_hours_are_and_nowhere_else(one: Hours, other: Hours) -> None:
    said, moved = differences(one, other)
    assert (digest_of(one) == digest_of(other)) == (one == other) == (not said) == (moved == 0)


def test_what_differs_is_told_by_day() -> None:
    signed = {(MONDAY, "ordinary"): 28800, (TUESDAY, "ordinary"): 28800}
    now = {(MONDAY, "ordinary"): 28800, (TUESDAY, "ordinary"): 27000, (TUESDAY, "meal_premium"): 3600}
    said, moved = differences(signed, now)
    assert said == ["Tue 3 Nov: meal premium +1:00 h, ordinary time -0:30 h"]
    assert moved == 3600 + 1800


@pytest.mark.parametrize("text", ["[]", "[] "])
def test_no_hours_can_be_signed_too(text: str) -> None:
    assert read_hours(text) == {}
