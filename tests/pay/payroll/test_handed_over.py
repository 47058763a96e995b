"""Nothing owed is dropped: for any mixture of what is owed and any columns, the file is refused or adds up to it."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, event, given, settings
from hypothesis import strategies as st

from evenhand import pay
from evenhand.pay.payroll import carried, fields, owed, tables
from evenhand.terms.hours import DIFFERENTIALS, PREMIUMS, WEEKS
from evenhand.terms.payroll import ImportDefinition, PayrollColumn
from evenhand.terms.records import Refusal
from evenhand.terms.sources import PEOPLE
from evenhand.terms.wages import EARNING_KINDS, PAY_ITEMS, PAY_WEEKS

WEEK_OF = (date(2026, 11, 1), date(2026, 11, 8))
PEOPLE_HERE = PEOPLE.rows({"person": name, "name": name.lower(), "site": "Mill"} for name in ("A", "B", "C"))
NIGHTS = ("night", "hot work")
KINDS = {"meal": "meal_premium", "rest": "rest_premium", "split_shift": "split_shift", "reporting": "reporting",
         "call_back": "call_back"}  # fmt: skip
IN_RATE = [f"earned_{kind}" for kind in EARNING_KINDS if kind not in ("gift", "expense", "leave")]
BESIDE = ["earned_gift", "earned_expense", "earned_leave"]
DIFFERENTIAL_ITEMS = [f"differential:{name}" for name in NIGHTS]
# What each sum of money holds, by the pages on hand-off; a sum with `base` in it is no pay where hours are told.
SUMS = {
    "base_pay": ["base", "by_day"],
    "straight_pay": ["base", "by_day", *DIFFERENTIAL_ITEMS, *IN_RATE],
    "overtime_premium": ["overtime_premium", "reopened"],
    "reopened_pay": ["reopened"],
    **{f"{item}_pay": [item] for item in KINDS.values()},
    "premium_pay": list(KINDS.values()),
    **{f"differential_pay:{name}": [f"differential:{name}"] for name in NIGHTS},
    "differential_pay": DIFFERENTIAL_ITEMS,
    **{f"earned_{kind}": [f"earned_{kind}"] for kind in EARNING_KINDS},
    "earned_pay": [f"earned_{kind}" for kind in EARNING_KINDS],
    "other_pay": BESIDE,
}  # fmt: skip
SUMS["total_pay"] = sorted({item for items in SUMS.values() for item in items})
TIME = {
    **{f"{item}_hours": [item] for item in ("ordinary", "overtime", "double", *KINDS.values())},
    "paid_hours": ["ordinary", "overtime", "double"],
    "premium_hours": [item for item in KINDS.values() if item != "split_shift"],
    **{f"differential_hours:{name}": [f"differential:{name}"] for name in NIGHTS},
}


HOURS = {"ordinary_hours", "paid_hours"}


@dataclass
class Week:
    """What one person is owed for one week: seconds and cents by item; `cents` of one are None where not known."""

    person: str
    workweek: date
    known: bool
    seconds: dict[str, int] = field(default_factory=dict)
    cents: dict[str, int | None] = field(default_factory=dict)
    bases: list[int] = field(default_factory=list)


@st.composite
def weeks(draw: st.DrawFn) -> Week:
    person, workweek = draw(st.sampled_from("ABC")), draw(st.sampled_from(WEEK_OF))
    week = Week(person, workweek, draw(st.booleans()))
    seconds, cents = st.integers(1, 200_000), st.integers(1, 300_000)
    for item in draw(st.sets(st.sampled_from(["ordinary", "overtime", "double"]))):
        week.seconds[item] = draw(seconds)
    for kind in draw(st.sets(st.sampled_from(list(KINDS)), max_size=2)):
        week.seconds[KINDS[kind]] = draw(st.integers(1, 8)) * 1800
    for item in draw(st.sets(st.sampled_from(DIFFERENTIAL_ITEMS), max_size=2)):
        week.seconds[item] = draw(seconds)
    for item in draw(st.sets(st.sampled_from([*IN_RATE, *BESIDE]), max_size=2)):
        week.cents[item] = draw(cents)
    worked = any(week.seconds.get(item) for item in ("ordinary", "overtime", "double"))
    if week.known:
        if worked:
            week.bases = draw(st.lists(cents, min_size=1, max_size=2))
            week.cents["base"] = sum(week.bases)
        if week.seconds.get("overtime") or week.seconds.get("double"):
            week.cents["overtime_premium"] = draw(cents)
        if draw(st.integers(0, 4)) == 0:
            week.cents["reopened"] = draw(cents)
        if draw(st.integers(0, 6)) == 0:
            week.cents["by_day"] = draw(cents)
        for item in [*KINDS.values(), *DIFFERENTIAL_ITEMS]:
            if week.seconds.get(item):
                week.cents[item] = draw(cents)
        if "split_shift" in week.cents and draw(st.booleans()):
            del week.cents["split_shift"]  # the day's pay exceeds the minimum wage by more than its hour
    return week


MIXTURES = st.lists(weeks(), min_size=1, max_size=4, unique_by=lambda week: (week.person, week.workweek))
FIELD_SETS = st.one_of(
    st.sets(st.sampled_from([*TIME, *SUMS]), max_size=8),
    st.sets(st.sampled_from(list(TIME)), min_size=9),
    st.sets(st.sampled_from([*TIME, *SUMS]), min_size=25),
)


def rows_of(mixture: list[Week], *, by_week: bool) -> list[pay.PayrollRow]:
    """Return payroll's rows of a mixture, by way of the tables that law and pay give."""
    time = [
        {"person": one.person, "workweek": one.workweek, "recorded_s": 0, "steps_s": 0, "questions": 0}
        | {f"{item}_s": one.seconds.get(item, 0) for item in ("ordinary", "overtime", "double")}
        for one in mixture
    ]
    premiums = [
        {"person": one.person, "workweek": one.workweek, "workday": one.workweek, "kind": kind,
         "hours": Decimal(one.seconds[item]) / 3600, "says": "", "cites": ""}
        for one in mixture for kind, item in KINDS.items() if item in one.seconds
    ]  # fmt: skip
    windows = [
        {"person": one.person, "workweek": one.workweek, "starts": 0, "ends": one.seconds[item], "says": "",
         "cites": "", "kind": item.removeprefix("differential:")}
        for one in mixture for item in DIFFERENTIAL_ITEMS if item in one.seconds
    ]  # fmt: skip
    paid = [
        {"person": one.person, "workweek": one.workweek, "worked_s": 0, "total_pay": Decimal(1) if one.known else None}
        for one in mixture
    ]
    sums = [
        {"person": one.person, "workweek": one.workweek, "item": item, "rate": rate,
         "amount": None if cents is None else Decimal(cents) / 100}
        for one in mixture for item, rate, cents in money_of(one)
    ]  # fmt: skip
    frames = (WEEKS.rows(time), PREMIUMS.rows(premiums), DIFFERENTIALS.rows(windows), PAY_WEEKS.rows(paid))
    return pay.payroll_rows(
        pay.owed_items(*frames, PAY_ITEMS.rows(sums)), PEOPLE_HERE, (WEEK_OF[0], date(2026, 11, 14)), by_week=by_week
    )


