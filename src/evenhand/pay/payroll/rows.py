"""Payroll's rows: what is owed to a person in a workweek, or in the whole period, item by item."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from itertools import groupby
from typing import Any

import polars as pl

from evenhand.pay.closed.printed import ToldBefore
from evenhand.terms.columns import Frame
from evenhand.terms.languages import Sentence, sentence
from evenhand.terms.payroll import BASE
from evenhand.terms.records import Refusal

__all__ = ["PayrollRow", "ToldRow", "payroll_rows"]

Key = tuple[str, date | None, bool]
"""Whose row it is, of which workweek (None for the whole period), and whether it corrects an earlier period."""

NOT_LISTED = sentence("person {person} is owed pay but is not on the roster; take a roster that lists them.")


@dataclass(frozen=True)
class ToldRow:
    """What another file told of a row: the exact seconds by item, and the figures it printed by field, where kept."""

    seconds: dict[str, int]
    figures: dict[str, Decimal]


@dataclass(frozen=True)
class PayrollRow:
    """What is owed to one person for a workweek, or for the whole period where no column asks for the week.

    `seconds` and `amounts` (None where not known) are by item, as OWED names them; `is_known` tells whether the pay of
    all its time is known, and `rates` at how many rates it is paid. `adjusts` is the earlier workweek that the row
    corrects, None for a row of the period. `told` is what each of the other files has told of it already.
    """

    person: str
    name: str
    number: str
    site: str
    department: str
    hourly_rate: Decimal | None
    workweek: date | None
    period_first: date
    period_last: date
    seconds: Mapping[str, int] = field(default_factory=dict)
    amounts: Mapping[str, Decimal | None] = field(default_factory=dict)
    is_known: bool = False
    rates: int = 0
    regular_rate: Decimal | None = None
    adjusts: date | None = None
    told: tuple[ToldRow, ...] = ()


def payroll_rows(
    owed: Frame,
    people: Frame,
    period: tuple[date, date],
    *,
    by_week: bool,
    pay_weeks: Frame | None = None,
    told: ToldBefore | None = None,
) -> list[PayrollRow]:
    """Return payroll's rows, by person and week, for everybody to whom something is owed (OWED).

    `people` are PEOPLE; `pay_weeks` (PAY_WEEKS) has the regular rate of a week, which rows for the whole period have
    not. What corrects an earlier period has rows of its own, one for each workweek that it corrects; `told` is what
    other files have told of the same rows, of which some may owe nothing more. Raises Refusal where something is owed
    to somebody who is not on the roster.
    """
    before = _told_rows(told or ToldBefore(), by_week=by_week)
    nothing = {"is_known": True}
    owing = dict(_by_row(owed, by_week=by_week))
    roster = {row["person"]: row for row in people.iter_rows(named=True)}
    rates = (
        {}
        if pay_weeks is None
        else {
            (who, week): rate for who, week, rate in pay_weeks.select("person", "workweek", "regular_rate").iter_rows()
        }
    )
    rows = []
    for key, items in sorted((dict.fromkeys(before, nothing) | owing).items(), key=_in_order):
        person, workweek, adjusts = key
        who = roster.get(person)
        if who is None:
            raise Refusal(Sentence(NOT_LISTED, {"person": person}))
        rows.append(
            PayrollRow(
                person=person,
                name=str(who["name"]),
                number=str(who["number"] or ""),
                site=str(who["site"] or ""),
                department=str(who["department"] or ""),
                hourly_rate=who["hourly_rate"],
                workweek=workweek if by_week else None,
                period_first=period[0],
                period_last=period[1],
                regular_rate=rates.get((person, workweek)) if by_week and not adjusts else None,
                adjusts=workweek if adjusts else None,
                told=before.get(key, ()),
                **items,
            )
        )
    return rows


def _in_order(row: tuple[Key, Any]) -> tuple[str, bool, date]:
    person, workweek, adjusts = row[0]
    return person, adjusts, workweek or date.min


def _told_rows(told: ToldBefore, *, by_week: bool) -> dict[Key, tuple[ToldRow, ...]]:
    """Return what was told of each row before, source by source."""
    found: dict[Key, dict[int, ToldRow]] = {}

    def of(source: int, person: str, week: date, adjusts: bool) -> ToldRow:
        key = person, week if by_week or adjusts else None, adjusts
        return found.setdefault(key, {}).setdefault(source, ToldRow({}, {}))

    for *row, item, seconds in told.time.iter_rows():
        _add(of(*row).seconds, item, seconds)
    for *row, name, figure in told.figures.iter_rows():
        _add(of(*row).figures, name, figure)
    return {key: tuple(sources.values()) for key, sources in found.items()}


def _add(sums: dict[str, Any], name: str, more: Any) -> None:
    sums[name] = sums.get(name, 0) + more


def _by_row(owed: Frame, *, by_week: bool) -> Iterator[tuple[Key, dict[str, Any]]]:
    """Yield what each row holds, by person, week and whether it corrects an earlier period."""
    week = pl.col("workweek") if by_week else pl.when("adjusts").then("workweek")
    columns = ("person", "of_row", "adjusts", "item", "seconds", "rate", "amount", "is_known")
    ordered = owed.with_columns(of_row=week).sort("person", "adjusts", "workweek", "item").select(columns)
    for key, rows in groupby(ordered.iter_rows(), key=lambda row: row[:3]):
        seconds: dict[str, int] = {}
        amounts: dict[str, Decimal | None] = {}
        rates, is_known = set(), True
        for _, _, _, item, spent, rate, amount, known in rows:
            is_known &= known
            if item == BASE:
                rates.add(rate)
            if spent is not None:
                seconds[item] = seconds.get(item, 0) + spent
            if amount is not None or spent is None:
                before = amounts.get(item, Decimal(0))
                amounts[item] = None if before is None or amount is None else before + amount
        yield key, {"seconds": seconds, "amounts": amounts, "is_known": is_known, "rates": len(rates)}
