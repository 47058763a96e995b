"""Results of practices are kept once, told by their code, and taken back where they were another's."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from evenhand.enrolment.teaching.results import Result, write_result
from evenhand.jobs.own_steps import add_own_steps
from evenhand.jobs.practice import (
    keep_practice,
    practice_round,
    practice_steps,
    standing_practices,
    take_practice_back,
)
from evenhand.jobs.workspace import Workspace
from evenhand.records.codes import checked
from evenhand.store import frames
from evenhand.terms.columns import Frame
from evenhand.terms.records import Refusal

NOW = datetime(2026, 11, 16, 15, tzinfo=UTC)
THEMES = tuple(practice_round().themes)


def code(day: date = date(2026, 11, 16), well: tuple[str, ...] = THEMES[1:], edition: int = 1, drawn: int = 9) -> str:
    return checked(write_result(Result(edition, day, well, drawn), THEMES))


def standing(workspace: Workspace) -> Frame:
    with workspace.store.reading() as conn:
        return standing_practices(frames.practices(conn))


def test_a_code_says_when_somebody_practised_and_what_went_well(workspace: Workspace) -> None:
    kept = keep_practice(workspace, "P1", code(), way="code", author="Sol", as_of=NOW)
    assert (kept.name, kept.day, kept.well, kept.of) == ("Ida Marlow", date(2026, 11, 16), 15, 16)
    row = standing(workspace).row(0, named=True)
    assert (row["person"], row["well"], row["not_well"]) == ("P1", " ".join(THEMES[1:]), "first")
    assert (row["way"], row["author"]) == ("code", "Sol")


def test_keyed_after_it_was_sent_it_is_kept_once(workspace: Workspace) -> None:
    first = keep_practice(workspace, "P1", code(), way="phone", author="Ida Marlow", as_of=NOW)
    again = keep_practice(workspace, "P1", code().lower().replace("-", " "), way="code", author="Sol", as_of=NOW)
    assert (first.is_new, again.is_new, again.practice) == (True, False, first.practice)
    assert standing(workspace).height == 1


def test_two_practices_of_one_day_are_two(workspace: Workspace) -> None:
    for drawn in (1, 2):
        keep_practice(workspace, "P1", code(drawn=drawn), way="code", author="Sol", as_of=NOW)
    assert standing(workspace).height == 2


def test_kept_under_another_it_is_taken_back_and_kept_under_the_right_one(workspace: Workspace) -> None:
    wrong = keep_practice(workspace, "P2", code(), way="code", author="Sol", as_of=NOW)
    take_practice_back(workspace, wrong.practice, author="Sol", as_of=NOW)
    keep_practice(workspace, "P1", code(), way="code", author="Sol", as_of=NOW)
    assert standing(workspace)["person"].to_list() == ["P1"]
    with pytest.raises(Refusal, match="stands"):
        take_practice_back(workspace, wrong.practice, author="Sol", as_of=NOW)


@pytest.mark.parametrize(
    ("keyed", "says"),
    [
        (code()[:-1] + "0", "a letter is wrong or missing"),
        (code()[:-5], "a letter is wrong or missing"),
        (code(edition=2), "another edition"),
        (code(day=date(2026, 11, 18)), "still to come"),
    ],
)
def test_a_code_that_cannot_be_is_refused(workspace: Workspace, keyed: str, says: str) -> None:
    assert keyed != code()
    with pytest.raises(Refusal, match=says):
        keep_practice(workspace, "P1", keyed, way="code", author="Sol", as_of=NOW)
    assert standing(workspace).is_empty()


def test_nobody_of_the_roster_practises(workspace: Workspace) -> None:
    with pytest.raises(Refusal, match="nobody on the roster"):
        keep_practice(workspace, "P9", code(), way="code", author="Sol", as_of=NOW)
    with pytest.raises(Refusal, match="say who"):
        keep_practice(workspace, "P1", code(), way="code", author=" ", as_of=NOW)


OWN = """kind = "Yard clocks"
readers = ["GATE"]
[en]
enrol = ["Open the flap", "Key the number"]
get_out = ["Close the flap"]
[quick]
enrol = { step = 2, seconds = 8 }
"""


def test_the_workplaces_own_steps_stand_in_the_scenes_they_belong_to(workspace: Workspace) -> None:
    assert practice_steps(workspace) == {}
    add_own_steps(workspace, OWN, file="own.toml", author="Sol", reason="new clocks", as_of=NOW)
    told = practice_steps(workspace)
    assert set(told) == {"enrol", "get_out"}
    assert told["enrol"]["es"] == told["enrol"]["en"]  # written in English alone
    (kind,) = told["enrol"]["en"]
    assert kind["title"] == "Yard clocks"
    assert kind["steps"] == [{"text": "Open the flap", "seconds": None}, {"text": "Key the number", "seconds": 8}]
