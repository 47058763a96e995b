"""Pay of everybody's workweek, and the audit of rounding over eight, at 300 and at 10,000 invented people.

A third of the people have rates on file, some of which change within the week or hold at one reader only; all work five
days with a meal period, and the last hour and a half of the week is overtime. Printed are seconds of CPU, the best of
five, of what a page asks for: totals and faults, and the lines of everybody beside them.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal

import numpy as np
import polars as pl

from evenhand import law, pay
from evenhand.terms.columns import Frame
from evenhand.terms.hours import CLASSED, WEEKS
from evenhand.terms.settings import SiteRules
from evenhand.terms.sources import PEOPLE
from evenhand.terms.tables import ATTRIBUTED
from evenhand.terms.wages import EARNINGS, RATES

FIRST = date(2026, 3, 1)
BEGINS = 1_772_323_200  # 2026-03-01 00:00 UTC
RULES = {"Mill": SiteRules("Mill", "America/Chicago", rounding_s=900)}
DAY, HOUR = 86_400, 3600
BUDGET = {300: 0.02, 10_000: 0.3}


def invented(people: int, weeks: int) -> tuple[Frame, Frame, Frame, Frame]:
    """Return CLASSED, ATTRIBUTED, PEOPLE and RATES of so many people who work so many weeks."""
    rng = np.random.default_rng(SEED)
    names = [f"P{place:05d}" for place in range(people)]
    days = [7 * week + day for week in range(weeks) for day in range(1, 6)]
    parts = [(8, 12, "ordinary"), (12.5, 15.5, "ordinary"), (15.5, 17, "ordinary")]
    rows = []
    for number, day in enumerate(days):
        for place, (since, until, _) in enumerate(parts):
            ends_week = day % 7 == 5 and place == 2
            rows.append((number, day, since, until, "overtime" if ends_week else "ordinary", place > 0))
    person = np.repeat(np.arange(people), len(rows))
    columns = [np.array(column) for column in zip(*rows, strict=True)]
    shift, day, since, until, classes, later = (np.tile(column, people) for column in columns)
    at = BEGINS + day * DAY + 6 * HOUR
    punch = 2 * (person * 2 * len(days) + 2 * shift + later)
    classed = CLASSED.frame(
        {
            "person": pl.Series(names).gather(person),
            "shift": shift,
            "workweek": pl.Series([FIRST + timedelta(days=int(7 * (one // 7))) for one in day]),
            "starts": (at + since * HOUR).astype(np.int64),
            "ends": (at + until * HOUR).astype(np.int64),
            "pay_class": classes,
            "punch_in": punch,
            "punch_out": punch + 1,
        }
    )
    bounds = classed.group_by("punch_in", "punch_out", "person").agg(pl.col("starts").min(), pl.col("ends").max())
    moved = [pl.Series(rng.integers(-420, 421, bounds.height)) for _ in range(2)]
    attributed = pl.concat(
        ATTRIBUTED.frame({"punch": bounds[punch], "person": bounds["person"], "at": bounds[bound] + shifted}
                    | {"reader": ["N"] * bounds.height, "zone": ["America/Chicago"] * bounds.height})
        for punch, bound, shifted in (("punch_in", "starts", moved[0]), ("punch_out", "ends", moved[1]))
    )  # fmt: skip
    roster = PEOPLE.rows(
        {"person": name, "name": name, "site": "Mill", "hourly_rate": Decimal(1500 + place % 997) / 100}
        for place, name in enumerate(names)
    )
    rates = RATES.rows(
        {"person": name, "valid_from": since, "reader": reader, "amount": Decimal(1600 + place % 991) / 100}
        for place, name in enumerate(names[::3])
        for since, reader in [(date(2026, 1, 1), ""), (date(2026, 3, 4), ""), (date(2026, 1, 1), "N")][: 1 + place % 3]
    )
    return classed, attributed, roster, rates


def best_of(call: Callable[[], object], times: int = 5) -> float:
    spent = []
    for _ in range(times):
        began = time.process_time()
        call()
        spent.append(time.process_time() - began)
    return min(spent)


SEED = 7
"""What people and their punches are drawn from."""


def main() -> None:
    """Print how long pay and its audit take."""
    print(f"seed {SEED}")
    laws = law.pay_laws(["us_federal"])
    for people, budget in BUDGET.items():
        classed, attributed, roster, rates = invented(people, 1)

        def week() -> pay.Pay:
            given = (classed, attributed, roster, rates, EARNINGS.empty(), RULES, laws)  # noqa: B023
            return pay.compute_pay(*given, (FIRST, FIRST))

        totals = best_of(week)
        lines = best_of(lambda: week().lines)
        print(f"{people:>6} people, one week of pay: {totals:.3f} s (budget {budget:g})")
        print(f"{people:>6} people, the same with every line: {lines:.3f} s")
        classed, attributed, roster, rates = invented(people, 8)
        zones = dict.fromkeys(roster["person"], "America/Chicago")

        def audit() -> Frame:
            given = (classed, attributed, roster, rates, zones)  # noqa: B023
            return pay.audit_days(pay.moved_days(*given, (FIRST, FIRST + timedelta(weeks=8)), WEEKS.empty()), roster)  # noqa: B023

        print(f"{people:>6} people, eight weeks of rounding audited: {best_of(audit, 2):.3f} s")


if __name__ == "__main__":
    main()
