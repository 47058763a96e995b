"""What a jurisdiction says of pay, as one record: the law writes it down, pay is worked out from it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from evenhand.terms.languages import sentence
from evenhand.terms.parameters import Parameter
from evenhand.terms.records import Citation
from evenhand.terms.settings import RatePeriod

__all__ = ["PayLaw"]


@dataclass(frozen=True)
class PayLaw:
    """How one jurisdiction treats pay; each jurisdiction's own stands beside its rules of hours.

    `cites` names the source of each kind of pay: the plans of RATES, the kinds of EARNINGS, and `differential`,
    `minimum_wage`, `overtime`, `double`, `credit` and `reopened`; for what is not in it `otherwise` holds. `rules` are
    the sources of each rule of hours, by its name, which the overtime that it makes cites first, as what raises pay to
    the minimum wage does that of the wage.
    `rate_period` is the time whose pay and hours make the regular rate: the workweek, or the period that a site's rules
    name, `fortnight` or `work_period`.
    `minimum_wages` [cent per hour] are all that bind, of which the highest in force is owed.
    `salary_hours_s` are the weekly seconds that a salary pays for at most, none of them overtime, whatever was agreed;
    0 where the agreement says.
    `minimum_each_hour` is the source for holding each hour's own rate against them, not the week's average; ''
    where the average counts.
    `flat_bonus_by_straight_hours` says that a flat bonus is divided by the hours that are not overtime, and that
    overtime on it is owed at the whole multiple. `premium_cites` is the source for paying the hours owed for meal and
    rest periods at the regular rate with such bonuses, beside the premium's own.
    """

    cites: Mapping[str, str] = field(default_factory=dict)
    otherwise: str = sentence("the workplace's agreement")
    rules: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    rate_period: RatePeriod = "workweek"
    minimum_wages: tuple[Parameter, ...] = ()
    minimum_each_hour: str = ""
    salary_hours_s: int = 0
    flat_bonus_by_straight_hours: bool = False
    premium_cites: str = ""

    def source_of(self, kind: str) -> str:
        """Return the citation of a kind of pay."""
        return self.cites.get(kind, self.otherwise)

    def minimum_wage(self, day: date) -> tuple[Fraction, Citation]:
        """Return the highest minimum hourly wage in force on `day` with its source; 0 before the first known."""
        known = [found for wage in self.minimum_wages if (found := wage.in_force(day))]
        cents, cites = max(known, key=lambda found: found[0], default=(0, Citation("no value known")))
        return Fraction(cents, 100), cites

    def minimum_wage_source(self, day: date) -> str:
        """Return the source of the minimum wage that binds on `day`, and of how it is held against pay."""
        return "; ".join(filter(None, (self.minimum_wage(day)[1].where, self.minimum_each_hour)))
