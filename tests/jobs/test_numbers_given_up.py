"""A roster that empties somebody's number, or gives another: what was keyed under it while theirs stays theirs."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import polars as pl
import pytest

from evenhand.jobs.correct import CorrectionRequest
from evenhand.jobs.leavers import clocked_now, leaver_of
from evenhand.jobs.reckoning import reckon_weeks, renewed
from evenhand.jobs.take import take_files
from evenhand.jobs.takes import take_back
from evenhand.jobs.workspace import Workspace, create_workspace
from tests.jobs.asked import correct

NOW = datetime(2026, 11, 9, 15, tzinfo=UTC)
HEADER = "person,name,number,site,hired_on,left_on\n"
BEN, ADA = "P2,Ben Rook,4102,Mill,2020-01-02,\n", "P1,Ada Quill,4101,Mill,2020-01-02,\n"
BEN_LEFT = "P2,Ben Rook,4102,Mill,2020-01-02,2026-11-04\n"
BEN_EMPTIED = "P2,Ben Rook,,Mill,2020-01-02,2026-11-04\n"
LOG = "reader,number,at\n" + "".join(
    f"GATE,{number},2026-11-{day:02d} {hour}:00\n"
    for day in (2, 3, 4)
    for hour in ("08", "16")
    for number in ("4101", "4102")
)


@pytest.fixture
def mill(tmp_path: Path) -> Iterator[Workspace]:
    workspace = create_workspace(tmp_path / "mill")
    take(workspace, "readers.csv", "reader,site,zone\nGATE,Mill,America/Chicago\n")
    take(workspace, "people.csv", HEADER + ADA + BEN)
    take(workspace, "listed.csv", "reader,number,name\nGATE,4101,Ada Quill\nGATE,4102,Ben Rook\n")
    take(workspace, "log.csv", LOG)
    yield workspace
    workspace.close()


def take(workspace: Workspace, name: str, text: str) -> int:
    place = workspace.directory.parent / name
    place.write_text(text)
    (receipt,) = take_files(workspace, [place])
    return receipt.take


def whose(workspace: Workspace) -> dict[str, int]:
    reckoning = reckon_weeks(workspace, NOW, date(2026, 11, 2), date(2026, 11, 8))
    held = reckoning.attribution
    counted = dict(held.attributed.group_by("person").len().iter_rows())
    return counted | {"nobody": held.unattributed.height}


def test_past_hours_stay_a_leavers_whose_number_the_roster_empties(mill: Workspace) -> None:
    take(mill, "left.csv", HEADER + ADA + BEN_EMPTIED)
    assert whose(mill) == {"P1": 6, "P2": 6, "nobody": 0}
    hours = reckon_weeks(mill, NOW, date(2026, 11, 2), date(2026, 11, 8)).hours
    assert hours.classed.filter(pl.col("person") == "P2").height


def test_emptied_after_the_last_day_or_with_it_in_one_file_is_the_same(mill: Workspace) -> None:
    take(mill, "left.csv", HEADER + ADA + BEN_LEFT)
    take(mill, "emptied.csv", HEADER + ADA + BEN_EMPTIED)
    assert whose(mill) == {"P1": 6, "P2": 6, "nobody": 0}


def test_a_reckoning_brought_up_to_date_says_the_same(mill: Workspace) -> None:
    before = reckon_weeks(mill, NOW, date(2026, 11, 2), date(2026, 11, 8))
    assert before.attribution.unattributed.height == 0
    take(mill, "left.csv", HEADER + ADA + BEN_EMPTIED)
    after = renewed(mill, before)
    assert after.attribution.unattributed.height == 0


def test_whoever_has_the_number_next_has_what_follows_and_nothing_before(mill: Workspace) -> None:
    next_one = "P3,Eve Gray,4102,Mill,2026-11-05,\n"
    take(mill, "next.csv", HEADER + ADA + BEN_EMPTIED + next_one)
    take(mill, "later.csv", "reader,number,at\nGATE,4102,2026-11-05 08:00\nGATE,4102,2026-11-05 16:00\n")
    assert whose(mill) == {"P1": 6, "P2": 6, "P3": 2, "nobody": 0}


def test_a_number_moved_from_one_to_another_who_are_both_here_was_mistaken(mill: Workspace) -> None:
    moved = "P2,Ben Rook,,Mill,2020-01-02,\nP3,Eve Gray,4102,Mill,2020-01-02,\n"
    take(mill, "moved.csv", HEADER + ADA + moved)
    assert whose(mill) == {"P1": 6, "P3": 6, "nobody": 0}


def test_of_somebody_who_is_here_it_holds_until_the_roster_that_emptied_it(mill: Workspace) -> None:
    take(mill, "emptied.csv", HEADER + ADA + "P2,Ben Rook,,Mill,2020-01-02,\n")
    assert whose(mill) == {"P1": 6, "P2": 6, "nobody": 0}


def test_the_roster_taken_back_gives_the_number_back(mill: Workspace) -> None:
    number = take(mill, "left.csv", HEADER + ADA + BEN_EMPTIED)
    take_back(mill, number, author="Ada", reason="the wrong file", as_of=NOW)
    assert whose(mill) == {"P1": 6, "P2": 6, "nobody": 0}


def test_the_hand_on_the_reader_is_still_the_leavers(mill: Workspace) -> None:
    take(mill, "left.csv", HEADER + ADA + BEN_EMPTIED)
    (hand,) = leaver_of(clocked_now(mill, NOW), "P2").hands
    assert (hand.reader, hand.number, hand.state, hand.last_interaction) == ("GATE", "4102", "held", date(2026, 11, 4))


BEN_CHANGED = "P2,Ben Rook,4999,Mill,2020-01-02,\n"


def test_what_was_keyed_before_another_number_was_given_stays_theirs(mill: Workspace) -> None:
    take(mill, "changed.csv", HEADER + ADA + BEN_CHANGED)
    take(mill, "later.csv", "reader,number,at\nGATE,4999,2026-11-05 08:00\nGATE,4999,2026-11-05 16:00\n")
    assert whose(mill) == {"P1": 6, "P2": 8, "nobody": 0}
    take(mill, "again.csv", HEADER + ADA + BEN_CHANGED.replace("4999", "4998"))
    assert whose(mill) == {"P1": 6, "P2": 8, "nobody": 0}


def test_a_changed_number_that_is_anothers_now_is_left_to_them(mill: Workspace) -> None:
    take(mill, "changed.csv", HEADER + ADA + BEN_CHANGED + "P3,Eve Gray,4102,Mill,2020-01-02,\n")
    assert whose(mill) == {"P1": 6, "P3": 6, "nobody": 0}


def test_a_punch_added_for_somebody_with_another_number_counts_once(mill: Workspace) -> None:
    take(mill, "changed.csv", HEADER + ADA + BEN_CHANGED)
    asked = CorrectionRequest("add", "P2", "Ada", "seen", at=datetime(2026, 11, 6, 15, tzinfo=UTC), direction="in")
    correct(mill, asked, as_of=NOW)
    assert whose(mill) == {"P1": 6, "P2": 7, "nobody": 0}
