"""The regular rate over a period longer than the workweek: 8 and 80, and the work periods of public safety.

Sources: 29 USC 207(j) and 29 CFR 778.601 (14 days in lieu of the workweek "for purposes of overtime computation");
29 USC 207(k) and 29 CFR 553.230, 553.233; 29 CFR 778.106 (what cannot be told on the pay day is paid as soon after as
it can be). Figures are worked out by hand beside each case, unless another source is named there.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

import polars as pl

from evenhand.pay import DifferentialRate, Pay
from evenhand.terms.settings import SiteRules
from tests.pay.weeks import SUNDAY, ZONE, Span, hours, paid, total

D = Decimal
FIRST, SECOND, THIRD, FOURTH = date(2026, 2, 22), date(2026, 3, 1), date(2026, 3, 8), SUNDAY
FORTNIGHT = SiteRules("Mill", ZONE, "us_eight_and_eighty", fortnight=THIRD)
FIRE = SiteRules(
    "Mill", ZONE, "us_public_safety", public_safety="fire_protection", work_period_days=28, work_period=FIRST
)


def two_rates(first: str, then: str, since: date = FOURTH) -> list[dict[str, Any]]:
    return [{"amount": D(first), "valid_to": date.fromordinal(since.toordinal() - 1)}, {
        "amount": D(then), "valid_from": since}]  # fmt: skip


def premium(pay: Pay) -> list[tuple[date, Decimal]]:
    """Return what overtime adds to each week."""
    return list(pay.weeks.select("workweek", "overtime_premium").iter_rows())


def test_the_rate_is_that_of_the_fourteen_days() -> None:
    # 40 h and 48 h, of which 8 are past 80. (40 x 30 + 48 x 20) / 88 = 24.5455, and half of that for 8 h is 98.18.
    spans = hours(40, week=THIRD) + hours(48, week=FOURTH)
    falling = paid(spans, rules=FORTNIGHT, rates=two_rates("30", "20"), weeks=(THIRD, FOURTH))
    assert premium(falling) == [(THIRD, D("0.00")), (FOURTH, D("98.18"))]
    assert falling.weeks["regular_rate"].to_list() == [D("30"), D("24.5455")]
    # (40 x 20 + 48 x 30) / 88 = 25.4545.
    rising = paid(spans, rules=FORTNIGHT, rates=two_rates("20", "30"), weeks=(THIRD, FOURTH))
    assert premium(rising) == [(THIRD, D("0.00")), (FOURTH, D("101.82"))]
    # By the workweek it would be 80.00 and 120.00, as it is under the forty-hour week (29 CFR 778.104).
    weekly = paid(spans, rates=two_rates("30", "20"), weeks=(THIRD, FOURTH))
    assert premium(weekly)[-1] == (FOURTH, D("80.00"))


def test_an_attendance_bonus_for_the_fourteen_days() -> None:
    # Labor Department, Fact Sheet 54 (July 2009): 112 h at 12.00 with a bonus of 100.00, 32 h of them overtime, is
    # 1,444 / 112 = 12.892857 an hour and 1,344 + 100 + 32 x 6.4464 = 1,650.29; its 1,650.08 rounds the rates first.
    spans = hours(56, week=THIRD) + hours(56, week=FOURTH)
    bonus = {"kind": "bonus", "amount": D(100), "earned_from": THIRD, "earned_to": date(2026, 3, 21)}
    pay = paid(spans, rules=FORTNIGHT, on_roster="12.00", earned=[bonus], weeks=(THIRD, FOURTH))
    assert pay.weeks["total_pay"].sum() == D("1650.29")
    assert pay.weeks["regular_rate"].to_list() == [D(12), D("12.8929")]
    # What the bonus makes of the first week's overtime is a line of the second: of 206.29 in all, 96.00 was paid with
    # the first week, and 16 x 6.446429 = 103.14 are the second's own.
    later = pay.lines.filter(pl.col("label").str.contains("earlier weeks"))
    assert later.select("workweek", "seconds", "amount", "cites").rows() == [
        (FOURTH, 16 * 3600, D("7.15"), "29 USC 207(j); 29 CFR 778.106, 778.601")
    ]


def test_a_week_is_paid_alike_whichever_weeks_are_asked_for() -> None:
    # The period begins in one pay period and ends in the next: each file holds what is known at its end.
    spans = hours(50, week=THIRD) + hours(46, week=FOURTH)
    bonus = {"kind": "bonus", "amount": D(50), "earned_from": THIRD, "earned_to": THIRD}
    given: dict[str, Any] = {"rules": FORTNIGHT, "rates": two_rates("30", "20"), "earned": [bonus]}
    both = paid(spans, weeks=(THIRD, FOURTH), **given)
    # 1,550 / 50 = 31 for 10 h: 155.00. With the second week 2,470 / 96 = 25.729167 for 16 h: 205.83, less 155.00.
    assert premium(both) == [(THIRD, D("155.00")), (FOURTH, D("50.83"))]
    for week in (THIRD, FOURTH):
        alone = paid(spans, weeks=(week, week), **given)
        assert alone.weeks.rows() == both.weeks.filter(pl.col("workweek") == week).rows()
        assert alone.lines.rows() == both.lines.filter(pl.col("workweek") == week).rows()


def test_a_rate_that_falls_takes_back_what_the_first_week_was_paid_beyond_it() -> None:
    # 4 h of overtime at 30.00, then 40 h at 20.00 and none: (44 x 30 + 40 x 20) / 84 = 25.2381; 50.48 in all.
    spans = hours(44, week=THIRD) + hours(40, week=FOURTH)
    pay = paid(spans, rules=FORTNIGHT, rates=two_rates("30", "20"), weeks=(THIRD, FOURTH))
    assert premium(pay) == [(THIRD, D("60.00")), (FOURTH, D("-9.52"))]


def test_a_period_begins_anew_after_its_days() -> None:
    # Weeks of two periods: nothing of the one counts in the other.
    spans = hours(44, week=SECOND) + hours(44, week=THIRD)
    pay = paid(spans, rules=FORTNIGHT, rates=two_rates("30", "20", THIRD), weeks=(SECOND, THIRD))
    assert premium(pay) == [(SECOND, D("60.00")), (THIRD, D("40.00"))]


def test_a_work_period_of_28_days() -> None:
    # 29 CFR 553.230: 240 h are 28 past 212. (60 x 20 x 3 + 60 x 24) / 240 = 21.00; 28 x 10.50 = 294.00, not 336.00.
    spans = [one for week in (FIRST, SECOND, THIRD) for one in hours(60, over=60, week=week)]
    rates = two_rates("20", "24")
    pay = paid(spans + hours(60, over=32, week=FOURTH), rules=FIRE, rates=rates, weeks=(FIRST, FOURTH))
    assert premium(pay)[-1] == (FOURTH, D("294.00"))
    assert {cites for _, cites in pay.lines.filter(part="overtime").select("line", "cites").iter_rows()} == {
        "29 CFR 553.232, 553.233, 778.110-778.115"
    }


def test_salaries_are_divided_by_the_hours_they_cover_in_all_the_weeks() -> None:
    # 800.00 for 40 h, and 10 h a week beyond: 20.00 an hour; the bonus of 96.00 is over 96 h: 21.00. 16 x 10.50.
    spans = hours(50, week=THIRD) + hours(46, week=FOURTH)
    salary = {"plan": "salary_fixed", "amount": D(800), "covers_hours": D(40)}
    bonus = {"kind": "bonus", "amount": D(96), "earned_from": FOURTH, "earned_to": FOURTH}
    pay = paid(spans, rules=FORTNIGHT, rates=[salary], earned=[bonus], weeks=(THIRD, FOURTH))
    assert [amount for _, amount in premium(pay)] == [D("100.00"), D("68.00")]
    assert pay.weeks["regular_rate"].to_list() == [D(20), D(21)]


def test_a_salary_in_one_week_and_wages_in_the_other_are_averaged() -> None:
    # 29 CFR 778.115: 1,000.00 for 50 h beside 20.00 beyond 40, then 46 h at 30.00: 2,380 / 96 = 24.791667; x 16 / 2.
    spans = hours(50, week=THIRD) + hours(46, week=FOURTH)
    salary = {"plan": "salary_fixed", "amount": D(800), "covers_hours": D(40), "valid_to": date(2026, 3, 14)}
    rates = [salary, {"amount": D(30), "valid_from": FOURTH}]
    pay = paid(spans, rules=FORTNIGHT, rates=rates, weeks=(THIRD, FOURTH))
    assert pay.weeks["overtime_premium"].sum() == D("198.33")


def test_a_differential_of_one_week_counts_in_the_overtime_of_the_other() -> None:
    # 8 h at 4.00 more in the first week: (88 x 20 + 32) / 88 = 20.363636; 8 h of overtime in the second: 81.45.
    night = ("2026-03-09 06:00", "2026-03-09 14:00", "night")
    spans = hours(40, week=THIRD) + hours(48, week=FOURTH)
    pay = paid(
        spans, rules=FORTNIGHT, on_roster="20.00", weeks=(THIRD, FOURTH),
        windows=[(night[2], night[0], night[1])], differentials={"night": DifferentialRate(an_hour=Fraction(4))},
    )  # fmt: skip
    assert premium(pay) == [(THIRD, D("0.00")), (FOURTH, D("81.45"))]


def test_a_bonus_of_a_week_without_hours_counts_once_the_period_has_some() -> None:
    bonus = {"kind": "bonus", "amount": D(60), "earned_from": THIRD, "earned_to": THIRD}
    pay = paid(hours(60, week=FOURTH), rules=FORTNIGHT, on_roster="20.00", earned=[bonus], weeks=(THIRD, FOURTH))
    assert premium(pay)[-1] == (FOURTH, D("210.00"))  # (1,200 + 60) / 60 = 21.00, x 20 / 2
    alone = paid(hours(60, week=FOURTH), rules=FORTNIGHT, on_roster="20.00", earned=[bonus], weeks=(FOURTH, FOURTH))
    assert premium(alone) == [(FOURTH, D("210.00"))]


def test_a_premium_paid_in_the_first_week_is_credited_in_the_second() -> None:
    # 29 USC 207(h): 50.00 paid for long hours of the first week against 8 x 10.00 of the second.
    spans = hours(40, week=THIRD) + hours(48, week=FOURTH)
    extra = {"kind": "premium", "amount": D(50), "earned_from": THIRD, "earned_to": THIRD}
    pay = paid(spans, rules=FORTNIGHT, on_roster="20.00", earned=[extra], weeks=(THIRD, FOURTH))
    assert premium(pay) == [(THIRD, D("0.00")), (FOURTH, D("30.00"))]


def test_a_later_bonus_reopens_the_period_and_not_its_weeks() -> None:
    # 29 CFR 778.209 with 778.601: 280.00 over 28 days is 140.00 for each 14 days. The first had 50 and 40 h, 10 of them
    # overtime in its first week: 140 / 90 x 10 / 2 = 7.78; by the workweek it would be 70 / 50 x 10 / 2 = 7.00.
    spans = [
        one for week, count in zip((FIRST, SECOND, THIRD, FOURTH), (50, 40, 40, 40), strict=True)
        for one in hours(count, week=week)
    ]  # fmt: skip
    bonus = {"kind": "bonus", "amount": D(280), "earned_from": FIRST, "earned_to": date(2026, 3, 21)}
    pay = paid(spans, rules=FORTNIGHT, on_roster="20.00", earned=[bonus], weeks=(FOURTH, FOURTH))
    assert pay.lines.filter(part="reopened").select("earned_in", "amount").rows() == [(FIRST, D("7.78"))]


def test_a_rate_that_is_missing_in_the_first_week_leaves_the_second_unknown() -> None:
    spans = hours(40, week=THIRD) + hours(48, week=FOURTH)
    pay = paid(spans, rules=FORTNIGHT, rates=[{"amount": D(20), "valid_from": FOURTH}], weeks=(FOURTH, FOURTH))
    assert pay.weeks["total_pay"].to_list() == [None]
    assert pay.faults["says"].to_list() == [
        "the regular rate is that of the 14 days from 2026-03-08 on, and what the week of 2026-03-08 pays is not known"
    ]


def test_the_minimum_wage_is_held_against_each_workweek() -> None:
    # 29 USC 206 goes by the workweek: 40 h at 7.00 lack 10.00, whatever the second week pays. With it the period has
    # 290 + 48 x 20 = 1,250 / 88 = 14.204545; x 8 / 2.
    spans: list[Span] = hours(40, week=THIRD) + hours(48, week=FOURTH)
    pay = paid(spans, rules=FORTNIGHT, rates=two_rates("7", "20"), weeks=(THIRD, FOURTH))
    assert pay.weeks["minimum_due"].to_list() == [D("10.00"), D("0.00")]
    assert total(pay, "overtime_premium") == D("0.00")
    assert premium(pay)[-1] == (FOURTH, D("56.82"))
