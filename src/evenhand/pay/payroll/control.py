"""What lets payroll check the file it received: totals of its columns, and a digest of its sources."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from evenhand.pay.payroll.handoff import FIELDS, MONEY_FIELDS, HandoffRow, hours
from evenhand.terms.columns import Frame

__all__ = ["ControlTotal", "control_total", "digest"]


@dataclass(frozen=True)
class ControlTotal:
    """Totals of a hand-off file: rows, people, exact seconds, and the sum of the hours as printed.

    `printed_*` add up the figures on the page, `*_s` the seconds behind them; each row's figure is rounded
    by itself, so the two may differ by up to 18 seconds a row, and both are stated. `money` sums the money columns
    of the file as printed; `rows_without_money` counts the rows whose pay is not known.
    """

    rows: int
    people: int
    ordinary_s: int
    overtime_s: int
    printed_ordinary: Decimal
    printed_overtime: Decimal
    double_s: int = 0
    printed_double: Decimal = Decimal("0.00")
    money: tuple[tuple[str, Decimal], ...] = ()
    rows_without_money: int = 0


def control_total(rows: Sequence[HandoffRow], columns: Sequence[tuple[str, str]] = ()) -> ControlTotal:
    """Return the totals of these rows, in money too where `columns` ask for it; zeros where there are none."""
    asked = [field for _, field in columns if field in MONEY_FIELDS]
    cells = {field: [FIELDS[field][1](row) for row in rows] for field in asked if field != "regular_rate"}
    return ControlTotal(
        rows=len(rows),
        people=len({row.person for row in rows}),
        ordinary_s=sum(row.ordinary_s for row in rows),
        overtime_s=sum(row.overtime_s for row in rows),
        printed_ordinary=sum((hours(row.ordinary_s) for row in rows), Decimal("0.00")),
        printed_overtime=sum((hours(row.overtime_s) for row in rows), Decimal("0.00")),
        double_s=sum(row.double_s for row in rows),
        printed_double=sum((hours(row.double_s) for row in rows), Decimal("0.00")),
        money=tuple(
            (field, sum((cell for cell in column if isinstance(cell, Decimal)), Decimal("0.00")))
            for field, column in cells.items()
        ),
        rows_without_money=sum(1 for row in rows if row.money["total_pay"] is None) if asked else 0,
    )


def digest(frames: Mapping[str, Frame], settings: str) -> str:
    """Return a SHA-256 over the sources a file was computed from: the same sources give the same digest.

    Frames are written as sorted comma-separated rows under their names, so that neither the order in which
    punches arrived nor the machine changes it. Source: FIPS 180-4 for the hash.
    """
    total = hashlib.sha256(settings.encode())
    for name in sorted(frames):
        frame = frames[name]
        total.update(f"\n{name} {frame.height}\n".encode())
        total.update(frame.sort(frame.columns).write_csv(datetime_format="%FT%T").encode())
    return total.hexdigest()
