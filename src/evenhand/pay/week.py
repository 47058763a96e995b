"""Pay of everybody's workweeks: lines with citations, totals, and what keeps a week from being paid.

Order of work for a week: straight pay at each rate; what was earned beside the hours; the regular rate; the
overtime and double time owed on it, less credits; premium hours; what a payment for a longer time reopens.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any

import polars as pl

from evenhand.pay.books import Book, open_books
from evenhand.pay.differentials import DifferentialRate, differential_entries
from evenhand.pay.due import WeekDue, week_due
from evenhand.pay.entries import Entry, earned_entry, piece_entries, plan_entries
from evenhand.pay.faults import fault, rate_faults
from evenhand.pay.lines import Line, overtime_lines, premium_lines, straight_lines
from evenhand.pay.rates import rates_of_people
from evenhand.pay.regular_rate import money
from evenhand.pay.reopened import reopened_lines
from evenhand.pay.stretches import WeekTime, weeks_of_time
from evenhand.terms.columns import Frame
from evenhand.terms.pay_law import PayLaw
from evenhand.terms.records import Refusal
from evenhand.terms.settings import SiteRules
from evenhand.terms.tables import DIFFERENTIALS, PREMIUMS
from evenhand.terms.wages import PAY_FAULTS, PAY_LINES, PAY_WEEKS

__all__ = ["Pay", "compute_pay", "earliest_earned"]

IN_STRAIGHT = ("straight",)
IN_OVERTIME = ("overtime", "reopened")


@dataclass(frozen=True)
class Pay:
    """Frames PAY_LINES, PAY_WEEKS and PAY_FAULTS."""

    lines: Frame
    weeks: Frame
    faults: Frame


def compute_pay(
    classed: Frame,
    owned: Frame,
    people: Frame,
    rates: Frame,
    earnings: Frame,
    rules: Mapping[str, SiteRules],
    laws: Mapping[str, PayLaw],
    weeks: tuple[date, date],
    *,
    premiums: Frame | None = None,
    differentials: Frame | None = None,
    differential_rates: Mapping[str, DifferentialRate] | None = None,
) -> Pay:
    """Return the pay of all workweeks that begin from `weeks[0]` to `weeks[1]`.

    `classed` (CLASSED) and `owned` (OWNED) reach back to the first day of what is earned in them, so that earlier
    weeks can be reopened for the overtime on a later payment; `rules` bind the people of each site, and `laws` are what
    their jurisdictions say of pay; people of a site without rules are left out. Amounts are exact until
    a line is rounded, once, half up. Where a rate is missing or unclear the week's totals stay empty and a
    fault says why; nothing is guessed. Source: 29 CFR part 778, and what each record in `laws` cites.
    """
    owed = PREMIUMS.empty() if premiums is None else premiums
    windows = DIFFERENTIALS.empty() if differentials is None else differentials
    held = rates_of_people(rates, people)
    placed = people.select("person", pl.col("site").fill_null("")).iter_rows()
    bound = {person: rules[site] for person, site in placed if site in rules}
    zones = {person: of_site.zone for person, of_site in bound.items()}
    time = weeks_of_time(classed.filter(classed["person"].is_in(list(bound))), owned, held, zones)
    books = open_books(time, earnings, bound, laws, held, owed, windows)
    lines: list[dict[str, Any]] = []
    totals: list[dict[str, Any]] = []
    faults: list[dict[str, Any]] = []
    for book in books:
        in_question = {week for week in book.weeks if weeks[0] <= week <= weeks[1]}
        in_question |= {w for one in book.earned if weeks[0] <= (w := book.begins(one.last)) <= weeks[1]}
        for workweek in sorted(in_question):
            paid, total, wrong = _pay_week(book, workweek, differential_rates or {})
            at = {"person": book.person, "workweek": workweek}
            lines += [_row(line) | at | {"line": place} for place, line in enumerate(paid, 1)]
            totals.append(total | at)
            faults += [found | at for found in wrong]
    return Pay(PAY_LINES.rows(lines), PAY_WEEKS.rows(totals), PAY_FAULTS.rows(faults))


def earliest_earned(earnings: Frame, weeks: tuple[date, date]) -> date:
    """Return the first day that hours are needed from, so that what is settled in `weeks` can reopen earlier ones."""
    last = weeks[1] + timedelta(days=6)
    settled = earnings.filter(earnings["earned_to"].is_between(weeks[0], last))
    days: list[date] = [weeks[0], *settled["earned_from"].to_list()]
    return min(days)


def _pay_week(
    book: Book, workweek: date, differential_rates: Mapping[str, DifferentialRate]
) -> tuple[list[Line], dict[str, Any], list[dict[str, Any]]]:
    week = book.weeks.get(workweek) or WeekTime(book.person, workweek)
    faults = rate_faults(book, week)
    entries = _entries(book, week, differential_rates, faults)
    law = book.law(workweek)
    due = _due(week, entries, law, faults)
    minimum, cites = law.minimum_wage(workweek)
    premiums = [row for row in book.premiums if row["workweek"] == workweek]
    lines = [
        *straight_lines(entries),
        *overtime_lines(week, due, law),
        *premium_lines(week, due, premiums, minimum, law),
        *_reopened(book, workweek, differential_rates, faults),
    ]
    known = not any(found["kind"] == "missing" for found in faults)
    short = _short_of_minimum(week, entries, law) if known else Fraction(0)
    if short > 0:
        says = f"pay for {workweek} is {float(money(short)):.2f} short of {float(minimum):.2f} for every hour worked"
        faults.append(fault("below_minimum", week.worked_s, says, cites.where, money(short)))
    return lines, _totals(week, lines, due, short, known=known), faults


def _entries(
    book: Book, week: WeekTime, differential_rates: Mapping[str, DifferentialRate], faults: list[dict[str, Any]]
) -> list[Entry]:
    """Return what is paid in the week; a sum for a longer time is paid whole and counts with the week's share."""
    law = book.law(week.workweek)
    settled = book.settled_in(week.workweek)
    now = [one for one in settled if not book.is_deferred(one)]
    entries = plan_entries(week, book.rates, law)
    entries += piece_entries(week, now, law)
    entries += [earned_entry(one, law) for one in now if one.kind != "piece"]
    entries += [earned_entry(one, law, one.share(week.workweek)) for one in settled if book.is_deferred(one)]
    windows = [row for row in book.differentials if row["workweek"] == week.workweek]
    entries += differential_entries(week, windows, differential_rates, law)
    for one in settled:
        if one.amount is None:
            says = f"{one.label} from {one.first} has neither an amount nor a rate for its units; give one of them"
            faults.append(fault("missing", 0, says))
    for kind in sorted({row["kind"] for row in windows} - set(differential_rates)):
        says = f'the differential "{kind}" has no rate in the settings; give it one'
        faults.append(fault("missing", 0, says))
    return entries


