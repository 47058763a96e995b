"""Random people under random rules: what goes wrong with punches, clocks and rates, more often than it does.

Clocks change in zones of both hemispheres, by an hour and by half of one, at night and at midnight; workdays begin at
odd times; minimum wages rise, a leap day and the turn of a year lie within; sites lie in two states.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

from evenhand.terms.settings import AutomaticMeal, Differential, Grace, Policy, SiteRules
from tests.oracle.classes import LAWS, PUBLIC_SAFETY, Told
from tests.oracle.clocks import civil_minute, minute_at
from tests.oracle.punches import Press, Settings
from tests.oracle.wages import Payment, Rate, minimum_wage

__all__ = ["DAYS_OF_CLOCK", "WINDOWS", "Batch", "Decision", "Place", "Somebody", "Window", "invent"]

DAYS_OF_CLOCK = 40
"""From the first day on: longer than anybody works here."""
PEOPLE = 200
HOUR = 60

STARTS = {
    "America/Chicago": [date(2026, 3, 5), date(2026, 10, 29), date(2025, 6, 26), date(2024, 2, 22)],
    "America/New_York": [date(2026, 3, 6), date(2026, 10, 30), date(2024, 6, 27)],
    "America/Los_Angeles": [date(2026, 3, 6), date(2026, 10, 30), date(2023, 12, 28), date(2025, 12, 27)],
    "America/Anchorage": [date(2025, 6, 27), date(2026, 3, 5), date(2024, 12, 28)],
    "America/Phoenix": [date(2026, 3, 5), date(2024, 12, 27)],
    "America/St_Johns": [date(2026, 3, 6), date(2024, 2, 24)],
    "America/Santiago": [date(2026, 4, 2), date(2026, 9, 3)],
    "Australia/Lord_Howe": [date(2026, 4, 2), date(2026, 10, 1)],
    "Europe/Paris": [date(2026, 3, 26), date(2026, 10, 22)],
}
SHIFTS = {
    "day": [7 * 60, 12 * 60, 12 * 60 + 30, 15 * 60 + 30],
    "plain": [8 * 60, 16 * 60 + 30],
    "night": [19 * 60, 31 * 60],
    "broken": [6 * 60, 9 * 60, 9 * 60 + 12, 12 * 60, 12 * 60 + 25, 14 * 60],
    "split": [9 * 60, 13 * 60, 15 * 60, 19 * 60],
    "double": [6 * 60, 19 * 60 + 40],
    "long": [6 * 60, 10 * 60 + 55, 11 * 60 + 27, 18 * 60 + 40],
    "short": [8 * 60, 9 * 60 + 30],
    "again": [8 * 60, 11 * 60, 16 * 60 + 30, 18 * 60],
}
LONG = ("day", "plain", "broken")
"""Kinds of day that end stretches: in weeks without a day off the others would make one of them all."""


@dataclass(frozen=True)
class Window:
    """A differential: weekdays (0 is Monday), minutes past midnight, and its pay (an hour, multiple, for the day)."""

    days: tuple[int, ...]
    starts: int
    ends: int
    pays: tuple[Fraction, Fraction, bool]

    def named(self, name: str) -> Differential:
        """Return it as the policy has it."""
        an_hour, multiple = (Decimal(part.numerator) / part.denominator for part in self.pays[:2])
        return Differential(name, self.days, False, self.starts * 60, self.ends * 60, an_hour, multiple)


EVERY_DAY = tuple(range(7))
WINDOWS = {
    "night": Window(EVERY_DAY, 22 * HOUR, 6 * HOUR, (Fraction(5, 4), Fraction(1), False)),
    "evening": Window((0, 1, 2, 3, 4), 18 * HOUR, 23 * HOUR, (Fraction(0), Fraction(11, 10), False)),
    "saturday": Window((5,), 0, 24 * HOUR, (Fraction(1, 2), Fraction(5, 4), True)),
    "sunday": Window((6,), 0, 24 * HOUR, (Fraction(1, 4), Fraction(3, 2), True)),
}


@dataclass(frozen=True)
class Decision:
    """What somebody said of hours owed for a workday: owe so many ten-thousandths, strike, or presume again."""

    workday: date
    kind: str
    action: str
    units: int = 0


@dataclass(frozen=True)
class Somebody:
    """A person of one of the sites: presentations, scheduled shifts [min], what they are paid by, what was decided."""

    site: int
    presses: list[Press]
    planned: list[tuple[int, int]] = field(default_factory=list)
    rates: list[Rate] = field(default_factory=list)
    payments: list[Payment] = field(default_factory=list)
    decisions: list[Decision] = field(default_factory=list)
    hired_on: date | None = None
    left_on: date | None = None


@dataclass(frozen=True)
class Place:
    """A site: its law, civil time and settings, and `first`, the day on which its people begin."""

    law: str
    zone: str
    first: date
    week_day: int
    week_minute: int
    settings: Settings
    told: Told
    differentials: tuple[str, ...]
    first_meal_waived: bool = False
    second_meal_waived: bool = False

    def begins(self, day: date) -> date:
        """Return the date of the workweek that holds a workday."""
        return day - timedelta(days=(day.weekday() - self.week_day) % 7)

    @property
    def rate_period(self) -> tuple[date, int] | None:
        """Return the first day of a regular-rate period longer than a week, and its days."""
        days = {"us_eight_and_eighty": 14, "us_public_safety": self.told.safety[1]}.get(self.law)
        return (date(1970, 1, 1) + timedelta(days=self.told.period_from), days) if days else None

    def told_of(self, one: Somebody) -> Told:
        """Return what the law asks for of one person."""
        if self.law != "nevada":
            return self.told

        def is_low(day: int) -> bool:
            on = date(1970, 1, 1) + timedelta(days=day)
            held = [rate for rate in one.rates if rate.since <= on <= rate.until]
            # Pieces, days and jobs have no rate for an hour, nor has a salary for whatever hours are worked.
            known = [rate.weekly / rate.covers_h if rate.plan == "salary_fixed" else rate.amount
                     for rate in held if rate.plan in {"hourly", "salary_fixed"}]  # fmt: skip
            return len(known) < len(held) or not held or min(known) < Fraction(3, 2) * minimum_wage("nevada", on)

        return replace(self.told, is_low=is_low)

    def rules(self, name: str) -> SiteRules:
        """Return the same as the rooms know it."""
        period = date(1970, 1, 1) + timedelta(days=self.told.period_from)
        kind, days = self.told.safety
        everybody = ("*",)
        return SiteRules(
            name, self.zone, self.law, self.week_day, self.week_minute * 60, self.settings.rounding * 60,
            self.told.alternative * 60, self.told.scheduled, self.told.care,
            everybody if self.first_meal_waived else (), everybody if self.second_meal_waived else (),
            period if self.law == "us_eight_and_eighty" else None, kind, days, period if kind else None,
        )  # fmt: skip


@dataclass(frozen=True)
class Batch:
    """People of two sites of one workplace."""

    places: tuple[Place, Place]
    people: Sequence[Somebody]

    @property
    def policy(self) -> Policy:
        """Return the workplace's policy as the rooms know it."""
        own = max((place.settings for place in self.places), key=lambda one: one.meal)
        return Policy(
            repeat_gap_s=own.double * 60,
            meal_s=own.meal * 60,
            call_back_s=own.call_back * 60,
            trifle_s=own.trifle * 60,
            grace=Grace(*(60 * reach for reach in own.grace)),
            automatic_meal=AutomaticMeal(*(60 * part for part in own.automatic)) if own.automatic[0] else None,
            differentials=tuple(WINDOWS[name].named(name) for name in self.places[0].differentials),
        )


