"""Print a person's statement for a pay period: every punch, step and sum on a numbered line that can be disputed."""

from __future__ import annotations

import itertools
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from functools import reduce
from importlib import resources
from typing import Any

import polars as pl

from evenhand.jobs.added_turns import spoken_languages
from evenhand.jobs.disputes import DisputeListed, disputes_of
from evenhand.jobs.hours import DayHours, PersonWeek, day_of
from evenhand.jobs.languages import say_in, words_said
from evenhand.jobs.pay import PersonPay
from evenhand.jobs.period import period_of
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.statement_words import (
    ASKED_OF,
    CLASSES,
    about_dispute,
    premium_rule,
    punch_line,
    rule_of_step,
    state_of_dispute,
)
from evenhand.records.access import Blanks
from evenhand.terms import cautions
from evenhand.terms.languages import Sentence, Speech, clock_told, told
from evenhand.terms.papers import PAPER_SIZES
from evenhand.terms.records import Step
from evenhand.terms.rules_told import cited, rules_in_words
from evenhand.terms.settings import SiteRules
from evenhand.terms.words import (
    as_figures,
    as_pay,
    signed_figures,
)

__all__ = ["Statement", "statement", "statement_pdf"]


@dataclass(frozen=True)
class Statement:
    """What the statement says in a language, as plain values with the lines' numbers; `pdf` turns it into pages."""

    person: str
    first: date
    last: date
    language: str
    content: dict[str, Any]


def statement(
    reckoning: Reckoning,
    person: str,
    *,
    period_day: date | None = None,
    code: str = "",
    language: str = "",
    paper: str = "",
) -> Statement:
    """Return the statement of `person` for the period that holds `period_day`, or the last one closed.

    It holds the person's own punches, hours and pay and nothing about anybody else. Raises Refusal where nobody, or
    more than one person, answers to `person`. `code` is what the person keys to confirm the hours or dispute them
    (`statement_codes.issue_code`); empty where it is not to be signed. Where no `language` is named it is the person's
    own, in which they read the policy, and English where that is not known; the `paper` likewise is the workplace's.
    """
    of = reckoning.snapshot
    who = of.find_person(person)
    say = say_in(language or spoken_languages(of).get(str(who["person"]), "en"), names_zones=of.zones_meet)
    rules = of.rules_of(who["site"])
    period = reckoning.period() if period_day is None else period_of(of.settings.period, rules.zone, period_day)
    starts = rules.workweeks(period.first, period.last)
    numbers = itertools.count(1)
    weeks = [_week(reckoning.person_pay(str(who["person"]), start), numbers, say) for start in starts]
    known = [week["total"] for week in weeks if week["total"] is not None]
    content = {
        "paper": PAPER_SIZES[paper or of.paper],
        "workplace": of.settings.workplace,
        "name": who["name"],
        "person": who["person"],
        "department": who["department"] or "",
        "period": say.span_of_days(period.first, period.last),
        "rules": say.written(_rules(rules.between(period.first, period.last))),
        "made": say.zoned_moment(reckoning.as_of, rules.zone),
        "weeks": weeks,
        "total": None if len(known) < len(weeks) else f"{sum(map(Decimal, known), Decimal('0.00')):.2f}",
        "time": say.meaning("a duration", "Time"),
        "code": code,
        "signed": say(cautions.SIGNED),
        "head": of.head,
        "disputes": _disputes(of, who, say),
        "caution": " ".join(map(say, (cautions.CALCULATION, cautions.UNTAXED))),
    }
    return Statement(str(who["person"]), period.first, period.last, say.language, content)


def statement_pdf(made: Statement) -> bytes:
    """Return the statement as PDF; names and sentences reach the page as plain text, whatever they hold."""
    import typst

    page = resources.files("evenhand.jobs").joinpath("statement.typ").read_bytes()
    said = {"language": made.language, "words": words_said("statement")[made.language]}
    content = json.dumps(made.content | said, ensure_ascii=False)
    printed = typst.compile(page, format="pdf", sys_inputs={"content": content})
    assert isinstance(printed, bytes)
    return printed


def _rules(every: Iterable[tuple[date, SiteRules]]) -> Sentence:
    """The rules of a period one after another."""
    return reduce(
        lambda earlier, later: told("{earlier}; then {later}", earlier=earlier, later=later),
        (rules_in_words(one) for _, one in every),
    )


def _disputes(of: Snapshot, who: Mapping[str, Any], say: Speech) -> list[dict[str, str]]:
    """Earlier disputes with their last answers; whatever names somebody else in an answer is left out."""
    told = disputes_of(of, str(who["person"]))
    if not told:
        return []
    others = of.people.filter(pl.col("person") != who["person"])
    codes = {*others["person"], *others["number"].drop_nulls()}
    own = {str(who["person"]), str(who["number"] or "")}
    blanks = Blanks([str(who["name"] or "")], own, others["name"].drop_nulls(), codes)
    return [_dispute(one, blanks, say) for one in told]


