"""Columns of exact fractions against Python's own, and rounding against decimal arithmetic."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import numpy as np
import polars as pl
from hypothesis import given
from hypothesis import strategies as st

from evenhand.pay.exact import Exact, rounded_half_up, whole

# Far past what 64 and 128 bits hold.
TOPS = st.integers(-(10**45), 10**45)
BELOWS = st.integers(1, 10**30)
COLUMNS = st.lists(st.tuples(TOPS, BELOWS), min_size=1, max_size=8)


def exact(pairs: list[tuple[int, int]]) -> Exact:
    return Exact(np.array([top for top, _ in pairs], object), np.array([below for _, below in pairs], object))


def fractions(column: Exact) -> list[Fraction]:
    return [Fraction(top, below) for top, below in zip(column.top, column.below, strict=True)]


@given(COLUMNS, st.data())
def test_sums_of_groups_are_exact(pairs: list[tuple[int, int]], data: st.DataObject) -> None:
    groups = sorted(data.draw(st.lists(st.integers(0, 5), min_size=len(pairs), max_size=len(pairs))))
    sums = [Fraction(0)] * 7
    for group, (top, below) in zip(groups, pairs, strict=True):
        sums[group] += Fraction(top, below)
    assert fractions(exact(pairs).summed(np.array(groups), 7)) == sums


@given(COLUMNS)
def test_arithmetic_is_exact(pairs: list[tuple[int, int]]) -> None:
    column, turned = exact(pairs), exact(pairs[::-1])
    mine, other = fractions(column), fractions(turned)
    assert fractions(column + turned) == [a + b for a, b in zip(mine, other, strict=True)]
    assert fractions(column - turned) == [a - b for a, b in zip(mine, other, strict=True)]
    assert fractions(column.smaller(turned)) == [min(a, b) for a, b in zip(mine, other, strict=True)]
    assert fractions(column.not_below_zero()) == [max(a, Fraction(0)) for a in mine]
    assert fractions(column.times(3, 7)) == [a * Fraction(3, 7) for a in mine]


@given(st.lists(st.integers(-(10**12), 10**12), min_size=1, max_size=8))
def test_an_amount_is_rounded_once_half_up(mills: list[int]) -> None:
    # Thousandths, so that halves of a cent come up often: decimal's own ROUND_HALF_UP.
    expected = [(Decimal(mill) / 1000).quantize(Decimal("0.01"), ROUND_HALF_UP) for mill in mills]
    assert exact([(mill, 1000) for mill in mills]).cents().to_list() == expected


def test_halves_go_up_and_what_is_below_them_down() -> None:
    # 1.005, 1.0049, 1.0051, and the same below zero.
    tops = [10_050, 10_049, 10_051, -10_050, -10_049, 0]
    column = exact([(top, 10_000) for top in tops])
    assert [str(amount.quantize(Decimal("0.01"))) for amount in column.cents()] == [
        "1.01", "1.00", "1.01", "-1.01", "-1.00", "0.00",
    ]  # fmt: skip
    positive = pl.select(top=pl.Series(tops[:3]), below=pl.lit(10_000))
    assert positive.select(rounded_half_up(pl.col("top"), pl.col("below"))).to_series().to_list() == [101, 100, 101]


def test_a_rate_is_shown_to_four_decimals() -> None:
    # 568 / 56 = 10.142857, 2 / 3 = 0.666667, 1 / 20,000 = 0.00005
    assert exact([(568, 56), (2, 3), (1, 20_000)]).four_decimals().to_list() == [
        Decimal("10.1429"), Decimal("0.6667"), Decimal("0.0001"),
    ]  # fmt: skip


def test_whole_numbers_of_any_size_come_over() -> None:
    numbers = pl.Series([10**30, -1, 0], dtype=pl.Int128)
    assert whole(numbers).tolist() == [10**30, -1, 0]
    assert len(Exact.zeros(0).summed(np.array([], dtype=np.intp), 0)) == 0
