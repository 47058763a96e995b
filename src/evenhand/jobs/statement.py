"""Print a person's statement for a pay period: every punch, step and sum on a numbered line that can be disputed."""

from __future__ import annotations

import itertools
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from importlib import resources
from typing import Any

import polars as pl

from evenhand.jobs.disputes import DisputeListed, disputes_of
from evenhand.jobs.hours import DayHours, PersonWeek, day_of
from evenhand.jobs.pay import PersonPay
from evenhand.jobs.period import period_of
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import Snapshot
from evenhand.records.access import Blanks
from evenhand.terms import cautions
from evenhand.terms.records import Step
from evenhand.terms.words import (
    as_clock,
    as_day,
    as_figures,
    as_long_day,
    as_pay,
    as_span_of_days,
    as_zoned_moment,
    rules_in_words,
    signed_figures,
)

__all__ = ["Statement", "statement", "statement_pdf"]

CLASSES = {"ordinary": "Ordinary time", "overtime": "Overtime", "double": "Double time"}
QUESTIONS = {
    "missing_in": "A punch at {at} ends something that nothing began. When did it begin?",
    "missing_out": "A punch at {at} begins something that nothing ended. When did it end?",
    "long_span": "What begins at {at} lasts unusually long. Is a punch missing?",
    "same_time": "Two punches bear the time {at}. Which of them is meant?",
}


@dataclass(frozen=True)
class Statement:
    """What the statement says, as plain values with the lines' numbers; `pdf` turns it into pages."""

    person: str
    first: date
    last: date
    content: dict[str, Any]


def statement(reckoning: Reckoning, person: str, *, period_day: date | None = None, code: str = "") -> Statement:
    """Return the statement of `person` for the period that holds `period_day`, or the last one closed.

    It holds the person's own punches, hours and pay and nothing about anybody else. Raises Refusal where nobody, or
    more than one person, answers to `person`. `code` is what the person keys to confirm the hours or dispute them
    (`statement_codes.issue_code`); empty where it is not to be signed.
    """
    of = reckoning.snapshot
    who = of.find_person(person)
    rules = of.rules_of(who["site"])
    period = reckoning.period() if period_day is None else period_of(of.settings.period, rules.zone, period_day)
    starts = rules.workweeks(period.first, period.last)
    numbers = itertools.count(1)
    weeks = [_week(reckoning.person_pay(str(who["person"]), start), numbers) for start in starts]
    known = [week["total"] for week in weeks if week["total"] is not None]
    content = {
        "workplace": of.settings.workplace,
        "name": who["name"],
        "person": who["person"],
        "department": who["department"] or "",
        "period": as_span_of_days(period.first, period.last),
        "rules": "; then ".join(rules_in_words(one) for _, one in rules.between(period.first, period.last)),
        "made": as_zoned_moment(reckoning.as_of, rules.zone),
        "weeks": weeks,
        "total": None if len(known) < len(weeks) else f"{sum(map(Decimal, known), Decimal('0.00')):.2f}",
        "code": code,
        "signed": cautions.SIGNED,
        "head": of.head,
        "disputes": _disputes(of, who),
        "caution": cautions.STATEMENT,
    }
    return Statement(str(who["person"]), period.first, period.last, content)


def statement_pdf(made: Statement) -> bytes:
    """Return the statement as PDF; names and sentences reach the page as plain text, whatever they hold."""
    import typst

    page = resources.files("evenhand.jobs").joinpath("statement.typ").read_bytes()
    printed = typst.compile(page, format="pdf", sys_inputs={"content": json.dumps(made.content, ensure_ascii=False)})
    assert isinstance(printed, bytes)
    return printed


def _disputes(of: Snapshot, who: Mapping[str, Any]) -> list[dict[str, str]]:
    """Earlier disputes with their last answers; whatever names somebody else in an answer is left out."""
    told = disputes_of(of, str(who["person"]))
    if not told:
        return []
    others = of.people.filter(pl.col("person") != who["person"])
    codes = {*others["person"], *others["number"].drop_nulls()}
    own = {str(who["person"]), str(who["number"] or "")}
    blanks = Blanks([str(who["name"] or "")], own, others["name"].drop_nulls(), codes)
    return [_dispute(one, blanks) for one in told]


