"""Which rules are said to bind a site: each with what it does, its source, and the numbers in force on the day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from evenhand.law.in_force import SAYS, number_known, rules_in_force
from evenhand.law.jurisdictions import JURISDICTIONS
from evenhand.terms.parameters import OwnRules, dated
from evenhand.terms.settings import AutomaticMeal, Policy, SiteRules

DAY = date(2026, 3, 1)
MILL = SiteRules("Mill", "America/Chicago")


def test_every_rule_that_ships_is_described_and_no_other() -> None:
    assert {rule.name for one in JURISDICTIONS.values() for rule in one.rules} == set(SAYS)


@pytest.mark.parametrize("name", JURISDICTIONS)
def test_rules_are_told_in_order_of_application_each_with_its_source(name: str) -> None:
    told = rules_in_force(replace(MILL, jurisdiction=name), Policy(), {}, DAY).rules
    rules = [rule.name for rule in JURISDICTIONS[name].rules]
    assert [one.name for one in told][: len(rules)] == rules
    assert all(one.cites and all(one.cites) for one in told)


def test_the_federal_limit_and_wage_are_those_of_the_statute() -> None:
    # 29 USC 207(a)(1): a workweek longer than forty hours; 206(a)(1)(C): 7.25 an hour since 24 July 2009
    told = {one.name: one for one in rules_in_force(MILL, Policy(), {}, DAY).rules}
    (limit,), (wage,) = told["us_federal.overtime"].numbers, told["us_federal.minimum_wage"].numbers
    assert (limit.value, limit.unit) == (40, "h")
    assert (wage.value, wage.unit, wage.since) == (725, "cent per hour", date(2009, 7, 24))
    assert "206(a)(1)(C)" in wage.cites


def test_a_rule_that_a_setting_leaves_out_is_said_to_do_nothing() -> None:
    def idle(rules: SiteRules, policy: Policy) -> set[str]:
        return {one.name for one in rules_in_force(rules, policy, {}, DAY).rules if one.is_idle}

    meal = AutomaticMeal(1800, 21_600, 14_400)
    assert idle(MILL, Policy()) - idle(replace(MILL, rounding_s=900), Policy(automatic_meal=meal)) == {
        "us_federal.rounding",
        "recorded.automatic_meal",
    }


def test_a_number_of_ones_own_is_told_from_its_day_on_and_before_as_what_follows() -> None:
    wage = dated("minimum_wage", "The city's", "cent per hour", (date(2026, 7, 1), 1700, "city ordinance 12"))
    own = {"us_federal": OwnRules("us_federal", "us_federal", {"minimum_wage": {"minimum_wage": wage}})}
    for day, value, is_own in ((date(2026, 6, 30), 725, False), (date(2026, 7, 1), 1700, True)):
        (number,) = rules_in_force(MILL, Policy(), own, day).rules[-1].numbers
        assert (number.value, number.is_own, number.file) == (value, is_own, "rules/us_federal/minimum_wage.toml")
        later = [] if is_own else [(date(2026, 7, 1), 1700, "city ordinance 12")]
        assert list(number.later) == later


def test_only_numbers_of_the_law_itself_can_be_ones_own() -> None:
    assert number_known("california", "daily", "daily_limit", {})
    assert number_known("california", "overtime", "weekly_limit", {}) is None  # the federal one, beside California's
    assert number_known("nowhere", "daily", "daily_limit", {}) is None
    told = rules_in_force(replace(MILL, jurisdiction="california"), Policy(), {}, DAY).rules
    files = {one.name: {number.file for number in one.numbers} for one in told if one.numbers}
    assert files["california.daily"] == {"rules/california/daily.toml"}
    assert files["us_federal.overtime"] == {""}
