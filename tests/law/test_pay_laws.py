"""What each jurisdiction says of pay: which minimum wage binds on which day, and the workplace's own in its place."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from evenhand.law import pay_laws
from evenhand.law.jurisdictions import JURISDICTIONS
from evenhand.store.own_rules import parse_parameters
from evenhand.terms.parameters import OwnRules
from evenhand.terms.records import Refusal

WAGE = '[minimum_wage]\nmeaning = "Local"\nunit = "cent per hour"\n[[minimum_wage.values]]\n'


@pytest.mark.parametrize(
    ("jurisdiction", "day", "wage"),
    [
        ("us_federal", date(2009, 7, 23), "0"),  # 29 USC 206(a)(1)(C): 7.25 from 24 July 2009; no earlier one is kept
        ("us_federal", date(2009, 7, 24), "7.25"),
        # Colo. Const. art. XVIII, section 15 (0.90 a year to 12.00 in 2020), then as announced; 2021 from memory.
        ("colorado", date(2016, 12, 31), "7.25"),
        ("colorado", date(2017, 1, 1), "9.30"),
        ("colorado", date(2018, 1, 1), "10.20"),
        ("colorado", date(2019, 12, 31), "11.10"),
        ("colorado", date(2020, 1, 1), "12.00"),
        ("colorado", date(2021, 1, 1), "12.32"),
        ("colorado", date(2022, 12, 31), "12.56"),
        ("colorado", date(2023, 12, 31), "13.65"),
        ("colorado", date(2024, 12, 31), "14.42"),
        ("colorado", date(2025, 12, 31), "14.81"),
        ("colorado", date(2026, 1, 1), "15.16"),
        # AS 23.10.065, as the state's labor department announced them, by way of the press.
        ("alaska", date(2017, 1, 1), "9.80"),
        ("alaska", date(2018, 12, 31), "9.84"),
        ("alaska", date(2019, 1, 1), "9.89"),
        ("alaska", date(2020, 1, 1), "10.19"),
        ("alaska", date(2022, 12, 31), "10.34"),
        ("alaska", date(2023, 1, 1), "10.85"),
        ("alaska", date(2024, 12, 31), "11.73"),
        ("alaska", date(2025, 6, 30), "11.91"),
        ("alaska", date(2025, 7, 1), "13.00"),
        ("alaska", date(2026, 6, 30), "13.00"),
        ("alaska", date(2026, 7, 1), "14.00"),
        ("alaska", date(2027, 7, 1), "15.00"),
        # Labor Code 1182.12(b)(1), employers of 26 or more, amounts second hand and from the press.
        ("california", date(2016, 12, 31), "7.25"),
        ("california", date(2017, 1, 1), "10.50"),
        ("california", date(2018, 1, 1), "11.00"),
        ("california", date(2019, 1, 1), "12.00"),
        ("california", date(2020, 1, 1), "13.00"),
        ("california", date(2021, 12, 31), "14.00"),
        ("california", date(2022, 1, 1), "15.00"),
        ("california", date(2023, 12, 31), "15.50"),
        ("california", date(2024, 12, 31), "16.00"),
        ("california", date(2025, 1, 1), "16.50"),
        ("california", date(2025, 12, 31), "16.50"),
        ("california", date(2026, 1, 1), "16.90"),
        # Nev. Const. art. 15, section 16 and NRS 608.250, without health benefits, from the press.
        ("nevada", date(2017, 1, 1), "8.25"),
        ("nevada", date(2020, 6, 30), "8.25"),
        ("nevada", date(2020, 7, 1), "9.00"),
        ("nevada", date(2021, 7, 1), "9.75"),
        ("nevada", date(2022, 7, 1), "10.50"),
        ("nevada", date(2024, 6, 30), "11.25"),
        ("nevada", date(2024, 7, 1), "12.00"),
        ("eu_2003_88", date(2026, 3, 1), "0"),  # Directive 2003/88/EC says nothing of wages
    ],
)
def test_the_highest_minimum_wage_in_force_binds(jurisdiction: str, day: date, wage: str) -> None:
    found, cites = pay_laws([jurisdiction])[jurisdiction].minimum_wage(day)
    assert found == Fraction(wage)
    assert (cites.where == "no value known") == (wage == "0")


def test_a_workplace_may_hold_a_local_minimum_wage_from_its_day_on() -> None:
    own = parse_parameters(
        WAGE + 'from = 2026-07-01\nvalue = 1900\ncites = "the city\'s ordinance, invented"\n', Path("x")
    )
    local = pay_laws(["bay"], {"bay": OwnRules("bay", "california", {"minimum_wage": own})})["bay"]
    assert local.minimum_wage(date(2026, 6, 30))[0] == Fraction("16.90")
    assert local.minimum_wage(date(2026, 7, 1)) == (Fraction(19), own["minimum_wage"].values[0][2])


def test_a_lower_local_wage_does_not_undercut_federal_law() -> None:
    # 29 USC 218(a): the higher of the two holds.
    own = parse_parameters(WAGE + 'from = 2026-07-01\nvalue = 500\ncites = "invented"\n', Path("x"))
    local = pay_laws(["bay"], {"bay": OwnRules("bay", "california", {"minimum_wage": own})})["bay"]
    assert local.minimum_wage(date(2026, 7, 1))[0] == Fraction("7.25")


def test_an_unknown_jurisdiction_is_refused() -> None:
    with pytest.raises(Refusal, match="'atlantis' is not known"):
        pay_laws(["atlantis"])


def test_what_a_jurisdiction_says_nothing_of_cites_no_foreign_law() -> None:
    laws = pay_laws(["eu_2003_88", "us_federal", "california", "alaska"])
    assert laws["eu_2003_88"].source_of("hourly") == "national law and agreements"
    assert laws["us_federal"].source_of("double") == "29 CFR 778.110-778.115"
    assert laws["california"].source_of("salary_fixed") == "Cal. Labor Code 515(d)"
    assert laws["alaska"].source_of("salary_fluctuating") == "8 AAC 15.100(a)"
    assert laws["california"].rules["california.daily"] == ("Cal. Labor Code 510(a)",)


@pytest.mark.parametrize(
    ("jurisdiction", "rule", "cites"),
    [
        # What a pay line of overtime cites first is the section that its rule of hours rests on, each state's own.
        ("us_federal", "us_federal.overtime", "29 USC 207(a)(1)"),
        ("us_eight_and_eighty", "us_eight_and_eighty.daily", "29 USC 207(j)"),
        ("us_eight_and_eighty", "us_eight_and_eighty.fortnight", "29 USC 207(j)"),
        ("us_public_safety", "us_public_safety.work_period", "29 USC 207(k)"),
        ("california", "california.weekly", "Cal. Labor Code 510(a)"),
        ("california", "california.alternative_workweek", "Cal. Labor Code 511(b)"),
        ("alaska", "alaska.daily", "AS 23.10.060"),
        ("alaska", "alaska.weekly", "AS 23.10.060(b)"),
        ("nevada", "nevada.moving_workday", "NRS 608.018"),
        ("nevada", "nevada.weekly", "NRS 608.018"),
        ("colorado", "colorado.twelve_hours", "7 CCR 1103-1, rule 4.1.1"),
        ("colorado", "colorado.weekly", "7 CCR 1103-1, rule 4.1.1"),
    ],
)
def test_overtime_rests_on_the_section_of_the_law_that_was_applied(jurisdiction: str, rule: str, cites: str) -> None:
    assert pay_laws([jurisdiction])[jurisdiction].rules[rule][0] == cites


def test_eight_and_eighty_took_effect_with_the_amendments_of_1966() -> None:
    # Pub. L. 89-601, section 602: 1 February 1967 (from memory); meal premiums with Labor Code 226.7: 1 January 2001.
    for rule, number, since in (
        ("us_eight_and_eighty.daily", "daily_limit", date(1967, 2, 1)),
        ("us_eight_and_eighty.fortnight", "period_limit", date(1967, 2, 1)),
        ("california.meal_periods", "premium", date(2001, 1, 1)),
    ):
        parameter = JURISDICTIONS[rule.partition(".")[0]].numbers[rule][number]
        assert parameter.values[0][0] == since
