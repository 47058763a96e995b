"""Faults of pay by person, and whether the file for payroll asks for money at all."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.disagreement import by
from evenhand.checks.facts import Facts
from evenhand.pay import asks_for_pay

__all__ = ["money_asked", "weeks_at_fault"]


def money_asked(facts: Facts) -> bool:
    """Whether payroll's file has a column of money, so that unknown pay keeps it back."""
    return any(asks_for_pay(one.fields) for one in facts.settings.import_definitions)


def weeks_at_fault(facts: Facts, kind: str) -> Iterator[tuple[str, list[dict[str, Any]]]]:
    """Yield each person with the faults (PAY_FAULTS) of one kind; none where nobody works with money here.

    A workplace whose payroll knows the rates, and which has none on file, misses none.
    """
    if not money_asked(facts) and facts.pay_weeks["total_pay"].null_count() == facts.pay_weeks.height:
        return
    faults = facts.pay_faults.filter(pl.col("kind") == kind).sort("person", "workweek", maintain_order=True)
    for (person,), rows in by(faults.rows(named=True), "person").items():
        yield person, rows
