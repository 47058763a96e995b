"""Regular rates and overtime premiums against the regulations' own examples.

cases.json holds each case with its source. Where a source rounded on the way, `expected.exact` holds the exact
result rounded once, and that is what is owed; the printed figure stands beside it. `numbers` says whether the
figures are the source's own or inputs made to exercise the rule; `sourced: memory` marks text not read again.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from evenhand.pay import deferred, earnings
from evenhand.pay.earnings import Earning
from evenhand.pay.regular_rate import (
    DOUBLE,
    TIME_AND_A_HALF,
    OvertimeDue,
    flat_sum_by_straight_hours,
    money,
    overtime_due,
    overtime_due_at_agreed_rate,
)

CASES = {case["id"]: case for case in json.loads((Path(__file__).parent / "cases.json").read_text())}


CHECKED: dict[str, set[str]] = {}

# Stated by the source and not computed here: rates it rounded before using them, where the exact sum is owed, and
# the labels and parts that only describe how the total came about.
NOT_COMPUTED = {
    "overtime_rate",
    "rate_increase",
    "half_increase",
    "overtime_on_hourly",
    "label_wages",
    "label_bonus",
    "old_week_pay",
    "new_week_pay",
    "straight_time_35_to_40",
    "total_two_weeks",
    "weeks",
}


def seconds(hours: str | int) -> int:
    exact = Fraction(hours) * 3600
    assert exact.denominator == 1
    return int(exact)


def over(worked_s: int, threshold: str) -> dict[Fraction, int]:
    return {TIME_AND_A_HALF: max(0, worked_s - seconds(threshold))}


def expect(case: dict[str, Any], name: str, amount: Fraction) -> None:
    """Compare with the exact figure where there is one, at the digits it is stated with."""
    expected = case["expected"]
    stated = expected.get("exact", {}).get(name, expected.get(name))
    if stated is None:
        return
    CHECKED.setdefault(case["id"], set()).add(name)
    digits = Decimal(stated)
    rounded = (Decimal(amount.numerator) / Decimal(amount.denominator)).quantize(digits, ROUND_HALF_UP)
    assert rounded == digits, f"{case['id']} {name}: {rounded} against {stated}, {case['source']}"


def week_earnings(given: dict[str, Any]) -> tuple[list[Earning], int]:
    """Read a case's inputs as the earnings of one week."""
    paid: list[Earning] = []
    if "rates" in given:
        worked = sum(seconds(rate["hours"]) for rate in given["rates"])
        paid += [earnings.hourly(Fraction(rate["rate"]), seconds(rate["hours"])) for rate in given["rates"]]
        return paid, worked
    if "day_hours" in given:
        rate = Fraction(given["hourly_rate"])
        shares = {name: seconds(given.get(f"{name}_hours", "0")) for name in ("day", "evening", "night")}
        worked = sum(shares.values())
        paid.append(earnings.hourly(rate, worked))
        paid += [
            earnings.hourly(Fraction(given[f"{name}_differential"]), shares[name], f"{name} differential")
            for name in ("evening", "night")
            if f"{name}_differential" in given
        ]
        return paid, worked
    worked = seconds(given["hours"])
    if "piece_earnings" in given:
        floor = given.get("guaranteed_hourly_rate")
        paid.append(earnings.piecework(Fraction(given["piece_earnings"]), worked, Fraction(floor) if floor else None))
        if "waiting_hours" in given:
            paid.append(earnings.hourly(Fraction(given["waiting_rate"]), seconds(given["waiting_hours"]), "waiting"))
    elif "day_rate" in given:
        paid.append(earnings.day_or_job_rate(Fraction(given["day_rate"]), given["days"]))
    elif "base_pay_for_all_hours" in given:
        paid.append(earnings.flat_sum(Fraction(given["base_pay_for_all_hours"])))
        paid.append(earnings.commission(Fraction(given["commission"])))
    else:
        paid.append(earnings.hourly(Fraction(given["hourly_rate"]), worked))
    if "nondiscretionary_bonus" in given:
        paid.append(earnings.bonus(Fraction(given["nondiscretionary_bonus"])))
    if "discretionary_bonus" in given:
        paid.append(earnings.excluded(Fraction(given["discretionary_bonus"]), "gift", "29 USC 207(e)(3)"))
    return paid, worked


