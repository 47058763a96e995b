"""A workplace's own numbers are read from its rules folder, or refused with file, key and reason."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from evenhand.store.own_rules import read_own_rules
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
        ("value = 38", "value = -38", "value = -38"),
        ("unit =", "units =", "weekly_limit has the unknown key units"),
        ("cites =", "source =", "unknown key source"),
        ("value = 38", "value = ", "not readable as TOML"),
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
    with pytest.raises(Refusal, match="overlap, 2026-01-01 follows"):
        read_own_rules(tmp_path)


def test_an_unknown_key_beside_based_on_is_refused(tmp_path: Path) -> None:
    write(tmp_path, "ours/jurisdiction.toml", 'based_on = "california"\nname = "ours"')
    with pytest.raises(Refusal, match="name: found a key nobody knows"):
        read_own_rules(tmp_path)
