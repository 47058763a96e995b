"""Whether a file hands over all that is owed: what is owed on one side, what its columns carry on the other.

What is owed in time is handed over by a column of its time or by one of its money; what is owed in money alone by one
of its money. A sum that holds the pay of worked time too hands over what is in it only where the file does not tell
worked time in hours: payroll would pay those, and take the sum for a check.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from evenhand.pay.payroll.fields import FIELDS, PayrollField, differential_fields, rounded
from evenhand.pay.payroll.rows import PayrollRow
from evenhand.terms.closing import HOURS_NAMED
from evenhand.terms.languages import Sentence, sentence, told
from evenhand.terms.payroll import (
    BASE,
    BY_DAY,
    BY_SALARY,
    DIFFERENTIAL,
    OVERTIME_PREMIUM,
    PREMIUM_ITEMS,
    RAISED,
    REOPENED,
    WORKED_ITEMS,
)

__all__ = ["LeftOut", "by_code", "field_of", "left_out"]

NAMES = {
    **HOURS_NAMED,
    BASE: sentence("pay for time at several rates"),
    BY_DAY: sentence("pay by the day"),
    BY_SALARY: sentence("salary"),
    RAISED: sentence("pay up to the minimum wage"),
    OVERTIME_PREMIUM: sentence("overtime premium"),
    REOPENED: sentence("overtime and premium hours on a later payment"),
    "earned_bonus": sentence("bonus"),
    "earned_flat_bonus": sentence("flat bonus"),
    "earned_commission": sentence("commission"),
    "earned_piece": sentence("piece"),
    "earned_job": sentence("job"),
    "earned_flat_sum": sentence("flat sum"),
    "earned_premium": sentence("premium"),
    "earned_gift": sentence("gift"),
    "earned_expense": sentence("expense"),
    "earned_leave": sentence("leave"),
}
AT_RATES = (BASE, BY_DAY, BY_SALARY)
"""What the rates of work pay: by time, by the day, by a salary."""
SPLIT_SHIFT = PREMIUM_ITEMS["split_shift"]


@dataclass(frozen=True)
class LeftOut:
    """Something owed that a file leaves out: the field that would hand it over, how much, to how many people.

    `amount` is None where it is owed by time, or not known; `needs_rate` where money would be handed over if it were.
    `field` is empty where only a rate would hand it over.
    """

    field: str
    item: str
    seconds: int
    amount: Decimal | None
    people: int
    needs_rate: bool = False

    @property
    def says(self) -> str:
        """Return what is left out in words, with the field to add."""
        if self.item == "adjusts":
            return told(
                'which earlier week is corrected, for {people:# person|# people} (add "{field}")',
                people=self.people,
                field=self.field,
            )
        if not self.field:
            way = sentence("{much} to {people:# person|# people} whose pay is not known (give a rate)")
        elif self.needs_rate:
            way = sentence(
                '{much} to {people:# person|# people} whose pay is not known (give a rate, or add "{field}")'
            )
        else:
            way = sentence('{much} to {people:# person|# people} (add "{field}")')
        return told(way, much=self._much, people=self.people, field=self.field)

    @property
    def _much(self) -> Sentence:
        named = NAMES.get(self.item)
        what = told(named) if named else self.item.removeprefix(DIFFERENTIAL)
        if self.seconds:
            return told("{hours} hours of {what}", hours=rounded(self.seconds, "hours"), what=what)
        if self.amount is None:
            return told("pay that is not known yet for {what}", what=what)
        return told("{amount:.2f} of {what}", amount=self.amount, what=what)


@dataclass(frozen=True)
class _Carried:
    """What the fields of a file hand over, in time and in money."""

    time: Sequence[PayrollField]
    money: Sequence[PayrollField]
    tells_hours: bool
    tells_week: bool

    @classmethod
    def by(cls, fields: Iterable[PayrollField]) -> _Carried:
        listed = list(fields)
        time = [one for one in listed if one.is_time]
        tells_hours = any(one.hands_over("ordinary") for one in time)
        # A sum with the pay of worked time in it is paid only where no column tells that time.
        money = [one for one in listed if one.is_money and not (tells_hours and _holds_more_than_base(one))]
        return cls(time, money, tells_hours, any(one.name in ("adjusts", "workweek") for one in listed))

    def has_time(self, item: str) -> bool:
        return any(one.hands_over(item) for one in self.time)

    def has_money(self, row: PayrollRow, item: str) -> bool:
        """Whether a column holds the item's money; one that is not known is held by a column of earnings, empty."""
        return any(one.hands_over(item) and one.exact(row) is not None for one in self.money)

    @property
    def pays_hours(self) -> bool:
        """Whether worked time is handed over in money, where that is known."""
        return any(one.hands_over(BASE) for one in self.money)

    def has_column(self, item: str) -> bool:
        return any(one.hands_over(item) for one in self.money)


def _holds_more_than_base(one: PayrollField) -> bool:
    return one.hands_over(BASE) and not one.items <= set(AT_RATES)


def left_out(rows: Iterable[PayrollRow], fields: Iterable[PayrollField]) -> list[LeftOut]:
    """Return what is owed in these rows and handed over by none of the fields, by the field to add; empty where all is.

    Whatever is owed is either in a figure of its own row or here. With the fields named the file hands over all: where
    adding one takes its meaning from another, such as hours beside a sum of all pay, what that needs is named too.
    """
    listed, asked = list(rows), list(fields)
    found: list[LeftOut] = []
    while more := [one for one in _left_out(listed, asked) if one.field not in {other.name for other in asked}]:
        found += more
        known = FIELDS | differential_fields(
            one.item.removeprefix(DIFFERENTIAL) for one in more if one.item.startswith(DIFFERENTIAL)
        )
        asked += [known[name] for name in dict.fromkeys(one.field for one in more)]
    return found