def expect_week(case: dict[str, Any], due: OvertimeDue, overtime_s: int) -> None:
    expect(case, "regular_rate", due.regular_rate)
    expect(case, "straight_time_pay", due.straight)
    expect(case, "overtime_premium", Fraction(money(due.owed)))
    expect(case, "total_pay", Fraction(money(due.total)))
    expect(case, "overtime_hours", Fraction(overtime_s, 3600))
    expect(case, "half_time", due.regular_rate / 2)
    # What the sources call the overtime rate follows from a regular rate they rounded first where `exact` is given.
    if "exact" not in case["expected"]:
        expect(case, "overtime_rate", due.regular_rate * TIME_AND_A_HALF)
        expect(case, "overtime_earnings", due.regular_rate * TIME_AND_A_HALF * overtime_s / 3600)


def regular_rate_week(case: dict[str, Any]) -> None:
    paid, worked = week_earnings(case["inputs"])
    overtime = over(worked, case["inputs"].get("weekly_threshold", "40"))
    if "overtime_worked_at_rate" in case["inputs"]:
        agreed = Fraction(case["inputs"]["overtime_worked_at_rate"])
        due = overtime_due_at_agreed_rate(paid, agreed, overtime[TIME_AND_A_HALF])
    else:
        due = overtime_due(paid, worked, overtime)
    expect_week(case, due, overtime[TIME_AND_A_HALF])


def regular_rate_salary(case: dict[str, Any]) -> None:
    given = case["inputs"]
    covers = seconds(given["hours_salary_covers"])
    worked = seconds(given.get("hours", given["hours_salary_covers"]))
    salary = earnings.salary_for_hours(Fraction(given["weekly_salary"]), covers, worked)
    overtime = over(worked, given["weekly_threshold"])
    due = overtime_due([salary], worked, overtime)
    expect_week(case, due, overtime[TIME_AND_A_HALF])
    # An hour beyond the covered ones, still within the threshold, is paid at the rate itself.
    beyond = earnings.salary_for_hours(Fraction(given["weekly_salary"]), covers, covers + 3600)
    expect(case, "rate_hours_35_to_40", beyond.amount - Fraction(given["weekly_salary"]))
    expect(case, "rate_beyond_covered_hours", due.regular_rate * TIME_AND_A_HALF)


def regular_rate_fluctuating(case: dict[str, Any]) -> None:
    given = case["inputs"]
    worked = seconds(given["hours"])
    overtime = over(worked, given["weekly_threshold"])
    due = overtime_due([earnings.salary_for_whatever_hours(Fraction(given["weekly_salary"]))], worked, overtime)
    expect_week(case, due, overtime[TIME_AND_A_HALF])


def salary_conversion(case: dict[str, Any]) -> None:
    given = case["inputs"]
    if "monthly_salary" in given:
        weekly = earnings.monthly_to_weekly(Fraction(given["monthly_salary"]))
    else:
        weekly = earnings.semimonthly_to_weekly(Fraction(given["semimonthly_salary"]))
    covers = seconds(given.get("hours_salary_covers", "40"))  # California: always 40, Labor Code 515(d)
    expect(case, "weekly_equivalent", weekly)
    expect(
        case, "regular_rate", overtime_due([earnings.salary_for_hours(weekly, covers, covers)], covers, {}).regular_rate
    )


