"""Everything about one number, whoever held it and when."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from evenhand.jobs.number_hub import NumberHub, number_hub
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.take import Receipt, take_files
from evenhand.jobs.today import find_today
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.terms.records import Unknown
from evenhand.terms.settings import PayPeriod
from tests.jobs.test_find import FILES, NOW


def hub(workspace: Workspace, number: str) -> NumberHub:
    reckoning = reckon_period(workspace, NOW)
    return number_hub(reckoning, find_today(reckoning), number)


@pytest.fixture
def mill(tmp_path: Path) -> Workspace:
    workspace = create_workspace(tmp_path / "workspace", "Mill", period=PayPeriod(date(2026, 3, 1)))
    _take(workspace, tmp_path, FILES)
    return workspace


def _take(workspace: Workspace, directory: Path, files: dict[str, str]) -> None:
    for name, text in files.items():
        (directory / name).write_text(text)
    for receipt in take_files(workspace, [directory / name for name in files]):
        assert isinstance(receipt, Receipt), receipt


def test_a_number_tells_its_holder_its_readers_and_what_came_under_it(mill: Workspace) -> None:
    shown = hub(mill, "4101")
    assert [who["person"] for who in shown.holders] == ["P1"]
    assert [(one["reader"], one["name"]) for one in shown.enrolments] == [("MILL-1", "MARROW")]
    first = int(datetime(2026, 3, 2, 12, 53, tzinfo=UTC).timestamp())  # 07:53 in New York, five hours behind
    (came,) = shown.keyed
    assert (came["reader"], came["person"], came["accepted"], came["refused"]) == ("MILL-1", "P1", 2, 0)
    assert came["first_at"] == first


def test_a_number_nobody_has_tells_what_is_nobodys_and_whose_is_one_slip_away(mill: Workspace) -> None:
    shown = hub(mill, "4108")
    assert (shown.holders, shown.former, shown.enrolments) == ([], [], [])
    assert [(one["person"], one["accepted"]) for one in shown.keyed] == [(None, 2)]
    assert ("4101", "P1", "Tess Márrow", "4101 with one digit mistyped") in shown.near
    assert all(person != "P4" for _, person, _, _ in shown.near)  # who has left keys nothing


def test_whose_a_number_was_stays_told_after_rosters_changed_it(mill: Workspace, tmp_path: Path) -> None:
    second = FILES["people.csv"].replace("P2,Bram Ostler,4102", "P2,Bram Ostler,4120")
    third = second.replace("P2,Bram Ostler,4120", "P2,Bram Ostler,4121").replace("Joss Fenn,4105", "Joss Fenn,4102")
    _take(mill, tmp_path, {"second.csv": second})
    _take(mill, tmp_path, {"third.csv": third})
    shown = hub(mill, "4102")
    assert [who["person"] for who in shown.holders] == ["4102"]
    assert [(was["person"], was["file"]) for was in shown.former] == [("P2", "second.csv")]
    assert [(was["person"], was["file"]) for was in hub(mill, "4120").former] == [("P2", "third.csv")]
    assert [was["then"] for was in hub(mill, "4120").former] == ["4121"]
    # whose name or site changed has had no other number
    _take(mill, tmp_path, {"fourth.csv": third.replace("Bram Ostler", "Bram Sadler")})
    assert hub(mill, "4121").former == []
    _take(mill, tmp_path, {"fifth.csv": third.replace("P2,Bram Ostler,4121", "P2,Bram Ostler,")})
    assert [(was["person"], was["then"]) for was in hub(mill, "4121").former] == [("P2", None)]


def test_a_number_that_stands_nowhere_is_refused(mill: Workspace) -> None:
    with pytest.raises(Unknown, match='"777" is nobody\'s number'):
        hub(mill, "777")
