"""A reader's steps for one hand are put on its next round, once, and never for a hand without its release."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import polars as pl
import pytest

from evenhand.enrolment.rounds import last_running
from evenhand.enrolment.taking_off import HeldBack
from evenhand.jobs.day_seen import proved_by_take
from evenhand.jobs.off_a_round import steps_on_round, take_off_round
from evenhand.jobs.on_a_round import put_on_round
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.rounds import record_now, record_outcomes, see_round
from evenhand.jobs.take import Receipt, take_files
from evenhand.jobs.taking_off import taking_off
from evenhand.jobs.today import find_today
from evenhand.jobs.workspace import SETTINGS_FILE, Workspace, create_workspace, open_workspace
from evenhand.store import decisions, frames
from evenhand.store.rounds import add_items
from evenhand.store.settings import read_settings
from evenhand.store.settings_text import write_settings
from evenhand.terms.cases import Case
from evenhand.terms.records import Refusal
from evenhand.terms.rounds import OFF_ROUND, ROUND_ITEMS
from evenhand.terms.settings import PayPeriod, SiteRules

NOW = datetime(2026, 3, 9, 13, tzinfo=UTC)
FILES = {
    "readers.csv": "reader,site,zone,max digits,capacity\nGATE,Mill,America/Chicago,6,50\n",
    "people.csv": (
        "person,name,number,site,supervisor\n"
        "P1,Tess Marrow,4101,Mill,yes\nP2,Bram Ostler,4102,Mill,yes\nP3,Ines Quill,4103,Mill,no\n"
    ),
    # Ines Quill stands under 4130, two digits of 4103 swapped
    "enrolled.csv": ("reader,number,name,supervisor\nGATE,4101,MARROW,yes\nGATE,4102,OSTLER,yes\nGATE,4130,QUILL,no\n"),
    "consent.csv": "person,policy version,signed on\nP1,1,2026-01-05\nP2,1,2026-01-05\nP3,1,2026-01-05\n",
    "punches.csv": (
        "reader,number,time,direction\nGATE,4101,2026-03-02 07:53:00,in\nGATE,4101,2026-03-02 16:00:00,out\n"
    ),
}


def made(folder: Path, *left_out: str) -> Workspace:
    create_workspace(folder / "workspace", "Mill", period=PayPeriod(date(2026, 3, 1))).close()
    settings = read_settings(folder / "workspace" / SETTINGS_FILE)
    rules = {"Mill": SiteRules("Mill", "America/Chicago")}
    write_settings(folder / "workspace" / SETTINGS_FILE, replace(settings, sites=rules))
    workspace = open_workspace(folder / "workspace")
    names = [name for name in FILES if name not in left_out]
    for name in names:
        (folder / name).write_text(FILES[name])
    take_files(workspace, [folder / name for name in names])
    return workspace


def put(workspace: Workspace, number: str = "4130", person: str = "P3"):
    reckoning = reckon_period(workspace, NOW)
    return put_on_round(workspace, reckoning, "GATE", number, person, author="R. Hale", as_of=NOW)


def test_a_round_is_made_for_tomorrow_and_enrols_before_it_takes_off(tmp_path: Path) -> None:
    mill = made(tmp_path)
    done = put(mill)
    assert (done.is_new, done.day) == (True, date(2026, 3, 10))
    with mill.store.reading() as conn:
        items = frames.round_items(conn, done.name).sort("position")
    assert items.select("position", "action", "number", "person").rows() == [
        (1, "enrol", "4103", "P3"),
        (2, "remove", "4130", "P3"),
    ]
    with pytest.raises(Refusal, match=f"this is on round {done.name} already; nothing was changed"):
        put(mill)
    mill.close()


def test_a_new_item_is_named_after_the_last_one_although_one_before_it_was_erased() -> None:
    told = {"round": "R", "reader": "GATE", "action": "remove", "language": "en"}
    held = ROUND_ITEMS.rows(told | {"item": f"R-{n}", "position": n, "number": f"410{n}"} for n in (1, 3))
    assert last_running(held) == 3
    assert last_running(held.clear()) == 0


def test_whoever_is_enrolled_is_spoken_to_in_the_language_they_read_the_policy_in(tmp_path: Path) -> None:
    mill = made(tmp_path)
    said = {
        "action": "agree", "person": "P3", "policy": None, "said_on": "2026-01-05", "how": "paper", "language": "es",
        "author": "R. Hale", "made_at": 1_767_600_000,
    }  # fmt: skip
    with mill.store.writing() as conn:
        decisions.add_row(conn, "consent_decisions", said)
    assert put(mill).items["language"].to_list() == ["es", "es"]
    mill.close()


def test_what_a_reader_has_no_step_for_is_refused(tmp_path: Path) -> None:
    mill = made(tmp_path)
    with pytest.raises(Refusal, match="GATE has no step for 9999"):
        put(mill, "9999", "P1")
    assert mill.store is not None
    mill.close()


def test_a_number_beside_a_person_whose_hand_it_is_not_is_refused(tmp_path: Path) -> None:
    mill = made(tmp_path)
    apart = "is not told to be of the hand of P3, so nothing was changed"
    for number in ("4101", "9999"):  # somebody else's, and nobody's
        with pytest.raises(Refusal, match=f"number {number} at GATE {apart}"):
            put(mill, number)
    with pytest.raises(Refusal, match="number 4130 at GATE is not told to be of the hand of P1"):
        put(mill, "4130", "P1")
    put(mill)
    with pytest.raises(Refusal, match=f"number 4101 at GATE {apart}"):
        steps_on_round(reckon_period(mill, NOW), "GATE", "4101", "P3")
    assert len(steps_on_round(reckon_period(mill, NOW), "GATE", "4130", "")[1]) == 1
    mill.close()


def test_nobody_is_put_on_a_round_to_be_enrolled_without_a_release_where_one_is_required(tmp_path: Path) -> None:
    mill = made(tmp_path, "consent.csv")
    with pytest.raises(Refusal, match="no release of P3 is in force"):
        put(mill)
    with mill.store.reading() as conn:
        assert frames.rounds(conn).filter(pl.col("day") > date(2026, 3, 9)).is_empty()
    mill.close()


def test_what_nobody_has_begun_is_taken_off_its_round_again_and_put_on_anew(tmp_path: Path) -> None:
    mill = made(tmp_path)
    done = put(mill)
    name, items = steps_on_round(reckon_period(mill, NOW), "GATE", "4130", "P3")
    assert (name, items) == (done.name, done.items["item"].to_list())
    with pytest.raises(Refusal, match="say who"):
        take_off_round(mill, reckon_period(mill, NOW), name, items, author=" ", as_of=NOW)
    with pytest.raises(Refusal, match="has no such step"):
        take_off_round(mill, reckon_period(mill, NOW), name, [*items, "another"], author="R. Hale", as_of=NOW)
    off = take_off_round(mill, reckon_period(mill, NOW), name, items, author="R. Hale", as_of=NOW)
    assert off["action"].to_list() == ["enrol", "remove"]
    seen = see_round(mill, name).states
    assert seen.select("result", "reason", "author").unique().rows() == [("not_done", OFF_ROUND, "R. Hale")]
    with pytest.raises(Refusal, match="no round has a step for 4130 at GATE any longer"):
        steps_on_round(reckon_period(mill, NOW), "GATE", "4130", "P3")
    with pytest.raises(Refusal, match="is off the round already"):
        take_off_round(mill, reckon_period(mill, NOW), name, items, author="R. Hale", as_of=NOW)
    again = put(mill)
    assert (again.is_new, again.items.height, again.name) == (False, 2, name)
    with pytest.raises(Refusal, match="is on round"):
        put(mill)
    mill.close()


def test_what_came_off_its_round_is_put_on_the_same_round_again_where_that_goes_on(tmp_path: Path) -> None:
    mill = made(tmp_path)
    done = put(mill)
    enrol, remove = done.items["item"]
    take_off_round(mill, reckon_period(mill, NOW), done.name, [remove], author="R. Hale", as_of=NOW)
    reckoning = reckon_period(mill, NOW)
    with pytest.raises(Refusal, match="is on round"):  # the enrolment still is
        put(mill)
    take_off_round(mill, reckon_period(mill, NOW), done.name, [enrol], author="R. Hale", as_of=NOW)
    other = ROUND_ITEMS.rows(
        [done.items.row(0, named=True) | {"item": "X-9", "number": "4101", "person": "P1", "position": 9}]
    )
    with mill.store.writing() as conn:
        add_items(conn, other)
    assert steps_on_round(reckoning, "GATE", "4130", "P3")[0] == done.name
    again = put(mill)
    assert (again.is_new, again.name) == (False, done.name)
    mill.close()


def test_a_step_that_was_begun_at_the_reader_stays_on_its_round(tmp_path: Path) -> None:
    mill = made(tmp_path)
    done = put(mill)
    item = done.items["item"][0]
    said = {"outcome": "x-1", "item": item, "result": "try_again", "author": "Tess Marrow"}
    assert record_now(mill, done.name, said, as_of=NOW).new == 1
    with pytest.raises(Refusal, match="4103 at GATE was begun on the round already; put it aside there"):
        take_off_round(
            mill, reckon_period(mill, NOW), done.name, done.items["item"].to_list(), author="R. Hale", as_of=NOW
        )
    assert see_round(mill, done.name).states.filter(pl.col("result") == "not_done").is_empty()
    mill.close()


SWAPPED = "reader,number,name,supervisor\nGATE,4101,MARROW,yes\nGATE,4102,Ines Quill,no\nGATE,4103,Bram Ostler,no\n"


def test_with_one_of_two_hands_under_each_others_numbers_both_come_off_the_round(tmp_path: Path) -> None:
    mill = made(tmp_path, "enrolled.csv")
    (tmp_path / "enrolled.csv").write_text(SWAPPED)
    take_files(mill, [tmp_path / "enrolled.csv"])
    name = put(mill, "4102", "P2").name  # both, whichever is named
    with pytest.raises(Refusal, match=f"this is on round {name} already; nothing was changed"):
        put(mill, "4103", "P3")
    reckoning = reckon_period(mill, NOW)
    assert set(taking_off(reckoning, see_round(mill, name).states).together) == {f"{name}-1", f"{name}-2"}
    off = take_off_round(mill, reckoning, name, [f"{name}-1"], author="R. Hale", as_of=NOW)
    assert sorted(off["person"]) == ["P2", "P3"]
    assert see_round(mill, name).states["result"].to_list() == ["not_done", "not_done"]
    # one of them on it again, alone: the other's only hand stands under that number, so it waits
    item = alone_on(mill, name, "enrol_supervisor", "4102", "P2", "Bram Ostler")
    told = taking_off(reckon_period(mill, NOW), see_round(mill, name).states)
    assert (told.held, told.together) == ({item: HeldBack("unseen", "Ines Quill", "4103")}, {})
    # the other joins it there
    joined = put(mill, "4103", "P3")
    assert (joined.name, joined.items["person"].to_list()) == (name, ["P3"])
    off = taking_off(reckon_period(mill, NOW), see_round(mill, name).states)
    assert (off.held, off.beside(item)) == ({}, "Ines Quill")
    mill.close()


def alone_on(mill: Workspace, name: str, action: str, number: str, person: str, called: str) -> str:
    """Put one enrolment on a round by itself, as rounds of before hold them, and return its item."""
    with mill.store.writing() as conn:
        running = last_running(frames.round_items(conn, name)) + 1
        told = {"reader": "GATE", "action": action, "number": number, "person": person, "name": called}
        item = {"item": f"{name}-{running}", "round": name, "position": running, "language": "en"}
        add_items(conn, ROUND_ITEMS.rows([told | item]))
    return item["item"]


RING = (
    "reader,number,name,supervisor\nGATE,4101,MARROW,yes\nGATE,4105,HALE,yes\n"
    "GATE,4102,Ines Quill,no\nGATE,4103,Odo Wren,no\nGATE,4104,Bram Ostler,no\n"
)
OF_RING = {
    "people.csv": FILES["people.csv"].replace("Mill,yes\nP3", "Mill,no\nP3")
    + "P4,Odo Wren,4104,Mill,no\nP5,Lea Hale,4105,Mill,yes\n",
    "enrolled.csv": RING,
    "consent.csv": FILES["consent.csv"] + "P4,1,2026-01-05\nP5,1,2026-01-05\n",
}


def ringed(folder: Path, **more: str) -> Workspace:
    mill = made(folder, *OF_RING)
    for name, text in {**OF_RING, **{f"{name}.csv": text for name, text in more.items()}}.items():
        (folder / name).write_text(text)
        take_files(mill, [folder / name])
    return mill


@pytest.mark.parametrize(("number", "person"), [("4102", "P2"), ("4103", "P3"), ("4104", "P4"), ("4102", "P3")])
def test_a_ring_goes_on_a_round_whole_whoever_of_it_is_named_and_comes_off_whole(
    tmp_path: Path, number: str, person: str
) -> None:
    mill = ringed(tmp_path)
    done = put(mill, number, person)
    assert sorted(done.items.select("action", "number", "person").rows()) == [
        ("enrol_again", "4102", "P2"), ("enrol_again", "4103", "P3"), ("enrol_again", "4104", "P4"),
    ]  # fmt: skip
    reckoning = reckon_period(mill, NOW)
    off = taking_off(reckoning, see_round(mill, done.name).states)
    assert (off.held, len(off.together)) == ({}, 3)
    taken = take_off_round(mill, reckoning, done.name, [done.items["item"][0]], author="R. Hale", as_of=NOW)
    assert sorted(taken["person"]) == ["P2", "P3", "P4"]
    mill.close()


def test_nobody_of_a_ring_is_put_on_a_round_while_one_of_them_has_no_release(tmp_path: Path) -> None:
    consent = OF_RING["consent.csv"].replace("P4,1,2026-01-05\n", "")
    mill = ringed(tmp_path, consent=consent)
    with pytest.raises(Refusal, match="no release of P4 is in force"):
        put(mill, "4102", "P2")
    mill.close()


def the_case(mill: Workspace, now: datetime = NOW) -> Case:
    (case,) = [one for one in find_today(reckon_period(mill, now)).cases if one.kind == "other_number"]
    return case


def test_todays_case_of_a_ring_is_put_on_a_round_and_back_as_it_says(tmp_path: Path) -> None:
    mill = ringed(tmp_path)
    visit = the_case(mill).steps[0]
    assert (visit.kind, visit.state, visit.reader) == ("round", "to_do", "GATE")
    assert (visit.number, visit.person) in {("4102", "P2"), ("4103", "P3"), ("4104", "P4")}
    name = put(mill, str(visit.number), str(visit.person)).name
    waits = the_case(mill).steps[0]
    assert (waits.state, waits.round) == ("waits", name)
    on, items = steps_on_round(reckon_period(mill, NOW), "GATE", str(waits.number), str(waits.person))
    assert on == name
    take_off_round(mill, reckon_period(mill, NOW), name, items, author="R. Hale", as_of=NOW)
    assert the_case(mill).steps[0].state == "to_do"
    mill.close()


def test_a_round_of_a_day_gone_by_holds_no_case_that_it_left_undone(tmp_path: Path) -> None:
    mill = ringed(tmp_path)
    visit = the_case(mill).steps[0]
    name = put(mill, str(visit.number), str(visit.person)).name
    after = datetime(2026, 3, 12, 13, tzinfo=UTC)
    again = the_case(mill, after).steps[0]
    assert (again.state, name in again.says) == ("to_do", False)
    mill.close()


def test_what_a_round_did_before_the_reader_was_listed_again_is_done_no_longer(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    mill = ringed(tmp_path)
    visit = the_case(mill).steps[0]
    name = put(mill, str(visit.number), str(visit.person)).name
    late = int(datetime.now(UTC).timestamp()) + 60  # after the list was taken
    for at, item in enumerate(see_round(mill, name).states["item"]):
        said = {"outcome": f"x-{at}", "item": item, "result": "enrolled", "author": "Tess Marrow", "made_at": late}
        assert record_outcomes(mill, name, [said], as_of=NOW).new == 1
    assert the_case(mill).steps[0].state == "done"
    # the list shows them as before: the round keyed them wrongly, or the list is of before; so it is to be done
    monkeypatch.setattr("evenhand.jobs.keep.time.time", lambda: late + 60)
    (tmp_path / "again.csv").write_text(RING + "GATE,4109,,no\n")
    take_files(mill, [tmp_path / "again.csv"])
    assert the_case(mill).steps[0].state == "to_do"
    mill.close()


def test_two_hands_of_which_one_was_begun_stay_on_their_round(tmp_path: Path) -> None:
    mill = made(tmp_path, "enrolled.csv")
    (tmp_path / "enrolled.csv").write_text(SWAPPED)
    take_files(mill, [tmp_path / "enrolled.csv"])
    name = put(mill, "4102", "P2").name
    said = {"outcome": "x-1", "item": f"{name}-1", "result": "enrolled", "author": "Tess Marrow"}
    assert record_now(mill, name, said, as_of=NOW).new == 1
    with pytest.raises(Refusal, match="was begun on the round already"):
        take_off_round(mill, reckon_period(mill, NOW), name, [f"{name}-2"], author="R. Hale", as_of=NOW)
    mill.close()


def test_a_file_tells_whose_enrolment_its_punches_prove_and_only_the_one_that_brought_the_first(tmp_path: Path) -> None:
    mill = made(tmp_path)
    done = put(mill)
    enrolled = {"outcome": "a", "item": done.items["item"][0], "result": "enrolled", "presentations": 3}
    at = datetime(2026, 3, 10, 15, tzinfo=UTC)
    assert not record_now(mill, done.name, enrolled | {"author": "Sol"}, as_of=at, reader="GATE").rejected
    logs = {"another": "4101,2026-03-10 10:30:00,in", "first": "4103,2026-03-10 11:00:00,in"}
    logs["second"] = "4103,2026-03-10 16:00:00,out"
    proved = []
    for name, punch in logs.items():
        (tmp_path / f"{name}.csv").write_text(f"reader,number,time,direction\nGATE,{punch}\n")
        (receipt,) = take_files(mill, [tmp_path / f"{name}.csv"])
        assert isinstance(receipt, Receipt)
        reckoning = reckon_period(mill, datetime(2026, 3, 11, 13, tzinfo=UTC))
        proved.append(proved_by_take(reckoning, receipt.take))
    assert proved == [[], [("Ines Quill", "GATE")], []]
    mill.close()
