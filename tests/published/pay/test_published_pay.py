"""Whole weeks of pay against the regulations' own examples.

cases.json holds each case with its source. Where a source rounded on the way, `expected.exact` holds the exact
result rounded once, and that is what is owed; the printed figure stands beside it. `numbers` says whether the
figures are the source's own or inputs made to exercise the rule; `sourced: memory` marks text not read again.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import timedelta
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import partial
from pathlib import Path
from typing import Any

import polars as pl
import pytest
from tests.pay import weeks
from tests.pay.weeks import CALIFORNIA, FEDERAL, SUNDAY, Span, hours, hours_at, total

from evenhand.pay import DifferentialRate, Pay

CASES = {case["id"]: case for case in json.loads((Path(__file__).parent / "cases.json").read_text())}
CHECKED: dict[str, set[str]] = {}
BEFORE = SUNDAY - timedelta(days=7)
D = Decimal
# Many figures were published while the minimum wage was lower than in the week they are tried in.
paid = partial(weeks.paid, minimum=False)

# Stated by the source and not computed here: rates it rounded before using them, where the exact sum is owed, sums of
# two weeks (each line is rounded by itself), a month's commission by the week (shares go by days), and the labels and
# parts that only describe how the total came about.
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
    "rate_beyond_covered_hours",
    "total_two_weeks",
    "commission_for_week",
    "weeks",
    "bonus",
}

# Each line is rounded by itself, so that a total may differ from the exact one: 200 x 41 / 35 = 234.285714 and
# 41 h's one hour of overtime at half of 5.714286 = 2.857143 are 234.29 and 2.86, of the exact 237.142857.
SUMS_OF_LINES = {"us-778.322": "237.15"}


def expect(case: dict[str, Any], name: str, amount: Decimal) -> None:
    """Compare with the exact figure where there is one, at the digits it is stated with, of which rates have four."""
    expected = case["expected"]
    stated = expected.get("exact", {}).get(name, expected.get(name))
    if stated is None:
        return
    CHECKED.setdefault(case["id"], set()).add(name)
    digits = max(D(stated).as_tuple().exponent, -4)
    places = D(1).scaleb(digits)
    assert amount.quantize(places, ROUND_HALF_UP) == D(stated).quantize(places, ROUND_HALF_UP), case["source"]


def expect_week(case: dict[str, Any], pay: Pay) -> None:
    """Compare everything that a case states of its week."""
    beyond = pay.lines.filter(pl.col("label").str.starts_with("overtime, the half"))
    half = D(beyond["rate"].sum())
    expect(case, "regular_rate", total(pay, "regular_rate"))
    expect(case, "straight_time_pay", total(pay, "straight_pay"))
    expect(case, "overtime_premium", total(pay, "overtime_premium"))
    expect(case, "additional_overtime_due", total(pay, "overtime_premium"))
    if case["id"] in SUMS_OF_LINES:
        assert total(pay) == D(SUMS_OF_LINES[case["id"]])
        CHECKED.setdefault(case["id"], set()).add("total_pay")
    else:
        expect(case, "total_pay", total(pay))
    expect(case, "total_due", total(pay))
    expect(case, "overtime_hours", D(beyond["seconds"].sum()) / 3600)
    expect(case, "total_hours", total(pay, "worked_s") / 3600)
    expect(case, "half_time", half)
    # What the sources call the overtime rate follows from a regular rate they rounded first where `exact` is given.
    if "exact" not in case["expected"] and beyond.height:
        expect(case, "overtime_rate", 3 * half)
        expect(case, "overtime_earnings", 3 * half * beyond["seconds"].sum() / 3600)


def regular_rate_week(case: dict[str, Any]) -> None:
    given = case["inputs"]
    over = float(given.get("weekly_threshold", "40"))
    if "rates" in given:
        parts = [(float(one["hours"]), f"R{place}") for place, one in enumerate(given["rates"])]
        rates = [{"amount": D(one["rate"]), "reader": f"R{place}"} for place, one in enumerate(given["rates"])]
        expect_week(case, paid(hours_at(parts, over=over), rates=rates))
        return
    if "day_hours" in given:
        names = [name for name in ("evening", "night") if f"{name}_differential" in given]
        parts = [(float(given["day_hours"]), ""), *((float(given[f"{name}_hours"]), name) for name in names)]
        spans = hours_at(parts, over=over)
        extra = {name: DifferentialRate(Fraction(given[f"{name}_differential"])) for name in names}
        windows = [(name, starts, ends) for starts, ends, _, name in spans if name]
        expect_week(case, paid(spans, on_roster=given["hourly_rate"], windows=windows, differentials=extra))
        return
    spans = hours(float(given["hours"]), over=over)
    earned: list[dict[str, Any]] = []
    plan: dict[str, Any] = {"on_roster": given.get("hourly_rate")}
    if "piece_earnings" in given:
        floor = given.get("guaranteed_hourly_rate")
        rates = [{"plan": "piece", "amount": D(1), "floor": floor and D(floor)}]
        earned.append({"kind": "piece", "amount": D(given["piece_earnings"])})
        if "waiting_hours" in given:
            spans = hours_at([(float(given["piece_hours"]), ""), (float(given["waiting_hours"]), "WAIT")], over=over)
            rates.append({"amount": D(given["waiting_rate"]), "reader": "WAIT"})
        plan = {"rates": rates}
    elif "day_rate" in given:
        spans = hours_at([(float(given["hours"]), "")], over=over, a_day=float(given["hours"]) / given["days"])
        plan = {"rates": [{"plan": "day", "amount": D(given["day_rate"])}]}
    elif "base_pay_for_all_hours" in given:
        plan = {"on_roster": "0"}
        earned.append({"kind": "flat_sum", "amount": D(given["base_pay_for_all_hours"])})
        earned.append({"kind": "commission", "amount": D(given["commission"])})
    if "nondiscretionary_bonus" in given:
        earned.append({"kind": "bonus", "amount": D(given["nondiscretionary_bonus"])})
    if "discretionary_bonus" in given:
        earned.append({"kind": "gift", "amount": D(given["discretionary_bonus"])})
    expect_week(case, paid(spans, earned=earned, **plan))


def regular_rate_salary(case: dict[str, Any]) -> None:
    given = case["inputs"]
    covers, over = D(given["hours_salary_covers"]), float(given["weekly_threshold"])
    salary = [{"plan": "salary_fixed", "amount": D(given["weekly_salary"]), "covers_hours": covers}]
    expect_week(case, paid(hours(float(given.get("hours", covers)), over=over), rates=salary))
    # An hour beyond the covered ones, still within the threshold, is paid at the rate itself, beyond it half more.
    beyond = paid(hours(float(covers) + 1, over=over), rates=salary)
    expect(case, "rate_hours_35_to_40", total(beyond) - D(given["weekly_salary"]))
    if "exact" not in case["expected"]:
        past, at = (total(paid(hours(worked, over=over), rates=salary)) for worked in (over + 1, over))
        expect(case, "overtime_rate", past - at)


def regular_rate_fluctuating(case: dict[str, Any]) -> None:
    given = case["inputs"]
    salary = [{"plan": "salary_fluctuating", "amount": D(given["weekly_salary"])}]
    expect_week(case, paid(hours(float(given["hours"]), over=float(given["weekly_threshold"])), rates=salary))


def salary_conversion(case: dict[str, Any]) -> None:
    given = case["inputs"]
    turn = "month" if "monthly_salary" in given else "half_month"
    amount = D(given["monthly_salary" if turn == "month" else "semimonthly_salary"])
    covers = given.get("hours_salary_covers")  # California: always 40, Labor Code 515(d)
    rate = {"plan": "salary_fixed", "amount": amount, "salary_for": turn, "covers_hours": D(covers or 45)}
    pay = paid(hours(40), rates=[rate], rules=FEDERAL if covers else CALIFORNIA)
    expect(case, "weekly_equivalent", total(pay))
    expect(case, "regular_rate", total(pay, "regular_rate"))


def premium_credit(case: dict[str, Any]) -> None:
    given = case["inputs"]
    if "flat_sum" in given or "hours_paid" in given:
        amount = D(given["flat_sum"]) if "flat_sum" in given else D(given["hours_paid"]) * D(given["rate"])
        base = given.get("hourly_rate", "12.00")
        plain = paid(hours(50), on_roster=base)
        pay = paid(hours(50), on_roster=base, earned=[{"kind": "flat_sum", "amount": amount}])
        expect(case, "creditable_toward_overtime", credited(pay))
        expect(case, "included_in_regular_rate",
               (total(pay, "regular_rate") - total(plain, "regular_rate")) * 50)  # fmt: skip
        return
    base = D(given["hourly_rate"])
    if "premium_rate" in given:  # eight hours on Sunday and eight on the holiday
        spans = hours_at([(56, "")], a_day=8)
        days = {"special": DifferentialRate(multiple=Fraction(given["premium_rate"]) / Fraction(base), of_days=True)}
        windows = [("special", f"2026-03-{day} 00:00", f"2026-03-{day} 23:00") for day in (15, 17)]
        pay = paid(spans, on_roster=str(base), windows=windows, differentials=days)
    elif "contract_rate_over_8_in_day" in given:
        spans = hours_at([(44, "")], a_day=11)
        extra = sum(int(day) - 8 for day in given["hours_by_day"]) * (D(given["contract_rate_over_8_in_day"]) - base)
        pay = paid(spans, on_roster=str(base), earned=[{"kind": "premium", "amount": extra}])
    else:
        spans = hours_at([(48, "")], a_day=8)
        days = {"sixth": DifferentialRate(multiple=Fraction(given["saturday_rate"]) / Fraction(base), of_days=True)}
        windows = [("sixth", "2026-03-20 00:00", "2026-03-20 23:00")]
        pay = paid(spans, on_roster=str(base), windows=windows, differentials=days)
    expect_week(case, pay)
    worked = total(pay, "worked_s") / 3600
    owed = pay.lines.filter(pl.col("part") == "overtime", pl.col("amount") > 0)["amount"].sum()
    expect(case, "statutory_premium_due", D(owed))
    if "premium_rate" in given or "saturday_rate" in given:
        counts = total(pay, "regular_rate") > base
        expect(case, "premium_creditable", D(0) if counts else total(pay, "straight_pay") - base * worked)
    else:
        expect(case, "premium_creditable", total(pay, "straight_pay") - base * worked)


def credited(pay: Pay) -> Decimal:
    """Return what was set against the overtime due."""
    return D(-pay.lines.filter(pl.col("amount") < 0)["amount"].sum())


def bonus(case: dict[str, Any]) -> None:
    given = case["inputs"]
    if case["id"] == "us-778.210":
        # A percentage of straight and overtime pay alike raises both, so nothing more falls due: as a raise does.
        plain = paid(hours(float(given["hours"])), on_roster=given["hourly_rate"])
        percent = D(given["bonus_percent_of_total_earnings"])
        raised = paid(hours(float(given["hours"])), on_roster=str(D(given["hourly_rate"]) * (1 + percent / 100)))
        expect(case, "earnings_before_bonus", total(plain))
        expect(case, "bonus", total(raised) - total(plain))
        expect(case, "total_pay", total(raised))
        expect(case, "additional_overtime_due", total(raised) - total(plain) * (1 + percent / 100))
    elif case["id"] == "us-fs54-attend-40":
        worked = float(given["hours"])
        earned = [{"kind": "bonus", "amount": D(given["biweekly_bonus"]), "earned_from": BEFORE,
                   "earned_to": SUNDAY + timedelta(days=6)}]  # fmt: skip
        pay = paid(hours(worked, week=BEFORE) + hours(worked), on_roster=given["hourly_rate"], earned=earned)
        (reopened,) = pay.lines.filter(pl.col("part") == "reopened")["amount"]
        share = D(given["biweekly_bonus"]) / 2
        expect(case, "bonus_for_week", share)
        expect(case, "regular_rate", total(pay, "regular_rate"))
        expect(case, "overtime_premium", total(pay, "overtime_premium") - reopened)
        expect(case, "total_pay", total(pay) - reopened - share)
        # The earlier week owes the half on its share for 16 of 56 hours: 50 x 16 / (2 x 56) = 7.142857.
        assert reopened == D("7.14")
    elif case["id"] == "us-fs54-shiftbonus":
        worked, over = float(given["hours_14_days"]), float(given["hours_14_days"]) - float(given["overtime_hours"])
        spans = hours_at([(worked, "")], over=over, a_day=13)
        pay = paid(spans, on_roster="0", earned=[{"kind": "bonus", "amount": D(given["bonus"])}])
        expect(case, "additional_overtime", total(pay, "overtime_premium"))
    elif case["id"] == "us-778.502":
        # The sum is fixed whatever the hours, so all of it is the rate's, whatever its labels say.
        earned = [{"kind": "flat_sum", "amount": D(given["weekly_fixed_sum"])}]
        expect_week(case, paid(hours(float(given["hours"])), on_roster="0", earned=earned))
    elif case["id"] == "us-778.503":
        for week, expected in zip(given["weeks"], case["expected"]["weeks"], strict=True):
            pay = paid(hours(float(week["hours"])), on_roster=given["labelled_hourly_rate"])
            expect({**case, "expected": expected}, "wages", total(pay))
    else:
        regular_rate_week(case)


def deferred_pay_allocation(case: dict[str, Any]) -> None:
    """A payment settled with a later week, whose share the week of the case has to bear."""
    given = case["inputs"]
    worked, over = float(given["hours_in_week"]), float(given["hours_in_week"]) - float(given["overtime_hours"])
    if "monthly_commission" in given:  # two weeks, of which each bears a month's share of the example
        amount, kind, since = D(case["expected"]["commission_for_week"]) * 2, "commission", BEFORE
    else:
        amount, kind = D(given["bonus"]), "bonus"
        since = SUNDAY - timedelta(days=7 * (given["weeks_earned"] - 1))
    earned = [{"kind": kind, "amount": amount, "earned_from": since, "earned_to": SUNDAY + timedelta(days=6)}]
    pay = paid(hours(worked, over=over, week=BEFORE), on_roster="10.00", earned=earned)
    (owed,) = pay.lines.filter(pl.col("part") == "reopened")["amount"]
    share = amount * 7 / ((SUNDAY - since).days + 7)
    expect(case, "additional_overtime", owed)
    expect(case, "bonus_for_week", share)
    expect(case, "coefficient", owed / share)


def guarantee(case: dict[str, Any]) -> None:
    given = case["inputs"]
    expect(case, "guarantee", total(paid(hours(float(given["guaranteed_hours"])), on_roster=given["regular_rate"])))


def workweek_change(case: dict[str, Any]) -> None:
    given = case["inputs"]
    before, overlap, after = (
        float(given[name])
        for name in ("hours_before_overlap_in_old_week", "hours_in_overlap", "hours_after_overlap_in_new_week")
    )

    def pay(old: float, fresh: float) -> Decimal:
        return sum((total(paid(hours(worked), on_roster=given["hourly_rate"])) for worked in (old, fresh)), D(0))

    expect(case, "overlap_in_old_week_total", pay(before + overlap, after))
    expect(case, "overlap_in_new_week_total", pay(before, overlap + after))
    expect(case, "pay_at_least", max(pay(before + overlap, after), pay(before, overlap + after)))


def ca_flat_bonus(case: dict[str, Any]) -> None:
    given = case["inputs"]
    worked = float(given["straight_hours"]) + float(given["overtime_1_5_hours"])
    spans = hours(worked, over=float(given["straight_hours"]))
    earned = [{"kind": "flat_bonus", "amount": D(given["flat_bonus"])}]
    pay = paid(spans, on_roster=given["hourly_rate"], earned=earned, rules=CALIFORNIA)
    (per_hour,) = pay.lines.filter(pl.col("label").str.contains("by the hours that are not overtime"))["rate"]
    expect(case, "bonus_per_straight_hour", per_hour)
    expect(case, "overtime_on_bonus", per_hour * D("1.5") * D(given["overtime_1_5_hours"]))
    assert total(pay) == D(case["expected"]["total_pay"])
    CHECKED[case["id"]].add("total_pay")


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
    spans: list[Span] = [
        ("2026-03-15 06:00", "2026-03-15 14:00", "ordinary", ""),
        ("2026-03-15 14:00", "2026-03-15 18:00", "overtime", ""),
        ("2026-03-15 18:00", "2026-03-15 20:00", "double", ""),
    ]
    assert total(paid(spans, on_roster="10.00")) == 180
