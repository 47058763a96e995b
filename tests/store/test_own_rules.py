"""A workplace's own numbers are read from its rules folder, or refused with file, key and reason."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from evenhand.store.own_rules import parse_parameters, read_own_rules
from evenhand.terms.records import Refusal

LIMIT = """
[weekly_limit]
meaning = "An agreement's week"
unit = "h"

[[weekly_limit.values]]
from = 2026-01-01
value = 38
cites = "invented agreement, section 4"
"""


def write(folder: Path, name: str, text: str) -> None:
    (folder / name).parent.mkdir(parents=True, exist_ok=True)
    (folder / name).write_text(text, encoding="utf-8")


def test_no_folder_is_no_rules(tmp_path: Path) -> None:
    assert read_own_rules(tmp_path / "rules") == {}


def test_a_folder_changes_the_jurisdiction_it_is_named_after(tmp_path: Path) -> None:
    write(tmp_path, "us_federal/overtime.toml", LIMIT)
    (own,) = read_own_rules(tmp_path).values()
    assert (own.name, own.based_on) == ("us_federal", "us_federal")
    assert own.files["overtime"]["weekly_limit"].on(date(2026, 6, 1)) == 38


def test_a_folder_of_another_name_says_what_it_is_based_on(tmp_path: Path) -> None:
    write(tmp_path, "our_agreement/jurisdiction.toml", 'based_on = "california"')
    write(tmp_path, "our_agreement/weekly.toml", LIMIT)
    own = read_own_rules(tmp_path)["our_agreement"]
    assert (own.based_on, list(own.files)) == ("california", ["weekly"])


@pytest.mark.parametrize(
    ("was", "now", "says"),
    [
        ("value = 38", "value = -38", "weekly_limit.values 1.value: found '-38'"),
        ("value = 38", "value = 3800000000", "values 1.value: found '3800000000', expected a whole number from 0 to"),
        ("unit =", "units =", "weekly_limit.units: found a key nobody knows"),
        ("cites =", "source =", "weekly_limit.values 1.source: found a key nobody knows"),
        ("value = 38", "value = ", "not valid TOML"),
    ],
)
def test_a_bad_file_is_refused_with_its_path_key_and_reason(tmp_path: Path, was: str, now: str, says: str) -> None:
    write(tmp_path, "us_federal/overtime.toml", LIMIT.replace(was, now))
    with pytest.raises(Refusal) as refused:
        read_own_rules(tmp_path)
    assert str(tmp_path / "us_federal/overtime.toml") in str(refused.value)
    assert says in str(refused.value)


def test_overlapping_dates_are_refused(tmp_path: Path) -> None:
    again = LIMIT[LIMIT.index("[[") :].replace("38", "36")
    write(tmp_path, "us_federal/overtime.toml", LIMIT + again)
    with pytest.raises(Refusal, match=r"weekly_limit\.values: found 2026-01-01 after 2026-01-01"):
        read_own_rules(tmp_path)


def test_an_unknown_key_beside_based_on_is_refused(tmp_path: Path) -> None:
    write(tmp_path, "ours/jurisdiction.toml", 'based_on = "california"\nname = "ours"')
    with pytest.raises(Refusal, match="name: found a key nobody knows"):
        read_own_rules(tmp_path)


HEAD = '[limit]\nmeaning = "A limit"\nunit = "h"\n'
FIRST = '[[limit.values]]\nfrom = 2000-01-01\nvalue = 44\ncites = "invented"\n'
SECOND = '[[limit.values]]\nfrom = 2010-01-01\nvalue = 40\ncites = "invented"\n'


def test_the_value_in_force_is_the_latest_that_has_begun() -> None:
    limit = parse_parameters(HEAD + FIRST + SECOND, Path("x.toml"))["limit"]
    assert [limit.on(day) for day in (date(2000, 1, 1), date(2009, 12, 31), date(2010, 1, 1))] == [44, 44, 40]


def test_before_the_first_value_there_is_none() -> None:
    with pytest.raises(Refusal, match="limit: no value is known for 1999-12-31"):
        parse_parameters(HEAD + FIRST, Path("x.toml"))["limit"].on(date(1999, 12, 31))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("limit = ", "not valid TOML"),
        ("limit = 40", "limit: found '40', expected a table"),
        (
            HEAD.replace("unit", "units") + FIRST,
            "limit.units: found a key nobody knows, expected one of meaning, unit, values",
        ),
        ('[limit]\nmeaning = "A limit"\n' + FIRST, "limit.unit: found nothing"),
        (HEAD + "values = []\n", "limit.values: found '[]', expected at least one value"),
        (HEAD + FIRST.replace("44", "-1"), "limit.values 1.value: found '-1', expected a whole number"),
        (HEAD + FIRST.replace("44", "4.5"), "limit.values 1.value: found '4.5'"),
        (HEAD + FIRST.replace("2000-01-01", '"2000"'), "limit.values 1.from: found '2000', expected a date"),
        (HEAD + FIRST.replace("cites", "source"), "limit.values 1.source: found a key nobody knows"),
        (HEAD + FIRST.replace('"invented"', '""'), "limit.values 1.cites: found ''"),
        (HEAD + SECOND + FIRST, "limit.values: found 2000-01-01 after 2010-01-01, expected each date of effect once"),
    ],
)
def test_a_bad_file_is_refused_with_its_name_and_reason(text: str, says: str) -> None:
    with pytest.raises(Refusal, match=r"x\.toml") as refused:
        parse_parameters(text, Path("x.toml"))
    assert says in str(refused.value)
