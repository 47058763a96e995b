"""Pay of whole weeks, from classed spans to lines: published figures, and a Californian week by hand."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.law import pay_laws
from evenhand.pay import DifferentialRate, compute_pay
from evenhand.terms.hours import CLASSED
from evenhand.terms.settings import SiteRules
from evenhand.terms.sources import PEOPLE
from evenhand.terms.tables import ATTRIBUTED
from evenhand.terms.wages import EARNINGS, PAY_FAULTS, PAY_LINES, PAY_WEEKS, RATES
from tests.pay.weeks import CALIFORNIA, FEDERAL, SUNDAY, ZONE, Span, hours, paid, total, worked

D = Decimal
SALARY = {"plan": "salary_fixed", "amount": D(405), "covers_hours": D(45)}
WHATEVER = {"plan": "salary_fluctuating", "amount": D(600)}

# (source, hours, pay plan, regular rate, premium, total). Totals are exact sums rounded once, half up.
PUBLISHED: list[tuple[str, float, dict[str, Any], str, str, str]] = [
    ("29 CFR 778.110(a)", 46, {"on_roster": "12.00"}, "12.00", "36.00", "588.00"),
    ("29 CFR 778.110(b)", 46, {"on_roster": "12.00", "earned": [{"kind": "bonus", "amount": D(46)}]},
     "13.00", "39.00", "637.00"),
    ("29 CFR 778.111(a), waiting paid as a flat sum", 50,
     {"rates": [{"plan": "piece", "amount": D(1)}],
      "earned": [{"kind": "piece", "amount": D(491)}, {"kind": "flat_sum", "amount": D(32)}]},
     "10.46", "52.30", "575.30"),
    ("29 CFR 778.111(b), pieces short of the floor", 46,
     {"rates": [{"plan": "piece", "amount": D(1), "floor": D(11)}], "earned": [{"kind": "piece", "amount": D(475)}]},
     "11.00", "33.00", "539.00"),
    ("Fact Sheet 23, salary for 45 hours", 45, {"rates": [SALARY]}, "9.00", "22.50", "427.50"),
    ("29 CFR 778.114, 50 hours", 50, {"rates": [WHATEVER]}, "12.00", "60.00", "660.00"),
    ("29 CFR 778.114, 44 hours; the print rounds on the way and has 627.28", 44, {"rates": [WHATEVER]},
     "13.6364", "27.27", "627.27"),
    ("29 CFR 778.114, 37.5 hours", 37.5, {"rates": [WHATEVER]}, "16.00", "0.00", "600.00"),
    ("29 CFR 778.113(a), 350 for 35 hours, at 46; figures from memory", 46,
     {"rates": [{"plan": "salary_fixed", "amount": D(350), "covers_hours": D(35)}]}, "10.00", "30.00", "490.00"),
    ("29 CFR 778.113(b), a month's salary of 1,560 for 40 hours", 40,
     {"rates": [{"plan": "salary_fixed", "amount": D(1560), "covers_hours": D(40), "salary_for": "month"}]},
     "9.00", "0.00", "360.00"),
]  # fmt: skip


@pytest.mark.parametrize("case", PUBLISHED, ids=[case[0] for case in PUBLISHED])
def test_a_week_pays_what_the_source_says(case: tuple[str, float, dict[str, Any], str, str, str]) -> None:
    _, worked, plan, rate, premium, whole = case
    pay = paid(hours(worked), **plan)
    assert total(pay, "regular_rate") == D(rate)
    assert total(pay, "overtime_premium") == D(premium)
    assert total(pay) == D(whole)
    assert [fault for fault in pay.faults["kind"] if fault != "below_minimum"] == []


def test_two_rates_in_a_week_make_a_weighted_average() -> None:
    # Fact Sheet 54: 40 h at 11.00 and 16 h at 8.00. 568 / 56 = 10.142857, 16 x half of it = 81.142857.
    # The sheet prints 648.96 for having rounded the rate to 10.14; the exact sum is owed.
    spans = hours(56)
    rates = [
        {"amount": D(11), "valid_to": date(2026, 3, 18)},  # Sunday to Wednesday: four days of ten hours
        {"amount": D(8), "valid_from": date(2026, 3, 19)},
    ]
    pay = paid(spans, rates=rates)
    assert pay.lines.select("label", "rate", "amount").rows() == [
        ("hourly pay", D(11), D(440)),
        ("hourly pay", D(8), D(128)),
        ("overtime, the half beyond straight pay", D("5.0714"), D("81.14")),
    ]
    assert total(pay) == D("649.14")


def test_a_flat_bonus_is_divided_by_the_hours_that_are_not_overtime_in_california() -> None:
    # 10.00 an hour, 46 hours, 15.00 flat. California (4 Cal.5th 542): 460 + 30 + 15 + 15/40 x 1.5 x 6 = 508.375.
    # Federal: rate 475/46, total 460 + 15 + 6 x half of it = 505.978.
    given: dict[str, Any] = {"rates": [{"amount": D(10)}], "earned": [{"kind": "flat_bonus", "amount": D(15)}]}
    given["minimum"] = False  # the rate is of the years the decision looks at
    assert total(paid(hours(46), rules=CALIFORNIA, **given)) == D("508.38")
    assert total(paid(hours(46), **given)) == D("505.98")


# Seven days in one Californian workweek, 37 h in the packing hall at 20.00 and 22 h in the dye house at 26.00.
# Labor Code 510(a): over 8 a day at 1.5, over 12 at 2; past 40 straight hours at 1.5; the
# seventh day 8 h at 1.5, then 2.
#   Sun 8 | Mon 8 | Tue 8 + 1 | Wed 8 + 4 + 1 double | Thu 8, no meal period | Fri 4, past 40 | Sat 8 + 1 double
WEEK: list[Span] = [
    ("2026-03-15 08:00", "2026-03-15 12:00", "ordinary", "HALL"),
    ("2026-03-15 12:30", "2026-03-15 16:30", "ordinary", "HALL"),
    ("2026-03-16 08:00", "2026-03-16 12:00", "ordinary", "HALL"),
    ("2026-03-16 12:30", "2026-03-16 16:30", "ordinary", "HALL"),
    ("2026-03-17 08:00", "2026-03-17 12:00", "ordinary", "HALL"),
    ("2026-03-17 12:30", "2026-03-17 16:30", "ordinary", "HALL"),
    ("2026-03-17 16:30", "2026-03-17 17:30", "overtime", "HALL"),
    ("2026-03-18 06:00", "2026-03-18 10:00", "ordinary", "DYE"),
    ("2026-03-18 10:30", "2026-03-18 14:30", "ordinary", "DYE"),
    ("2026-03-18 14:30", "2026-03-18 15:00", "overtime", "DYE"),
    ("2026-03-18 15:30", "2026-03-18 19:00", "overtime", "DYE"),
    ("2026-03-18 19:00", "2026-03-18 20:00", "double", "DYE"),
    ("2026-03-19 08:00", "2026-03-19 16:00", "ordinary", "HALL"),
    ("2026-03-20 08:00", "2026-03-20 12:00", "overtime", "HALL"),
    ("2026-03-21 08:00", "2026-03-21 12:00", "overtime", "DYE"),
    ("2026-03-21 12:30", "2026-03-21 16:30", "overtime", "DYE"),
    ("2026-03-21 16:30", "2026-03-21 17:30", "double", "DYE"),
]
CALIFORNIAN: dict[str, Any] = {
    "rules": CALIFORNIA,
    "rates": [{"amount": D(20)}, {"amount": D(26), "reader": "DYE"}],
    "earned": [{"kind": "flat_bonus", "amount": D(30), "label": "full week"}],
    "premiums": [{"workday": date(2026, 3, 19), "kind": "meal", "hours": D(1), "says": "", "cites": "226.7(c)"}],
}


def test_a_californian_week_with_a_seventh_day_a_missed_meal_two_rates_and_a_bonus() -> None:
    pay = paid(WEEK, **CALIFORNIAN)
    # 37 x 20 = 740 and 22 x 26 = 572: 1,312 over 59 h = 22.237288 an hour.
    # 17 h of overtime x half: 189.016949. 2 h of double time x the whole: 44.474576.
    # The bonus: 30 / 40 straight hours = 0.75; 17 x 1.5 x 0.75 + 2 x 2 x 0.75 = 22.125.
    # The meal period's hour at the regular rate of pay: 22.237288 + 0.75 = 22.987288 (226.7(c); 11 Cal.5th 858).
    assert pay.lines.select("part", "amount").rows() == [
        ("straight", D("740.00")),
        ("straight", D("572.00")),
        ("straight", D("30.00")),
        ("overtime", D("189.02")),
        ("overtime", D("44.47")),
        ("overtime", D("22.13")),
        ("premium", D("22.99")),
    ]
    assert pay.weeks.row(0, named=True) == {
        "person": "P1",
        "workweek": SUNDAY,
        "worked_s": 59 * 3600,
        "regular_rate": D("22.9873"),
        "straight_pay": D(1342),
        "overtime_premium": D("255.62"),
        "premiums": D("22.99"),
        "other_pay": D(0),
        "total_pay": D("1620.61"),
        "minimum_due": D(0),
    }
    assert pay.faults.is_empty()


def test_each_line_names_its_rule() -> None:
    cites = paid(WEEK, **CALIFORNIAN).lines["cites"].to_list()
    assert all(cites)
    assert "226.7(c)" in cites[-1]


def test_a_differential_cites_what_counts_it_in_the_regular_rate() -> None:
    """29 CFR 778.207(b): premiums for night work are in the regular rate."""
    windows = [("night", "2026-03-15 06:00", "2026-03-15 08:00")]
    pay = paid(hours(8), on_roster="12.00", windows=windows, differentials={"night": DifferentialRate(Fraction(2))})
    assert pay.lines.select("label", "cites").rows()[1] == ("night", "29 CFR 778.207(b)")


def test_overtime_cites_each_rule_that_made_it_and_double_time_its_own() -> None:
    # Two rules of one section cite it once; the federal week's limit is named beside them. Straight time has no rule.
    spans: list[Span] = [
        ("2026-03-15 06:00", "2026-03-15 14:00", "ordinary", ""),
        ("2026-03-15 14:00", "2026-03-15 15:00", "overtime", ""),
        ("2026-03-15 15:00", "2026-03-15 16:00", "double", ""),
        ("2026-03-16 06:00", "2026-03-16 07:00", "overtime", ""),
        ("2026-03-17 06:00", "2026-03-17 07:00", "overtime", ""),
    ]
    made_by = [None, "california.daily", "california.daily", "us_federal.overtime", "california.weekly"]
    pay = paid(spans, on_roster="20.00", rules=CALIFORNIA, made_by=made_by)
    assert pay.lines.select("part", "cites").rows() == [
        ("straight", "29 CFR 778.110(a), 778.115"),
        ("overtime", "Cal. Labor Code 510(a); 29 USC 207(a)(1); 29 CFR 778.101; 29 CFR 778.110-778.115"),
        ("overtime", "Cal. Labor Code 510(a); 29 CFR 778.110-778.115"),
    ]


def test_a_bonus_for_a_longer_time_reopens_earlier_weeks_for_the_premium_only() -> None:
    # 29 CFR 778.209: 100.00 for two weeks of 50 and 40 hours. Each week's share is 50; the first owes
    # 50 x 10 / (2 x 50) = 5.00 more, the second, without overtime, nothing. Straight pay of the first stays as it was.
    spans = hours(50, week=date(2026, 3, 8)) + hours(40)
    earned = [{"kind": "bonus", "amount": D(100), "earned_from": date(2026, 3, 8), "earned_to": date(2026, 3, 21)}]
    pay = paid(spans, on_roster="10.00", earned=earned)
    reopened = pay.lines.filter(pay.lines["part"] == "reopened")
    assert reopened.select("earned_in", "amount").rows() == [(date(2026, 3, 8), D("5.00"))]
    assert pay.weeks["workweek"].to_list() == [SUNDAY]
    assert total(pay) == D("505.00")
    before = paid(spans, on_roster="10.00", earned=earned, weeks=(date(2026, 3, 8), date(2026, 3, 8)))
    assert total(before) == D("550.00")


def test_the_retention_bonus_of_the_labor_department() -> None:
    # Fact Sheet 54: 2,000 over 26 weeks, a week of 50 hours owes 2000/26 x 10/(2 x 50) = 7.69 more (it prints 7.70).
    week = date(2026, 3, 8)
    earned = [{"kind": "bonus", "amount": D(2000), "earned_from": date(2025, 9, 28), "earned_to": date(2026, 3, 28)}]
    settled = (date(2026, 3, 22), date(2026, 3, 22))
    pay = paid(hours(50, week=week), on_roster="10.00", earned=earned, weeks=settled)
    assert pay.lines.select("part", "amount").rows() == [("straight", D(2000)), ("reopened", D("7.69"))]


def test_gifts_expenses_and_leave_are_paid_and_stay_out_of_the_rate() -> None:
    # 29 USC 207(e)(1)-(3): 46 h at 12.00 stay 588.00 with a rate of 12.00, whatever is paid beside.
    earned = [{"kind": "gift", "amount": D(50)}, {"kind": "expense", "amount": D("12.40")}]
    pay = paid(hours(46), on_roster="12.00", earned=earned)
    assert (total(pay, "regular_rate"), total(pay, "other_pay"), total(pay)) == (D(12), D("62.40"), D("650.40"))


def test_a_premium_paid_already_is_credited_up_to_what_is_due() -> None:
    # 29 CFR 778.205: 12.00 for 56 h, 6.00 more an hour on Sunday and a holiday, 16 h: 96.00, all that 16 h x half need.
    paid_already = [{"kind": "premium", "amount": D(96), "label": "Sunday and holiday"}]
    pay = paid(hours(56), on_roster="12.00", earned=paid_already)
    assert total(pay) == D("768.00")
    assert total(pay, "overtime_premium") == D(0)
    more = paid(hours(56), on_roster="12.00", earned=[{"kind": "premium", "amount": D(120)}])
    assert total(more) == D("792.00")  # the excess is paid, and not taken back from anything else


def test_where_there_is_nothing_there_is_nothing_to_pay() -> None:
    pay = compute_pay(
        CLASSED.empty(), ATTRIBUTED.empty(), PEOPLE.empty(), RATES.empty(), EARNINGS.empty(), {}, {}, (SUNDAY, SUNDAY)
    )
    assert [PAY_WEEKS.check(pay.weeks).height, PAY_LINES.check(pay.lines).height] == [0, 0]
    assert PAY_FAULTS.check(pay.faults).is_empty()


def test_people_of_a_site_without_rules_are_left_out() -> None:
    classed, attributed = worked(*hours(40))
    people = PEOPLE.rows([{"person": "P1", "name": "Ida", "site": "Yard", "hourly_rate": D(12)}])
    earned = EARNINGS.rows([{"person": "P1", "earned_from": SUNDAY, "earned_to": SUNDAY, "kind": "bonus",
                             "amount": D(5), "label": ""}])  # fmt: skip
    given = (classed, attributed, people, RATES.empty(), earned, {"Mill": FEDERAL}, pay_laws(["us_federal"]))
    assert compute_pay(*given, (SUNDAY, SUNDAY)).weeks.is_empty()


def test_a_week_without_a_rate_has_no_total_and_says_so() -> None:
    pay = paid(hours(46))
    assert pay.weeks["total_pay"].to_list() == [None]
    assert pay.faults.select("kind", "seconds", "says").rows() == [
        ("missing", 46 * 3600, "no one rate of pay holds on 2026-03-15 to 2026-03-19")
    ]


def test_overlapping_rates_are_not_chosen_between() -> None:
    rates = [{"amount": D(11), "valid_to": date(2026, 3, 17)}, {"amount": D(12), "valid_from": date(2026, 3, 16)}]
    pay = paid(hours(40), rates=rates)
    assert pay.weeks["total_pay"].to_list() == [None]
    assert pay.faults["kind"].to_list() == ["faulty", "missing"]
    assert "two rates hold from 2026-03-16 to 2026-03-17: 11.00 and 12.00" in pay.faults["says"][0]


def test_a_rate_below_zero_pays_nothing_and_is_named() -> None:
    pay = paid(hours(10), rates=[{"amount": D(-4)}])
    assert "the rate -4.00 is below zero" in pay.faults["says"][0]
    assert pay.weeks["total_pay"].to_list() == [None]


def test_a_bonus_without_hours_is_paid_and_asked_about() -> None:
    pay = paid([], on_roster="12.00", earned=[{"kind": "bonus", "amount": D(40)}])
    assert total(pay) == D(40)
    (says,) = pay.faults["says"]
    assert "bonus of 40.00 is earned in the week of 2026-03-15, in which nobody recorded hours" in says


def test_pieces_of_work_are_held_to_the_minimum_wage() -> None:
    # 40 h for 280.00 is 7.00 an hour; 7.25 x 40 = 290.00 (29 USC 206(a)(1)(C)).
    pay = paid(hours(40), rates=[{"plan": "piece", "amount": D(1)}], earned=[{"kind": "piece", "amount": D(280)}])
    assert total(pay, "minimum_due") == D("10.00")
    assert pay.faults["kind"].to_list() == ["below_minimum"]


def test_days_and_jobs_are_paid_by_their_number() -> None:
    # 29 CFR 778.112: the sum over all hours is the rate. Five days of ten hours at 120: 600 / 50 = 12, 10 h x 6 more.
    assert total(paid(hours(50), rates=[{"plan": "day", "amount": D(120)}])) == D("660.00")
    jobs = [{"kind": "job", "units": 6}]
    assert total(paid(hours(50), rates=[{"plan": "job", "amount": D(100)}], earned=jobs)) == D("660.00")


def test_a_salary_in_california_is_for_forty_hours_only() -> None:
    # Labor Code 515(d): 800 / 40 = 20.00, so 46 h owe 800 + 6 x 30.00 = 980.00, whatever the agreement says.
    pay = paid(hours(46), rules=CALIFORNIA, rates=[{"plan": "salary_fluctuating", "amount": D(800)}])
    assert total(pay) == D("980.00")
    assert "faulty" in pay.faults["kind"].to_list()


@pytest.mark.parametrize("jurisdiction", ["california", "alaska"])
@pytest.mark.parametrize(
    "salary",
    [
        {"plan": "salary_fixed", "amount": D(2600), "salary_for": "half_month", "covers_hours": D(40)},
        {"plan": "salary_fixed", "amount": D(1200), "covers_hours": D(50)},
        {"plan": "salary_fluctuating", "amount": D(1200)},
    ],
)
def test_a_salary_that_pays_for_no_overtime_owes_it_whole_in_a_short_week(
    jurisdiction: str, salary: dict[str, Any]
) -> None:
    # Labor Code 515(d)(2): a fixed salary is compensation for the regular, non-overtime hours only, notwithstanding any
    # private agreement; (1): 2,600 x 24 / 52 = 1,200 a week, a fortieth is 30.00. 8 AAC 15.100(a)(2): where the hours
    # differ from a contract's, the salary is for an eight-hour day and a week of forty.
    # Three days of ten hours: 24 straight, 6 in overtime. 1,200 + 6 x 45.00 = 1,470.00: 180.00 straight, 90.00 half.
    rules = SiteRules("Mill", ZONE, jurisdiction)
    pay = paid(hours(30, over=24), rules=rules, rates=[salary])
    assert pay.lines.select("part", "amount").rows() == [("straight", D(1380)), ("overtime", D(90))]
    assert (total(pay), total(pay, "regular_rate")) == (D(1470), D(30))
    # A day of eight hours, four in overtime, two in double time: 1,200 + 4 x 45.00 + 2 x 60.00 = 1,500.00.
    day = [("06:00", "14:00", "ordinary"), ("14:00", "18:00", "overtime"), ("18:00", "20:00", "double")]
    spans = [(f"2026-03-16 {starts}", f"2026-03-16 {ends}", pay_class, "") for starts, ends, pay_class in day]
    assert total(paid(spans, rules=rules, rates=[salary])) == D(1500)
    # To the second: 29:59:54 and 3:19:38 = 11,978 s, of which 1.5 x 30.00 x 11,978 / 3,600 = 149.725.
    spans = [
        ("2026-03-16 00:00:00", "2026-03-17 05:59:54", "ordinary", ""),
        ("2026-03-17 12:00:00", "2026-03-17 15:19:38", "overtime", ""),
    ]
    pay = paid(spans, rules=rules, rates=[salary])
    assert pay.lines["amount"].to_list() == [D("1299.82"), D("49.91")]


def test_a_salary_agreed_for_fewer_hours_than_forty_is_divided_by_those_in_california() -> None:
    # The Labor Commissioner's answers on overtime, second hand: the agreed hours divide where they are fewer than
    # forty, and those beyond them up to forty are paid at the regular rate. 700 / 35 = 20.00: 38 h 760.00; 41 h, one of
    # them in overtime, 700 + 5 x 20.00 + 30.00 = 830.00.
    salary = [{"plan": "salary_fixed", "amount": D(700), "covers_hours": D(35)}]
    for count, whole in ((35, 700), (38, 760), (41, 830)):
        assert total(paid(hours(count), rules=CALIFORNIA, rates=salary)) == D(whole)


@pytest.mark.parametrize("jurisdiction", ["us_federal", "nevada", "colorado"])
def test_elsewhere_a_salary_has_paid_the_straight_hours_that_it_covers(jurisdiction: str) -> None:
    # 29 CFR 778.113(a): 1,200 for forty hours is 30.00; of the thirty it has paid for, six owe half of it more: 90.00.
    # 778.114: 1,200 for whatever hours is 40.00 in a week of thirty; six owe half of it: 120.00.
    rules = SiteRules("Mill", ZONE, jurisdiction)
    fixed = {"plan": "salary_fixed", "amount": D(1200), "covers_hours": D(40)}
    assert total(paid(hours(30, over=24), rules=rules, rates=[fixed])) == D(1290)
    loose = {"plan": "salary_fluctuating", "amount": D(1200)}
    assert total(paid(hours(30, over=24), rules=rules, rates=[loose])) == D(1320)


def test_a_night_differential_counts_in_the_regular_rate() -> None:
    # 46 h at 12.00, eight of them with 2.00 more: 568 / 46 = 12.3478, and 6 h owe half of it, 37.0435.
    # 29 CFR 778.207(b); numbers made for the rule.
    windows = [("night", "2026-03-15 00:00", "2026-03-15 14:00")]
    pay = paid(hours(46), on_roster="12.00", windows=windows, differentials={"night": DifferentialRate(Fraction(2))})
    assert total(pay, "regular_rate") == D("12.3478")
    assert total(pay) == D("605.04")


def test_a_weekend_premium_of_one_and_a_half_is_credited() -> None:
    # 29 CFR 778.205: 12.00, 18.00 on Sunday and a holiday, 7 x 8 = 56 h: 768.00, nothing more due.
    spans = [
        (f"2026-03-{15 + day} 08:00", f"2026-03-{15 + day} 16:00", "ordinary" if day < 5 else "overtime", "")
        for day in range(7)
    ]
    windows = [("special", f"2026-03-{day} 00:00", f"2026-03-{day} 23:00") for day in (15, 17)]
    special = {"special": DifferentialRate(multiple=Fraction(3, 2), of_days=True)}
    pay = paid(spans, on_roster="12.00", windows=windows, differentials=special)
    assert (total(pay), total(pay, "overtime_premium")) == (D(768), D(0))


def test_a_premium_for_unpleasant_hours_is_not_credited_however_high() -> None:
    # 29 CFR 778.204(b), 778.207: a clock window at one and a half times stays in the rate. 8 h x 6.00 = 48 more:
    # (672 + 48) / 56 = 12.857143; 16 h owe half of it, 102.857143.
    windows = [("night", "2026-03-15 00:00", "2026-03-15 14:00")]
    rate = {"night": DifferentialRate(multiple=Fraction(3, 2))}
    pay = paid(hours(56), on_roster="12.00", windows=windows, differentials=rate)
    assert total(pay) == D("822.86")


def test_a_differential_without_a_rate_leaves_pay_unknown() -> None:
    pay = paid(hours(10), on_roster="12.00", windows=[("night", "2026-03-15 06:00", "2026-03-15 07:00")])
    assert pay.weeks["total_pay"].to_list() == [None]
    assert 'the differential "night" has no rate in the settings' in pay.faults["says"][0]


CENTS = st.integers(1_690, 9_900).map(lambda cents: Decimal(cents) / 100)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.integers(1, 14 * 60), min_size=1, max_size=7),
    st.integers(0, 3000),
    CENTS,
    CENTS,
    st.sampled_from([FEDERAL, CALIFORNIA]),
)
def test_lines_add_up_and_pay_every_second_once(
    minutes: list[int], straight: int, rate: Decimal, other: Decimal, rules: SiteRules
) -> None:
    spans: list[Span] = []
    for day, length in enumerate(minutes):
        begins, half = datetime(2026, 3, 15 + day, 6), timedelta(minutes=min(straight, length))
        ends = begins + timedelta(minutes=length)
        straight = max(0, straight - length)
        if half:
            spans.append((begins.isoformat(" "), (begins + half).isoformat(" "), "ordinary", ""))
        if begins + half < ends:
            spans.append(((begins + half).isoformat(" "), ends.isoformat(" "), "overtime", "DYE" if day % 2 else ""))
    pay = paid(spans, rules=rules, rates=[{"amount": rate}, {"amount": other, "reader": "DYE"}])
    assert total(pay) == pay.lines["amount"].sum()
    hourly = pay.lines.filter(pay.lines["part"] == "straight")
    assert hourly["seconds"].sum() == 60 * sum(minutes)
    low, high = sorted((rate, other))
    assert low - D("0.0001") <= total(pay, "regular_rate") <= high + D("0.0001")
    # Nobody is paid less than every hour once, nor more than every hour at time and a half, to a cent a line.
    worked = Decimal(sum(minutes)) / 60
    assert low * worked - D("0.05") <= total(pay) <= high * worked * D("1.5") + D("0.05")
