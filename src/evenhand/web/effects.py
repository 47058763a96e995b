"""What a decision does to time and pay, as lines of a table: the same wherever something is foreseen."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from evenhand.jobs.effects import PeriodChange
from evenhand.terms.languages import told
from evenhand.terms.said import premium_in_words
from evenhand.terms.words import MINUS

__all__ = ["ComparedLine", "PeriodShown", "by_standing", "shown_period"]

NONE = told("none")
MONEY = {
    "straight_pay": told("Straight pay"),
    "overtime_premium": told("Overtime premium"),
    "premium_pay": told("Premiums"),
    "other_pay": told("Other pay"),
    "pay": told("Pay"),
}


@dataclass(frozen=True)
class ComparedLine:
    """One line of a comparison: what, before and after as they are shown, and the change; seconds where it is time."""

    name: str
    before: str
    after: str
    change: str
    seconds: tuple[int, int] | None = None


@dataclass(frozen=True)
class PeriodShown:
    """What a decision changes for one person in one pay period: the weeks meant, with lines of time, questions, pay."""

    change: PeriodChange
    lines: Sequence[ComparedLine]
    most_s: int


def by_standing(changes: Iterable[PeriodChange]) -> tuple[list[PeriodShown], list[PeriodShown]]:
    """Return people's changes in pay periods that are open still, and in those of which payroll has a file."""
    shown = [shown_period(one) for one in changes]
    return [one for one in shown if one.change.file is None], [one for one in shown if one.change.file is not None]


def shown_period(change: PeriodChange) -> PeriodShown:
    """Return one person's change in one pay period as lines."""
    before, after = change.before, change.after
    lines: list[ComparedLine] = [_time(told("Ordinary"), before.ordinary_s, after.ordinary_s)]
    lines.append(_time(told("Overtime"), before.overtime_s, after.overtime_s))
    if before.double_s or after.double_s:
        lines.append(_time(told("Double time"), before.double_s, after.double_s))
    lines.append(_time(told("Paid"), before.paid_s, after.paid_s))
    was, now = ({one.kind: one.hours for one in side.owed} for side in (before, after))
    for kind in sorted({*was, *now}):
        had, has = was.get(kind, Decimal(0)), now.get(kind, Decimal(0))
        owed = told("Owed: {what}", what=premium_in_words(kind))
        lines.append(ComparedLine(owed, f"{had:.2f} h", f"{has:.2f} h", _moved(had, has, " h")))
    asked, asks = before.questions, after.questions
    lines.append(ComparedLine(told("Open questions"), str(asked), str(asks), _moved(asked, asks)))
    for name, label in MONEY.items():
        amount, amounts_to = getattr(before, name), getattr(after, name)
        if name == "pay" or amount or amounts_to:
            lines.append(
                ComparedLine(
                    label,
                    told("{amount:pay}", amount=amount),
                    told("{amount:pay}", amount=amounts_to),
                    _moved(amount, amounts_to),
                )
            )
    return PeriodShown(change, lines, max(before.paid_s, after.paid_s))


def _time(name: str, before: int, after: int) -> ComparedLine:
    change = told("{time:change}", time=after - before) if before != after else NONE
    was, now = told("{time:duration}", time=before), told("{time:duration}", time=after)
    return ComparedLine(name, was, now, change, (before, after))


def _moved(before: Any, after: Any, unit: str = "") -> str:
    if before is None or after is None:
        return told("not known")
    if before == after:
        return NONE
    by = abs(after - before)
    return f"{'+' if after > before else MINUS} {by if isinstance(by, int) else format(by, '.2f')}{unit}"