def invent(seed: int, people: int = PEOPLE) -> Batch:
    """Return a batch; the same seed makes the same."""
    rng = random.Random(seed)
    settings = Settings(
        double=rng.choice([1, 2, 3]), meal=rng.choice([30, 30, 21]), call_back=rng.choice([0, 2, 4]) * HOUR
    )
    windows = tuple(name for name in WINDOWS if rng.random() < 0.5)
    zone = rng.choice(list(STARTS))
    first = rng.choice(STARTS[zone])
    zones = (zone, rng.choice([zone, *STARTS]))
    places = _with_policy(rng, [_place(rng, of, first, settings, windows) for of in zones])
    drawn = [_somebody(rng, (places[0], places[1])) for _ in range(people)]
    return Batch((places[0], places[1]), [one for one in drawn if one.presses])


def _with_policy(rng: random.Random, places: list[Place]) -> list[Place]:
    """Return the places with the workplace's grace, and what it leaves unpaid, which California refuses.

    The directive's rules know grace alone.
    """
    trifle = rng.choice([0, 0, 4, 100])
    automatic = rng.choice([(0, 0, 0), (30, 6 * HOUR, 4 * HOUR), (45, 5 * HOUR, 5 * HOUR)])
    grace = rng.choice([(0, 0, 0, 0), (7, 5, 5, 7), (15, 0, 3, 10), (60, 200, 100, 200)])
    if any(place.law == "california" for place in places):
        trifle, automatic, grace = 0, (0, 0, 0), (0, grace[1], grace[2], 0)
    return [
        replace(
            place,
            settings=replace(place.settings, grace=grace)
            if place.law == "eu_2003_88"
            else replace(place.settings, grace=grace, trifle=trifle, automatic=automatic),
        )
        for place in places
    ]


