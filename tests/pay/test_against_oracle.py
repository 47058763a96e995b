"""Pay of several people at once against a slow reading of the regulations, minute by minute."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any
from zoneinfo import ZoneInfo

import polars as pl
from hypothesis import event, given, settings
from hypothesis import strategies as st

from evenhand.law import pay_laws
from evenhand.pay import DifferentialRate, Pay, compute_pay
from evenhand.terms.hours import CLASSED, DIFFERENTIALS
from evenhand.terms.settings import SiteRules
from evenhand.terms.sources import PEOPLE
from evenhand.terms.tables import ATTRIBUTED
from evenhand.terms.wages import EARNINGS, RATES
from tests.oracle.clocks import DAY, civil_minute, date_of
from tests.oracle.pay import lines_of
from tests.oracle.wages import Alike, Payment, Person, Rate

ZONE = "America/Los_Angeles"  # its clocks go forward on 8 March 2026
PERIODS = {f"{days}-{back}": (date(2026, 3, 1) - timedelta(days=7 * back), days) for days, back in [
    (14, 0), (14, 1), (21, 0), (28, 1)]}  # fmt: skip
SITES = {"F": SiteRules("F", ZONE), "C": SiteRules("C", ZONE, "california")} | {
    name: SiteRules(
        name, ZONE, "us_eight_and_eighty" if days == 14 else "us_public_safety", fortnight=anchor,
        public_safety="fire_protection", work_period_days=days, work_period=anchor,
    )
    for name, (anchor, days) in PERIODS.items()
}  # fmt: skip
WEEKS = [date(2026, 3, 1), date(2026, 3, 8), date(2026, 3, 15)]
ALWAYS, FOREVER = date(2020, 1, 1), date(9999, 12, 31)
EXTRA = {
    "night": (Fraction(3, 2), Fraction(1), False),
    "heat": (Fraction(0), Fraction(5, 4), False),
    "special": (Fraction(1, 2), Fraction(3, 2), True),
}


@dataclass(frozen=True)
class Span:
    """Work from an instant on [s], for so many minutes."""

    starts: int
    minutes: int
    pay_class: str
    reader: str
    week: date


@dataclass(frozen=True)
class Window:
    kind: str
    week: date
    starts: int
    ends: int


@dataclass(frozen=True)
class Drawn:
    """Somebody's spans and windows as drawn, and the same minute by minute."""

    site: str
    spans: list[Span]
    windows: list[Window]
    person: Person


AMOUNTS = st.integers(72_500, 600_000).map(lambda units: Fraction(units, 10_000))
DAYS = st.integers(0, 20).map(lambda day: WEEKS[0] + timedelta(days=day))


@st.composite
def rates(draw: st.DrawFn) -> list[Rate]:
    """Hourly rates that change within a week and differ at a reader, or one salary, or a salary after wages."""
    change = draw(DAYS)
    plan = draw(st.sampled_from(["hourly", "hourly", "hourly", "salary_fixed", "salary_fluctuating"]))
    covers = draw(st.sampled_from([Fraction(40), Fraction(75, 2), Fraction(45)]))
    amount = draw(AMOUNTS) * (1 if plan == "hourly" else 40)
    found = [Rate(plan, amount, ALWAYS, FOREVER, covers_h=covers)]
    if plan == "hourly" and draw(st.booleans()):
        before = change - timedelta(days=1)
        found = [Rate("hourly", draw(AMOUNTS), ALWAYS, before), Rate("hourly", draw(AMOUNTS), change, FOREVER)]
    if draw(st.booleans()):
        found.append(Rate("hourly", draw(AMOUNTS), ALWAYS, draw(st.sampled_from([FOREVER, change])), "DYE"))
    return found


@st.composite
def work(draw: st.DrawFn) -> list[Span]:
    """Shifts of up to fourteen hours on most days of three weeks, some past midnight, in all classes."""
    spans: list[Span] = []
    for week in WEEKS:
        for day in range(7):
            long = draw(st.sampled_from([0, 240, 480, 600, 780]))
            begins = datetime(week.year, week.month, week.day, draw(st.sampled_from([1, 8, 15])), tzinfo=ZoneInfo(ZONE))
            at = int((begins + timedelta(days=day)).timestamp())
            cut = [draw(st.integers(0, long)) for _ in range(2)] if long and draw(st.booleans()) else [long, long]
            for pay_class, length in zip(
                ("ordinary", "overtime", "double"), (min(cut), max(cut) - min(cut), long - max(cut)), strict=True
            ):
                if length:
                    spans.append(Span(at, length, pay_class, draw(st.sampled_from(["", "DYE"])), week))
                    at += 60 * length
    return spans


