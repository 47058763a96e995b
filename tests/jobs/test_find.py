"""What a few words find in a workspace, and where they lead straight on."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from evenhand.jobs.enrolment_day import AskedDay
from evenhand.jobs.find import MOST, Search, find
from evenhand.jobs.keeping_rounds import keep_round
from evenhand.jobs.reckoning import Reckoning, reckon_period
from evenhand.jobs.take import Receipt, take_files
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.terms.rounds import ROUND_ITEMS
from evenhand.terms.settings import PayPeriod

NOW = datetime(2026, 3, 9, 13, 0, tzinfo=UTC)
FILES = {
    "readers.csv": (
        "reader,site,place,zone,max digits,capacity\n"
        "MILL-1,Mill,Gate,America/New_York,6,50\nYARD-1,Yard,Gate,America/New_York,6,50\n"
    ),
    "people.csv": (
        "person,name,number,site,department,left on,supervisor\n"
        "P1,Tess Márrow,4101,Mill,Sawing,,yes\n"
        "P2,Bram Ostler,4102,Mill,Sawing,,\n"
        "P3,Ines Quill,0369,Mill,Drying,,\n"
        "P4,Ines Quillfeather,4104,Yard,,2026-03-01,\n"
        "4102,Joss Fenn,4105,Yard,,,\n"
        "P6,Uma Holt,4106,Yard,,,\nP7,Uma Holt,4107,Yard,,,\n"
    ),
    "enrolled.csv": "reader,number,name\nMILL-1,4101,MARROW\nMILL-1,4109,HOLT\n",
    "punches.csv": (
        "reader,number,time,direction\n"
        "MILL-1,4101,2026-03-02 07:53:00,in\nMILL-1,4101,2026-03-02 12:00:00,out\n"
        "MILL-1,4108,2026-03-02 07:53:00,in\nMILL-1,4108,2026-03-02 12:00:00,out\n"
        "YARD-1,4106,2026-03-02 07:53:00,in\n"
    ),
}


@pytest.fixture(scope="module")
def mill(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workspace]:
    directory = tmp_path_factory.mktemp("mill")
    workspace = create_workspace(directory / "workspace", "Mill", period=PayPeriod(date(2026, 3, 1)))
    _take(workspace, directory, FILES)
    yield workspace
    workspace.close()


def _take(workspace: Workspace, directory: Path, files: dict[str, str]) -> None:
    for name, text in files.items():
        (directory / name).write_text(text)
    for receipt in take_files(workspace, [directory / name for name in files]):
        assert isinstance(receipt, Receipt), receipt


@pytest.fixture(scope="module")
def reckoning(mill: Workspace) -> Reckoning:
    return reckon_period(mill, NOW)


def keys(searched: Search) -> dict[str, list[str]]:
    return {of.kind: [one.key for one in of.found] for of in searched.kinds}


@pytest.mark.parametrize(
    ("asked", "kind", "key"),
    [
        ("marrow", "person", "P1"),
        ("Márrow, Tess", "person", "P1"),
        ("p3", "person", "P3"),
        ("4104", "person", "P4"),
        ("ines quill", "person", "P3"),
        ("YARD-1", "reader", "YARD-1"),
        ("mill 1", "reader", "MILL-1"),
        ("yard", "site", "Yard"),
        ("4109", "number", "4109"),
        ("MILL-1/4108", "stray", "MILL-1/4108"),
        ("4108 at mill-1", "stray", "MILL-1/4108"),
        ("punches.csv", "file", "4"),
        ("take 2", "file", "2"),
        ("2026-03-02", "day", "2026-03-02"),
    ],
)
def test_what_alone_can_be_meant_is_gone_to(reckoning: Reckoning, asked: str, kind: str, key: str) -> None:
    one = find(reckoning, asked).one
    assert one is not None
    assert (one.kind, one.key) == (kind, key)


@pytest.mark.parametrize(
    "asked",
    [
        "uma holt",  # two people of one name
        "ines",
        "4102",  # one's number and another's identifier
        "zz",
        "",
        "3/4/2026",  # two days
        "quil",
    ],
)
def test_where_several_things_can_be_meant_nobody_is_sent_anywhere(reckoning: Reckoning, asked: str) -> None:
    assert find(reckoning, asked).one is None


def test_a_number_under_which_punches_are_nobodys_leads_to_all_about_the_number(reckoning: Reckoning) -> None:
    one = find(reckoning, "4108").one
    assert one is not None
    assert (one.kind, one.key) == ("number", "4108")
    assert one.says == "nobody's on the roster, listed at no reader"


def test_a_number_lost_its_zeros_or_a_digit_and_is_found_but_not_gone_to(reckoning: Reckoning) -> None:
    assert keys(find(reckoning, "369"))["person"] == ["P3"]
    assert find(reckoning, "4110").one is None
    assert "4101" in keys(find(reckoning, "4110"))["number"]  # two digits exchanged


def test_people_who_left_are_found_and_it_is_said(reckoning: Reckoning) -> None:
    found = find(reckoning, "quillfeather").kinds[0].found[0]
    assert found.says == "P4, number 4104, Yard, left Sun 1 Mar 2026"


def test_a_name_with_a_day_leads_to_that_day(reckoning: Reckoning) -> None:
    one = find(reckoning, "tess marrow 2 March 2026").one
    assert one is not None
    assert (one.kind, one.key, one.day) == ("person", "P1", date(2026, 3, 2))
    both = find(reckoning, "tess marrow 3/4/2026")
    assert both.one is None
    assert [one.day for one in both.kinds[0].found] == [date(2026, 3, 4), date(2026, 4, 3)]


def test_sites_and_departments_narrow_people_down(reckoning: Reckoning) -> None:
    assert keys(find(reckoning, "ines drying")) == {"person": ["P3"]}
    assert "person" not in keys(find(reckoning, "sawing"))


def test_supervisors_are_found_by_that_word_and_narrowed_by_their_site(reckoning: Reckoning) -> None:
    assert keys(find(reckoning, "mill supervisor"))["person"] == ["P1"]
    assert "person" not in keys(find(reckoning, "yard supervisor"))


def test_a_round_named_in_full_is_gone_to_and_not_the_day_it_begins_with(tmp_path: Path) -> None:
    workspace = create_workspace(tmp_path / "workspace", "Mill", period=PayPeriod(date(2026, 3, 1)))
    _take(workspace, tmp_path, FILES)
    asked = AskedDay(date(2026, 3, 3), "Spring")
    keep_round(workspace, "2026-03-03-1", asked, "R. Hale", NOW, ROUND_ITEMS.empty())
    one = find(reckon_period(workspace, NOW), "2026-03-03-1").one
    assert one is not None
    assert (one.kind, one.key) == ("round", "2026-03-03-1")
    assert [of.kind for of in find(reckon_period(workspace, NOW), "2026-03-03").kinds][-1] == "day"


@pytest.mark.parametrize("asked", ["round", "Rounds", "ronda", "rondas", "spring round"])
def test_rounds_are_found_by_the_word_in_either_language(tmp_path: Path, asked: str) -> None:
    workspace = create_workspace(tmp_path / "workspace", "Mill", period=PayPeriod(date(2026, 3, 1)))
    _take(workspace, tmp_path, FILES)
    day = AskedDay(date(2026, 3, 3), "Spring")
    keep_round(workspace, "2026-03-03-1", day, "R. Hale", NOW, ROUND_ITEMS.empty())
    assert keys(find(reckon_period(workspace, NOW), asked))["round"] == ["2026-03-03-1"]


def test_no_more_are_shown_of_a_kind_than_are_looked_at_and_all_are_counted(tmp_path: Path) -> None:
    workspace = create_workspace(tmp_path / "workspace", "Many", period=PayPeriod(date(2026, 3, 1)))
    rows = "".join(f"P{at},Ana Pell {at},{5000 + at},Mill\n" for at in range(60))
    _take(workspace, tmp_path, {"readers.csv": FILES["readers.csv"], "people.csv": "person,name,number,site\n" + rows})
    searched = find(reckon_period(workspace, NOW), "pell")
    assert (searched.kinds[0].count, len(searched.kinds[0].found)) == (60, MOST)
    workspace.close()


def test_what_a_later_roster_says_is_found(tmp_path: Path) -> None:
    workspace = create_workspace(tmp_path / "workspace", "Mill", period=PayPeriod(date(2026, 3, 1)))
    _take(workspace, tmp_path, FILES)
    before = reckon_period(workspace, NOW)
    assert find(before, "4102").kinds
    later = FILES["people.csv"].replace("P2,Bram Ostler,4102", "P2,Bram Sadler,4120")
    _take(workspace, tmp_path, {"later.csv": later})
    after = before.following(reckon_period(workspace, NOW).snapshot, NOW)
    assert keys(find(after, "ostler")) == {}
    assert keys(find(after, "sadler")) == {"person": ["P2"]}
    # the number that nobody has now is still one that was somebody's
    assert keys(find(after, "4102"))["number"] == ["4102"]
    workspace.close()
