"""What is earned beside the hours, and over longer times: shares by days, reopened weeks, credits, pieces and days."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any

import polars as pl
import pytest

from evenhand.pay import DifferentialRate
from evenhand.pay.compute import earliest_earned
from evenhand.terms.settings import SiteRules
from evenhand.terms.wages import EARNINGS
from tests.pay.weeks import CALIFORNIA, SUNDAY, ZONE, Span, hours, hours_at, paid, total

D = Decimal
BEFORE, SATURDAY = date(2026, 3, 8), date(2026, 3, 21)


def longer(kind: str, amount: str, since: date = BEFORE, until: date = SATURDAY, **more: Any) -> dict[str, Any]:
    return {"kind": kind, "amount": D(amount), "earned_from": since, "earned_to": until, **more}


def reopened(pay: Any) -> list[tuple[date, Decimal]]:
    lines: list[tuple[date, Decimal]] = (
        pay.lines.filter(pl.col("part") == "reopened").select("earned_in", "amount").rows()
    )
    return lines


def test_a_share_goes_by_days_and_the_last_day_decides_with_which_week_it_is_paid() -> None:
    # 100.00 for ten days, Thursday 12 to Saturday 21 March: three of them in the first week, seven in the second.
    # 29 CFR 778.209(b), by days. First week, 50 h: 30 x 10 / (2 x 50) = 3.00. Second, 46 h: 530 / 46 = 11.521739.
    spans = hours(50, week=BEFORE) + hours(46)
    pay = paid(spans, on_roster="10.00", earned=[longer("bonus", "100", since=date(2026, 3, 12))])
    assert reopened(pay) == [(BEFORE, D("3.00"))]
    assert total(pay, "regular_rate") == D("11.5217")
    assert total(pay) == D("460") + D("100") + D("34.57") + D("3.00")
    # Up to Sunday it is paid with the next week, and up to Saturday with this one.
    sunday = paid(spans, on_roster="10.00", earned=[longer("bonus", "100", until=date(2026, 3, 22))])
    assert total(sunday) == D("460") + D("30.00")


def test_a_payment_within_one_week_reopens_nothing_whatever_day_it_is_for() -> None:
    spans = hours(50, week=BEFORE) + hours(46)
    for first, last in ((SUNDAY, SUNDAY), (SUNDAY, SATURDAY), (SATURDAY, SATURDAY)):
        pay = paid(spans, on_roster="10.00", earned=[longer("bonus", "46", since=first, until=last)])
        assert reopened(pay) == []
        assert total(pay, "regular_rate") == D(11)


def test_the_workweek_of_the_site_decides_what_is_one_week() -> None:
    # Monday weeks: Sunday the 15th is the last day of the week of the 9th.
    monday = SiteRules("Mill", ZONE, workweek_day=0)
    spans: list[Span] = [("2026-03-10 06:00", "2026-03-10 16:00", "ordinary", "")]
    weeks = (date(2026, 3, 9), date(2026, 3, 9))
    earned = [longer("bonus", "10", since=date(2026, 3, 9), until=SUNDAY)]
    pay = paid(spans, on_roster="10.00", rules=monday, earned=earned, weeks=weeks)
    assert total(pay, "total_pay") == D(10)  # the hours of `paid` lie in Sunday weeks; the payment in the Monday week
    assert pay.weeks["workweek"].to_list() == [date(2026, 3, 9)]


def test_of_two_payments_for_the_same_weeks_each_is_owed_its_own() -> None:
    # 29 CFR 778.209: 100.00 and 60.00 for the two weeks; 50 and 30 for the first, of 50 h: 5.00 and 3.00.
    earned = [longer("bonus", "100"), longer("commission", "60")]
    pay = paid(hours(50, week=BEFORE) + hours(40), on_roster="10.00", earned=earned)
    assert reopened(pay) == [(BEFORE, D("5.00")), (BEFORE, D("3.00"))]


def test_of_two_payments_the_longer_one_reopens_its_weeks_too() -> None:
    # 50.00 for two weeks and 90.00 for three: 30.00 of the latter fall to the first, 50 h, and owe 3.00 there.
    earned = [longer("bonus", "50"), longer("commission", "90", since=date(2026, 3, 1))]
    spans = hours(50, week=date(2026, 3, 1)) + hours(50, week=BEFORE) + hours(40)
    pay = paid(spans, on_roster="10.00", earned=earned)
    assert reopened(pay) == [(date(2026, 3, 1), D("3.00")), (BEFORE, D("3.00")), (BEFORE, D("2.50"))]


def test_credits_beyond_a_reopened_weeks_overtime_are_used_up_first() -> None:
    # 29 CFR 778.201, 778.209. The first week, 50 h at 10.00, owes 50.00 and has 52.00 credited. A bonus of 100.00 for
    # both weeks adds 5.00 there, of which 2.00 are credited already.
    spans = hours(50, week=BEFORE) + hours(40)
    credit = longer("premium", "52", since=BEFORE, until=BEFORE)
    assert reopened(paid(spans, on_roster="10.00", earned=[credit, longer("bonus", "100")])) == [(BEFORE, D("3.00"))]
    # With 60.00 credited nothing is left to owe, and there is no line.
    credit = longer("premium", "60", since=BEFORE, until=BEFORE)
    assert reopened(paid(spans, on_roster="10.00", earned=[credit, longer("bonus", "100")])) == []


def test_an_earlier_payment_that_reopened_the_week_used_up_its_credits() -> None:
    # As above with 52.00 credited: a bonus paid in the week between used up the 2.00, so this one owes all of its 5.00.
    earlier = longer("bonus", "40", since=date(2026, 3, 1), until=date(2026, 3, 14))
    spans = hours(50, week=date(2026, 3, 1)) + hours(40, week=BEFORE) + hours(40)
    credit = longer("premium", "52", since=date(2026, 3, 1), until=date(2026, 3, 1))
    bonus = longer("commission", "150", since=date(2026, 3, 1))
    week_between = (BEFORE, BEFORE)
    first = paid(spans, on_roster="10.00", earned=[credit, earlier, bonus], weeks=week_between)
    assert reopened(first) == []  # 20 x 10 / 100 = 2.00, all credited
    assert reopened(paid(spans, on_roster="10.00", earned=[credit, earlier, bonus])) == [
        (date(2026, 3, 1), D("5.00"))
    ]  # fmt: skip


def test_californias_flat_bonus_for_a_longer_time_reopens_at_the_whole_multiple() -> None:
    # 4 Cal.5th 542: 80.00 for two weeks, 40.00 for the first; / 40 straight hours = 1.00; 10 h x 1.5 = 15.00.
    spans = hours(50, week=BEFORE) + hours(40)
    pay = paid(spans, on_roster="20.00", rules=CALIFORNIA, earned=[longer("flat_bonus", "80")])
    assert reopened(pay) == [(BEFORE, D("15.00"))]
    assert total(pay, "regular_rate") == D(21)
    # A week of overtime alone has nothing that divides it.
    past: list[Span] = [("2026-03-08 06:00", "2026-03-08 16:00", "overtime", "")]
    assert (
        reopened(paid(past + hours(40), on_roster="20.00", rules=CALIFORNIA, earned=[longer("flat_bonus", "80")])) == []
    )


def test_premiums_already_paid_are_not_set_against_overtime_on_californias_flat_bonus() -> None:
    # 4 Cal.5th 542 makes it owed at the whole multiple, straight part too; 29 USC 207(h) credits premiums against the
    # overtime of the federal act. That none is left for it is our reading, in the week itself and in a reopened one.
    credit = longer("premium", "160", since=BEFORE, until=BEFORE)
    spans = hours(50, week=BEFORE) + hours(40)
    pay = paid(spans, on_roster="10.00", rules=CALIFORNIA, earned=[credit, longer("flat_bonus", "80")])
    assert reopened(pay) == [(BEFORE, D("15.00"))]
    now = [{"kind": "premium", "amount": D(160)}, {"kind": "flat_bonus", "amount": D(40)}]
    pay = paid(hours(50), on_roster="20.00", rules=CALIFORNIA, earned=now)
    lines = pay.lines.filter(pl.col("part") == "overtime").select("amount").to_series().to_list()
    assert lines == [D(100), D(-100), D(15)]  # 10 h owe the half of 20.00; 40.00 over 40 h, 10 h at 1.5 times 1.00


def test_a_flat_bonus_that_no_straight_hours_divide_is_paid_and_named() -> None:
    only: list[Span] = [("2026-03-15 06:00", "2026-03-15 16:00", "overtime", "")]
    pay = paid(only, on_roster="20.00", rules=CALIFORNIA, earned=[{"kind": "flat_bonus", "amount": D(30)}])
    assert total(pay) == D(200) + D(30) + D(100)
    assert pay.faults.select("kind", "seconds", "cites").rows() == [("faulty", 36_000, "4 Cal.5th 542 (2018)")]


def test_double_time_owes_a_flat_bonus_twice() -> None:
    # 4 Cal.5th 542: 30.00 / 8 straight hours = 3.75; 4 h x 1.5 and 2 h x 2: 22.50 + 15.00.
    day: list[Span] = [
        ("2026-03-15 06:00", "2026-03-15 14:00", "ordinary", ""),
        ("2026-03-15 14:00", "2026-03-15 18:00", "overtime", ""),
        ("2026-03-15 18:00", "2026-03-15 20:00", "double", ""),
    ]
    pay = paid(day, on_roster="20.00", rules=CALIFORNIA, earned=[{"kind": "flat_bonus", "amount": D(30)}])
    flat = pay.lines.filter(pl.col("label").str.contains("not overtime"))
    assert flat.select("seconds", "rate", "amount").rows() == [(6 * 3600, D("3.75"), D("37.50"))]


def test_what_is_earned_by_units_is_paid_at_the_rate_of_its_last_day() -> None:
    rates = [{"plan": "piece", "amount": D(2)}, {"plan": "piece", "amount": D(3), "valid_from": date(2026, 3, 18)}]
    for day, whole in ((date(2026, 3, 17), 100), (date(2026, 3, 18), 150)):
        earned = [{"kind": "piece", "units": 50, "earned_to": day}]
        assert total(paid(hours(5), rates=rates, earned=earned)) == D(whole)
    # Jobs are not paid at a rate for pieces, nor is anything where neither an amount nor units are given.
    for row in ({"kind": "job", "units": 5}, {"kind": "piece"}):
        pay = paid(hours(5), rates=rates, earned=[row])
        name = {"job": "job earnings", "piece": "piece earnings"}[str(row["kind"])]
        says = f"{name} from 2026-03-15 has neither an amount nor a rate for its units; give one of them"
        assert pay.faults.filter(pl.col("kind") == "missing")["says"].to_list() == [says]
        assert pay.weeks["total_pay"].to_list() == [None]


def test_the_floor_holds_for_all_time_paid_by_the_piece_and_for_no_other() -> None:
    # 29 CFR 778.111(b): 20 h by the piece at no less than 9.00, from Monday on 14.00: the higher floor, our reading.
    rates = [{"plan": "piece", "amount": D(1), "floor": D(9)},
             {"plan": "piece", "amount": D(1), "floor": D(14), "valid_from": date(2026, 3, 16)},
             {"amount": D(15), "reader": "YARD"}]  # fmt: skip
    spans = hours_at([(20, ""), (10, "YARD")])
    for pieces, whole in (("279.99", "280.00"), ("280.01", "280.01")):
        pay = paid(spans, rates=rates, earned=[{"kind": "piece", "amount": D(pieces)}])
        assert pay.lines.select("label", "seconds", "amount").rows() == [
            ("hourly pay at YARD", 36_000, D(150)),
            ("piece earnings", 72_000, D(whole)),
        ]


def test_pieces_in_a_week_without_piece_work_are_paid_without_hours() -> None:
    pay = paid(hours(10), on_roster="12.00", earned=[{"kind": "piece", "amount": D(40)}])
    assert pay.lines.select("label", "seconds", "amount").rows() == [
        ("hourly pay", 36_000, D(120)),
        ("piece earnings", None, D(40)),
    ]


def test_a_day_is_paid_once_and_where_its_shift_begins() -> None:
    # 29 CFR 778.112. Two shifts on Sunday are one day; one that begins on Monday and ends on Tuesday is Monday's.
    rates = [{"plan": "day", "amount": D(120)}]
    spans: list[Span] = [
        ("2026-03-15 06:00", "2026-03-15 10:00", "ordinary", ""),
        ("2026-03-15 18:00", "2026-03-15 22:00", "ordinary", ""),
        ("2026-03-16 20:00", "2026-03-17 04:00", "ordinary", ""),
    ]
    assert total(paid(spans, rates=rates)) == D(240)


def test_a_shift_that_began_in_the_week_before_is_a_day_of_that_week() -> None:
    # Saturday's shift runs on into Sunday: cut at the week's line, it is one shift and Saturday's day.
    rates = [{"plan": "day", "amount": D(120)}]
    spans: list[Span] = [
        ("2026-03-14 20:00", "2026-03-15 00:00", "ordinary", ""),
        ("2026-03-15 00:00", "2026-03-15 04:00", "ordinary", ""),
        ("2026-03-16 08:00", "2026-03-16 12:00", "ordinary", ""),
    ]
    pay = paid(spans, rates=rates, one_shift=(0, 1))
    assert total(pay) == D(120)


def test_the_days_rate_is_that_of_its_first_work() -> None:
    rates = [{"plan": "day", "amount": D(120)}, {"plan": "day", "amount": D(200), "reader": "DYE"}]
    spans: list[Span] = [
        ("2026-03-15 06:00", "2026-03-15 10:00", "ordinary", ""),
        ("2026-03-15 12:00", "2026-03-15 16:00", "ordinary", "DYE"),
        ("2026-03-16 06:00", "2026-03-16 10:00", "ordinary", "DYE"),
    ]
    assert paid(spans, rates=rates).lines.filter(pl.col("part") == "straight")["amount"].to_list() == [D(120), D(200)]


def test_a_credited_differential_pays_its_amount_an_hour_too() -> None:
    # 29 USC 207(e)(6): 8 h at 12.00 with half as much again and 0.50 an hour: 8 x 6.50 = 52.00, credited like the rest.
    special = {"special": DifferentialRate(Fraction(1, 2), Fraction(3, 2), of_days=True)}
    windows = [("special", "2026-03-15 00:00", "2026-03-15 14:00")]
    pay = paid(hours(50), on_roster="12.00", windows=windows, differentials=special)
    assert total(pay, "straight_pay") == D(652)
    assert total(pay, "overtime_premium") == D(60) - D(52)


@pytest.mark.parametrize(("multiple", "credited"), [(Fraction(149, 100), 0), (Fraction(3, 2), 48)])
def test_a_premium_for_a_day_is_credited_from_one_and_a_half_times_on(multiple: Fraction, credited: int) -> None:
    # 29 USC 207(e)(6), 29 CFR 778.203(b): "not less than one and one-half times".
    windows = [("special", "2026-03-15 00:00", "2026-03-15 14:00")]
    special = {"special": DifferentialRate(multiple=multiple, of_days=True)}
    pay = paid(hours(50), on_roster="12.00", windows=windows, differentials=special)
    assert -pay.lines.filter(pl.col("amount") < 0)["amount"].sum() == credited


def test_only_the_shared_time_of_a_window_is_paid_more() -> None:
    # Work from 06:00 to 16:00. Windows that end as it begins, and begin as it ends, share nothing with it.
    night = {"night": DifferentialRate(Fraction(2))}
    day: list[Span] = [("2026-03-15 06:00", "2026-03-15 16:00", "ordinary", "")]
    for starts, ends, more in (
        ("05:00", "06:00", 0), ("16:00", "17:00", 0), ("05:00", "07:30", 3), ("15:30", "18:00", 1),
        ("08:00", "09:00", 2),
    ):  # fmt: skip
        windows = [("night", f"2026-03-15 {starts}", f"2026-03-15 {ends}")]
        assert total(paid(day, on_roster="12.00", windows=windows, differentials=night)) == 120 + more


def test_a_second_within_a_window_is_paid_and_one_beside_it_is_not() -> None:
    # 3,600.00 an hour, so that a second is 1.00; work from 06:00 to 16:00.
    night = {"night": DifferentialRate(Fraction(3600))}
    day: list[Span] = [("2026-03-15 06:00", "2026-03-15 16:00", "ordinary", "")]
    for starts, ends, more in (("15:59:59", "17:00", 1), ("16:00", "17:00", 0), ("05:00", "06:00:01", 1)):
        windows = [("night", f"2026-03-15 {starts}", f"2026-03-15 {ends}")]
        assert total(paid(day, on_roster="12.00", windows=windows, differentials=night)) == 120 + more


def test_hours_are_needed_from_the_first_day_of_what_is_paid_with_the_weeks() -> None:
    earned = EARNINGS.rows(
        {"person": "P1", "kind": "bonus", "amount": D(1), "earned_from": since, "earned_to": until}
        for since, until in ((date(2026, 1, 5), SATURDAY), (date(2026, 1, 1), date(2026, 3, 14)),
                             (date(2025, 1, 1), date(2026, 3, 22)))
    )  # fmt: skip
    assert earliest_earned(earned, (SUNDAY, SUNDAY)) == date(2026, 1, 5)
    assert earliest_earned(earned, (BEFORE, BEFORE)) == date(2026, 1, 1)
    assert earliest_earned(EARNINGS.empty(), (SUNDAY, SUNDAY)) == SUNDAY


def test_what_is_earned_without_hours_has_its_amount_said() -> None:
    days = {"earned_from": SUNDAY + timedelta(days=1), "earned_to": SUNDAY + timedelta(days=1)}
    pay = paid([], on_roster="12.00", earned=[{"kind": "bonus", "amount": D("40.125")} | days])
    assert pay.faults.select("kind", "seconds", "amount", "says", "cites").rows() == [
        ("faulty", 0, D("40.13"), "bonus of 40.13 is earned in the week of 2026-03-15, in which nobody recorded hours; "
                                  "correct its days, or add the hours", "29 CFR 778.109")
    ]  # fmt: skip
    assert pay.weeks.select("worked_s", "regular_rate", "total_pay").rows() == [(0, D(0), D("40.13"))]