@st.composite
def person(draw: st.DrawFn) -> Drawn:
    spans = draw(work())
    kinds = st.sampled_from(["bonus", "flat_bonus", "commission", "flat_sum", "premium", "gift", "leave"])
    payments = []
    for kind in draw(st.lists(kinds, max_size=3)):
        first, last = sorted([draw(DAYS), draw(DAYS)])
        payments.append(Payment(kind, draw(AMOUNTS), first, last))
    windows = []
    for span in draw(st.lists(st.sampled_from(spans), max_size=3)) if spans else []:
        starts = span.starts + 60 * draw(st.integers(-90, 90))
        ends = starts + 60 * draw(st.integers(1, 600))
        windows.append(Window(draw(st.sampled_from(list(EXTRA))), span.week, starts, ends))
    site = draw(st.sampled_from(["C", "F", "C", "F", *PERIODS]))
    law, period = SITES[site].jurisdiction, PERIODS.get(site)
    one = Person(law, draw(rates()), by_minute(spans, windows), payments, extra=EXTRA, period=period)
    return Drawn(site, spans, windows, one)


def by_minute(spans: list[Span], windows: list[Window]) -> dict[date, Counter[Alike]]:
    """Return the minutes of each week; a span's reader is where it began, its day the one that each minute falls on."""
    weeks: defaultdict[date, Counter[Alike]] = defaultdict(Counter)
    for span in spans:
        for at in range(span.starts, span.starts + 60 * span.minutes, 60):
            day = date_of(civil_minute(ZONE, at // 60) // DAY)
            within = tuple(one.kind for one in windows if one.week == span.week and one.starts <= at < one.ends)
            weeks[span.week][Alike(day, day, within, span.pay_class, span.reader)] += 1
    return dict(weeks)


def computed(people: list[Drawn]) -> Pay:
    """Return the pay of everybody in one go."""
    frames: defaultdict[str, list[dict[str, Any]]] = defaultdict(list)
    for place, one in enumerate(people):
        of = {"person": f"P{place}"}
        frames["people"].append(of | {"name": "Ida", "site": one.site})
        for span in one.spans:
            punch = len(frames["attributed"])
            ends = span.starts + 60 * span.minutes
            frames["classed"].append(
                of | {"shift": punch, "workweek": span.week, "starts": span.starts, "ends": ends,
                      "pay_class": span.pay_class, "punch_in": punch, "punch_out": punch}
            )  # fmt: skip
            frames["attributed"].append(of | {"punch": punch, "reader": span.reader, "zone": ZONE, "at": span.starts})
        for rate in one.person.rates:
            frames["rates"].append(
                of | {"valid_from": rate.since, "valid_to": None if rate.until == FOREVER else rate.until,
                      "reader": rate.reader, "plan": rate.plan, "amount": money(rate.amount),
                      "covers_hours": money(rate.covers_h)}
            )  # fmt: skip
        for number, paid in enumerate(one.person.payments):
            frames["earned"].append(
                of | {"earned_from": paid.first, "earned_to": paid.last, "kind": paid.kind,
                      "amount": money(paid.amount), "label": str(number)}
            )  # fmt: skip
        for window in one.windows:
            frames["windows"].append(
                of | {"workweek": window.week, "kind": window.kind, "starts": window.starts, "ends": window.ends}
            )
    return compute_pay(
        CLASSED.rows(frames["classed"]),
        ATTRIBUTED.rows(frames["attributed"]),
        PEOPLE.rows(frames["people"]),
        RATES.rows(frames["rates"]),
        EARNINGS.rows(frames["earned"]),
        SITES,
        pay_laws(["us_federal", "california", "us_eight_and_eighty", "us_public_safety"]),
        (WEEKS[0], WEEKS[-1]),
        differentials=DIFFERENTIALS.rows(frames["windows"]),
        differential_rates={kind: DifferentialRate(*terms) for kind, terms in EXTRA.items()},
    )


def money(amount: Fraction) -> Decimal:
    return Decimal(amount.numerator) / Decimal(amount.denominator)


@settings(max_examples=30, deadline=None)
@given(st.lists(person(), min_size=1, max_size=3))
def test_every_line_is_what_the_regulations_make_of_the_minutes(people: list[Drawn]) -> None:
    pay = computed(people)
    for place, one in enumerate(people):
        for week in WEEKS:
            mine = pay.lines.filter(pl.col("person") == f"P{place}", pl.col("workweek") == week)
            found = sorted((part, int(amount * 100)) for part, amount in mine.select("part", "amount").iter_rows())
            expected = sorted(lines_of(one.person, week))
            assert found == expected
            for part in {part for part, _ in expected}:
                event(f"a line of {part}")
            event("a longer period" if one.person.period else "a workweek")
            event("a credit" if any(cents < 0 for _, cents in expected) else "no credit")
    for name, parts in {"straight_pay": ["straight"], "overtime_premium": ["overtime", "reopened"]}.items():
        sums = pay.lines.filter(pl.col("part").is_in(parts)).group_by("person", "workweek").agg(pl.col("amount").sum())
        both = pay.weeks.join(sums, on=["person", "workweek"], how="left").filter(pl.col("total_pay").is_not_null())
        assert (both[name] == both["amount"].fill_null(0)).all()