def premium_credit(case: dict[str, Any]) -> None:
    given = case["inputs"]
    if "flat_sum" in given or "hours_paid" in given:
        amount = (
            Fraction(given["flat_sum"])
            if "flat_sum" in given
            else Fraction(given["hours_paid"]) * Fraction(given["rate"])
        )
        flat = earnings.flat_sum(amount)
        expect(case, "creditable_toward_overtime", flat.creditable)
        expect(case, "included_in_regular_rate", flat.in_rate)
        return
    base = Fraction(given["hourly_rate"])
    if "premium_rate" in given:  # eight hours on Sunday and eight on the holiday
        worked = sum(seconds(hours) for hours in given["hours_by_day"].values())
        extra = earnings.premium(base, Fraction(given["premium_rate"]), seconds(16), for_hours=False)
    elif "contract_rate_over_8_in_day" in given:
        days = [seconds(hours) for hours in given["hours_by_day"]]
        worked, beyond = sum(days), sum(max(0, day - seconds(8)) for day in days)
        extra = earnings.premium(base, Fraction(given["contract_rate_over_8_in_day"]), beyond, for_hours=True)
    else:
        worked = seconds(given["weekday_hours"]) + seconds(given["saturday_hours"])
        extra = earnings.premium(
            base, Fraction(given["saturday_rate"]), seconds(given["saturday_hours"]), for_hours=False
        )
    overtime = over(worked, given["weekly_threshold"])
    due = overtime_due([earnings.hourly(base, worked), extra], worked, overtime)
    expect_week(case, due, overtime[TIME_AND_A_HALF])
    expect(case, "total_hours", Fraction(worked, 3600))
    expect(case, "premium_creditable", due.credit)
    expect(case, "statutory_premium_due", due.premium)
    expect(case, "additional_overtime_due", due.owed)


def bonus(case: dict[str, Any]) -> None:
    given = case["inputs"]
    if case["id"] == "us-778.210":
        # A percentage of straight and overtime pay alike raises both, so nothing more falls due. Averaging agrees.
        worked = seconds(given["hours"])
        plain = overtime_due([earnings.hourly(Fraction(given["hourly_rate"]), worked)], worked, over(worked, "40"))
        share = plain.total * Fraction(given["bonus_percent_of_total_earnings"]) / 100
        raised = Fraction(given["hourly_rate"]) * (1 + Fraction(given["bonus_percent_of_total_earnings"]) / 100)
        averaged = overtime_due([earnings.hourly(raised, worked)], worked, over(worked, "40"))
        expect(case, "earnings_before_bonus", plain.total)
        expect(case, "bonus", share)
        expect(case, "total_pay", plain.total + share)
        expect(case, "additional_overtime_due", averaged.total - plain.total - share)
    elif case["id"] == "us-fs54-attend-40":
        share = deferred.equal_weeks(Fraction(given["biweekly_bonus"]), 2)
        worked = seconds(given["hours"])
        paid = [earnings.hourly(Fraction(given["hourly_rate"]), worked), earnings.bonus(share)]
        due = overtime_due(paid, worked, over(worked, "40"))
        expect(case, "bonus_for_week", share)
        expect_week(case, due, worked - seconds(40))
        expect(case, "total_two_weeks", 2 * due.total)
    elif case["id"] == "us-fs54-shiftbonus":
        share = deferred.additional_overtime(
            Fraction(given["bonus"]), seconds(given["hours_14_days"]), seconds(given["overtime_hours"])
        )
        expect(case, "additional_overtime", share.premium)
    elif case["id"] == "us-778.502":
        # The sum is fixed whatever the hours, so all of it is the rate's, whatever its labels say.
        worked = seconds(given["hours"])
        due = overtime_due([earnings.flat_sum(Fraction(given["weekly_fixed_sum"]))], worked, over(worked, "40"))
        expect(case, "regular_rate", due.regular_rate)
        expect(case, "total_due", due.total)
    elif case["id"] == "us-778.503":
        for week, expected in zip(given["weeks"], case["expected"]["weeks"], strict=True):
            worked = seconds(week["hours"])
            hourly = earnings.hourly(Fraction(given["labelled_hourly_rate"]), worked)
            wages = overtime_due([hourly], worked, over(worked, "40"))
            expect({**case, "expected": expected}, "wages", wages.total)
            expect(
                {**case, "expected": expected}, "bonus", Fraction(money(wages.total)) * Fraction(week["percent"]) / 100
            )
    else:
        regular_rate_week(case)


