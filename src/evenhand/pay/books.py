"""One person's weeks, rates and earnings, gathered before they are paid."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from evenhand.pay.entries import Earned
from evenhand.pay.rates import PersonRates
from evenhand.pay.stretches import WeekTime
from evenhand.terms.columns import Frame
from evenhand.terms.pay_law import PayLaw
from evenhand.terms.settings import SiteRules

__all__ = ["Book", "open_books"]


@dataclass
class Book:
    """What one person is paid from; `weeks` hold the time of each workweek."""

    person: str
    bound: SiteRules
    laws: Mapping[str, PayLaw]
    rates: PersonRates
    weeks: dict[date, WeekTime]
    earned: list[Earned]
    premiums: list[dict[str, Any]] = field(default_factory=list)
    differentials: list[dict[str, Any]] = field(default_factory=list)

    def begins(self, day: date) -> date:
        """Return the first day of the workweek that holds `day`."""
        return day - timedelta(days=(day.weekday() - self.bound.on(day).workweek_day) % 7)

    def law(self, workweek: date) -> PayLaw:
        """Return what the law says of pay in the workweek."""
        return self.laws[self.bound.on(workweek).jurisdiction]

    def settled_in(self, workweek: date) -> list[Earned]:
        """Return what is paid with the workweek: what was earned up to a day of it."""
        return [one for one in self.earned if self.begins(one.last) == workweek]

    def is_deferred(self, one: Earned) -> bool:
        """Whether a sum was earned in more than one workweek."""
        return self.begins(one.first) != self.begins(one.last)


def open_books(
    time: Mapping[tuple[str, date], WeekTime],
    earnings: Frame,
    rules: Mapping[str, SiteRules],
    laws: Mapping[str, PayLaw],
    held: Mapping[str, PersonRates],
    premiums: Frame,
    differentials: Frame,
) -> list[Book]:
    """Return a book for everybody with time or earnings whom `rules` bind, by person."""
    nobody = PersonRates(())
    books: dict[str, Book] = {}

    def book_of(person: str) -> Book:
        if person not in books:
            books[person] = Book(person, rules[person], laws, held.get(person, nobody), {}, [])
        return books[person]

    for (person, workweek), week in time.items():
        book_of(person).weeks[workweek] = week
    for row in earnings.sort("person", "earned_from", "kind", "label").iter_rows(named=True):
        if row["person"] in rules:
            book_of(row["person"]).earned.append(Earned.from_row(row, held.get(row["person"], nobody)))
    for row in premiums.iter_rows(named=True):
        if row["person"] in rules:
            book_of(row["person"]).premiums.append(row)
    for row in differentials.iter_rows(named=True):
        if row["person"] in rules:
            book_of(row["person"]).differentials.append(row)
    return [books[person] for person in sorted(books)]
