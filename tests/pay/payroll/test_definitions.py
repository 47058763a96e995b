"""A payroll's own way: one row a code or a person, its codes and forms, and definitions that do not fit refused."""

from __future__ import annotations

import csv
import io
from datetime import date
from decimal import Decimal
from typing import Any

import pandas
import pytest

from evenhand import pay
from evenhand.pay import PayrollRow
from evenhand.terms.payroll import ImportDefinition, PayrollColumn
from evenhand.terms.records import Refusal

WEEK = date(2026, 11, 1)
BY_CODE = tuple(
    PayrollColumn(field.upper(), field) for field in ("person", "code", "hours", "pay", "period_last")
)  # fmt: skip
CODES = (
    ("ordinary_hours", "0100"),
    ("overtime_hours", "0120"),
    ("meal_premium_hours", "0400"),
    ("meal_premium_pay", "0400"),
    ("differential_hours:night", "0300"),
    ("earned_bonus", "0600"),
)
SECONDS = {"ordinary": 144_000, "overtime": 18_090, "meal_premium": 3_600, "differential:night": 7_200}
AMOUNTS = {"meal_premium": Decimal("20.00"), "earned_bonus": Decimal("1090.50"), "base": Decimal("900.50")}


def row(person: str = "0042", **given: Any) -> PayrollRow:
    of = {"seconds": SECONDS, "amounts": AMOUNTS, "is_known": True, "rates": 1, **given}
    return PayrollRow(person, f"name of {person}", "7", "Mill", "", None, None, WEEK, date(2026, 11, 14), **of)


def table(rows: list[PayrollRow], **given: Any) -> pay.PayrollTable:
    asked = pay.asked_by(ImportDefinition(**{"columns": BY_CODE, "codes": CODES, **given}), ("night",))
    pay.check_all_handed_over(asked, rows)
    return pay.payroll_table(asked, rows)


def test_each_code_has_a_row_with_its_hours_its_money_or_both() -> None:
    made = table([row(), row("0043", seconds={"ordinary": 3_600}, amounts={"base": Decimal(20)})])
    last = date(2026, 11, 14)
    assert made.cells == (
        ("0042", "0100", Decimal("40.00"), None, last),
        ("0042", "0120", Decimal("5.03"), None, last),
        ("0042", "0400", Decimal("1.00"), Decimal("20.00"), last),
        ("0042", "0300", Decimal("2.00"), None, last),
        ("0042", "0600", None, Decimal("1090.50"), last),
        ("0043", "0100", Decimal("1.00"), None, last),
    )
    assert [(one.header, one.as_printed) for one in made.total.columns] == [
        ("0100", "41.00"), ("0120", "5.03"), ("0400", "1.00"), ("0400", "20.00"), ("0300", "2.00"), ("0600", "1090.50"),
    ]  # fmt: skip
    assert (made.total.rows, made.total.people, made.total.money) == (6, 2, Decimal("1110.50"))


def test_one_column_may_hold_hours_or_money_as_the_code_says() -> None:
    columns = tuple(PayrollColumn(field, field) for field in ("person", "code", "value"))
    codes = (("ordinary_hm", "1"), ("overtime_minutes", "2"), ("meal_premium_pay", "4"), ("earned_bonus", "6"),
             ("differential_hours:night", "3"))  # fmt: skip
    made = table([row()], columns=columns, codes=codes)
    assert [cells[1:] for cells in made.cells] == [
        ("1", "40:00"), ("2", 302), ("4", Decimal("20.00")), ("6", Decimal("1090.50")), ("3", Decimal("2.00")),
    ]  # fmt: skip


def test_a_code_that_is_missing_is_refused_as_a_column_is() -> None:
    with pytest.raises(Refusal) as refusal:
        table([row()], codes=CODES[:2])
    assert str(refusal.value) == (
        "evenhand.toml [handoff.columns] has no codes for all that is owed; left out would be "
        '1.00 hours of meal premium to 1 person (add "meal_premium_hours"); '
        '1090.50 of bonus to 1 person (add "earned_bonus"); '
        '2.00 hours of night to 1 person (add "differential_hours:night").'
    )


def test_the_file_is_written_as_its_definition_says_and_reads_back_to_its_totals() -> None:
    given = {"delimiter": ";", "decimal_mark": ",", "day": "DD.MM.YYYY", "line_end": "\n", "has_mark": False}
    made = table([row(), row("0043")], **given)
    text = pay.as_text_file(made)
    assert text.split(b"\n")[:2] == [b"PERSON;CODE;HOURS;PAY;PERIOD_LAST", b"0042;0100;40,00;;14.11.2026"]
    # pandas reads it by the same words, outside this project
    frame = pandas.read_csv(
        io.BytesIO(text), sep=";", decimal=",", dtype={"PERSON": str, "CODE": str},
        parse_dates=["PERIOD_LAST"], dayfirst=True,
    )  # fmt: skip
    assert frame["PERSON"].tolist()[:1] == ["0042"]
    sums = frame.groupby("CODE")[["HOURS", "PAY"]].sum()
    assert (sums.loc["0100", "HOURS"], sums.loc["0400", "PAY"], sums.loc["0600", "PAY"]) == (80.0, 40.0, 2181.0)
    assert set(frame["PERIOD_LAST"]) == {pandas.Timestamp(2026, 11, 14)}
    assert pay.as_text_file(table([row()], **given, has_header=False)).startswith(b"0042;0100;")