def _dispute(one: DisputeListed, blanks: Blanks) -> dict[str, str]:
    """An earlier dispute with its last answer; who entered and who answered it are not the person's to read."""
    answer = one.answers[-1] if one.answers else None
    return {
        "no": str(one.dispute),
        "about": f"{one.kind}, {as_day(one.day)}" if one.day else one.kind,
        "says": one.says,
        "state": {"accepted": "accepted", "rejected": "not accepted", "withdrawn": "taken back"}.get(
            one.state, f"to be answered by {as_day(one.answer_by)}"
        ),
        "answer": blanks.text(answer.reason, is_written=True) if answer else "",
    }


def _week(paid: PersonPay, numbers: Iterator[int]) -> dict[str, Any]:
    week = paid.week
    days = [_day(day_of(week, day), numbers) for day in week.days if _belongs(week, day)]
    totals = paid.totals
    lines = [_pay_line(line, numbers) for line in paid.pay.lines.iter_rows(named=True)]
    rate = totals.get("regular_rate")
    has_pay = bool(lines) or totals.get("total_pay") is not None
    return {
        "title": f"Workweek of {as_day(week.workweek)}",
        "days": days,
        "pay": lines if has_pay else [],
        "total": None if paid.total is None else as_pay(paid.total),
        "total_says": f", {paid.total_says}" if paid.total_says else "",
        "rate": "" if not rate else f"{rate:.4f}",
        "open": [f"{says}." for says in paid.open],
        "classes": [
            {"label": label, "time": as_figures(seconds)}
            for name, label in CLASSES.items()
            if (seconds := week.totals[f"{name}_s"])
        ],
    }


def _belongs(week: PersonWeek, day: date) -> bool:
    """Whether a day shows something of its week: the eighth civil day of a week that begins at noon may not."""
    return day < week.workweek + timedelta(days=7) or bool(day_of(week, day).classed.height)


def _day(day: DayHours, numbers: Iterator[int]) -> dict[str, Any]:
    zone = day.week.rules.zone
    rows = [_punch(row, zone, next(numbers)) for row in day.punches.sort("at", "punch").iter_rows(named=True)]
    rows += [
        {
            "no": next(numbers),
            "kind": "step",
            "what": _sentence(step.says),
            "time": _change(step),
            "rule": f"{step.rule.rpartition('.')[2].replace('_', ' ')}: {step.cites}",
        }
        for step in day.steps
    ]
    rows += [
        {
            "no": next(numbers),
            "kind": "open",
            "what": QUESTIONS[row["kind"]].format(at=as_clock(row["at"], zone)),
            "time": "",
            "rule": "open question",
        }
        for row in day.questions.iter_rows(named=True)
    ]
    rows += [
        {
            "no": next(numbers),
            "kind": "step",
            "what": _sentence(row["says"]),
            "time": "",
            "rule": f"{row['kind'].replace('_', ' ')} premium: {row['cites']}",
        }
        for row in day.week.hours.premiums.iter_rows(named=True)
        if row["workday"] == day.day
    ]
    paid = day.classed.with_columns(seconds=day.classed["ends"] - day.classed["starts"])
    for name, label in CLASSES.items():
        seconds = int(paid.filter(paid["pay_class"] == name)["seconds"].sum())
        if seconds:
            rows.append({"no": next(numbers), "kind": "paid", "what": label, "time": as_figures(seconds), "rule": ""})
    if not rows:
        rows.append({"no": next(numbers), "kind": "none", "what": "Nothing recorded", "time": "", "rule": ""})
    return {"title": as_long_day(day.day), "rows": rows}


def _punch(row: dict[str, Any], zone: str, number: int) -> dict[str, Any]:
    way = {"in": "in", "out": "out"}.get(row["direction"] or "", "way not said")
    where = row["reader"] or "added by a correction"
    at = as_clock(row["at"], zone)
    return {"no": number, "kind": "punch", "what": f"Punch at {at}, {way}, {where}", "time": "", "rule": "as recorded"}


def _pay_line(line: dict[str, Any], numbers: Iterator[int]) -> dict[str, Any]:
    return {
        "no": next(numbers),
        "what": _sentence(line["label"]),
        "time": "" if line["seconds"] is None else as_figures(line["seconds"]),
        "rate": "" if line["rate"] is None else f"{line['rate']:.4f}",
        "amount": as_pay(line["amount"]),
        "rule": line["cites"],
    }


def _change(step: Step) -> str:
    if step.to_class:
        return f"({as_figures(step.ends - step.starts)})"
    return signed_figures(step.seconds)


def _sentence(says: str) -> str:
    return says[:1].upper() + says[1:]