def money_of(week: Week) -> Iterator[tuple[str, Decimal | None, int | None]]:
    for place, cents in enumerate(week.bases):
        yield "base", Decimal(18 + place), cents
    for item, known in week.cents.items():
        if item != "base":
            yield item, None, known


def definition_of(names: set[str], *, by_week: bool) -> ImportDefinition:
    columns = ["person", *(["workweek"] if by_week else []), *sorted(names)]
    return ImportDefinition(columns=tuple(PayrollColumn(name, name) for name in columns))


def missing(names: set[str], rows: list[pay.PayrollRow], *, by_week: bool) -> set[str] | None:
    """Return the fields that a refusal names, None where the file is not refused."""
    asked = pay.asked_by(definition_of(names, by_week=by_week), NIGHTS)
    try:
        pay.check_all_handed_over(asked, rows)
    except Refusal as refusal:
        named = str(refusal).split('add "')[1:]
        return {one.split('"')[0] for one in named}
    return None


def rounded_up(seconds: int) -> Decimal:
    """Hours with two decimals, half up, by whole numbers alone."""
    hundredths = (Fraction(seconds, 36) + Fraction(1, 2)).__floor__()
    return Decimal(hundredths) / 100


def check_mixture(mixture: list[Week], names: set[str], by_week: bool) -> None:
    """Check the property of one mixture under one set of fields."""
    rows = rows_of(mixture, by_week=by_week)
    named = missing(names, rows, by_week=by_week)
    event(f"{'refused' if named else 'accepted'}, {'by week' if by_week else 'by period'}")
    keys = sorted({(one.person, one.workweek if by_week else None) for one in mixture}, key=str)
    of_rows = [[one for one in mixture if one.person == who and week in (None, one.workweek)] for who, week in keys]
    if named is not None:
        assert named
        assert not named & names
        tells_hours = bool((names | named) & HOURS)
        for one in named - {"workweek"}:
            [item] = [item for item in {**TIME, **SUMS}[one] if item != "by_day" or one != "base_pay"]
            also = ["by_day"] if one == "base_pay" else []
            wanted = [mine for mine in of_rows for what in (item, *also) if is_dropped(what, mine, names, tells_hours)]
            assert wanted, f"{one} is named and not needed"
        if "workweek" in named:
            # Money that is known in one week and not in the other cannot stand in one row.
            assert not by_week
            assert any(len({one.known for one in mine}) == 2 for mine in of_rows)
            check_mixture(mixture, names | named - {"workweek"}, by_week=True)
            return
        assert missing(names | named, rows, by_week=by_week) is None, "with the fields named it is still refused"
        check_mixture(mixture, names | named, by_week)
        return
    asked = pay.asked_by(definition_of(names, by_week=by_week), NIGHTS)
    table = pay.payroll_table(asked, rows)
    printed = list(csv.DictReader(io.StringIO(pay.as_text_file(table).decode("utf-8-sig"), newline="")))
    assert [(row["person"], row.get("workweek")) for row in printed] == [
        (person, None if week is None else str(week)) for person, week in keys
    ]
    for row, mine in zip(printed, of_rows, strict=True):
        check_row(row, mine, names)
    for total in table.total.columns:
        cells = [Decimal(row[total.field]) for row in printed if row[total.field] != ""]
        assert sum(cells, Decimal(0)) == total.printed, "the printed figures do not add up to the control total"
        assert total.unknown == sum(row[total.field] == "" for row in printed)


