"""The workplace's own steps are kept version by version, for the readers of their kind."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from evenhand.jobs.at_turn import kept_steps, said_at_turn, steps_in_turn
from evenhand.jobs.ledger import entries
from evenhand.jobs.own_steps import add_own_steps, every_version, own_steps_now, steps_at, steps_of, steps_sheet
from evenhand.jobs.take import take_files
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.terms.records import Refusal
from tests.enrolment.test_own_steps import LID
from tests.printed import texts

NOON = datetime(2026, 3, 9, 12, tzinfo=UTC)


@pytest.fixture
def mill(tmp_path: Path) -> Workspace:
    workspace = create_workspace(tmp_path / "mill", "Mill")
    readers = tmp_path / "readers.csv"
    readers.write_text("reader,site,zone\nGATE,Mill,America/New_York\nHALL,Mill,America/New_York\n")
    take_files(workspace, [readers])
    return workspace


def add(mill: Workspace, text: str = LID, why: str = "measured"):
    return add_own_steps(mill, text, file="lid.toml", author="Ida", reason=why, as_of=NOON)


def test_a_kinds_last_version_counts_and_earlier_ones_stay(mill: Workspace) -> None:
    assert add(mill).number == 1
    assert add(mill).number == 1  # the same again changes nothing
    assert add(mill, LID.replace("seconds = 8", "seconds = 6"), "the reader waits less").number == 2
    assert [(one.number, one.reason) for one in every_version(mill)] == [(1, "measured"), (2, "the reader waits less")]
    assert own_steps_now(mill)["Lidded"].steps.quick["enrol"].seconds == 6
    assert steps_at(mill, "GATE") == steps_of(mill, "Lidded").steps
    assert steps_at(mill, "HALL") is None


def test_writing_them_is_an_entry_of_the_ledger(mill: Workspace) -> None:
    add(mill)
    assert [entry.who for entry in entries(mill, kind="own steps")] == [("Ida",)]


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (LID.replace("GATE", "SHED"), "SHED, which is not listed"),
        (LID.replace("Lidded", "Open"), "GATE is of the kind Lidded"),
    ],
)
def test_a_reader_is_listed_and_of_one_kind(mill: Workspace, text: str, sentence: str) -> None:
    add(mill)
    with pytest.raises(Refusal, match=sentence):
        add(mill, text)
    assert len(every_version(mill)) == 1


def test_nobody_and_no_reason_is_refused(mill: Workspace) -> None:
    with pytest.raises(Refusal, match="say who and why"):
        add(mill, why=" ")
    with pytest.raises(Refusal, match='no steps are written for a kind "Lidded"'):
        steps_of(mill, "Lidded")


def test_a_turn_shows_the_steps_for_what_is_to_be_done_in_the_supervisors_language(mill: Workspace) -> None:
    steps = add(mill).steps
    shown = steps_in_turn(steps, "enrol_again", "es")
    assert shown
    assert [(part["title"], len(part["steps"])) for part in shown["parts"]] == [("Get in", 2), ("Enrol a hand", 3)]
    assert [step["seconds"] for step in shown["parts"][1]["steps"]] == [None, None, 8]
    assert steps_in_turn(steps, "remove", "en") == {**shown, "language": "en", "parts": shown["parts"][:1]} | {
        "parts": steps_in_turn(steps, "enrol", "en")["parts"][:1]  # type: ignore[index]
    }
    assert [part["heading"] for part in kept_steps(steps)["in_turn"]["remove"]] == ["get_in", "remove", "get_out"]


def test_a_turn_may_be_invented_and_is_said_without_a_store() -> None:
    said = said_at_turn({"action": "enrol", "language": "es"}, None, "en")
    assert (said["language"], said["told"], said["steps"]) == ("en", "es", None)
    assert said["tell"]("Lay your hand flat, close your fingers on the posts, hold still.").startswith("Apoye la mano")
    assert said_at_turn(None, None, "es", "en")["told"] == "en"


def test_the_sheet_for_the_wall_has_a_page_a_language_with_the_seconds_in_figures(mill: Workspace) -> None:
    english, spanish = texts(steps_sheet(add(mill).steps))
    for words in ("Lidded", "GATE", "Get in", "Lift the lid.", "within 8 s", "Each finger at its post"):
        assert words in english
    for words in ("Entrar", "Levante la tapa.", "en menos de 8 s"):
        assert words in spanish
