"""What may stand in a column of payroll's file: who and when, time by item in four forms, and money by item.

Each printed figure is rounded once, half up, from the exact seconds or from the sum of pay lines that it tells.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from evenhand.pay.payroll.rows import PayrollRow
from evenhand.terms.payroll import (
    BASE,
    BY_DAY,
    BY_SALARY,
    DIFFERENTIAL,
    EARNED_ITEMS,
    OVERTIME_PREMIUM,
    PREMIUM_ITEMS,
    RAISED,
    REOPENED,
    WORKED_ITEMS,
)

__all__ = ["FIELDS", "WHOSE", "Cell", "PayrollField", "asks_for_pay", "differential_fields", "figure_as_text"]

Cell = str | int | Decimal | date | None
Figure = int | Decimal | None

FORMS = {
    "hours": "in hours and hundredths",
    "hm": "as hours:minutes",
    "minutes": "in whole minutes",
    "seconds": "in seconds, exact",
}
"""The forms in which time is printed, as the last word of a field's name."""
PREMIUM_NAMES = {
    "meal_premium": "premiums for meal periods",
    "rest_premium": "premiums for rest periods",
    "split_shift": "split shifts",
    "reporting": "reporting time",
    "call_back": "call-back time",
}
NOT_FOR_WORK = tuple(EARNED_ITEMS[kind] for kind in ("gift", "expense", "leave"))
FOR_WORK = tuple(item for item in EARNED_ITEMS.values() if item not in NOT_FOR_WORK)
AT_REGULAR_RATE = tuple(item for item in PREMIUM_ITEMS.values() if item != "split_shift")
EVERY = (
    BASE,
    BY_DAY,
    BY_SALARY,
    RAISED,
    OVERTIME_PREMIUM,
    REOPENED,
    DIFFERENTIAL,
    *PREMIUM_ITEMS.values(),
    *EARNED_ITEMS.values(),
)


@dataclass(frozen=True)
class PayrollField:
    """A field: its name, what it says, and how its cell comes from a row.

    `form` is `text` or `day`, a form of time, `money`, or `rate`, which is not summed. A field of time or money tells
    `items`, where `differential:` stands for every differential; of what it tells it hands over `carries`, so that
    payroll can pay it: time in which classes are mixed hands over no more than the ordinary part.
    """

    name: str
    says: str
    form: str
    items: frozenset[str] = frozenset()
    carries: frozenset[str] = frozenset()
    read: Callable[[PayrollRow], Cell] = field(default=lambda row: None, repr=False)

    @property
    def is_time(self) -> bool:
        """Whether it tells time."""
        return self.form in FORMS

    @property
    def is_money(self) -> bool:
        """Whether it tells a sum of money."""
        return self.form == "money"

    @property
    def is_figure(self) -> bool:
        """Whether its column can be added up."""
        return self.is_time or self.is_money

    def tells(self, item: str) -> bool:
        """Tell whether the item is in its figure."""
        return item in self.items or (DIFFERENTIAL in self.items and item.startswith(DIFFERENTIAL))

    def hands_over(self, item: str) -> bool:
        """Tell whether payroll can pay the item from its figure."""
        return item in self.carries or (DIFFERENTIAL in self.carries and item.startswith(DIFFERENTIAL))

    def exact(self, row: PayrollRow) -> int | Decimal | None:
        """Return the exact seconds, or the money, of a row; None where the money is not known."""
        if self.is_time:
            return sum(seconds for item, seconds in row.seconds.items() if self.tells(item))
        amounts = [amount for item, amount in row.amounts.items() if self.tells(item)]
        knowable = row.is_known or self.items <= set(EARNED_ITEMS.values())
        return (
            sum((one for one in amounts if one is not None), Decimal("0.00"))
            if knowable and None not in amounts
            else None
        )

    def figure(self, row: PayrollRow, decimals: int = 2) -> Figure:
        """Return what is printed of a row, rounded once, as a number that can be added up: hours, minutes, money.

        Time of which other files told something is what all of it is printed as, less what they printed: so the files
        add up. Where it is not kept what one printed, its exact time counts, rounded.
        """
        exact = self.exact(row)
        if exact is None:
            return None
        if not (self.is_time and row.told):
            return rounded(exact, self.form, decimals)
        whole, printed = exact, Decimal(0)
        for one in row.told:
            told = sum(spent for item, spent in one.seconds.items() if self.tells(item))
            whole += told
            printed += one.figures.get(self.name, Decimal(rounded(told, self.form, decimals)))
        left = Decimal(rounded(whole, self.form, decimals)) - printed
        return int(left) if self.form != "hours" else left.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)

    def cell(self, row: PayrollRow, decimals: int = 2) -> Cell:
        """Return what stands in the column for a row."""
        if not self.is_figure:
            return self.read(row)
        figure = self.figure(row, decimals)
        return figure_as_text(figure) if self.form == "hm" and isinstance(figure, int) else figure


def rounded(exact: int | Decimal, form: str, decimals: int = 2) -> int | Decimal:
    """Return exact seconds or money as it is printed in this form, rounded once, half up, away from zero below it."""
    if form == "seconds":
        return int(exact)
    if form in ("hm", "minutes"):
        return int((Decimal(exact) / 60).quantize(Decimal(1), ROUND_HALF_UP))
    if form == "hours":
        return (Decimal(exact) / 3600).quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)
    return Decimal(exact).quantize(Decimal("0.01"), ROUND_HALF_UP)