def test_hours_may_have_more_decimals() -> None:
    assert table([row()], decimals=4).cells[1][2] == Decimal("5.0250")  # 18,090 s


def test_what_is_below_zero_stays_a_number_and_nothing_runs() -> None:
    less = {"ordinary": -5_400}
    columns = (
        *(PayrollColumn(field, field) for field in ("person", "name", "workweek", "ordinary_hours", "earned_gift")),
    )
    corrects = row("=1+1", seconds=less, amounts={"earned_gift": Decimal("-2.50")}, adjusts=WEEK)
    for mark, figures in ((".", ["-1.50", "-2.50"]), (",", ["-1,50", "-2,50"])):
        made = table([corrects], columns=columns, codes=(), decimal_mark=mark)
        [cells] = list(csv.reader(io.StringIO(pay.as_text_file(made).decode("utf-8-sig"))))[1:]
        # OWASP, "CSV Injection": = at the start of a cell begins a formula; a number with its sign is a number
        assert cells == ["'=1+1", "name of =1+1", "", *figures]
        assert pay.changed_cells(made) == 1
    with pytest.raises(Refusal, match=r'-1:30 for a formula; ask for "ordinary_minutes" in its place'):
        table([corrects], columns=(*columns, PayrollColumn("hm", "ordinary_hm")), codes=())


def test_a_character_that_the_encoding_lacks_is_refused_and_never_replaced() -> None:
    columns = tuple(PayrollColumn(field, field) for field in ("person", "name", "ordinary_hours"))
    plain = {"seconds": {"ordinary": 3600}, "amounts": {}, "is_known": False}
    made = table([row("Ł1", **plain)], columns=columns, codes=(), encoding="windows-1252", has_mark=False)
    with pytest.raises(Refusal, match=r'"Ł" in line 2 of the file cannot be written in windows-1252; choose another'):
        pay.as_text_file(made)
    fits = table([row("É1", **plain)], columns=columns, codes=(), encoding="windows-1252", has_mark=False)
    assert b"\xc91" in pay.as_text_file(fits)


def test_what_corrects_an_earlier_week_needs_a_column_that_says_so() -> None:
    columns = tuple(PayrollColumn(field, field) for field in ("person", "ordinary_hours"))
    corrects = row(seconds={"ordinary": 60}, amounts={}, adjusts=WEEK)
    with pytest.raises(Refusal, match=r'which earlier week is corrected, for 1 person \(add "adjusts"\)'):
        table([corrects], columns=columns, codes=())
    with pytest.raises(Refusal, match=r'"adjusts" is a column beside the codes, and no code\.$'):
        table([corrects])
    [cells] = table([corrects], columns=(*columns, PayrollColumn("Of", "adjusts")), codes=()).cells
    assert cells == ("0042", Decimal("0.02"), WEEK)


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"columns": BY_CODE[1:]}, "has no column that says whose a row is; add one with the field person"),
        ({"columns": (BY_CODE[0],)}, "codes are given, but no column has the field code"),
        ({"columns": BY_CODE[:3]}, 'the code "0400" stands for meal_premium_pay, but no column has the field pay'),
        ({"columns": (*BY_CODE, PayrollColumn("A", "paid_hours"))}, 'would repeat "paid_hours" in each'),
        ({"columns": (*BY_CODE, PayrollColumn("A", "value"))}, "value holds what hours and pay would"),
        (
            {"codes": (*CODES, ("double_hours", "0100"))},
            'the code "0100" stands for two things, ordinary_hours and double',
        ),
        (
            {"codes": (*CODES, ("paid_hours", "0101"))},
            'what both "0100" (ordinary_hours) and "0101" (paid_hours) stand for',
        ),
        (
            {"codes": (*CODES, ("premium_pay", "0401"))},
            'what both "0400" (meal_premium_hours) and "0401" (premium_pay)',
        ),
        (
            {"codes": (*CODES[2:], ("total_pay", "9"))},
            '"0400" (meal_premium_hours) and "9" (total_pay) stand for twice; keep',
        ),
        ({"codes": (*CODES, ("recorded_hours", "9"))}, "recorded_hours, which nobody is owed; leave it out"),
        ({"codes": (*CODES, ("double_hm", "0130"))}, "the codes' time is in several forms in one column"),
        ({"codes": (*CODES, ("workweek", "9"))}, '"workweek" is no time and no money'),
        ({"codes": (("shoe_hours", "1"),)}, 'code "1": there is no field "shoe_hours"; choose one of person'),
        ({"codes": (("differential_hours:noon", "1"),)}, 'there is no field "differential_hours:noon"'),
        ({"codes": (("ordinary_hours", "=1"),)}, '"=1" would run as a formula in a spreadsheet'),
        ({"codes": ()}, 'the field "code" belongs to a file with one row for each code'),
    ],
)
def test_a_definition_that_does_not_fit_is_refused(given: dict[str, Any], says: str) -> None:
    with pytest.raises(Refusal) as refusal:
        table([], **given)
    assert says in str(refusal.value)