def owed_to(mine: list[Week]) -> tuple[dict[str, int], dict[str, int]]:
    """Return the seconds and the cents of a row by item, a split shift that owes nothing left out."""
    seconds: dict[str, int] = {}
    cents: dict[str, int] = {}
    for one in mine:
        for item, spent in one.seconds.items():
            if item != "split_shift" or not one.known or item in one.cents:
                seconds[item] = seconds.get(item, 0) + spent
        for item, amount in one.cents.items():
            cents[item] = cents.get(item, 0) + (amount or 0)
    return seconds, cents


def is_dropped(item: str, mine: list[Week], names: set[str], tells_hours: bool) -> bool:
    """Whether something is owed for the item to which no figure of these fields leads."""
    seconds, cents = owed_to(mine)
    known = all(one.known for one in mine)

    def in_time(what: str) -> bool:
        holding = {name for name, items in TIME.items() if what in items and name in names}
        return bool(holding - {"paid_hours"}) or (what == "ordinary" and "paid_hours" in holding)

    def in_money(what: str) -> bool:
        holding = [name for name, items in SUMS.items() if what in items and name in names]
        if tells_hours:
            holding = [name for name in holding if name == "base_pay" or "base" not in SUMS[name]]
        return any(known or all(one.startswith("earned_") for one in SUMS[name]) for name in holding)

    if item in ("ordinary", "overtime", "double"):
        beyond = item == "ordinary" or not cents.get("overtime_premium") or in_money("overtime_premium")
        return bool(seconds.get(item)) and not in_time(item) and not (in_money("base") and beyond)
    if item in (*KINDS.values(), *DIFFERENTIAL_ITEMS):
        return bool(seconds.get(item)) and not in_time(item) and not in_money(item)
    if item == "base":
        several = len({rate for one in mine for rate in range(len(one.bases))}) > 1
        return several and tells_hours and not in_money("base")
    if item == "by_day":
        return bool(cents.get(item)) and tells_hours and not in_money(item)
    return bool(cents.get(item)) and not in_money(item)


def check_row(row: Mapping[str, str], mine: list[Week], names: set[str]) -> None:
    """Check that everything owed stands in the row, and that each figure is the sum of what it holds."""
    seconds, cents = owed_to(mine)
    known = all(one.known for one in mine)
    for name, items in TIME.items():
        if name in names:
            assert Decimal(row[name]) == rounded_up(sum(seconds.get(item, 0) for item in items)), name
    for name, items in SUMS.items():
        if name in names and (known or all(item.startswith("earned_") for item in items)):
            assert Decimal(row[name]) == Decimal(sum(cents.get(item, 0) for item in items)) / 100, name
        elif name in names:
            assert row[name] == "", f"{name} is not known, and not nought"
    for item in {item for items in (*TIME.values(), *SUMS.values()) for item in items} - {"overtime_premium"}:
        assert not is_dropped(item, mine, names, bool(names & HOURS)), f"{item} is dropped"


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(MIXTURES, FIELD_SETS, st.booleans())
def test_a_file_is_refused_with_the_fields_to_add_or_holds_all_that_is_owed(
    mixture: list[Week], names: set[str], by_week: bool
) -> None:
    check_mixture(mixture, names, by_week)


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(MIXTURES)
def test_the_columns_that_nobody_chose_hold_all_that_is_owed(mixture: list[Week]) -> None:
    rows = rows_of(mixture, by_week=True)
    columns = pay.default_columns(("meal_premium", "differential:night", "earned_bonus"), rows)
    chosen = {column.field for column in columns} - {"person", "name", "site", "workweek"}
    assert {"ordinary_hours", "meal_premium_hours", "differential_hours:night", "earned_bonus"} <= chosen
    check_mixture(mixture, chosen, by_week=True)
    assert missing(chosen, rows, by_week=True) is None