def deferred_pay_allocation(case: dict[str, Any]) -> None:
    given = case["inputs"]
    worked, overtime = seconds(given["hours_in_week"]), seconds(given["overtime_hours"])
    if "monthly_commission" in given:
        share = deferred.month_to_week(Fraction(given["monthly_commission"]))
        expect(case, "commission_for_week", share)
        expect(case, "coefficient", Fraction(overtime, 2 * worked))
    else:
        share = deferred.equal_weeks(Fraction(given["bonus"]), given["weeks_earned"])
        expect(case, "bonus_for_week", share)
    expect(case, "additional_overtime", deferred.additional_overtime(share, worked, overtime).premium)


def guarantee(case: dict[str, Any]) -> None:
    given = case["inputs"]
    worked = seconds(given["guaranteed_hours"])
    due = overtime_due([earnings.hourly(Fraction(given["regular_rate"]), worked)], worked, over(worked, "40"))
    expect(case, "guarantee", due.total)


def workweek_change(case: dict[str, Any]) -> None:
    given = case["inputs"]
    rate = Fraction(given["hourly_rate"])
    before, overlap, after = (
        seconds(given[name])
        for name in ("hours_before_overlap_in_old_week", "hours_in_overlap", "hours_after_overlap_in_new_week")
    )

    def pay(old: int, fresh: int) -> Fraction:
        return sum(
            (
                overtime_due([earnings.hourly(rate, worked)], worked, over(worked, "40")).total
                for worked in (old, fresh)
            ),
            Fraction(0),
        )

    expect(case, "overlap_in_old_week_total", pay(before + overlap, after))
    expect(case, "overlap_in_new_week_total", pay(before, overlap + after))
    expect(case, "pay_at_least", max(pay(before + overlap, after), pay(before, overlap + after)))


def ca_flat_bonus(case: dict[str, Any]) -> None:
    given = case["inputs"]
    straight, overtime = seconds(given["straight_hours"]), seconds(given["overtime_1_5_hours"])
    worked = straight + overtime
    hourly = overtime_due(
        [earnings.hourly(Fraction(given["hourly_rate"]), worked)], worked, {TIME_AND_A_HALF: overtime}
    )
    per_hour, owed = flat_sum_by_straight_hours(Fraction(given["flat_bonus"]), straight, {TIME_AND_A_HALF: overtime})
    expect(case, "bonus_per_straight_hour", per_hour)
    expect(case, "overtime_on_bonus", owed)
    expect(case, "total_pay", hourly.total + Fraction(given["flat_bonus"]) + owed)
    assert str(money(hourly.total + Fraction(given["flat_bonus"]) + owed)) == case["expected"]["total_pay"]


KINDS: dict[str, Callable[[dict[str, Any]], None]] = {
    check.__name__: check
    for check in (
        regular_rate_week,
        regular_rate_salary,
        regular_rate_fluctuating,
        salary_conversion,
        premium_credit,
        bonus,
        deferred_pay_allocation,
        guarantee,
        workweek_change,
        ca_flat_bonus,
    )
}


@pytest.mark.parametrize("name", CASES)
def test_published_case(name: str) -> None:
    KINDS[CASES[name]["kind"]](CASES[name])
    left = set(CASES[name]["expected"]) - {"exact"} - CHECKED.get(name, set())
    assert left <= NOT_COMPUTED
    assert CHECKED[name]


def test_double_time_owes_the_whole_rate_once_more() -> None:
    # Hand arithmetic: 10.00 an hour, 14 h, 4 h at one and a half and 2 h at double: 140 + 20 + 20.
    worked = seconds(14)
    due = overtime_due(
        [earnings.hourly(Fraction(10), worked)], worked, {TIME_AND_A_HALF: seconds(4), DOUBLE: seconds(2)}
    )
    assert due.total == 180


def test_money_is_rounded_half_up_to_the_cent() -> None:
    assert [str(money(Fraction(n, 1000))) for n in (1005, 1004, 1006, -1005)] == ["1.01", "1.00", "1.01", "-1.01"]