TWO_RATES = {"ordinary": 144_000, "overtime": 18_000}
AT_TWO_RATES = {"base": Decimal("950.00"), "overtime_premium": Decimal("52.78")}
IN_HOURS = (("ordinary_hours", "01"), ("overtime_hours", "02"))


@pytest.mark.parametrize(
    ("time", "money"),
    [
        ("ordinary_hours", "base_pay"),
        ("paid_minutes", "base_pay"),
        ("overtime_hm", "straight_pay"),
        ("double_hours", "total_pay"),
        ("overtime_hours", "overtime_premium"),
    ],
)
def test_worked_time_under_a_code_of_hours_and_one_of_money_is_refused(time: str, money: str) -> None:
    """Each code is paid, and pay at the rates of work holds every hour once: common practice, no source."""
    with pytest.raises(Refusal, match="twice; keep one of them"):
        table([row()], codes=((time, "01"), (money, "40")))


def test_a_file_of_codes_in_hours_is_told_to_have_worked_time_in_money_where_hours_do_not_tell_it() -> None:
    """29 CFR 778.115: overtime at two rates is owed on their weighted average, which no hours tell."""
    of = [row(seconds=TWO_RATES, amounts=AT_TWO_RATES, rates=2)]
    with pytest.raises(Refusal) as refused:
        table(of, codes=IN_HOURS)
    assert str(refused.value).endswith(
        'left out would be 950.00 of pay for time at several rates to 1 person (add "base_pay"). Each code is paid, '
        "and pay at the rates of work holds every hour once: have worked time in money alone, by "
        '"base_pay" and "overtime_premium", and take away ordinary_hours and overtime_hours.'
    )
    made = table(of, codes=(("base_pay", "40"), ("overtime_premium", "41")))
    assert [(cells[1], cells[2], cells[3]) for cells in made.cells] == [
        ("40", None, Decimal("950.00")), ("41", None, Decimal("52.78")),
    ]  # fmt: skip


def test_a_file_of_codes_in_money_asks_for_money_and_for_rates_never_for_hours() -> None:
    known = row(seconds=TWO_RATES, amounts=AT_TWO_RATES, rates=2)
    unknown = row("0043", seconds={"ordinary": 3_600}, amounts={}, is_known=False)
    with pytest.raises(Refusal) as refused:
        table([known, unknown], codes=(("base_pay", "40"),))
    assert '5.00 hours of overtime to 1 person (add "overtime_premium")' in str(refused.value)
    assert "1.00 hours of ordinary time to 1 person whose pay is not known (give a rate)" in str(refused.value)
    assert "_hours" not in str(refused.value)


def test_columns_of_hours_beside_pay_say_which_of_them_to_pay() -> None:
    of = [row(seconds=TWO_RATES, amounts=AT_TWO_RATES | {"reopened": Decimal("3.00")}, rates=2)]
    chosen = pay.default_columns((), of)
    fields = [column.field for column in chosen]
    assert fields[-2:] == ["base_pay", "overtime_premium"]
    assert "reopened_pay" not in fields  # it is in overtime_premium
    made = table(of, columns=chosen, codes=())
    assert made.paid_once == (
        'Pay worked time once: by "Base pay" and "Overtime premium" where they have a figure; do not pay Ordinary '
        'hours, Overtime hours, Double-time hours again there. Where "Base pay" is empty, pay the hours.'
    )
    one_rate = [row(seconds=TWO_RATES, amounts=AT_TWO_RATES)]
    assert not table(one_rate, columns=pay.default_columns((), one_rate), codes=()).paid_once


def test_hours_of_overtime_beside_what_overtime_adds_say_which_of_them_to_pay() -> None:
    # 8 hours at a regular rate of 24.5455 for the 14 days add 98.18 (29 CFR 778.601), which hours alone do not tell.
    amounts = {"base": Decimal("960.00"), "overtime_premium": Decimal("98.18")}
    of = [row(seconds={"ordinary": 144_000, "overtime": 28_800}, amounts=amounts)]
    names = ("person", "ordinary_hours", "overtime_hours", "overtime_premium")
    columns = tuple(PayrollColumn(name.capitalize(), name) for name in names)
    assert table(of, columns=columns, codes=()).paid_once == (
        'Pay overtime once: "Overtime_premium" is all that overtime and double time add to straight pay. Where it has '
        "a figure, pay Overtime_hours at the rate of the work and no more; where it is empty, work out what they add."
    )
    assert not table(of, columns=columns[:3], codes=()).paid_once
