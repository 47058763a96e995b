"""Which rate holds on which day and at which reader, to the day; and what is said of rates that cannot be paid."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import polars as pl
import pytest

from evenhand.pay import hourly_rates, knows_money, salaried_people
from evenhand.pay.rates.held import held_rates
from evenhand.pay.rates.holding import with_rate
from evenhand.terms.sources import PEOPLE
from evenhand.terms.wages import EARNINGS, RATES
from tests.pay.weeks import CALIFORNIA, SUNDAY, Span, hours, hours_at, paid, total

D = Decimal
MONDAY, WEDNESDAY = date(2026, 3, 16), date(2026, 3, 18)
NOBODY = PEOPLE.rows([{"person": "P1", "name": "Ida"}])


def on_days(rows: list[dict[str, Any]], asked: list[tuple[date, str]], roster: str | None = None) -> list[float | None]:
    """Return the hourly amounts that hold on these days and at these readers."""
    people = PEOPLE.rows([{"person": "P1", "name": "Ida", "hourly_rate": roster and D(roster)}])
    held = held_rates(RATES.rows({"person": "P1", "reader": "", "amount": D(10)} | row for row in rows), people).rates
    days = pl.DataFrame({"person": "P1", "day": [day for day, _ in asked], "reader": [reader for _, reader in asked]})
    found = with_rate(days, held).join(held.select("rate", "amount"), on="rate", how="left", maintain_order="left")
    return [None if amount is None else amount / 10_000 for amount in found["amount"]]


def test_a_rate_holds_from_its_first_day_to_its_last_both_included() -> None:
    rows = [{"valid_from": MONDAY, "valid_to": WEDNESDAY}]
    days = [date(2026, 3, 15), MONDAY, WEDNESDAY, date(2026, 3, 19)]
    assert on_days(rows, [(day, "") for day in days]) == [None, 10, 10, None]


def test_without_a_last_day_it_holds_up_to_the_day_before_the_next() -> None:
    rows = [{"valid_from": MONDAY}, {"valid_from": WEDNESDAY, "amount": D(12)}]
    days = [MONDAY, date(2026, 3, 17), WEDNESDAY, date(9999, 12, 31)]
    assert on_days(rows, [(day, "") for day in days]) == [10, 10, 12, 12]


def test_a_readers_own_rate_comes_first_and_another_reader_does_not_end_it() -> None:
    rows = [
        {"valid_from": MONDAY},
        {"valid_from": MONDAY, "reader": "DYE", "amount": D(12), "valid_to": WEDNESDAY},
        {"valid_from": date(2026, 3, 17), "reader": "YARD", "amount": D(14)},
    ]
    asked = [(WEDNESDAY, "DYE"), (date(2026, 3, 19), "DYE"), (MONDAY, "YARD"), (WEDNESDAY, "YARD"), (WEDNESDAY, "")]
    assert on_days(rows, asked) == [12, 10, 10, 14, 10]


def test_two_that_hold_at_a_reader_are_not_one_and_do_not_fall_back_to_another() -> None:
    rows = [
        {"valid_from": MONDAY},
        {"valid_from": MONDAY, "reader": "DYE", "valid_to": WEDNESDAY},
        {"valid_from": WEDNESDAY, "reader": "DYE"},
    ]
    assert on_days(rows, [(WEDNESDAY, "DYE"), (date(2026, 3, 17), "DYE"), (WEDNESDAY, "")]) == [None, 10, 10]


def test_the_rosters_rate_stands_where_there_is_none_for_all_work() -> None:
    at_reader = [{"valid_from": MONDAY, "reader": "DYE", "amount": D(12)}]
    assert on_days(at_reader, [(MONDAY, ""), (MONDAY, "DYE")], roster="9") == [9, 12]
    # Once a rate for all work is on file the roster's is out, also before the first day and where the row is faulty.
    assert on_days([{"valid_from": WEDNESDAY}], [(MONDAY, "")], roster="9") == [None]
    assert on_days([{"valid_from": MONDAY, "amount": D(-1)}], [(MONDAY, "")], roster="9") == [None]


COVERS = "the salary from 2026-03-16 does not say how many weekly hours it covers; add covers_hours"
FAULTY: list[tuple[dict[str, Any], str]] = [
    ({"amount": D("-0.01")}, "the rate -0.01 is below zero; correct it"),
    ({"valid_to": date(2026, 3, 15)}, "the rate from 2026-03-16 ends on 2026-03-15, before it begins; "
                                      "correct one of the days"),
    ({"plan": "salary_fixed"}, COVERS),
    ({"plan": "salary_fixed", "covers_hours": D(0)}, COVERS),
]  # fmt: skip


@pytest.mark.parametrize(("row", "says"), FAULTY)
def test_a_faulty_rate_is_left_out_and_said(row: dict[str, Any], says: str) -> None:
    rates = RATES.rows([{"person": "P1", "valid_from": MONDAY, "reader": "", "amount": D(10)} | row])
    held = held_rates(rates, NOBODY)
    assert held.rates.is_empty()
    assert held.faults["says"].to_list() == [says]


def test_a_rate_of_one_day_a_rate_of_nothing_and_a_salary_for_one_second_are_no_faults() -> None:
    for row in ({"valid_to": MONDAY}, {"amount": D(0)}, {"plan": "salary_fixed", "covers_hours": D("0.0003")}):
        rates = RATES.rows([{"person": "P1", "valid_from": MONDAY, "reader": "", "amount": D(10)} | row])
        assert held_rates(rates, NOBODY).faults.is_empty()


def test_rates_that_meet_do_not_overlap_and_one_day_more_does() -> None:
    def faults(last: date) -> list[tuple[date, date, str]]:
        rows = [
            {"valid_from": MONDAY, "valid_to": last, "amount": D(11)},
            {"valid_from": WEDNESDAY, "valid_to": date(2026, 3, 20), "amount": D(12)},
        ]
        held = held_rates(RATES.rows({"person": "P1", "reader": "DYE"} | row for row in rows), NOBODY)
        return held.faults.select("since", "until", "says").rows()

    assert faults(date(2026, 3, 17)) == []
    assert faults(WEDNESDAY) == [
        (WEDNESDAY, WEDNESDAY, "two rates hold at DYE from 2026-03-18 to 2026-03-18: 11.00 and 12.00; "
                               "end the first before the second begins")
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("amount", "salary_for", "covers", "an_hour"),
    [
        ("800", "week", "40", 200_000),  # 29 CFR 778.113(a): the salary over the hours that it is for, 20.00
        ("2600", "month", "40", 150_000),  # 778.113(b): a month's times 12 / 52, 600.00 a week, 15.00
        ("1560", "half_month", "40", 180_000),  # 24 / 52: 720.00 a week, 18.00
        ("719.99", "week", "40", 179_997),  # 17.99975: below 18.00, so cut and not rounded
    ],
)
def test_a_salary_for_fixed_hours_is_known_by_the_hour(amount: str, salary_for: str, covers: str, an_hour: int) -> None:
    row = {"person": "P1", "valid_from": MONDAY, "reader": "", "amount": D(amount), "plan": "salary_fixed",
           "salary_for": salary_for, "covers_hours": D(covers)}  # fmt: skip
    assert hourly_rates(RATES.rows([row]), NOBODY).rows() == [("P1", MONDAY, date.max, an_hour)]
    fluctuating = row | {"plan": "salary_fluctuating"}
    assert hourly_rates(RATES.rows([fluctuating]), NOBODY).rows() == [("P1", MONDAY, date.max, None)]


def test_hourly_rates_have_their_days_and_know_no_hour_of_pieces_and_no_faulty_one() -> None:
    rows = [
        {"person": "P1", "valid_from": MONDAY, "reader": "", "amount": D("18.2550")},
        {"person": "P1", "valid_from": MONDAY, "reader": "DYE", "amount": D("17.5")},
        {"person": "P1", "valid_from": MONDAY, "reader": "YARD", "amount": D(-1)},
        {"person": "P2", "valid_from": MONDAY, "reader": "", "amount": D(5), "plan": "piece"},
    ]
    found = hourly_rates(RATES.rows(rows), NOBODY).sort("amount")
    assert found.rows() == [
        ("P2", MONDAY, date.max, None),
        ("P1", MONDAY, date.max, 175_000),
        ("P1", MONDAY, date.max, 182_550),
    ]
    assert hourly_rates(RATES.empty(), NOBODY).is_empty()


def test_a_salary_is_held_in_weeks_in_which_somebody_is_employed() -> None:
    # Monday's week ends on 22 March: who was hired on that Sunday, or left on its Monday, is employed in it for a day.
    rates = RATES.rows([
        {"person": "P1", "valid_from": date(2026, 1, 1), "reader": "", "amount": D(800), "plan": "salary_fixed",
         "covers_hours": D(40)},
        {"person": "P2", "valid_from": date(2026, 1, 1), "reader": "", "amount": D(20)},
    ])  # fmt: skip
    for hired_on, left_on, holders in (
        (None, None, {"P1"}),
        (date(2026, 3, 22), None, {"P1"}),
        (date(2026, 3, 23), None, set()),
        (None, MONDAY, {"P1"}),
        (None, MONDAY - timedelta(days=1), set()),
    ):
        of = {"hired_on": hired_on, "left_on": left_on}
        people = PEOPLE.rows([{"person": "P1", "name": "Ida"} | of, {"person": "P2", "name": "Bo"} | of])
        assert salaried_people(rates, people, MONDAY) == holders


def test_without_rates_and_earnings_there_is_no_money_to_know() -> None:
    rated = PEOPLE.rows([{"person": "P1", "name": "Ida", "hourly_rate": D(0)}])
    rates = RATES.rows([{"person": "P1", "valid_from": MONDAY, "reader": "", "amount": D(0)}])
    day = {"person": "P1", "earned_from": MONDAY, "earned_to": MONDAY, "kind": "gift", "label": ""}
    assert not knows_money(RATES.empty(), NOBODY, EARNINGS.empty())
    assert knows_money(rates, NOBODY, EARNINGS.empty())
    assert knows_money(RATES.empty(), rated, EARNINGS.empty())
    assert knows_money(RATES.empty(), NOBODY, EARNINGS.rows([day]))


def test_a_shift_past_midnight_is_paid_at_each_days_rate() -> None:
    # Six hours from 21:00 on Tuesday, three at 10 and three at 12. On 8 March at 02:00 clocks go forward: from 23:00 to
    # 05:00 there are five hours, one of them on Saturday. Hand arithmetic.
    rates = [{"amount": D(10)}, {"amount": D(12), "valid_from": WEDNESDAY}]
    night: list[Span] = [("2026-03-17 21:00", "2026-03-18 03:00", "ordinary", "")]
    assert paid(night, rates=rates).lines["amount"].to_list() == [D(30), D(36)]
    rates = [{"amount": D(10)}, {"amount": D(12), "valid_from": date(2026, 3, 8)}]
    forward: list[Span] = [("2026-03-07 23:00", "2026-03-08 05:00", "ordinary", "")]
    week = (date(2026, 3, 1), date(2026, 3, 1))
    assert paid(forward, rates=rates, weeks=week).lines["amount"].to_list() == [D(10), D(48)]


def test_a_shift_that_ends_or_begins_at_the_midnight_of_a_change_is_not_cut() -> None:
    rates = [{"amount": D(10)}, {"amount": D(12), "valid_from": WEDNESDAY}]
    until: list[Span] = [("2026-03-17 21:00", "2026-03-18 00:00", "ordinary", "")]
    since: list[Span] = [("2026-03-18 00:00", "2026-03-18 03:00", "ordinary", "")]
    assert paid(until, rates=rates).lines.select("rate", "amount").rows() == [(D(10), D(30))]
    assert paid(since, rates=rates).lines.select("rate", "amount").rows() == [(D(12), D(36))]


def test_a_rate_that_ends_leaves_the_hours_after_it_unpaid_and_named() -> None:
    night: list[Span] = [("2026-03-17 21:00", "2026-03-18 03:00", "ordinary", "")]
    pay = paid(night, rates=[{"amount": D(10), "valid_to": date(2026, 3, 17)}])
    assert pay.faults.select("kind", "seconds", "says").rows() == [
        ("missing", 3 * 3600, "no one rate of pay holds on 2026-03-18")
    ]
    assert pay.weeks["total_pay"].to_list() == [None]


# What a salary for fixed hours pays: nothing more up to the hours it covers, straight pay from there on, and the half
# past 40. Source: 29 CFR 778.113(a), 778.325; 375.00 for 37.5 hours is 10.00 an hour, figures made for the rule.
COVERED = [(30, "375.00"), (37.5, "375.00"), (38.5, "385.00"), (40, "400.00"), (41, "415.00")]


@pytest.mark.parametrize(("worked", "whole"), COVERED)
def test_a_salary_pays_its_hours_and_straight_pay_beyond(worked: float, whole: str) -> None:
    salary = [{"plan": "salary_fixed", "amount": D(375), "covers_hours": D("37.5")}]
    pay = paid(hours(worked), rates=salary)
    assert total(pay) == D(whole)
    assert total(pay, "regular_rate") == D(10)


@pytest.mark.parametrize(("turn", "weekly"), [("week", "1300.00"), ("half_month", "600.00"), ("month", "300.00")])
def test_a_salary_by_the_week(turn: str, weekly: str) -> None:
    # 29 CFR 778.113(b): half a month's times 24 / 52, a month's times 12 / 52.
    salary = [{"plan": "salary_fixed", "amount": D(1300), "covers_hours": D(40), "salary_for": turn}]
    assert total(paid(hours(40), rates=salary)) == D(weekly)


def test_a_salary_that_follows_wages_within_the_week_pays_its_days() -> None:
    # Sunday and Monday at 10.00, 10 h each; from Tuesday on 700.00 for 40 hours: five of seven days are 500.00 for
    # 200/7 hours. 30 h are worked: 10/7 h more at 17.50 an hour, 25.00.
    # Beside another rate the salary counts with what it pays: (200 + 525.00) / 50 = 14.50, 10 h owe half: 72.50.
    salary = {"plan": "salary_fixed", "amount": D(700), "covers_hours": D(40), "valid_from": date(2026, 3, 17)}
    pay = paid(hours(50), rates=[{"amount": D(10)}, salary])
    assert pay.lines.select("label", "amount").rows() == [
        ("hourly pay", D(200)),
        ("salary", D(525)),
        ("overtime, the half beyond straight pay", D("72.50")),
    ]


def test_the_hours_a_salary_covers_in_part_of_a_week_are_not_cut() -> None:
    # The same with 700,000.00, so that a second would show: 500,000.00 for 200/7 hours, 17,500.00 an hour; thirty
    # hours are 525,000.00. Cut to whole seconds they were 525,000.73.
    salary = {"plan": "salary_fixed", "amount": D(700_000), "covers_hours": D(40), "valid_from": date(2026, 3, 17)}
    pay = paid(hours(50), rates=[{"amount": D(10)}, salary])
    assert pay.lines.filter(pl.col("label") == "salary")["amount"].to_list() == [D("525000.00")]


@pytest.mark.parametrize(("covers", "rate", "owed"), [("40", "25.0000", "600.00"), ("37.3333", "26.7857", "642.86")])
def test_a_salary_alone_in_part_of_a_week_has_the_rate_of_a_whole_one(covers: str, rate: str, owed: str) -> None:
    # 29 CFR 778.113(a): 1,000.00 over 40 h are 25.00; over 37.3333 h 26.785738. Four of seven days pay 571.43 for
    # 160/7 or 21.3333 h; of 24 h worked the rest is paid beside it at that rate: 600.00 and 642.857714.
    spans = [(f"2026-03-{day} 06:00", f"2026-03-{day} 14:00", "ordinary", "") for day in (15, 16, 17)]
    salary = [SALARY_OF_1000 | {"covers_hours": D(covers)}]
    pay = paid(spans, rates=salary, employed=(None, date(2026, 3, 18)))
    assert total(pay, "regular_rate") == D(rate)
    assert total(pay) == D(owed)


THURSDAY = date(2026, 3, 19)
SALARY_OF_1000 = {"plan": "salary_fixed", "amount": D(1000), "covers_hours": D(40)}


def test_a_salary_that_begins_within_the_week_pays_the_days_from_then_on() -> None:
    # 1,000.00 for 40 h from Thursday on: three of seven days are 428.57 for 120/7 h, 17 h 8 min 34.3 s. 16 h lie
    # within: 428.57, where the whole week was paid. That days of seven count is our reading.
    spans: list[Span] = [
        ("2026-03-19 06:00", "2026-03-19 14:00", "ordinary", ""),
        ("2026-03-20 06:00", "2026-03-20 14:00", "ordinary", ""),
    ]
    begun = [SALARY_OF_1000 | {"valid_from": THURSDAY}]
    assert total(paid(spans, rates=begun)) == D("428.57")
    # Who is hired on that day begins then too, whatever day the rate has; who leaves on Friday is paid up to it.
    assert total(paid(spans, rates=[SALARY_OF_1000], employed=(THURSDAY, None))) == D("428.57")
    left = paid(spans, rates=[SALARY_OF_1000], employed=(THURSDAY, date(2026, 3, 20)))
    # Two of seven days are 285.71 for 80/7 h; 32/7 h beside them at 25.00 are 114.29: 16 h at 25.00.
    assert total(left) == D("400.00")
    assert total(paid(spans, rates=[SALARY_OF_1000])) == D("1000.00")


def test_a_salary_that_covers_less_than_a_second_of_its_days_has_a_rate_too() -> None:
    # 70.00 for 0.0003 h a week are 233,333.33 an hour, in part of a week too: thirty hours are 7,000,000.00. No such
    # salary exists.
    salary = {"plan": "salary_fixed", "amount": D(70), "covers_hours": D("0.0003"), "valid_from": date(2026, 3, 17)}
    pay = paid(hours(50), rates=[{"amount": D(10)}, salary])
    assert pay.lines.filter(pl.col("label") == "salary")["amount"].to_list() == [D(7_000_000)]


def test_a_salary_for_whatever_hours_beside_a_readers_rate_counts_in_the_average() -> None:
    # 600.00 for whatever hours, and 10 h at 15.00 at the dye house: 750 / 50 = 15.00, 10 h owe half: 75.00.
    rates = [{"plan": "salary_fluctuating", "amount": D(600)}, {"amount": D(15), "reader": "DYE"}]
    pay = paid(hours_at([(40, ""), (10, "DYE")]), rates=rates)
    assert (total(pay, "regular_rate"), total(pay)) == (D(15), D(825))


def test_californias_forty_hours_are_for_hours_and_whatever_hours_alike() -> None:
    # Labor Code 515(d): 900.00 / 40 = 22.50, though 45 are agreed: 45 h owe 5 x 33.75 = 168.75 more.
    salary = [{"plan": "salary_fixed", "amount": D(900), "covers_hours": D(45)}]
    pay = paid(hours(45), rates=salary, rules=CALIFORNIA)
    assert total(pay) == D("1068.75")
    assert pay.faults.is_empty()
    assert pay.lines["cites"][0] == "Cal. Labor Code 515(d)"
    loose = paid(hours(45), rates=[{"plan": "salary_fluctuating", "amount": D(900)}], rules=CALIFORNIA)
    assert total(loose) == D("1068.75")
    assert loose.faults.select("kind", "seconds", "says", "cites").rows() == [
        ("faulty", 45 * 3600, "a salary for whatever hours are worked does not pay overtime here; 40 hours divide it",
         "Cal. Labor Code 515(d)")
    ]  # fmt: skip


def test_a_week_from_elsewhere_is_not_said_to_be_faulty() -> None:
    # The faulty rate ends before the week begins: it is no matter of this week's.
    rates = [{"amount": D(-1), "valid_from": date(2026, 3, 1), "valid_to": date(2026, 3, 14)},
             {"amount": D(10), "valid_from": SUNDAY}]  # fmt: skip
    assert paid(hours(10), rates=rates).faults.is_empty()
    later = [rates[0] | {"valid_to": SUNDAY}, rates[1] | {"valid_from": MONDAY}]
    assert "faulty" in paid(hours(10), rates=later).faults["kind"].to_list()
