"""A roster that empties somebody's number, or gives another: what was keyed under it while theirs stays theirs."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from types import SimpleNamespace

import polars as pl
import pytest
from click.testing import CliRunner

from evenhand.cli import evenhand
from evenhand.jobs.correct import CorrectionRequest
from evenhand.jobs.foreseen_erasure import look_at_erasure
from evenhand.jobs.leavers import clocked_now, leaver_of
from evenhand.jobs.overview import people_seen
from evenhand.jobs.receipts import Receipt
from evenhand.jobs.reckoning import reckon_period, reckon_weeks, renewed
from evenhand.jobs.removal_rounds import plan_removals
from evenhand.jobs.take import take_files
from evenhand.jobs.takes import take_back
from evenhand.jobs.today import find_today
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.terms.records import Refusal
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


def take_on(workspace: Workspace, day: str, name: str, text: str, monkeypatch: pytest.MonkeyPatch) -> int:
    """Take a file in the evening of a day."""
    at = datetime.fromisoformat(f"{day}T18:00-06:00").timestamp()
    monkeypatch.setattr("evenhand.jobs.keep.time", SimpleNamespace(time=lambda: at))
    return take(workspace, name, text)


@pytest.fixture
def dated(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Workspace]:
    """A mill whose roster was taken a week before the week that is looked at."""
    workspace = create_workspace(tmp_path / "mill")
    day = "2026-10-26"
    take_on(workspace, day, "readers.csv", "reader,site,zone\nGATE,Mill,America/Chicago\n", monkeypatch)
    take_on(workspace, day, "people.csv", HEADER + ADA + BEN, monkeypatch)
    take_on(workspace, day, "listed.csv", "reader,number,supervisor\nGATE,4101,yes\nGATE,4102,no\n", monkeypatch)
    take_on(workspace, "2026-11-05", "log.csv", LOG, monkeypatch)
    yield workspace
    workspace.close()


EVE, EVE_NEW = "P3,Eve Gray,4102,Mill,2020-01-02,\n", "P3,Eve Gray,4102,Mill,2026-11-05,\n"


@pytest.mark.parametrize("ben", [BEN_CHANGED, "P2,Ben Rook,,Mill,2020-01-02,\n", ""])
@pytest.mark.parametrize("eve", [EVE, EVE_NEW, EVE.replace("2020-01-02", "")])
def test_what_was_keyed_before_a_number_was_given_to_another_stays_theirs(
    dated: Workspace, monkeypatch: pytest.MonkeyPatch, ben: str, eve: str
) -> None:
    """Whatever became of Ben: another number, none, or no longer listed; and whenever Eve began."""
    text = HEADER + ADA + ben + eve + "P4,Ida Moss,4104,Mill,2020-01-02,\n"
    take_on(dated, "2026-11-05", "next.csv", text, monkeypatch)
    later = "reader,number,at\nGATE,4102,2026-11-06 08:00\nGATE,4102,2026-11-06 16:00\n"
    take_on(dated, "2026-11-08", "later.csv", later, monkeypatch)
    assert whose(dated) == {"P1": 6, "P2": 6, "P3": 2, "nobody": 0}
    # a later file that says something else of the new holder changes nothing of it
    take_on(dated, "2026-11-09", "moved.csv", text.replace("Eve Gray", "Eve Grey"), monkeypatch)
    assert whose(dated) == {"P1": 6, "P2": 6, "P3": 2, "nobody": 0}


def test_the_roster_that_was_mistaken_taken_back_gives_the_later_one_everything(
    dated: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    take_on(dated, "2026-11-05", "right.csv", HEADER + ADA + BEN_CHANGED + EVE, monkeypatch)
    take_back(dated, 2, author="Ada", reason="the numbers were mixed up", as_of=NOW)
    assert whose(dated) == {"P1": 6, "P3": 6, "nobody": 0}


def test_whoever_came_back_keeps_the_hours_of_before(dated: Workspace, monkeypatch: pytest.MonkeyPatch) -> None:
    take_on(dated, "2026-11-05", "left.csv", HEADER + ADA + BEN_LEFT, monkeypatch)
    back = BEN.replace("2020-01-02", "2026-11-06")
    take_on(dated, "2026-11-06", "back.csv", HEADER + ADA + back, monkeypatch)
    assert whose(dated) == {"P1": 6, "P2": 6, "nobody": 0}


def test_another_who_has_the_number_since_prolongs_nothing_of_the_leavers(
    mill: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = leaver_after(mill, "BEN LEFT", HEADER + ADA + BEN_LEFT)
    take(mill, "next.csv", HEADER + ADA + BEN_LEFT + EVE_NEW)
    take(mill, "later.csv", "reader,number,at\nGATE,4102,2026-11-08 08:00\nGATE,4102,2026-11-08 16:00\n")
    clocked = clocked_now(mill, NOW)
    entries = {row["person"]: row for row in clocked.entries.to_dicts()}
    assert entries["P2"]["last_entry"] == entries["P2"]["last_interaction"] == date(2026, 11, 4)
    assert entries["P3"]["last_interaction"] == date(2026, 11, 8)
    assert leaver_of(clocked, "P2").keep_through == before


def leaver_after(workspace: Workspace, name: str, text: str) -> date | None:
    take(workspace, f"{name}.csv", text)
    return leaver_of(clocked_now(workspace, NOW), "P2").keep_through


@pytest.mark.parametrize("eve", ["", EVE_NEW])
def test_a_hand_under_a_leavers_changed_number_is_theirs_until_the_readers_list_shows_it_no_longer(
    dated: Workspace, monkeypatch: pytest.MonkeyPatch, eve: str
) -> None:
    changed = BEN_LEFT.replace("4102", "9102")
    take_on(dated, "2026-11-05", "left.csv", HEADER + ADA + changed + eve, monkeypatch)
    (hand,) = leaver_of(clocked_now(dated, NOW), "P2").hands
    assert (hand.reader, hand.number, hand.state, hand.last_interaction) == ("GATE", "4102", "held", date(2026, 11, 4))
    made = plan_removals(dated, date(2026, 11, 9), author="Ada", as_of=NOW)
    assert made.items.select("reader", "number", "person").rows() == [("GATE", "4102", "P2")]
    take_on(dated, "2026-11-09", "after.csv", "reader,number,supervisor\nGATE,4101,yes\n", monkeypatch)
    (hand,) = leaver_of(clocked_now(dated, NOW), "P2").hands
    assert (hand.state, hand.proof_file) == ("proved", "after.csv")


@pytest.mark.parametrize("after", ["", "GATE,4102,no,Eve Gray,\n", "GATE,4102,no,,2026-11-06\n", "anew"])
def test_a_hand_is_the_next_holders_once_accepted_and_the_earlier_ones_is_to_be_proved_gone(
    dated: Workspace, monkeypatch: pytest.MonkeyPatch, after: str
) -> None:
    """Its list names nobody, so that it looks the same before and after, until one shows that it is not."""
    take_on(dated, "2026-11-05", "left.csv", HEADER + ADA + BEN_LEFT + EVE_NEW, monkeypatch)
    log = "reader name,number,at,outcome\nGATE,4102,2026-11-06 08:00,{}\n"
    take_on(dated, "2026-11-06", "refused.csv", log.format("refused"), monkeypatch)
    assert [hand.state for hand in leaver_of(clocked_now(dated, NOW), "P2").hands] == ["held"]
    take_on(dated, "2026-11-07", "accepted.csv", log.format("accepted").replace("08:00", "09:00"), monkeypatch)
    ben = leaver_of(clocked_now(dated, NOW), "P2")
    assert [(hand.reader, hand.number, hand.state) for hand in ben.hands] == [("GATE", "4102", "taken_over")]
    assert (ben.state, ben.is_proved) == ("to_prove", False)
    assert seen_at(dated)["P3"] == (("GATE",), True)
    with pytest.raises(Refusal, match="no hand is due"):  # it would take the hand of whoever has the number
        plan_removals(dated, date(2026, 11, 9), author="Ada", as_of=NOW)
    assert any("accepted under 4102" in said for said in look_at_erasure(dated, "P2", as_of=NOW).holds_back)
    if after == "anew":  # taken off, and enrolled again
        bare = "reader,number,supervisor\nGATE,4101,yes\n"
        take_on(dated, "2026-11-08", "without.csv", bare, monkeypatch)
        take_on(dated, "2026-11-09", "list.csv", bare + "GATE,4102,no\n", monkeypatch)
    else:
        told = "reader name,number,supervisor,name,enrolled on\nGATE,4101,yes,Ada Quill,2020-01-02\n"
        take_on(dated, "2026-11-09", "list.csv", told + after, monkeypatch)
    (hand,) = leaver_of(clocked_now(dated, NOW), "P2").hands
    assert (hand.state, hand.proof_file) == ("proved", "list.csv")


def test_a_list_that_tells_something_else_of_a_number_alone_proves_nothing(
    dated: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    take_on(dated, "2026-11-05", "left.csv", HEADER + ADA + BEN_LEFT + EVE_NEW, monkeypatch)
    listed = "reader,number,supervisor\nGATE,4101,yes\nGATE,4102,yes\n"
    take_on(dated, "2026-11-08", "listed.csv", listed, monkeypatch)
    (hand,) = leaver_of(clocked_now(dated, NOW), "P2").hands
    assert (hand.number, hand.state) == ("4102", "taken_over")


@pytest.mark.parametrize("between", [True, False])
def test_a_hand_stays_proved_gone_when_the_list_has_somebody_elses_name_beside_the_number(
    dated: Workspace, monkeypatch: pytest.MonkeyPatch, between: bool
) -> None:
    named = "reader name,number,supervisor,name\nGATE,4101,yes,Ada Quill\n"  # a layout of its own
    take_on(dated, "2026-10-27", "named.csv", named + "GATE,4102,no,Ben Rook\n", monkeypatch)
    take_on(dated, "2026-11-05", "left.csv", HEADER + ADA + BEN_LEFT + EVE_NEW, monkeypatch)
    if between:
        take_on(dated, "2026-11-06", "without.csv", named, monkeypatch)
    take_on(dated, "2026-11-08", "eve.csv", named + "GATE,4102,no,Eve Gray\n", monkeypatch)
    (hand,) = leaver_of(clocked_now(dated, NOW), "P2").hands
    assert (hand.reader, hand.number, hand.state, hand.proof_file) == ("GATE", "4102", "proved", "eve.csv")
    assert seen_at(dated)["P3"] == (("GATE",), True)


def seen_at(workspace: Workspace) -> dict[str, tuple[tuple[str, ...], bool]]:
    today = find_today(reckon_period(workspace, NOW))
    return {one.person: (one.readers, one.is_listed) for one in people_seen(today)}


def test_people_are_shown_where_their_own_hands_are(dated: Workspace, monkeypatch: pytest.MonkeyPatch) -> None:
    take_on(dated, "2026-11-05", "left.csv", HEADER + ADA + BEN_LEFT + EVE_NEW, monkeypatch)
    assert seen_at(dated) == {"P1": (("GATE",), True), "P2": (("GATE",), True), "P3": ((), True)}
    named = "reader,number,supervisor,name\nGATE,4101,yes,Ada Quill\nGATE,4102,no,Eve Gray\n"
    take_on(dated, "2026-11-08", "named.csv", named.replace("reader,", "reader name,"), monkeypatch)
    assert seen_at(dated) == {"P1": (("GATE",), True), "P2": ((), True), "P3": (("GATE",), True)}


def test_whom_the_roster_lists_no_longer_is_said_so_of(dated: Workspace, monkeypatch: pytest.MonkeyPatch) -> None:
    take_on(dated, "2026-11-05", "gone.csv", HEADER + ADA + "P4,Ida Moss,4104,Mill,2020-01-02,\n", monkeypatch)
    assert {person: is_listed for person, (_, is_listed) in seen_at(dated).items()} == {
        "P1": True,
        "P2": False,
        "P4": True,
    }
    at = ["-w", str(dated.directory), "people", "--as-of", NOW.isoformat()]
    assert "Ben Rook (no longer listed)" in " ".join(CliRunner().invoke(evenhand, at).output.split())


def test_a_list_that_was_taken_as_a_part_says_so(dated: Workspace, tmp_path: Path) -> None:
    more = "".join(f"P{one},Person {one},{4100 + one},Mill,2020-01-02,\n" for one in range(4, 9))
    take(dated, "more.csv", HEADER + ADA + BEN + more)
    (tmp_path / "some.csv").write_text(HEADER + "P9,Kim Ash,4109,Mill,2026-11-02,\n" + ADA)
    (receipt,) = take_files(dated, [tmp_path / "some.csv"])
    assert isinstance(receipt, Receipt)
    assert [said for said in receipt.notices if "taken as a part of the roster; 6 people not in it stay listed" in said]
