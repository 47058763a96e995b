"""What Rounding shows: each site, department and person with the mean a day, its interval, and the chance."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from markupsafe import Markup

from evenhand.jobs.rounding import Audit
from evenhand.terms.columns import Frame
from evenhand.terms.languages import Speech, sentence, told
from evenhand.terms.rules_told import rounding_in_words
from evenhand.web.listing import Listed, ListQuery, list_rows
from evenhand.web.pages.rounding.drawing import draw_interval

__all__ = ["RoundingLine", "RoundingView", "view"]

ALARM = 0.05
LEVELS = (("site", sentence("Sites")), ("department", sentence("Departments")))


@dataclass(frozen=True)
class RoundingLine:
    """One site, department or person; seconds are paid time given (+) or taken (-)."""

    name: str
    address: str
    people: int
    days: int
    total_s: int
    per_day_s: float
    interval: str
    drawn: Markup
    chance: str
    is_alarming: bool
    test: str
    money: Decimal | None
    overtime_money: Decimal | None


@dataclass(frozen=True)
class RoundingView:
    """The whole of Rounding; `groups` are (heading, rows), and `people` one page of them."""

    first: date
    last: date
    weeks: int
    rules: Sequence[tuple[str, str]]
    is_rounded: bool
    groups: Sequence[tuple[str, Sequence[RoundingLine]]]
    people: Listed[RoundingLine]


def view(audit: Audit, people: Frame, weeks: int, asked: ListQuery, speech: Speech) -> RoundingView:
    """Return what the page shows; all intervals are drawn on one scale, which shows every mean and its like twice over.

    An interval from two or three people may be far wider than that; it runs off the drawing and stands in figures.
    """
    names = dict(people.select("person", "name").iter_rows())
    rows = list(audit.rows.iter_rows(named=True))
    reach = 2 * max((abs(row["per_day_s"]) for row in rows), default=0.0) or 60.0
    found = list_rows(
        list(enumerate(_worst_first(rows, "person"))),
        asked,
        {"worst": lambda placed: placed[0]},
        lambda placed: f"{names.get(placed[1]['name'], '')} {placed[1]['name']}",
        "worst",
    )
    return RoundingView(
        first=audit.first,
        last=audit.last,
        weeks=weeks,
        rules=[(site or told("no site"), rounding_in_words(rules.rounding_s)) for site, rules in audit.rules.items()],
        is_rounded=audit.is_rounded,
        groups=[
            (told(heading), [_row(row, names, reach, speech) for row in _worst_first(rows, level)])
            for level, heading in LEVELS
        ],
        people=Listed(
            rows=[_row(row, names, reach, speech) for _, row in found.rows],
            found=found.found,
            page=found.page,
            pages=found.pages,
            asked=found.asked,
        ),
    )


def _worst_first(rows: Sequence[Mapping[str, Any]], level: str) -> list[Mapping[str, Any]]:
    return sorted((row for row in rows if row["level"] == level), key=lambda row: (row["adjusted"], row["total_s"]))


def _row(row: Mapping[str, Any], names: Mapping[str, str], reach: float, speech: Speech) -> RoundingLine:
    of_person = row["level"] == "person"
    low, high = row["day_low_s"], row["day_high_s"]
    interval = (
        told("no interval from one")
        if low is None
        else told("{low} to {high} s", low=_seconds(low), high=_seconds(high))
    )
    name = names.get(row["name"], row["name"]) if of_person else row["name"]
    says = told(
        "{name}: {seconds} s a day, {interval}", name=name, seconds=_seconds(row["per_day_s"]), interval=interval
    )
    return RoundingLine(
        name=name,
        address=row["name"] if of_person else "",
        people=row["people"],
        days=row["days"],
        total_s=row["total_s"],
        per_day_s=row["per_day_s"],
        interval=interval,
        drawn=draw_interval(row["per_day_s"], low, high, reach, speech.said(says), alarming=row["adjusted"] < ALARM),
        chance=told("under 0.001") if row["adjusted"] < 0.001 else f"{row['adjusted']:.3f}",
        is_alarming=row["adjusted"] < ALARM,
        test=row["test"],
        money=row["money"],
        overtime_money=row["overtime_money"],
    )


def _seconds(amount: float) -> str:
    return f"{amount:+.0f}".replace("-", "\u2212")
