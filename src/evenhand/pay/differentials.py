"""What clock windows, weekends and public holidays add to the hourly rate, by the workplace's own policy."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from evenhand.pay import earnings
from evenhand.pay.entries import Entry
from evenhand.pay.stretches import WeekTime
from evenhand.terms.pay_law import PayLaw
from evenhand.terms.records import Citation

__all__ = ["DifferentialRate", "differential_entries"]


@dataclass(frozen=True)
class DifferentialRate:
    """What a differential adds: so much an hour, or a multiple of the rate of the work.

    `of_days` says that it is paid because of the day (a weekend, a holiday), not because of the clock: from one and a
    half times the rate on, only then is it creditable. Source: 29 USC 207(e)(6); 29 CFR 778.203.
    """

    an_hour: Fraction = Fraction(0)
    multiple: Fraction = Fraction(1)
    of_days: bool = False


def differential_entries(
    week: WeekTime, windows: Sequence[Mapping[str, Any]], rates: Mapping[str, DifferentialRate], law: PayLaw
) -> list[Entry]:
    """Return an entry for each kind and base rate; kinds without a rate add nothing here.

    A premium that is not creditable counts in the regular rate. Source: 29 CFR 778.207(b).
    """
    seconds: dict[tuple[str, Fraction], int] = {}
    for window in windows:
        for stretch in week.stretches:
            shared = min(stretch.ends, window["ends"]) - max(stretch.starts, window["starts"])
            if shared > 0 and window["kind"] in rates:
                base = stretch.rate.amount if stretch.rate and stretch.rate.plan == "hourly" else Fraction(0)
                key = (window["kind"], base if rates[window["kind"]].multiple != 1 else Fraction(0))
                seconds[key] = seconds.get(key, 0) + shared
    entries = []
    for (kind, base), spent in seconds.items():
        rate = rates[kind]
        extra = base * (rate.multiple - 1) + rate.an_hour
        paid = earnings.hourly(extra, spent, kind)
        if rate.of_days and base and rate.multiple >= Fraction(3, 2):
            paid = earnings.premium(base, base * rate.multiple, spent, for_hours=False, label=kind)
        cites = Citation(law.source_of("premium" if paid.creditable else "hourly"))
        entries.append(Entry(replace(paid, cites=cites), spent, extra))
    return entries
