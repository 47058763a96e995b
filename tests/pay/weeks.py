"""Weeks of invented people for the tests of pay, written in civil times."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from itertools import pairwise
from typing import Any
from zoneinfo import ZoneInfo

from evenhand.law import pay_laws
from evenhand.pay import DifferentialRate, Pay, compute_pay
from evenhand.terms.columns import Frame
from evenhand.terms.hours import CLASSED, DIFFERENTIALS, PREMIUMS
from evenhand.terms.settings import SiteRules
from evenhand.terms.sources import PEOPLE
from evenhand.terms.tables import ATTRIBUTED
from evenhand.terms.wages import EARNINGS, RATES

ZONE = "America/Los_Angeles"
SUNDAY = date(2026, 3, 15)
FEDERAL = SiteRules("Mill", ZONE)
CALIFORNIA = SiteRules("Mill", ZONE, "california")
Span = tuple[str, str, str, str]  # starts, ends, class, reader


def instant(text: str) -> int:
    return int(datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(ZONE)).timestamp())


def week_of(day: date) -> date:
    return date.fromordinal(day.toordinal() - day.isoweekday() % 7)


def worked(
    *spans: Span, person: str = "P1", one_shift: tuple[int, ...] = (), made_by: Sequence[str | None] = ()
) -> tuple[Frame, Frame]:
    """Return CLASSED and ATTRIBUTED of these spans, one shift for each stretch; those at `one_shift` are one.

    `made_by` are the rules that classed the spans, where somebody asks.
    """
    classed, attributed = [], []
    for place, (starts, ends, pay_class, reader) in enumerate(spans):
        day = datetime.fromisoformat(starts).date()
        classed.append(
            {
                "person": person,
                "shift": min(one_shift) if place in one_shift else place,
                "workweek": week_of(day),
                "starts": instant(starts),
                "ends": instant(ends),
                "pay_class": pay_class,
                "rule": made_by[place] if made_by else None,
                "punch_in": 2 * place + 1,
                "punch_out": 2 * place + 2,
            }
        )
        attributed += [
            {"punch": 2 * place + 1, "person": person, "reader": reader, "zone": ZONE, "at": instant(starts)},
            {"punch": 2 * place + 2, "person": person, "reader": reader, "zone": ZONE, "at": instant(ends)},
        ]
    return CLASSED.rows(classed), ATTRIBUTED.rows(attributed)


def hours(count: float, *, over: float = 40, week: date = SUNDAY) -> list[Span]:
    """Return spans of `count` hours in one week, of which those past `over` are overtime: plain days of ten hours."""
    return hours_at([(count, "")], over=over, week=week)


def hours_at(
    parts: Sequence[tuple[float, str]], *, over: float = 40, week: date = SUNDAY, a_day: float = 10
) -> list[Span]:
    """Return spans of so many hours at each reader, one part after the other, in days of `a_day` hours from six on."""
    count = sum(length for length, _ in parts)
    ends = [sum(length for length, _ in parts[: place + 1]) for place in range(len(parts))]
    cuts = sorted({*ends, over, count, *(a_day * day for day in range(8))})
    spans: list[Span] = []
    for begins, stops in pairwise([cut for cut in cuts if cut <= count]):
        day, done = divmod(begins, a_day)
        first = datetime(week.year, week.month, week.day, 6) + timedelta(days=day, hours=done)
        last = first + timedelta(hours=stops - begins)
        reader = next(reader for end, (_, reader) in zip(ends, parts, strict=True) if begins < end)
        spans.append((first.isoformat(" "), last.isoformat(" "), "ordinary" if begins < over else "overtime", reader))
    return spans


def paid(
    spans: Sequence[Span],
    *,
    rules: SiteRules = FEDERAL,
    on_roster: str | None = None,
    rates: Sequence[dict[str, Any]] = (),
    earned: Sequence[dict[str, Any]] = (),
    premiums: Sequence[dict[str, Any]] = (),
    weeks: tuple[date, date] = (SUNDAY, SUNDAY),
    windows: Sequence[tuple[str, str, str]] = (),
    differentials: dict[str, DifferentialRate] | None = None,
    one_shift: tuple[int, ...] = (),
    made_by: Sequence[str | None] = (),
    minimum: bool = True,
    employed: tuple[date | None, date | None] = (None, None),
) -> Pay:
    """Return the pay of P1 for these spans; without a `minimum` wage for published figures that are older than it."""
    classed, attributed = worked(*spans, one_shift=one_shift, made_by=made_by)
    who = {"person": "P1", "name": "Ida", "hourly_rate": on_roster and Decimal(on_roster)}
    people = PEOPLE.rows([who | {"hired_on": employed[0], "left_on": employed[1]}])
    laws = pay_laws([rules.jurisdiction])
    at = {"person": "P1", "valid_from": date(2020, 1, 1), "reader": ""}
    of = {"person": "P1", "earned_from": weeks[0], "earned_to": weeks[0], "label": ""}
    return compute_pay(
        classed,
        attributed,
        people,
        RATES.rows(at | row for row in rates),
        EARNINGS.rows(of | row for row in earned),
        {"": rules},
        laws if minimum else {name: replace(law, minimum_wages=()) for name, law in laws.items()},
        weeks,
        differentials=DIFFERENTIALS.rows(
            {"person": "P1", "workweek": weeks[0], "kind": kind, "starts": instant(starts), "ends": instant(ends)}
            for kind, starts, ends in windows
        ),
        differential_rates=differentials,
        premiums=PREMIUMS.rows({"person": "P1", "workweek": weeks[0]} | row for row in premiums),
    )


def total(pay: Pay, name: str = "total_pay") -> Decimal:
    return Decimal(pay.weeks.row(0, named=True)[name])
