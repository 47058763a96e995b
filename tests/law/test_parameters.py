"""The law's numbers are read strictly: a bad file is refused with its name, key and reason."""

from __future__ import annotations

from datetime import date

import pytest

from evenhand.law.jurisdictions import JURISDICTIONS
from evenhand.terms.parameters import parse_parameters
from evenhand.terms.records import Refusal

HEAD = '[limit]\nmeaning = "A limit"\nunit = "h"\n'
FIRST = '[[limit.values]]\nfrom = 2000-01-01\nvalue = 44\ncites = "invented"\n'
SECOND = '[[limit.values]]\nfrom = 2010-01-01\nvalue = 40\ncites = "invented"\n'


def test_the_value_in_force_is_the_latest_that_has_begun() -> None:
    limit = parse_parameters(HEAD + FIRST + SECOND, "x.toml")["limit"]
    assert [limit.on(day) for day in (date(2000, 1, 1), date(2009, 12, 31), date(2010, 1, 1))] == [44, 44, 40]


def test_before_the_first_value_there_is_none() -> None:
    with pytest.raises(Refusal, match="limit: no value is known for 1999-12-31"):
        parse_parameters(HEAD + FIRST, "x.toml")["limit"].on(date(1999, 12, 31))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("limit = ", "not readable as TOML"),
        ("limit = 40", "limit is not a table"),
        (HEAD.replace("unit", "units") + FIRST, "limit has the unknown key units"),
        ('[limit]\nmeaning = "A limit"\n' + FIRST, "limit lacks unit"),
        (HEAD + "values = []\n", "limit has no values"),
        (HEAD + FIRST.replace("44", "-1"), "value = -1"),
        (HEAD + FIRST.replace("44", "4.5"), "value = 4.5"),
        (HEAD + FIRST.replace("2000-01-01", '"2000"'), "from = '2000'"),
        (HEAD + FIRST.replace("cites", "source"), "limit.values has the unknown key source"),
        (HEAD + FIRST.replace('"invented"', '""'), "cites nothing"),
        (HEAD + SECOND + FIRST, "limit.values overlap, 2000-01-01 follows 2010-01-01"),
    ],
)
def test_a_bad_file_is_refused_with_its_name_and_reason(text: str, says: str) -> None:
    with pytest.raises(Refusal, match=r"x\.toml") as refused:
        parse_parameters(text, "x.toml")
    assert says in str(refused.value)


def test_federal_overtime_begins_past_forty_hours() -> None:
    # 29 USC 207(a)(1)
    assert JURISDICTIONS["us_federal"].numbers["us_federal.overtime"]["weekly_limit"].on(date(2026, 1, 1)) == 40


def test_the_regulation_names_three_increments() -> None:
    # 29 CFR 785.48(b): the nearest 5 minutes, one-tenth or quarter of an hour
    increments = JURISDICTIONS["us_federal"].numbers["us_federal.rounding"]["increments"]
    assert increments.on(date(2026, 1, 1)) == (5 * 60, 6 * 60, 15 * 60)
