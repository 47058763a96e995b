"""What keeps a week from being paid, in words."""

from __future__ import annotations

from collections import defaultdict
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from evenhand.pay.books import Book
from evenhand.pay.stretches import WeekTime

__all__ = ["fault", "rate_faults"]


def rate_faults(book: Book, week: WeekTime) -> list[dict[str, Any]]:
    """Return what is missing or unclear about the rates of a week's time, as rows of PAY_FAULTS."""
    faults = []
    without: defaultdict[date, int] = defaultdict(int)
    for stretch in week.stretches:
        if stretch.rate is None:
            without[stretch.day] += stretch.seconds
    wrong = book.rates.faults_in(week.workweek, week.workweek + timedelta(days=6)) if week.worked_s else []
    faults += [fault("faulty", week.worked_s, says) for says in wrong]
    if without:
        first, last = min(without), max(without)
        days = str(first) if first == last else f"{first} to {last}"
        faults.append(fault("missing", sum(without.values()), f"no one rate of pay holds on {days}"))
    law = book.law(week.workweek)
    if law.salary_hours_s and any(rate and rate.plan == "salary_fluctuating" for rate in week.by_rate):
        hours = f"{law.salary_hours_s / 3600:g}"
        says = f"a salary for whatever hours are worked does not pay overtime here; {hours} hours divide it"
        faults.append(fault("faulty", week.worked_s, says, law.source_of("salary_fluctuating")))
    return faults


def fault(kind: str, seconds: int, says: str, cites: str = "", amount: Decimal | None = None) -> dict[str, Any]:
    """Return a row of PAY_FAULTS without its person and week."""
    return {"kind": kind, "seconds": seconds, "says": says, "cites": cites or None, "amount": amount}