def _place(rng: random.Random, zone: str, first: date, settings: Settings, windows: tuple[str, ...]) -> Place:
    law = rng.choice(["california", "california", *LAWS])
    week_day, week_minute = rng.randrange(7), rng.choice([0, 0, 90, 150, 5 * 60, 12 * 60, 18 * 60, 23 * 60 + 30])
    rounding = 0 if law in {"california", "eu_2003_88"} else rng.choice([0, 0, 5, 6, 15])
    settings = replace(settings, rounding=rounding, meal=0 if law == "eu_2003_88" else settings.meal)
    begins = first - timedelta(days=(first.weekday() - week_day) % 7 + 14)
    told = Told(period_from=(begins - date(1970, 1, 1)).days)
    if law == "us_public_safety":
        told = replace(told, safety=rng.choice(list(PUBLIC_SAFETY)))
    if law == "california":
        hours = rng.choice([0, 0, 0, 9, 10, 12])
        days = tuple(sorted(rng.sample(range(7), 4))) if 0 < hours < 12 and rng.random() < 0.5 else ()
        told = replace(told, alternative=hours * HOUR, scheduled=days, care=hours == 12)
    if law in {"alaska", "nevada"}:
        told = replace(told, alternative=rng.choice([0, 0, 10]) * HOUR)
    waived = (law == "california" and rng.random() < 0.25, law == "california" and rng.random() < 0.25)
    return Place(law, zone, first, week_day, week_minute, settings, told, windows, *waived)


def _somebody(rng: random.Random, places: tuple[Place, Place]) -> Somebody:
    site = int(rng.random() < 0.3)
    place = places[site]
    hired = place.first + timedelta(days=rng.randint(-3, 9)) if rng.random() < 0.2 else None
    left = place.first + timedelta(days=rng.randint(10, 24)) if rng.random() < 0.2 else None
    one = Somebody(site, [], hired_on=hired, left_on=left)
    for stretch in range(rng.choice([1, 2, 2, 3])):
        presses, planned = _eight_days(rng, place, places, place.first + timedelta(days=8 * stretch))
        one.presses.extend(presses)
        one.planned.extend(planned)
    if rng.random() < 0.9:
        one.rates.extend(_rates(rng, place))
        one.payments.extend(_payments(rng, place, one.rates))
    if place.law == "california" and rng.random() < 0.4:
        one.decisions.extend(_decisions(rng, place))
    return one


def _eight_days(
    rng: random.Random, place: Place, places: tuple[Place, Place], first: date
) -> tuple[list[Press], list[tuple[int, int]]]:
    """Return eight days of one person's presentations, with everything that goes wrong, and what was scheduled."""
    idle, marks = rng.choice([0.0, 0.15]), rng.choice(["none", "all", "some"])
    is_planned = rng.random() < 0.4
    kinds = list(SHIFTS) if idle else list(LONG)
    kind = rng.choice(kinds)
    home, other = (
        (f"R{places.index(place) + 1}", place.zone),
        (f"R{2 - places.index(place)}", places[1 - places.index(place)].zone),
    )
    presses: list[Press] = []
    planned: list[tuple[int, int]] = []
    for day in range(8):
        if rng.random() < 0.1:
            kind = rng.choice(kinds)
        on = first + timedelta(days=day)
        if is_planned and rng.random() < 0.9:
            shape = SHIFTS["plain" if kind in {"short", "again"} else kind]
            starts, ends = minute_at(place.zone, on, shape[0]), minute_at(place.zone, on, shape[-1])
            if not planned or planned[-1][1] < starts:
                planned.append((starts, ends))
        if rng.random() < idle:
            continue
        swaps = rng.random() < 0.1
        for k, minute in enumerate(SHIFTS[kind]):
            at = minute_at(place.zone, on, minute + rng.randint(-9, 9))
            reader, zone = home if rng.random() < 0.8 else other
            way = ("in", "out")[k % 2]
            if swaps and k in (1, 2):
                way = ("in", "out")[k - 1]
            if marks == "none" or (marks == "some" and rng.random() < 0.5):
                way = ""
            if rng.random() > 0.05:
                presses.append(Press(at, way, reader, civil_minute(zone, at)))
            if rng.random() < 0.05:
                twice = at + rng.randint(0, 3)
                presses.append(Press(twice, rng.choice([way, ""]), reader, civil_minute(zone, twice)))
    return presses, planned