def drop_nothing_said(*_: object) -> list[carried.LeftOut]:
    return []


def cut_off(exact: int | Decimal, form: str, decimals: int = 2) -> int | Decimal:
    return Decimal(int(Decimal(exact) / 36)) / 100 if form == "hours" else exact


def without_premiums(*frames: Any) -> Any:
    return REAL_OWED(frames[0], PREMIUMS.empty(), *frames[2:])


def one_name_too_many(rows: Any, asked: Any) -> list[carried.LeftOut]:
    found = REAL_LEFT_OUT(rows, asked)
    return found and [*found, carried.LeftOut("call_back_hours", "call_back", 1, None, 1)]


REAL_OWED, REAL_LEFT_OUT = owed.owed_items, carried.left_out
FAULTS: dict[str, Callable[[pytest.MonkeyPatch], None]] = {
    "nothing is ever refused": lambda patch: patch.setattr(tables, "left_out", drop_nothing_said),
    "a field is named that is not needed": lambda patch: patch.setattr(tables, "left_out", one_name_too_many),
    "premiums are forgotten": lambda patch: patch.setattr(pay, "owed_items", without_premiums),
    "hours are cut off and not rounded": lambda patch: patch.setattr(fields, "rounded", cut_off),
    "all pay counts beside hours": lambda patch: patch.setattr(carried, "_holds_more_than_base", lambda one: False),
    "what is not known is nought": lambda patch: patch.setattr(
        fields.PayrollField, "exact", lambda one, row: sum(row.seconds.get(item, 0) for item in one.items)
        if one.is_time and not any(item.endswith(":") for item in one.items)
        else sum((amount or 0 for item, amount in row.amounts.items() if one.tells(item)), Decimal("0.00"))
    ),
    "all paid hours tell overtime": lambda patch: patch.setitem(
        fields.FIELDS, "paid_hours", fields.PayrollField(
            "paid_hours", "", "hours", *[frozenset(("ordinary", "overtime", "double"))] * 2
        )
    ),
}  # fmt: skip


@pytest.mark.parametrize("fault", FAULTS)
def test_the_property_sees_a_planted_fault(fault: str, monkeypatch: pytest.MonkeyPatch) -> None:
    FAULTS[fault](monkeypatch)

    @settings(max_examples=400, deadline=None, database=None, phases=[Phase.generate], report_multiple_bugs=False,
              suppress_health_check=list(HealthCheck))  # fmt: skip
    @given(MIXTURES, FIELD_SETS, st.booleans())
    def found(mixture: list[Week], names: set[str], by_week: bool) -> None:
        check_mixture(mixture, names, by_week)

    with pytest.raises(AssertionError):
        found()


OWN = [name for name in (*TIME, *SUMS) if len({**TIME, **SUMS}[name]) == 1 and name != "reopened_pay"]


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(MIXTURES, st.sets(st.sampled_from(OWN), min_size=1), st.booleans())
def test_a_file_with_one_row_for_each_code_holds_what_one_with_columns_does(
    mixture: list[Week], names: set[str], by_week: bool
) -> None:
    # what stands for one thing in time and in money is handed over once, by its time
    names -= {f"{name.removesuffix('_hours')}_pay" for name in names if name.endswith("_hours")}
    names -= {name.replace("_hours:", "_pay:") for name in names if "_hours:" in name}
    rows = rows_of(mixture, by_week=by_week)
    fields_of = ["person", *(["workweek"] if by_week else []), "code", "hours", "pay"]
    definition = ImportDefinition(
        columns=tuple(PayrollColumn(name, name) for name in fields_of),
        codes=tuple((name, f"0{place}") for place, name in enumerate(sorted(names))),
    )
    asked = pay.asked_by(definition, NIGHTS)
    wide = pay.asked_by(definition_of(names, by_week=by_week), NIGHTS)
    assert [one.field for one in pay.left_out(rows, asked.handing_over)] == [
        one.field for one in pay.left_out(rows, wide.handing_over)
    ]
    made = pay.payroll_table(asked, rows)
    sums: dict[str, Decimal] = {}
    for row in csv.DictReader(io.StringIO(pay.as_text_file(made).decode("utf-8-sig"), newline="")):
        sums[row["code"]] = sums.get(row["code"], Decimal(0)) + Decimal(row["hours"] or row["pay"] or 0)
    by_columns = {one.field: one.printed for one in pay.payroll_table(wide, rows).total.columns}
    for (name, code), one in zip(definition.codes, made.total.columns, strict=True):
        assert one.printed == by_columns[name] == sums.get(code, Decimal(0)), name