def by_code(missing: Iterable[LeftOut], fields: Iterable[PayrollField]) -> tuple[list[LeftOut], list[str]]:
    """Return what is left out of a file in which each code is paid, with the fields to add and those to put away.

    There no hour may stand under a code of its time and under one of its money: where money is needed, or is there,
    all worked time is handed over in money.
    """
    found, asked = list(missing), list(fields)
    if not any(one.is_money and one.tells(BASE) for one in asked) and not any(
        one.field in ("base_pay", OVERTIME_PREMIUM) for one in found
    ):
        return found, []
    in_money = []
    for one in found:
        if one.item not in WORKED_ITEMS:
            in_money.append(one)
        elif one.needs_rate:
            in_money.append(replace(one, field=""))
        else:
            in_money.append(replace(one, field="base_pay" if one.item == "ordinary" else OVERTIME_PREMIUM))
    return in_money, [one.name for one in asked if one.is_time and one.items & set(WORKED_ITEMS)]


def _left_out(rows: Iterable[PayrollRow], fields: Sequence[PayrollField]) -> list[LeftOut]:
    carried, names = _Carried.by(fields), {one.name for one in fields}
    found: dict[tuple[str, str, bool], tuple[int, Decimal | None, set[str]]] = {}
    for row in rows:
        for item in _not_handed_over(row, carried):
            amount = row.amounts.get(item)
            seconds = 0 if _is_of_money(row, item) else row.seconds.get(item, 0)
            needs_rate = not row.is_known and carried.pays_hours and bool(seconds)
            name = field_of(item, of_money=_is_told_in_money(row, item, carried))
            if name in names and row.workweek is None:
                name = "workweek"  # its money is known in one week and not in another: each needs a row of its own
            key = (name, item, needs_rate)
            before = found.get(key, (0, Decimal(0), set()))
            both = None if before[1] is None or amount is None else before[1] + amount
            found[key] = (before[0] + seconds, both, before[2] | {row.person})
    return [
        LeftOut(name, item, seconds, amount, len(people), needs_rate)
        for (name, item, needs_rate), (seconds, amount, people) in sorted(
            found.items(), key=lambda one: _place(*one[0])
        )
    ]


def _place(field: str, *more: str | bool) -> tuple[int, str, tuple[str | bool, ...]]:
    """Return where a field stands among all, those of differentials last."""
    places = {name: place for place, name in enumerate(FIELDS)}
    return places.get(field, len(places)), field, more


def field_of(item: str, *, of_money: bool) -> str:
    """Return the field to add for an item, in money or in time."""
    if item in AT_RATES:
        return "base_pay"
    if item == "adjusts" or item.startswith("earned_") or item == OVERTIME_PREMIUM:
        return item
    if item == "reopened":
        return "reopened_pay"
    if item.startswith(DIFFERENTIAL):
        name = item.removeprefix(DIFFERENTIAL)
        return f"differential_pay:{name}" if of_money else f"differential_hours:{name}"
    return f"{item}_pay" if of_money and item not in WORKED_ITEMS else f"{item}_hours"


def _not_handed_over(row: PayrollRow, carried: _Carried) -> Iterator[str]:
    worked = any(row.seconds.get(item) for item in WORKED_ITEMS)
    for item in WORKED_ITEMS:
        if row.seconds.get(item) and not carried.has_time(item) and not _pays(row, item, carried):
            yield item
    for item in _beside_work(row):
        if (row.seconds.get(item) and carried.has_time(item)) or carried.has_money(row, item):
            continue
        nothing_to_print = not row.seconds.get(item) and row.amounts.get(item) is None
        if not (nothing_to_print and carried.has_column(item)):
            yield item
    for item in AT_RATES:
        told = worked and item == BASE and row.rates < 2
        if row.amounts.get(item) and not told and carried.tells_hours and not carried.has_money(row, item):
            yield item
    if row.adjusts and not carried.tells_week:
        yield "adjusts"
    beyond = row.seconds.get("overtime") or row.seconds.get("double")
    if row.amounts.get(OVERTIME_PREMIUM) and not beyond and not carried.has_money(row, OVERTIME_PREMIUM):
        yield OVERTIME_PREMIUM


def _beside_work(row: PayrollRow) -> Iterator[str]:
    """Yield what is owed beside worked time and its pay."""
    own: Collection[str] = ("recorded", *WORKED_ITEMS, *AT_RATES, OVERTIME_PREMIUM)
    for item in dict.fromkeys((*row.seconds, *row.amounts)):
        if item in own:
            continue
        if _is_of_money(row, item):
            if row.amounts.get(item, 0) != 0:
                yield item
        elif row.seconds.get(item):
            yield item


def _is_of_money(row: PayrollRow, item: str) -> bool:
    """Whether an item is owed in money and not by its time: it has none, or its hour is not paid at the regular rate.

    A split shift owes an hour at the minimum wage less what pay exceeds it by, often nothing.
    """
    return not row.seconds.get(item) or (item == SPLIT_SHIFT and row.is_known)


def _is_told_in_money(row: PayrollRow, item: str, carried: _Carried) -> bool:
    """Whether the field to add is one of money: of a file in money, where the money is known."""
    return _is_of_money(row, item) or (row.is_known and not carried.tells_hours)


def _pays(row: PayrollRow, item: str, carried: _Carried) -> bool:
    """Whether the pay of worked time of a class is handed over in money."""
    needed = [*AT_RATES] if item == "ordinary" else [*AT_RATES, OVERTIME_PREMIUM]
    owed = [one for one in needed if one == BASE or row.amounts.get(one)]
    return row.is_known and all(carried.has_money(row, one) for one in owed)
