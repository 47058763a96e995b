"""Audit what rounding did to paid time, over the workweeks up to a period's end."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from evenhand.jobs.reckoning import Reckoning
from evenhand.pay import audit_days
from evenhand.terms.columns import Frame
from evenhand.terms.settings import SiteRules

__all__ = ["MOST_WEEKS", "Audit", "audit_between"]

MOST_WEEKS = 520
"""Weeks that can be audited at once: about ten years."""


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
    """Return the audit of all workweeks that begin from `first` to `last`, at the sites whose times are moved."""

    def make() -> Audit:
        of = reckoning.snapshot
        return Audit(first, last, audit_days(reckoning.moved_days(first, last), of.people), of.rules)

    return reckoning.part(("rounding", first, last), make)
