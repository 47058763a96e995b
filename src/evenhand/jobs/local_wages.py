"""Ask whether a local minimum wage applies, which the law known here does not hold; no local figure is made up.

Source: 29 USC 218(a): a municipal ordinance or state law with a higher minimum wage binds beside the federal one (from
memory). That only low rates are asked about, and again after a year, is common practice, no source.
"""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import polars as pl

from evenhand import law
from evenhand.jobs.pay import PersonPay
from evenhand.jobs.snapshot import Snapshot
from evenhand.terms.languages import told

__all__ = ["ask_local_wage"]

NEAR = Decimal("1.5")
"""Rates below so many times the minimum wage are asked about, so that the question is not asked of everybody."""
A_YEAR = timedelta(days=366)


def ask_local_wage(of: Snapshot, seen: PersonPay) -> list[str]:
    """Return the question, in words without a full stop, where a rate of the week is near the minimum wage known here.

    None is asked of whoever has no hourly rate in the week, nor where the workplace's own `minimum_wage.toml` has a
    value that took effect within a year before the week.
    """
    rules, week = seen.week.rules, seen.week.workweek
    name = rules.jurisdiction
    wage, cites = law.pay_laws([name], of.own)[name].minimum_wage(week)
    minimum = Decimal(wage.numerator) / wage.denominator
    paid = seen.pay.lines.filter(pl.col("part") == "straight", pl.col("seconds") > 0)["rate"].drop_nulls()
    lowest = min(paid, default=None)
    if not minimum or lowest is None or lowest >= NEAR * minimum or _has_own(of, name, week - A_YEAR, week):
        return []
    return [
        told(
            "does a local minimum wage bind {site}? The lowest rate of the week, {lowest:.2f}, is held against "
            "{minimum:.2f} ({cites:again}); a city's or county's, or that of another state where the work is done, may "
            "be higher and is not known here. Write the one that binds, with its date and source, into {file}, or into "
            "rules of the site's own based on it (29 USC 218(a))",
            site=rules.named,
            lowest=lowest,
            minimum=minimum,
            cites=cites.where,
            file=f"rules/{name}/minimum_wage.toml",
        )
    ]


def _has_own(of: Snapshot, name: str, since: date, until: date) -> bool:
    """Whether the workplace's own minimum wage has a value that took effect after `since` and up to `until`."""
    own = of.own.get(name)
    numbers = own.files.get("minimum_wage", {}) if own else {}
    return any(since < begins <= until for wage in numbers.values() for begins, _, _ in wage.values)