def _dispute(one: DisputeListed, blanks: Blanks, say: Speech) -> dict[str, str]:
    """An earlier dispute with its last answer; who entered and who answered it are not the person's to read."""
    answer = one.answers[-1] if one.answers else None
    return {
        "no": str(one.dispute),
        "about": say.said(about_dispute(one.kind, one.day)),
        "says": one.says,
        "state": state_of_dispute(one.state, one.answer_by, say),
        "answer": blanks.text(answer.reason, is_written=True) if answer else "",
    }


def _week(paid: PersonPay, numbers: Iterator[int], say: Speech) -> dict[str, Any]:
    week = paid.week
    days = [_day(day_of(week, day), numbers, say) for day in week.days if _belongs(week, day)]
    totals = paid.totals
    lines = [_pay_line(line, numbers, say) for line in paid.pay.lines.iter_rows(named=True)]
    rate = totals.get("regular_rate")
    has_pay = bool(lines) or totals.get("total_pay") is not None
    return {
        "title": say.said(told("Workweek of {day}", day=week.workweek)),
        "pay_title": say.said(told("Pay of the workweek of {day}", day=week.workweek)),
        "days": days,
        "pay": lines if has_pay else [],
        "total": None if paid.total is None else as_pay(paid.total),
        "total_says": f", {say.said(paid.total_says)}" if paid.total_says else "",
        "rate": "" if not rate else f"{rate:.4f}",
        "open": [f"{say.retold(says)}." for says in paid.open],
        "classes": [
            {"label": say(label), "time": as_figures(seconds)}
            for name, label in CLASSES.items()
            if (seconds := week.totals[f"{name}_s"])
        ],
    }


def _belongs(week: PersonWeek, day: date) -> bool:
    """Whether a day shows something of its week: the eighth civil day of a week that begins at noon may not."""
    return day < week.workweek + timedelta(days=7) or bool(day_of(week, day).classed.height)


def _day(day: DayHours, numbers: Iterator[int], say: Speech) -> dict[str, Any]:
    zone = day.week.rules.zone
    rows = [_punch(row, zone, next(numbers), say) for row in day.punches.sort("at", "punch").iter_rows(named=True)]
    rows += [
        {
            "no": next(numbers),
            "kind": "step",
            "what": _begun(say.retold(step.says)),
            "time": _change(step),
            "rule": rule_of_step(step, say),
        }
        for step in day.steps
    ]
    rows += [
        {
            "no": next(numbers),
            "kind": "open",
            "what": say.said(told(ASKED_OF[row["kind"]], at=clock_told(row["at"], zone))),
            "time": "",
            "rule": say("open question"),
        }
        for row in day.questions.iter_rows(named=True)
    ]
    rows += [
        {
            "no": next(numbers),
            "kind": "step",
            "what": _begun(say.retold(row["says"])),
            "time": "",
            "rule": premium_rule(row["kind"], row["cites"], say),
        }
        for row in day.week.hours.premiums.iter_rows(named=True)
        if row["workday"] == day.day
    ]
    paid = day.classed.with_columns(seconds=day.classed["ends"] - day.classed["starts"])
    for name, label in CLASSES.items():
        seconds = int(paid.filter(paid["pay_class"] == name)["seconds"].sum())
        if seconds:
            rows.append(
                {"no": next(numbers), "kind": "paid", "what": say(label), "time": as_figures(seconds), "rule": ""}
            )
    if not rows:
        rows.append({"no": next(numbers), "kind": "none", "what": say("Nothing recorded"), "time": "", "rule": ""})
    return {"title": say.long_day(day.day), "rows": rows}


def _punch(row: dict[str, Any], zone: str, number: int, say: Speech) -> dict[str, Any]:
    what = say.said(punch_line(row, zone))
    return {"no": number, "kind": "punch", "what": what, "time": "", "rule": say("as recorded")}


def _pay_line(line: dict[str, Any], numbers: Iterator[int], say: Speech) -> dict[str, Any]:
    return {
        "no": next(numbers),
        "what": _begun(say.retold(line["label"])),
        "time": "" if line["seconds"] is None else as_figures(line["seconds"]),
        "rate": "" if line["rate"] is None else f"{line['rate']:.4f}",
        "amount": say.pay(line["amount"]),
        "rule": cited(line["cites"], say),
    }


def _change(step: Step) -> str:
    if step.to_class:
        return f"({as_figures(step.ends - step.starts)})"
    return signed_figures(step.seconds)


def _begun(says: str) -> str:
    return says[:1].upper() + says[1:]
