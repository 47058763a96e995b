"""What was decided and taken under a badge number is a person's once a roster names that number's person."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from evenhand.jobs.correct import CorrectionRequest, correct, reckon_around
from evenhand.jobs.rebuild import rebuild
from evenhand.jobs.reckoning import reckon_weeks, renewed
from evenhand.jobs.take import Answers, Receipt, take_file
from evenhand.jobs.takes import take_back
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.store import decisions, frames
from tests.jobs.test_takes import MONDAY, NOW, READERS, SAID, take

BY_NUMBER = "name,number,site\nAda Quill,0041,Mill\nBen Rook,0042,Mill\n"
BY_IDENTIFIER = "person,name,number,site\nP1,Ada Quill,0041,Mill\nP2,Ben Rook,0042,Mill\n"
RATES = "person,valid from,plan,amount\n0041,2026-01-01,hourly,20.00\n0042,2026-01-01,hourly,18.50\n"
RATES_OF_ONE = "person,valid from,plan,amount\nP1,2026-01-01,hourly,22.00\n"


@pytest.fixture
def workspace(tmp_path: Path) -> Iterator[Workspace]:
    made = create_workspace(tmp_path / "mill", "Harbour Mill")
    for name, text in (("readers.csv", READERS), ("people.csv", BY_NUMBER), ("monday.csv", MONDAY)):
        take(made, name, text)
    (tmp_path / "rates.csv").write_text(RATES)
    take_file(made, tmp_path / "rates.csv", answers=Answers(table="rates"))
    yield made
    made.close()


def name_them(workspace: Workspace) -> Receipt:
    path = workspace.directory.parent / "named.csv"
    path.write_text(BY_IDENTIFIER)
    return take_file(workspace, path, answers=Answers(maps={"person": "person"}))


def held(workspace: Workspace) -> dict[str, list[object]]:
    with workspace.store.reading() as conn:
        return {
            "corrections": frames.corrections(conn)["person"].to_list(),
            "rejected": frames.rejected_attributions(conn)["person"].to_list(),
            "rates": frames.rates(conn).select("person", "amount").rows(),
        }


def test_decisions_and_rates_follow_and_go_back_with_the_roster_that_said_so(
    workspace: Workspace, tmp_path: Path
) -> None:
    with workspace.store.reading() as conn:
        punch = frames.recorded(conn).filter(number="0041")["punch"][0]
    asked = CorrectionRequest("leave_out", "0041", "Ida", "a test of the reader", punch=punch)
    correct(workspace, reckon_around(workspace, punch=punch, as_of=NOW), asked, as_of=NOW)
    with workspace.store.writing() as conn:
        decisions.add_rejection(
            conn, reader="DOCK", number="9", person="0042", is_withdrawn=False, author="I", reason="r", made_at=5
        )
    before, server = held(workspace), reckon_weeks(workspace, NOW, date(2026, 10, 1))
    assert (before["corrections"], before["rejected"]) == (["0041"], ["0042"])
    later = name_them(workspace)
    assert [row[0] for row in held(workspace)["rates"]] == ["P1", "P2"]
    assert (held(workspace)["corrections"], held(workspace)["rejected"]) == (["P1"], ["P2"])
    assert not rebuild(workspace, is_try=True, as_of=NOW).differing
    # A server that has read everything before sees it too.
    assert renewed(workspace, server).snapshot.corrections["person"].to_list() == ["P1"]
    # What is written under the identifier goes before what is written under the number.
    (tmp_path / "one.csv").write_text(RATES_OF_ONE)
    take_file(workspace, tmp_path / "one.csv", answers=Answers(table="rates"))
    assert [(person, f"{rate:.2f}") for person, rate in held(workspace)["rates"]] == [("P1", "22.00"), ("P2", "18.50")]
    take_back(workspace, later.take, as_of=NOW, **SAID)
    assert held(workspace)["corrections"] == ["0041"]
