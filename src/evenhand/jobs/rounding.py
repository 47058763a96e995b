"""Audit what rounding did to paid time, over the workweeks up to a period's end."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import polars as pl

from evenhand.jobs.reckoning import Reckoning
from evenhand.pay import audit_rounding
from evenhand.terms.columns import Frame
from evenhand.terms.settings import SiteRules

__all__ = ["Audit", "audit_between"]

EDGE = timedelta(days=7)


@dataclass(frozen=True)
class Audit:
    """What rounding did in the workweeks that begin from `first` to `last` (ROUNDING), and the sites' own rules."""

    first: date
    last: date
    rows: Frame
    rules: dict[str, SiteRules]

    @property
    def is_rounded(self) -> bool:
        """Whether any site's times were moved at all."""
        return any(rules.rounding_s for rules in self.rules.values()) or bool((self.rows["total_s"] != 0).any())


def audit_between(reckoning: Reckoning, first: date, last: date) -> Audit:
    """Return the audit of all workweeks that begin from `first` to `last`."""

    def make() -> Audit:
        of, hours = reckoning.snapshot, reckoning.hours_between(first - EDGE, last + EDGE)
        placed = of.people.select("person", pl.col("site").fill_null("")).iter_rows()
        zones = {person: of.rules[site].zone for person, site in placed if site in of.rules}
        rows = audit_rounding(hours.classed, hours.owned, of.people, of.rates, zones, (first, last))
        return Audit(first, last, rows, of.rules)

    return reckoning.part(("rounding", first, last), make)