def _due(week: WeekTime, entries: Sequence[Entry], law: PayLaw, faults: list[dict[str, Any]]) -> WeekDue:
    """Return what the week owes; sums that no hours stand against are paid, and named."""
    if not week.worked_s:
        for entry in entries:
            if not entry.is_excluded and entry.earning.in_rate:
                says = (
                    f"{entry.earning.label} of {float(entry.earning.in_rate):.2f} is earned in the week of "
                    f"{week.workweek}, in which nobody recorded hours; correct its days, or add the hours"
                )
                faults.append(fault("faulty", 0, says, "29 CFR 778.109", money(entry.earning.in_rate)))
        return week_due(week, [])
    try:
        return week_due(week, entries)
    except Refusal as refusal:
        faults.append(fault("faulty", week.worked_s, str(refusal).rstrip("."), law.source_of("flat_bonus_overtime")))
        return week_due(week, [entry for entry in entries if not entry.flat])


def _reopened(
    book: Book, workweek: date, differential_rates: Mapping[str, DifferentialRate], faults: list[dict[str, Any]]
) -> list[Line]:
    lines: list[Line] = []
    for one in book.settled_in(workweek):
        if not book.is_deferred(one):
            continue
        earlier = [other for other in book.earned if book.is_deferred(other) and book.begins(other.last) < workweek]
        ignored: list[dict[str, Any]] = []
        past = {
            week: (time, _entries(book, time, differential_rates, ignored))
            for week, time in sorted(book.weeks.items())
            if book.begins(one.first) <= week < workweek
        }
        lines += reopened_lines(one, past, earlier, book.law(workweek))
    return lines


def _short_of_minimum(week: WeekTime, entries: Sequence[Entry], law: PayLaw) -> Fraction:
    """Return what the week's pay for its hours falls short of the minimum wage of each day's hours."""
    by_day: Counter[date] = Counter()
    for one in week.stretches:
        by_day[one.day] += one.seconds
    minimums = {law.minimum_wage(day)[0] for day in by_day}
    if len(minimums) == 1:
        needed = minimums.pop() * week.worked_s / 3600
    else:
        needed = sum((law.minimum_wage(day)[0] * spent / 3600 for day, spent in by_day.items()), Fraction(0))
    # A salary pays for what lies beyond the hours it covers too, so what is paid counts, and of a sum for a longer time
    # the week's share.
    paid = sum(
        (
            entry.earning.amount if entry.earning.spread_s else entry.earning.in_rate
            for entry in entries
            if not entry.is_excluded
        ),
        Fraction(0),
    )
    return max(Fraction(0), needed - paid)


def _totals(week: WeekTime, lines: Sequence[Line], due: WeekDue, short: Fraction, *, known: bool) -> dict[str, Any]:
    def sum_of(*parts: str) -> Decimal:
        return sum((line.amount for line in lines if line.part in parts), Decimal("0.00"))

    if not known:
        return {"worked_s": week.worked_s}
    return {
        "worked_s": week.worked_s,
        "regular_rate": _shown(due.regular_rate),
        "straight_pay": sum_of(*IN_STRAIGHT),
        "overtime_premium": sum_of(*IN_OVERTIME),
        "premiums": sum_of("premium"),
        "other_pay": sum_of("excluded"),
        "total_pay": sum((line.amount for line in lines), Decimal("0.00")),
        "minimum_due": money(short),
    }


def _row(line: Line) -> dict[str, Any]:
    return {
        "part": line.part,
        "label": line.label,
        "seconds": line.seconds,
        "rate": None if line.rate is None else _shown(line.rate),
        "amount": line.amount,
        "cites": line.cites,
        "earned_in": line.earned_in,
    }


def _shown(rate: Fraction) -> Decimal:
    """Return a rate to four decimals, for reading only."""
    return money(rate * 100) / 100
