"""What has changed in a period that was handed off, by person and day, in words."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import reduce

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.languages import Sentence, sentence, told
from evenhand.terms.payroll import ON_EARNINGS, PREMIUM_ITEMS, WORKED_ITEMS

__all__ = [
    "HOURS_NAMED",
    "ClosedPeriod",
    "DayChange",
    "PersonChange",
    "as_amount",
    "as_time",
    "change_in_short",
    "changes_in_words",
    "changes_of_people",
    "item_in_words",
    "items_in_words",
]

HOURS_NAMED = {
    "ordinary": sentence("ordinary time"),
    "overtime": sentence("overtime"),
    "double": sentence("double time"),
    "meal_premium": sentence("meal premium"),
    "rest_premium": sentence("rest premium"),
    "split_shift": sentence("split shift"),
    "reporting": sentence("reporting"),
    "call_back": sentence("call back"),
}
"""What hours that are handed to payroll are called, worked or owed beside, by their item."""
NAMES = {
    **HOURS_NAMED,
    "base": sentence("base pay"),
    "by_day": sentence("pay by the day"),
    "by_salary": sentence("salary"),
    "reopened": sentence("overtime on a later payment"),
}


@dataclass(frozen=True)
class ClosedPeriod:
    """A period with the file in force for it, and what has changed since (CLOSED_CHANGES)."""

    handoff: int
    first: date
    last: date
    file: str
    author: str
    made_at: int
    is_detailed: bool
    changes: Frame

    @property
    def digest(self) -> str:
        """Return what names these very changes, so that nobody settles others than they saw."""
        return hashlib.sha256(self.changes.write_csv().encode()).hexdigest()[:12]

    def of_people(self, people: Collection[str]) -> Frame:
        """Return the changes of some people, or of all where none are named."""
        return self.changes.filter(pl.col("person").is_in(list(people))) if people else self.changes


@dataclass(frozen=True)
class DayChange:
    """What of one item has changed on a day, in exact seconds or in money; money is of the week that begins on it."""

    day: date
    item: str
    seconds: int
    amount: Decimal


@dataclass(frozen=True)
class PersonChange:
    """What has changed for one person: worked time and premium hours in seconds, money, and each day."""

    person: str
    name: str
    worked_s: int
    premium_s: int
    amount: Decimal
    days: tuple[DayChange, ...]


def changes_of_people(changes: Frame, names: Mapping[str, str]) -> list[PersonChange]:
    """Return changes (CLOSED_CHANGES) by person; `names` are people's, by identifier."""
    found = []
    for (person,), rows in changes.sort("person", "day", "item").partition_by("person", as_dict=True).items():
        days: dict[tuple[date, str], DayChange] = {}
        for row in rows.iter_rows(named=True):
            key = row["day"], row["item"]
            before = days.get(key, DayChange(*key, 0, Decimal(0)))
            seconds = row["seconds_after"] - row["seconds_before"]
            amount = row["amount_after"] - row["amount_before"]
            days[key] = DayChange(*key, before.seconds + seconds, before.amount + amount)
        listed = tuple(one for one in days.values() if one.seconds or one.amount)
        worked_s = sum(one.seconds for one in listed if one.item in WORKED_ITEMS)
        premium_s = sum(one.seconds for one in listed if one.item in PREMIUM_ITEMS.values())
        total = sum((one.amount for one in listed), Decimal(0)).quantize(Decimal("0.01"))
        found.append(PersonChange(str(person), names.get(str(person), ""), worked_s, premium_s, total, listed))
    return found


def changes_in_words(one: PersonChange) -> list[Sentence]:
    """Return what has changed for a person: a line for each day with time, and one for each week with money."""
    lines: dict[tuple[bool, date], list[Sentence]] = {}
    for change in one.days:
        if change.seconds:
            lines.setdefault((False, change.day), []).append(_moved(change.item, as_time(change.seconds)))
        if change.amount:
            lines.setdefault((True, change.day), []).append(_moved(change.item, as_amount(change.amount)))
    return [
        told("pay of the week from {day:short}: {what}", day=day, what=_in_a_row(said))
        if is_money
        else told("{day:short}: {what}", day=day, what=_in_a_row(said))
        for (is_money, day), said in sorted(lines.items())
    ]


def change_in_short(one: PersonChange) -> str:
    """Return what has changed for a person altogether: worked time, premium hours and money."""
    said: list[str] = [told("{time} worked", time=as_time(one.worked_s))] if one.worked_s else []
    said += [told("{time} of premiums", time=as_time(one.premium_s))] if one.premium_s else []
    said += [as_amount(one.amount)] if one.amount else []
    return _in_a_row(said) if said else told("as much in all, told otherwise")


def _moved(item: str, by: str) -> Sentence:
    return told("{item} {time}", item=item_in_words(item), time=by)


def _in_a_row(said: Sequence[str]) -> str:
    """Return sentences one after another; each is told in its reader's language."""
    return reduce(lambda before, after: told("{before}, {after}", before=before, after=after), said)


def items_in_words(people: Collection[PersonChange]) -> list[Sentence]:
    """Return what the changes of all these people add up to, a line for each item: `ordinary time -2:00 h`."""
    time: dict[str, int] = {}
    money: dict[str, Decimal] = {}
    for change in (day for one in people for day in one.days):
        time[change.item] = time.get(change.item, 0) + change.seconds
        money[change.item] = money.get(change.item, Decimal(0)) + change.amount
    lines = [_moved(item, as_time(seconds)) for item, seconds in sorted(time.items()) if seconds]
    return lines + [_moved(item, as_amount(amount)) for item, amount in sorted(money.items()) if amount]


def item_in_words(item: str) -> str:
    """Return what payroll's lines call an item, in words; the workplace's own names stay as they are."""
    if item.startswith(ON_EARNINGS):
        part = item_in_words(item.removeprefix(ON_EARNINGS))
        return told("{item} on what was earned beside the hours", item=part)
    if item in NAMES:
        return told(NAMES[item])
    return item.removeprefix("differential:").removeprefix("earned_").replace("_", " ")


def as_time(seconds: int) -> str:
    """Return seconds with their sign as hours, minutes and, where there are any, seconds: +2:00 h."""
    minutes, left = divmod(abs(seconds), 60)
    return f"{'-' if seconds < 0 else '+'}{minutes // 60}:{minutes % 60:02d}{f':{left:02d}' if left else ''} h"


def as_amount(amount: Decimal) -> str:
    """Return money with its sign: +46.88."""
    return f"{amount:+.2f}"