ALWAYS, FOREVER = date(2020, 1, 1), date(9999, 12, 31)


def _amount(rng: random.Random) -> Fraction:
    """Return an hourly rate: one near a limit of some law, or any to the ten-thousandth."""
    near = ["7.25", "11.73", "14.42", "16.90", "16.875", "17.9999", "18.00", "15.00", "25.00"]
    return Fraction(rng.choice(near)) if rng.random() < 0.4 else Fraction(rng.randint(70_000, 400_000), 10_000)


def _rates(rng: random.Random, place: Place) -> list[Rate]:
    """Return hourly rates that change within a week and differ at a reader, or a salary, from the start or later."""
    change = place.first + timedelta(days=rng.randrange(18))
    before = change - timedelta(days=1)
    plans = ["hourly"] * 6 + ["changing", "salary_fixed", "salary_fluctuating", "promoted"] * 2
    plan = rng.choice([*plans, "piece", "day", "job"])
    if plan in {"piece", "day", "job"}:
        amount = _amount(rng) * {"piece": Fraction(1, 4), "day": 8, "job": 5}[plan]
        amount = Fraction(round(amount * 10_000), 10_000)
        found = [Rate(plan, amount, ALWAYS, FOREVER, floor=rng.choice([Fraction(0), Fraction(12)]))]
    elif plan == "hourly":
        found = [Rate("hourly", _amount(rng), ALWAYS, FOREVER)]
    elif plan == "changing":
        found = [Rate("hourly", _amount(rng), ALWAYS, before), Rate("hourly", _amount(rng), change, FOREVER)]
    else:
        turn = rng.choice(["week", "half_month", "month"])
        amount = _amount(rng) * {"week": 40, "half_month": 80, "month": 170}[turn]
        covers = rng.choice([Fraction(40), Fraction(75, 2), Fraction(45)])
        since = change if plan == "promoted" else ALWAYS
        found = [Rate(
            "salary_fluctuating" if plan == "salary_fluctuating" else "salary_fixed", amount, since, FOREVER,
            covers_h=covers, turn=turn,
        )]  # fmt: skip
        if plan == "promoted":
            found.insert(0, Rate("hourly", _amount(rng), ALWAYS, before))
    if rng.random() < 0.4:
        found.append(Rate("hourly", _amount(rng), ALWAYS, rng.choice([FOREVER, change]), "R2"))
    return found


def _payments(rng: random.Random, place: Place, rates: Sequence[Rate]) -> list[Payment]:
    kinds = ["bonus", "flat_bonus", "commission", "flat_sum", "premium", "gift", "leave", "expense", "job", "piece"]
    counted = rates[0].plan if rates[0].plan in {"piece", "job"} else ""
    found = []
    for _ in range(rng.choice([2, 3] if counted else [0, 0, 1, 2])):
        days = sorted(rng.randrange(24) for _ in range(2)) if rng.random() < 0.6 else [rng.randrange(24)] * 2
        first, last = (place.first + timedelta(days=day) for day in days)
        if counted and rng.random() < 0.7:
            found.append(Payment(counted, Fraction(0), first, last, rng.randint(1, 200)))
        else:
            found.append(Payment(rng.choice(kinds), Fraction(rng.randint(100, 3_000_000), 10_000), first, last))
    return found


def _decisions(rng: random.Random, place: Place) -> list[Decision]:
    found = []
    for _ in range(rng.randint(1, 4)):
        workday = place.first + timedelta(days=rng.randrange(16))
        action = rng.choice(["owe", "owe", "strike", "strike", "presume"])
        kind = "rest" if action == "owe" else rng.choice(["rest", "meal", "split_shift", "reporting", "call_back"])
        found.append(Decision(workday, kind, action, rng.choice([10_000, 5_000]) if action == "owe" else 0))
    return found
