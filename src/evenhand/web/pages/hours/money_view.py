"""What Hours shows of a week's pay: its lines, totals, and what keeps them from being known."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from evenhand.jobs.pay import PersonPay

__all__ = ["Money", "money"]


@dataclass(frozen=True)
class Money:
    """One week's pay; `lines` are rows of PAY_LINES, `total` is None where something is not known."""

    lines: Sequence[Mapping[str, Any]]
    total: Decimal | None
    regular_rate: Decimal | None
    open: Sequence[str]
    total_says: str


def money(paid: PersonPay) -> Money:
    """Return what the page shows of a week's pay."""
    totals: Mapping[str, Any] = paid.totals
    return Money(
        lines=paid.pay.lines.rows(named=True),
        total=paid.total,
        regular_rate=totals.get("regular_rate"),
        open=paid.open,
        total_says=paid.total_says,
    )
