"""Hours of pay owed beside time worked, and the minimum wage: each at its day, to the cent."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

import polars as pl
import pytest

from evenhand.pay.earned.differentials import DifferentialRate
from evenhand.terms.settings import SiteRules
from tests.pay.weeks import CALIFORNIA, FEDERAL, SUNDAY, ZONE, Span, hours, paid, total

D = Decimal
MONDAY = date(2026, 3, 16)


def owed(kind: str, worth: str = "1", workday: date = SUNDAY, **more: Any) -> dict[str, Any]:
    return {"workday": workday, "kind": kind, "hours": D(worth), "says": "", "cites": "its rule"} | more


def premium(pay: Any) -> list[tuple[str, int, Decimal, Decimal]]:
    lines = pay.lines.filter(pl.col("part") == "premium").select("label", "seconds", "rate", "amount")
    return list(lines.iter_rows())


@pytest.mark.parametrize(
    ("kind", "label"),
    [
        ("meal", "premium for a meal period"),
        ("rest", "premium for rest periods"),
        ("reporting", "reporting time"),
        ("call_back", "call-back time"),
    ],
)
def test_premium_hours_are_paid_at_the_regular_rate(kind: str, label: str) -> None:
    # 50 h at 12.00 and a bonus of 50.00: the regular rate is 13.00, 2.5 hours of it 32.50. Overtime adds nothing.
    pay = paid(hours(50), on_roster="12.00", earned=[{"kind": "bonus", "amount": D(50)}], premiums=[owed(kind, "2.5")])
    assert premium(pay) == [(f"{label}, 2026-03-15", 9000, D(13), D("32.50"))]
    assert total(pay, "premiums") == D("32.50")
    assert total(pay, "worked_s") == 50 * 3600


def test_each_premium_cites_its_rule_and_californias_the_regular_rate_too() -> None:
    # 11 Cal.5th 858 (2021), from memory: a premium hour is at the regular rate, flat bonuses included.
    bonus = [{"kind": "flat_bonus", "amount": D(40)}]
    for rules, rate, cites in (
        (FEDERAL, D(21), "its rule"), (CALIFORNIA, D(21), "its rule; 11 Cal.5th 858 (2021)"),
    ):  # fmt: skip
        pay = paid(hours(40), on_roster="20.00", rules=rules, earned=bonus, premiums=[owed("meal")])
        assert pay.lines.filter(pl.col("part") == "premium").select("rate", "cites").rows() == [(rate, cites)]
    # The decision is about Labor Code 226.7; split shifts and reporting rest on the wage order alone.
    for kind in ("split_shift", "reporting", "call_back"):
        pay = paid(hours(40), on_roster="20.00", rules=CALIFORNIA, premiums=[owed(kind)])
        assert pay.lines.filter(pl.col("part") == "premium")["cites"].to_list() == ["its rule"]


TWO_WEEKS = {"earned_from": date(2026, 3, 8), "earned_to": date(2026, 3, 21)}
BEFORE = date(2026, 3, 8)


def reopened(pay: Any) -> list[tuple[Any, ...]]:
    lines = pay.lines.filter(pl.col("part") == "reopened").select("label", "seconds", "earned_in", "amount", "cites")
    return list(lines.iter_rows())


def test_a_later_bonus_reopens_an_earlier_meal_premium_for_its_share_of_the_rate() -> None:
    # Ferra v. Loews, 11 Cal.5th 858 (2021): a meal period's hour is owed at the regular rate, with bonuses. 400.00 for
    # two weeks of 40 h at 20.00: each week's share is 200.00, 5.00 an hour. The earlier hour was paid 20.00, so 5.00
    # are still owed; this week's is paid 25.00. A split shift's hour is at the minimum wage and stays.
    week, bonus = hours(40, week=BEFORE) + hours(40), [{"kind": "bonus", "amount": D(400)} | TWO_WEEKS]
    earlier = owed("meal", workday=BEFORE, workweek=BEFORE)
    split = owed("split_shift", workday=BEFORE, workweek=BEFORE)
    pay = paid(week, on_roster="20.00", rules=CALIFORNIA, earned=bonus, premiums=[earlier, split, owed("meal")])
    assert premium(pay)[0][2:] == (D(25), D(25))
    label = "premium hours on bonus, week of 2026-03-08"
    assert reopened(pay) == [(label, 3600, BEFORE, D(5), "11 Cal.5th 858 (2021)")]
    assert total(pay) == 800 + 400 + 25 + 5


def test_a_later_flat_bonus_reopens_premiums_by_the_hours_that_are_not_overtime() -> None:
    # 4 Cal.5th 542: 400.00 flat for two weeks, 200.00 each; the earlier week has 40 straight and 10 overtime hours:
    # 5.00 an hour. Two premium hours (meal and rest) owe 10.00, the ten of overtime 10 x 1.5 x 5.00 = 75.00.
    week, bonus = hours(50, week=BEFORE) + hours(40), [{"kind": "flat_bonus", "amount": D(400)} | TWO_WEEKS]
    due = [owed(kind, workday=BEFORE, workweek=BEFORE) for kind in ("meal", "rest")]
    pay = paid(week, on_roster="20.00", rules=CALIFORNIA, earned=bonus, premiums=due)
    assert [(label, amount) for label, _, _, amount, _ in reopened(pay)] == [
        ("overtime on flat bonus, week of 2026-03-08", D(75)),
        ("premium hours on flat bonus, week of 2026-03-08", D(10)),
    ]


# IWC wage orders, section 4(C): an hour at the minimum wage, 16.90 in 2026, less what the day pays above it: 8 h here.
# At 16.90 all of it is owed; at 17.90 8.00 of it are paid already; at 19.0125 8 x 2.1125 = 16.90 are.
SPLIT = [("16.90", "16.90"), ("17.90", "8.90"), ("19.00", "0.10"), ("19.0125", "0.00"), ("25.00", "0.00")]
DAY: list[Span] = [
    ("2026-03-15 06:00", "2026-03-15 10:00", "ordinary", ""),
    ("2026-03-15 13:00", "2026-03-15 17:00", "ordinary", ""),
    ("2026-03-16 06:00", "2026-03-16 10:00", "ordinary", ""),
]


@pytest.mark.parametrize(("rate", "amount"), SPLIT)
def test_a_split_shift_owes_an_hour_at_the_minimum_wage_less_what_the_day_pays_above_it(rate: str, amount: str) -> None:
    pay = paid(DAY, on_roster=rate, rules=CALIFORNIA, premiums=[owed("split_shift")])
    assert premium(pay) == [("premium for a split shift, 2026-03-15", 3600, D("16.90"), D(amount))]


@pytest.mark.parametrize(
    ("day", "on_roster", "kind", "amount"),
    [
        # 8 x 16.90 + 1.00 = 136.20 of 9 x 16.90 = 152.10: 15.90. Monday's differential is not the day's.
        ("2026-03-15", "16.90", DifferentialRate(Fraction(1)), "15.90"),
        ("2026-03-16", "16.90", DifferentialRate(Fraction(1)), "16.90"),
        # An hour at a quarter more: 0.25 x 16.90 = 4.225 are paid already, 12.675 owed.
        ("2026-03-15", "16.90", DifferentialRate(multiple=Fraction(5, 4)), "12.68"),
        # Below the minimum wage the hours are raised to it, and what a differential adds is paid beside them.
        ("2026-03-15", "16.00", DifferentialRate(Fraction(1)), "15.90"),
        # Paid for the day at one and a half times: set against overtime (29 USC 207(h)), as what overtime adds is.
        ("2026-03-15", "16.90", DifferentialRate(multiple=Fraction(3, 2), of_days=True), "16.90"),
    ],
)
def test_a_split_shifts_hour_is_held_against_the_differentials_of_its_day_too(
    day: str, on_roster: str, kind: DifferentialRate, amount: str
) -> None:
    # Aleman v. AirTouch, 209 Cal.App.4th 556: the day's pay against the minimum wage for its hours and one more.
    # Of the window one hour is worked.
    windows, due = [("night", f"{day} 09:00", f"{day} 12:00")], [owed("split_shift")]
    pay = paid(DAY, on_roster=on_roster, rules=CALIFORNIA, premiums=due, windows=windows, differentials={"night": kind})
    assert premium(pay)[0][3] == D(amount)


def test_a_salarys_differential_is_counted_once_for_a_split_shift() -> None:
    # 700.00 for 40 hours are 17.50; 12 hours at 1.00 more, over the 12 worked, make the regular rate 18.50. The day's
    # 8 h are 148.00 of 152.10: 4.10 are owed.
    salary = [{"plan": "salary_fixed", "amount": D(700), "covers_hours": D(40)}]
    windows, kind = [("night", "2026-03-15 00:00", "2026-03-17 00:00")], DifferentialRate(Fraction(1))
    due = [owed("split_shift")]
    pay = paid(DAY, rates=salary, rules=CALIFORNIA, premiums=due, windows=windows, differentials={"night": kind})
    assert premium(pay)[0][3] == D("4.10")


@pytest.mark.parametrize("made_by", ["california.weekly", "us_federal.overtime"])
@pytest.mark.parametrize("rates", [[], [{"amount": D(17)}, {"amount": D(17), "valid_from": MONDAY}]])
def test_a_split_shift_is_held_against_the_pay_of_its_whole_workday(made_by: str, rates: list[dict[str, Any]]) -> None:
    # Labor Code 500(a): a workday that begins at 02:30 runs to 02:30, wherever its time is cut at midnight or between
    # two rules. Eight hours of Sunday's at 17.00 pay 0.80 above the minimum wage: 16.10 are owed. Monday's has begun.
    late = replace(CALIFORNIA, workweek_s=9000)
    spans: list[Span] = [
        ("2026-03-15 10:00", "2026-03-15 14:00", "overtime", ""),
        ("2026-03-15 22:00", "2026-03-16 01:00", "overtime", ""),
        ("2026-03-16 01:00", "2026-03-16 02:00", "overtime", ""),
        ("2026-03-16 02:30", "2026-03-16 06:30", "overtime", ""),
    ]
    rules = ["california.weekly", "california.weekly", made_by, "california.weekly"]
    due = [owed("split_shift")]
    pay = paid(spans, on_roster="17.00", rates=rates, rules=late, premiums=due, one_shift=(0, 1, 2), made_by=rules)
    assert premium(pay)[0][2:] == (D("16.90"), D("16.10"))


def test_work_that_is_not_paid_by_the_hour_counts_at_the_regular_rate_for_a_split_shift() -> None:
    # A salary of 700.00 is 17.50 an hour for forty; Sunday's 8 h are 140.00, 9 h at 16.90 are 152.10: 12.10 are owed.
    salary = [{"plan": "salary_fixed", "amount": D(700), "covers_hours": D(40)}]
    pay = paid(DAY, rates=salary, rules=CALIFORNIA, premiums=[owed("split_shift")])
    assert premium(pay)[0][3] == D("12.10")


def test_a_split_shift_is_held_against_the_minimum_wage_of_its_own_day() -> None:
    # Labor Code 1182.12: 16.50 up to 31 December 2025, 16.90 from 1 January 2026 on, both in the week of 28 December.
    week = date(2025, 12, 28)
    for day, wage in ((date(2025, 12, 31), "16.50"), (date(2026, 1, 1), "16.90")):
        spans: list[Span] = [
            (f"{day} 06:00", f"{day} 10:00", "ordinary", ""),
            (f"{day} 13:00", f"{day} 17:00", "ordinary", ""),
        ]
        due = [owed("split_shift", workday=day, workweek=week)]
        pay = paid(spans, on_roster=wage, rules=CALIFORNIA, premiums=due, weeks=(week, week))
        assert premium(pay)[0][2:] == (D(wage), D(wage))


def test_a_week_over_new_year_is_held_against_each_days_minimum_wage() -> None:
    # Four days of 10 h at 16.50 from 30 December on: the two in 2026 are 20 x 0.40 = 8.00 short. 29 USC 206(a)(1)(C).
    week = date(2025, 12, 28)
    spans: list[Span] = [
        (f"{day} 06:00", f"{day} 16:00", "ordinary", "")
        for day in ("2025-12-30", "2025-12-31", "2026-01-01", "2026-01-02")
    ]
    pay = paid(spans, on_roster="16.50", rules=CALIFORNIA, weeks=(week, week))
    # In California each hour counts alone (135 Cal.App.4th 314); the first two days are not short, the last two are.
    assert total(pay, "minimum_due") == D(8)
    assert total(pay) == 40 * D("16.50") + 8
    assert pay.faults.select("kind", "seconds", "amount", "says", "cites").rows() == [
        ("below_minimum", 144_000, D(8), "pay for 2025-12-28 is 8.00 short of 16.50 for every hour worked, "
         "and raised by that", "Cal. Labor Code 1182.12; figure from the press, confirm it; 135 Cal.App.4th 314 (2005)")
    ]  # fmt: skip


def test_a_night_over_new_year_is_held_against_each_sides_minimum_wage() -> None:
    # Labor Code 1182.12: 16.90 from 1 January 2026 on. Of 22:00-06:00 at 16.50 six hours lie in the new year: 2.40.
    week = date(2025, 12, 28)
    night: list[Span] = [("2025-12-31 22:00", "2026-01-01 06:00", "ordinary", "")]
    assert total(paid(night, on_roster="16.50", rules=CALIFORNIA, weeks=(week, week)), "minimum_due") == D("2.40")


@pytest.mark.parametrize(
    ("rate", "short"), [("7.25", "0.00"), ("7.2499", "0.00"), ("7.24", "0.40"), ("7.2496", "0.02")]
)
def test_exactly_the_minimum_wage_is_enough(rate: str, short: str) -> None:
    # 29 USC 206(a)(1)(C): 40 h at 7.25 are 290.00. What is short is rounded to the cent: 0.004 is nothing due.
    pay = paid(hours(40), on_roster=rate)
    assert total(pay, "minimum_due") == D(short)
    assert pay.faults["kind"].to_list() == (["below_minimum"] if D(short) else [])


def test_a_rate_below_the_minimum_wage_is_raised_before_the_regular_rate_is_taken() -> None:
    # 29 CFR 778.5: 50 h at 7.00 are 350.00, 12.50 short of 50 x 7.25; the ten hours of overtime owe half of 7.25 more,
    # 36.25: 398.75 in all. At 7.00 they would owe 35.00.
    pay = paid(hours(50), on_roster="7.00")
    assert total(pay, "minimum_due") == D("12.50")
    assert total(pay, "regular_rate") == D("7.25")
    assert total(pay) == D("398.75")
    assert pay.lines.select("part", "label", "amount", "cites").rows()[1] == (
        "straight", "raised to the minimum wage", D("12.50"), "29 USC 206(a)(1)(C); 29 CFR 778.5"
    )  # fmt: skip


@pytest.mark.parametrize(
    ("rules", "source"),
    [
        (CALIFORNIA, ["Cal. Labor Code 1182.12; ", "135 Cal.App.4th 314 (2005); 29 CFR 778.5"]),
        (replace(FEDERAL, jurisdiction="nevada"), ["Nev. Const. art. 15, section 16 ", "29 CFR 778.5"]),
        (replace(FEDERAL, jurisdiction="alaska"), ["AS 23.10.065", "29 CFR 778.5"]),
        (replace(FEDERAL, jurisdiction="colorado"), ["7 CCR 1103-1", "29 CFR 778.5"]),
    ],
)
def test_what_raises_pay_cites_the_law_that_sets_the_minimum_wage(rules: SiteRules, source: list[str]) -> None:
    [cites] = paid(hours(8), on_roster="7.00", rules=rules).lines.filter(item="minimum_wage")["cites"]
    assert all(part in cites for part in source), cites


def test_a_week_over_two_minimum_wages_cites_both() -> None:
    # Nevada's 11.25 up to 30 June 2024 is NRS 608.250's, 12.00 from 1 July the constitution's.
    spans = [("2024-06-30 06:00", "2024-06-30 14:00", "ordinary", ""), ("2024-07-01 06:00", "2024-07-01 14:00",
              "ordinary", "")]  # fmt: skip
    nevada, week = replace(FEDERAL, jurisdiction="nevada"), date(2024, 6, 30)
    [cites] = paid(spans, on_roster="7.00", rules=nevada, weeks=(week, week)).lines.filter(item="minimum_wage")["cites"]
    assert cites.index("NRS 608.250 as amended in 2019") < cites.index("Nev. Const. art. 15, section 16 as amended")
    [later] = paid(spans[1:], on_roster="7.00", rules=nevada, weeks=(week, week)).lines.filter(item="minimum_wage")[
        "cites"
    ]
    assert "608.250" not in later


ARMENTA: list[Span] = [
    ("2026-03-16 06:00", "2026-03-16 14:00", "ordinary", "YARD"),
    ("2026-03-17 06:00", "2026-03-17 14:00", "ordinary", "YARD"),
    ("2026-03-18 06:00", "2026-03-18 14:00", "ordinary", ""),
    ("2026-03-19 06:00", "2026-03-19 14:00", "ordinary", ""),
]


def test_in_california_an_hour_paid_better_does_not_lift_another_to_the_minimum_wage() -> None:
    # Armenta v. Osmose, 135 Cal.App.4th 314: 16 h at 12.00 and 16 h at 25.00 are 18.50 on average, and yet each of the
    # sixteen is 4.90 short of 16.90: 78.40. A bonus of the week lifts none. Federal law averages: 18.50 is above 7.25.
    rates = [{"amount": D(25)}, {"amount": D(12), "reader": "YARD"}]
    assert total(paid(ARMENTA, rates=rates, rules=CALIFORNIA), "minimum_due") == D("78.40")
    bonus = [{"kind": "bonus", "amount": D(100)}]
    assert total(paid(ARMENTA, rates=rates, rules=CALIFORNIA, earned=bonus), "minimum_due") == D("78.40")
    assert total(paid(ARMENTA, rates=rates), "minimum_due") == D(0)
    # Time that is not paid by the hour is averaged over itself, with what is not by the hour: 16 h of pieces for
    # 200.00 and a bonus of 50.00 are 20.40 short of 270.40, whatever the other sixteen earn. (Our reading.)
    pieces = [{"amount": D(25)}, {"amount": D(1), "reader": "YARD", "plan": "piece"}]
    earned = [{"kind": "piece", "amount": D(200)}, {"kind": "bonus", "amount": D(50)}]
    assert total(paid(ARMENTA, rates=pieces, rules=CALIFORNIA, earned=earned), "minimum_due") == D("20.40")


def test_a_split_shift_below_the_minimum_wage_owes_one_hour_of_it_and_no_more() -> None:
    # Section 4(C): the eight hours at 15.00 are raised to 16.90 beside it, so that one hour at 16.90 is left.
    pay = paid(DAY, on_roster="15.00", rules=CALIFORNIA, premiums=[owed("split_shift")])
    assert premium(pay)[0][3] == D("16.90")
    assert total(pay, "minimum_due") == 12 * D("1.90")


def test_what_is_no_pay_for_work_does_not_fill_up_the_minimum_wage() -> None:
    # A gift is not counted; a bonus is, of one for two weeks the share; a salary's pay beyond its hours is.
    gift = paid(hours(40), on_roster="7.00", earned=[{"kind": "gift", "amount": D(50)}])
    assert total(gift, "minimum_due") == D(10)
    bonus = paid(hours(40), on_roster="7.00", earned=[{"kind": "bonus", "amount": D(4)}])
    assert total(bonus, "minimum_due") == D(6)
    longer = {"kind": "bonus", "amount": D(8), "earned_from": date(2026, 3, 8), "earned_to": date(2026, 3, 21)}
    assert total(paid(hours(40), on_roster="7.00", earned=[longer]), "minimum_due") == D(6)
    salary = [{"plan": "salary_fixed", "amount": D(145), "covers_hours": D(20)}]
    assert total(paid(hours(40), rates=salary), "minimum_due") == D(0)


def test_where_no_minimum_wage_is_known_nothing_is_short() -> None:
    europe = SiteRules("Mill", ZONE, "eu_2003_88")
    pay = paid(hours(40), on_roster="1.00", rules=europe)
    assert pay.faults.is_empty()
    assert pay.lines["cites"].to_list() == ["national law and agreements"]


def test_a_week_that_cannot_be_paid_has_its_time_and_no_money() -> None:
    pay = paid(hours(46), premiums=[owed("meal")])
    assert pay.weeks.row(0, named=True) == {
        "person": "P1", "workweek": SUNDAY, "worked_s": 46 * 3600, "regular_rate": None, "straight_pay": None,
        "overtime_premium": None, "premiums": None, "other_pay": None, "total_pay": None, "minimum_due": None,
    }  # fmt: skip
    assert pay.faults["kind"].to_list() == ["missing"]
