"""Leavers as the store knows them: proved by the reader's list, bound where they worked, taken off in safe rounds."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from types import SimpleNamespace

import polars as pl
import pytest
from click.testing import CliRunner

from evenhand.cli import evenhand
from evenhand.jobs.foreseen_erasure import look_at_erasure
from evenhand.jobs.leavers import Leaver, clocked_now, leaver_of, leavers_of
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.removal_rounds import plan_removals
from evenhand.jobs.retention import place_of_site
from evenhand.jobs.rounds import record_now
from evenhand.jobs.snapshot import take_snapshot
from evenhand.jobs.take import take_files
from evenhand.jobs.today import find_today
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.terms.records import Refusal, Unknown

NOW = datetime(2026, 11, 27, 15, tzinfo=UTC)
FILES = {
    "readers.csv": (
        "reader,site,zone\nGATE,Mill,America/Chicago\nYARD,Quarry,America/Denver\nSILO,Silo,America/Chicago\n"
    ),
    "people.csv": (
        "person,name,number,site,hired on,left on\n"
        "P1,Ada Quill,4101,Mill,2020-01-02,\n"
        "P2,Ben Rook,4102,Mill,2020-01-02,2026-10-31\n"
        "P3,Cy Doe,4103,Mill,2020-01-02,2024-02-29\n"
        "P4,Dee Fox,4104,Mill,2026-02-02,2024-02-29\n"
    ),
    "listed.csv": (
        "reader,number,name,supervisor,enrolled on\n"
        "GATE,4101,Ada Quill,yes,2020-01-02\n"
        "GATE,4102,Ben Rook,no,2020-01-02\n"
        "GATE,4104,Dee Fox,no,2026-02-02\n"
        "YARD,4102,Ben Rook,yes,2024-05-06\n"
        "YARD,4103,Cy Doe,no,2022-05-06\n"
    ),
    "log.csv": (
        "reader,number,at\nGATE,4102,2026-10-30 08:00:10\nYARD,4102,2026-06-01 08:00:10\nYARD,4103,2024-02-29 08:00\n"
        "SILO,4102,2026-06-02 08:00:10\n"
    ),
}
SETTINGS = """
[site.Mill]
zone = "America/Chicago"
place = "US-TX"
[site.Quarry]
zone = "America/Denver"
place = "US-CO"
[site.Silo]
zone = "America/Chicago"
place = "US-NY"
"""


@pytest.fixture
def mill(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Workspace]:
    taken_at = NOW.timestamp() - 3600  # before what is said of the hands, whenever this runs
    monkeypatch.setattr("evenhand.jobs.keep.time", SimpleNamespace(time=lambda: taken_at))
    workspace = create_workspace(tmp_path / "mill")
    with workspace.settings_file.open("a") as settings:
        settings.write(SETTINGS)
    for name, text in FILES.items():
        take(workspace, tmp_path / name, text)
    yield workspace
    workspace.close()


def take(workspace: Workspace, place: Path, text: str) -> None:
    place.write_text(text)
    take_files(workspace, [place])


def leaver(workspace: Workspace, person: str) -> Leaver:
    return leaver_of(clocked_now(workspace, NOW), person)


@pytest.mark.parametrize(("jurisdiction", "place"), [("colorado", "US-CO"), ("ours", "US-CO"), ("us_federal", "US")])
def test_rules_of_ones_own_tell_the_place_of_those_they_are_based_on(
    tmp_path: Path, jurisdiction: str, place: str
) -> None:
    workspace = create_workspace(tmp_path / "mill")
    own = workspace.directory / "rules" / "ours"
    own.mkdir(parents=True)
    (own / "jurisdiction.toml").write_text('based_on = "colorado"\n')
    with workspace.settings_file.open("a") as settings:
        settings.write(f'[site.Mill]\nzone = "America/Denver"\njurisdiction = "{jurisdiction}"\n')
    assert place_of_site(take_snapshot(workspace, NOW.date()), "Mill") == place


def test_whoever_worked_in_several_states_is_bound_by_the_strictest_and_told_so(mill: Workspace) -> None:
    ben = leaver(mill, "P2")
    assert ben.places == ("US-CO", "US-NY", "US-TX")
    by_reader = {hand.reader: hand for hand in ben.hands}
    # Colorado: the day itself; Texas, a year later, is named beside it.
    assert {hand.destroy_by for hand in by_reader.values()} == {date(2026, 10, 31)}
    assert all(hand.law.startswith("C.R.S. 6-1-1314") and hand.is_overdue for hand in by_reader.values())
    assert "2027-10-31 by Tex. Bus. & Com. Code 503.001" in by_reader["GATE"].chosen_from
    # New York keeps payroll records six years from the last entry, the last day of work.
    assert (ben.keep_through, ben.keep_law) == (date(2032, 10, 31), "N.Y. Labor Law 661, 195(4)")
    assert ben.erase_from == date(2032, 11, 1)


def test_a_reader_that_was_used_and_never_listed_is_to_be_proved_too(mill: Workspace) -> None:
    silo = next(hand for hand in leaver(mill, "P2").hands if hand.reader == "SILO")
    assert (silo.state, silo.last_interaction) == ("unlisted", date(2026, 6, 2))


def test_leap_days_end_on_28_february(mill: Workspace) -> None:
    cy = leaver(mill, "P3")
    assert cy.purpose_ended == date(2024, 2, 29)
    # Texas: 28 February 2025 (our reading of the anniversary); Colorado the day itself.
    assert "2025-02-28 by Tex. Bus. & Com. Code 503.001" in cy.hands[0].chosen_from
    assert (cy.keep_through, cy.erase_from) == (date(2028, 2, 29), date(2028, 3, 1))


def test_whoever_returned_is_no_leaver(mill: Workspace) -> None:
    with pytest.raises(Unknown, match="is employed and has not withdrawn consent"):
        leaver(mill, "P4")
    assert [one.person for one in leavers_of(clocked_now(mill, NOW))] == ["P3", "P2"]


def test_a_round_leaves_the_last_supervisor_and_a_tick_proves_nothing(mill: Workspace, tmp_path: Path) -> None:
    made = plan_removals(mill, date(2026, 11, 27), author="Ada", as_of=NOW)
    assert made.items.select("reader", "number").rows() == [("GATE", "4102"), ("YARD", "4103")]
    assert made.left_out == ("4102 at YARD is the last supervisor's there: enrol another first.",)
    assert {hand.reader: hand.state for hand in leaver(mill, "P2").hands} == {
        "GATE": "on_a_round",
        "SILO": "unlisted",
        "YARD": "held",
    }
    item = made.items.row(0, named=True)["item"]
    ticked = {"outcome": "o-1", "item": item, "result": "removed", "author": "Ada"}
    record_now(mill, made.name, ticked, as_of=NOW)
    gate = leaver(mill, "P2").hands[0]
    assert (gate.reader, gate.state, gate.said_by, gate.proof, gate.is_overdue) == (
        "GATE",
        "said_done",
        "Ada",
        None,
        True,
    )
    listed = FILES["listed.csv"].replace("GATE,4102,Ben Rook,no,2020-01-02\n", "")
    take(mill, tmp_path / "after.csv", listed)
    gate = leaver(mill, "P2").hands[0]
    assert (gate.state, gate.proof_file, gate.is_overdue) == ("proved", "after.csv", False)


def test_a_removal_that_was_put_aside_or_left_by_a_day_gone_by_is_on_no_round(mill: Workspace) -> None:
    made = plan_removals(mill, date(2026, 11, 27), author="Ada", as_of=NOW)
    assert leaver(mill, "P3").hands[0].round == made.name
    aside = {"outcome": "o-1", "item": made.items.row(1, named=True)["item"], "result": "not_done", "author": "Ada"}
    record_now(mill, made.name, aside | {"reason": "The reader does not work"}, as_of=NOW)
    assert (leaver(mill, "P3").hands[0].state, leaver(mill, "P3").hands[0].round) == ("held", "")
    gate = leaver(mill, "P2").hands[0]
    assert (gate.state, gate.round) == ("on_a_round", made.name)
    tomorrow = NOW + timedelta(days=1)
    gate = leaver_of(clocked_now(mill, tomorrow), "P2").hands[0]
    assert (gate.state, gate.round) == ("held", "")
    # so that both are planned again
    again = plan_removals(mill, date(2026, 11, 28), author="Ada", as_of=tomorrow)
    assert again.items.select("reader", "number").rows() == [("GATE", "4102"), ("YARD", "4103")]


def test_with_nothing_due_no_round_is_made(mill: Workspace, tmp_path: Path) -> None:
    plan_removals(mill, date(2026, 11, 27), author="Ada", as_of=NOW)
    again = plan_removals(mill, date(2026, 11, 27), author="Ada", as_of=NOW)
    assert (again.name, again.items.height, len(again.left_out)) == ("", 0, 1)
    with pytest.raises(Refusal, match="a round is made by somebody"):
        plan_removals(mill, date(2026, 11, 27), author=" ", as_of=NOW)


@pytest.mark.parametrize("emptied", [False, True])
def test_a_hand_stays_the_leavers_whose_number_somebody_else_has_since(
    mill: Workspace, tmp_path: Path, emptied: bool
) -> None:
    """The reader's own list shows whose it is: their name, enrolled while they were there."""
    before = "P2,Ben Rook,4102,Mill,2020-01-02,2026-10-31\n"
    after = (before.replace("4102", "") if emptied else before) + "P5,Eve Gray,4102,Mill,2026-11-23,\n"
    take(mill, tmp_path / "given.csv", FILES["people.csv"].replace(before, after))
    ben = leaver(mill, "P2")
    held = {hand.reader: hand.state for hand in ben.hands if hand.reader != "SILO"}
    assert (ben.state, held) == ("to_remove", {"GATE": "held", "YARD": "held"})
    assert any("GATE still lists the hand" in said for said in look_at_erasure(mill, "P2", as_of=NOW).holds_back)
    found = find_today(reckon_period(mill, NOW)).discrepancies
    still = found.filter(pl.col("kind") == "leaver_enrolled", pl.col("person") == "P2")
    assert set(still["reader"]) == {"GATE", "YARD"}
    assert found.filter(pl.col("kind") == "not_enrolled", pl.col("person") == "P5").height == 1
    # once the holder's own hand is listed there, it is theirs
    theirs = FILES["listed.csv"].replace("4102,Ben Rook,no,2020-01-02", "4102,Eve Gray,no,2026-11-24")
    take(mill, tmp_path / "after.csv", theirs)
    assert "GATE" not in {hand.reader for hand in leaver(mill, "P2").hands if hand.state == "held"}


def test_what_is_next_is_said_of_every_reader_that_may_hold_the_hand(mill: Workspace) -> None:
    says = leaver(mill, "P2").says
    assert "The hand is to be taken off GATE and YARD: put it on a round of removals." in says
    assert "No list of SILO was ever taken: take one" in says


def test_while_a_hand_is_not_proved_gone_the_day_of_erasure_is_not_firm(mill: Workspace) -> None:
    at = ["-w", str(mill.directory), "leavers"]
    assert not leaver(mill, "P2").is_proved
    listed = CliRunner().invoke(evenhand, [*at, "--as-of", NOW.isoformat()]).output
    assert "not before 2032-11-01" in listed
    shown = CliRunner().invoke(evenhand, [*at, "show", "P2", "--as-of", NOW.isoformat()]).output
    assert "Records stay at least through Sun 31 Oct 2032" in shown
