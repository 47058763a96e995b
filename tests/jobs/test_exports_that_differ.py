"""Exports of one log that tell different things of it: said in the receipt, and undone with their take."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from evenhand.jobs.rebuild import rebuild
from evenhand.jobs.take import Receipt, take_file
from evenhand.jobs.takes import take_back
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.layouts import Layout
from evenhand.store import frames

NOW = datetime(2026, 3, 20, 12, tzinfo=UTC)
READERS = "reader,site,zone\nGATE,Mill,UTC\n"
PLAIN = "reader,number,time\nGATE,0041,2026-03-02 07:58:11\nGATE,0042,2026-03-02 08:01:30\n"
CUT = "reader,number,time,direction\nGATE,0042,2026-03-02 08:01,in\nGATE,0041,2026-03-02 16:02,out\n"
FULL = (
    "reader,number,time,direction,score\nGATE,0041,2026-03-02 16:02:44,out,31\nGATE,0042,2026-03-02 16:05:10,out,28\n"
)


@pytest.fixture
def workspace(tmp_path: Path) -> Iterator[Workspace]:
    made = create_workspace(tmp_path / "mill", "Harbour Mill")
    take(made, "readers.csv", READERS)
    yield made
    made.close()


def take(workspace: Workspace, name: str, text: str) -> Receipt:
    path = workspace.directory.parent / name
    path.write_text(text, encoding="utf-8")
    header = text.partition("\n")[0].split(",")
    columns = {"at" if name == "time" else name: (name,) for name in header}
    table = "punches" if "time" in header else "readers"
    return take_file(workspace, path, layout=Layout(table, "delimited", columns, delimiter=",", header=1))


def told(workspace: Workspace) -> list[tuple[object, ...]]:
    with workspace.store.reading() as conn:
        recorded = frames.recorded(conn).sort("at")
    clock = [datetime.fromtimestamp(at, UTC).strftime("%H:%M:%S") for at in recorded["at"]]
    return [*zip(clock, *recorded.select("number", "direction", "score").get_columns(), strict=True)]


def test_a_receipt_counts_the_punches_of_which_a_file_tells_more(workspace: Workspace) -> None:
    take(workspace, "plain.csv", PLAIN)
    receipt = take(workspace, "cut.csv", CUT)
    assert (receipt.read, receipt.taken, receipt.known, receipt.enriched) == (2, 1, 1, 1)
    assert any("1 punch known already of which this file tells more" in notice for notice in receipt.notices)
    assert told(workspace)[1] == ("08:01:30", "0042", "in", None)


def test_a_receipt_says_where_a_file_contradicts_a_punch_that_stands(workspace: Workspace) -> None:
    take(workspace, "in.csv", "reader,number,time,direction\nGATE,0041,2026-03-02 07:58:11,in\n")
    receipt = take(workspace, "out.csv", "reader,number,time,direction\nGATE,0041,2026-03-02 07:58:11,out\n")
    assert (receipt.taken, receipt.known, receipt.enriched) == (0, 1, 0)
    assert any("1 row says another direction" in notice for notice in receipt.notices)
    assert told(workspace) == [("07:58:11", "0041", "in", None)]


def test_what_a_file_told_goes_with_it_and_nothing_else_does(workspace: Workspace) -> None:
    take(workspace, "plain.csv", PLAIN)
    cut = take(workspace, "cut.csv", CUT)
    take(workspace, "full.csv", FULL)
    take_back(workspace, cut.take, author="Ada", reason="the wrong log", as_of=NOW)
    assert told(workspace) == [
        ("07:58:11", "0041", None, None),
        ("08:01:30", "0042", None, None),
        ("16:02:44", "0041", "out", 31.0),
        ("16:05:10", "0042", "out", 28.0),
    ]
    assert rebuild(workspace, is_try=True, as_of=NOW).differing == 0


def test_a_later_file_is_laid_over_what_it_knew_when_an_earlier_one_is_put_back(workspace: Workspace) -> None:
    plain = take(workspace, "plain.csv", PLAIN)
    take(workspace, "cut.csv", CUT)
    take(workspace, "full.csv", FULL)
    # The last overlaps only the one before it, which overlaps the first.
    take_back(workspace, plain.take, author="Ada", reason="the wrong log", as_of=NOW)
    assert told(workspace) == [
        ("08:01:00", "0042", "in", None),
        ("16:02:44", "0041", "out", 31.0),
        ("16:05:10", "0042", "out", 28.0),
    ]
    assert rebuild(workspace, is_try=True, as_of=NOW).differing == 0