def figure_as_text(minutes: int) -> str:
    """Return minutes as hours and minutes, such as 38:05."""
    hours, left = divmod(abs(minutes), 60)
    return f"{'-' if minutes < 0 else ''}{hours}:{left:02d}"


def _of_time(
    item: str, says: str, items: Iterable[str], carries: Iterable[str], name: str = ""
) -> Iterator[PayrollField]:
    for form, how in FORMS.items():
        full = f"{item}_{form}:{name}" if name else f"{item}_{form}"
        yield PayrollField(full, f"{says}, {how}", form, frozenset(items), frozenset(carries))


def _of_money(name: str, says: str, items: Iterable[str]) -> PayrollField:
    return PayrollField(name, says, "money", frozenset(items), frozenset(items))


def _every() -> Iterator[PayrollField]:
    yield PayrollField("person", "personnel or payroll identifier", "text", read=lambda row: row.person)
    yield PayrollField("name", "name as the roster writes it", "text", read=lambda row: row.name)
    yield PayrollField("number", "number keyed at the readers", "text", read=lambda row: row.number)
    yield PayrollField("site", "site", "text", read=lambda row: row.site)
    yield PayrollField("department", "department or cost centre", "text", read=lambda row: row.department)
    yield PayrollField("hourly_rate", "rate on the roster", "rate", read=lambda row: row.hourly_rate)
    yield PayrollField(
        "workweek", "first day of the workweek; makes one row a week", "day", read=lambda row: row.workweek
    )
    yield PayrollField("period_first", "first day of the pay period", "day", read=lambda row: row.period_first)
    yield PayrollField("period_last", "last day of the pay period", "day", read=lambda row: row.period_last)
    yield PayrollField("adjusts", "the earlier workweek that a row corrects", "day", read=lambda row: row.adjusts)
    yield from _of_time("recorded", "time between paired punches", ("recorded",), ())
    yield from _of_time("ordinary", "paid time below every threshold", ("ordinary",), ("ordinary",))
    yield from _of_time("overtime", "paid time beyond it", ("overtime",), ("overtime",))
    yield from _of_time("double", "paid time at double time", ("double",), ("double",))
    # All paid time does not tell which of it is overtime; beside columns that do, the rest is ordinary.
    yield from _of_time("paid", "all paid time", WORKED_ITEMS, ("ordinary",))
    for item, says in PREMIUM_NAMES.items():
        yield from _of_time(item, f"{says}, time owed", (item,), (item,))
    together = "all premiums paid at the regular rate, time owed"
    yield from _of_time("premium", together, AT_REGULAR_RATE, AT_REGULAR_RATE)
    yield PayrollField(
        "regular_rate", "regular rate of the week, to four decimals", "rate", read=lambda row: row.regular_rate
    )
    yield _of_money("base_pay", "pay at the rates of work, for every hour once", (BASE, BY_DAY, BY_SALARY))
    yield _of_money(
        "straight_pay",
        "the same, with what counts in the regular rate",
        (BASE, BY_DAY, BY_SALARY, RAISED, DIFFERENTIAL, *FOR_WORK),
    )
    yield _of_money("minimum_wage_pay", "what raises pay to the minimum wage", (RAISED,))
    yield _of_money("overtime_premium", "what overtime and double time add", (OVERTIME_PREMIUM, REOPENED))
    yield _of_money("reopened_pay", "of it, what later payments add to earlier weeks", (REOPENED,))
    for item, says in PREMIUM_NAMES.items():
        yield _of_money(f"{item}_pay", says, (item,))
    yield _of_money("premium_pay", "meal, rest and other premiums together", PREMIUM_ITEMS.values())
    yield _of_money("differential_pay", "all differentials together", (DIFFERENTIAL,))
    for kind, item in EARNED_ITEMS.items():
        yield _of_money(item, f"earned beside the hours: {kind.replace('_', ' ')}", (item,))
    yield _of_money("earned_pay", "all that was earned beside the hours", EARNED_ITEMS.values())
    yield _of_money("other_pay", "of it, what is no pay for work: gifts, expenses, leave", NOT_FOR_WORK)
    yield _of_money("total_pay", "all pay of the row", EVERY)


FIELDS: dict[str, PayrollField] = {one.name: one for one in _every()}
"""All fields by name; those of each differential (`differential_fields`) come beside them."""

WHOSE = ("person", "number", "name")
"""Fields that say whose a row is."""


def differential_fields(names: Iterable[str]) -> dict[str, PayrollField]:
    """Return the fields of differentials: its time in each form, and its money."""
    found: dict[str, PayrollField] = {}
    for name in names:
        item = DIFFERENTIAL + name
        time = _of_time("differential", f"time of the differential {name}", (item,), (item,), name)
        money = _of_money(f"differential_pay:{name}", f"pay of the differential {name}", (item,))
        found |= {one.name: one for one in (*time, money)}
    return found


def asks_for_pay(names: Iterable[str]) -> bool:
    """Tell whether one of these fields is of pay that rests on rates, so that pay has to be worked out."""
    earned = set(EARNED_ITEMS.values())
    return any(
        name == "regular_rate"
        or name.startswith("differential_pay:")
        or (FIELDS[name].is_money and not FIELDS[name].items <= earned)
        for name in names
        if name in FIELDS or name.startswith("differential_pay:")
    )
