"""Declared columns hold what they declare."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import polars as pl
import pytest

from evenhand.terms import hours, sources, tables
from evenhand.terms.columns import Table
from evenhand.terms.sources import PEOPLE


def test_columns_not_given_are_null() -> None:
    frame = PEOPLE.frame({"person": ["A"], "name": ["Ann"]})
    assert frame.schema == PEOPLE.schema
    assert frame["number"].null_count() == 1


def test_money_keeps_its_digits() -> None:
    frame = PEOPLE.rows(
        [{"person": "A", "name": "Ann", "hourly_rate": Decimal("21.375"), "hired_on": date(2026, 1, 2)}]
    )
    assert frame["hourly_rate"][0] == Decimal("21.3750")


def test_a_column_nobody_declared_is_refused() -> None:
    with pytest.raises(KeyError, match="people has no column shoe_size"):
        PEOPLE.frame({"shoe_size": [42]})


def test_a_frame_of_other_columns_is_refused() -> None:
    with pytest.raises(TypeError, match="not a people frame"):
        PEOPLE.check(pl.DataFrame({"person": ["A"]}))


def test_every_table_says_what_its_columns_mean() -> None:
    declared = [
        value for module in (sources, hours, tables) for value in vars(module).values() if isinstance(value, Table)
    ]
    assert len(declared) > 12
    for table in declared:
        assert table.title
        assert all(column.meaning for column in table.columns)
        assert set(table.key) <= set(table.names)
