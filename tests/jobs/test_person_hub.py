"""What a person keyed stands together, under whichever number, with what came of it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import polars as pl
import pytest

from evenhand.jobs.person_hub import PersonHub, person_hub
from evenhand.jobs.reader_hub import reader_hub
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.today import find_today
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions
from tests.jobs.workplaces import PUNCHES, made

NOW = datetime(2026, 11, 9, 14, 0, tzinfo=UTC)
SAID = {"author": "R. Hale", "reason": "hers", "made_at": int(NOW.timestamp()), "withdraws": None, "holder": None}


@pytest.fixture
def mill(tmp_path: Path) -> Iterator[Workspace]:
    refused = ["GATE,2290,2026-11-05 07:58:00,in,refused,180", "GATE,9999,2026-11-05 08:00:00,in,accepted,40"]
    rows = [PUNCHES[0] + ",outcome,score", *(row + ",accepted,30" for row in PUNCHES[1:]), *refused]
    opened = made(tmp_path, rows)
    yield opened
    opened.close()


def hub(workspace: Workspace, person: str) -> PersonHub:
    reckoning = reckon_period(workspace, NOW)
    return person_hub(reckoning, find_today(reckoning), reckoning.snapshot.find_person(person))


def test_what_was_keyed_is_told_with_what_came_of_it(mill: Workspace) -> None:
    came = [(row["number"], row["came"], row["score"]) for row in hub(mill, "P3").presented]
    # the refused one of Thursday first, then Wednesday's and both of Tuesday
    assert came == [("2290", "refused", 180.0), *[("2290", "accepted", 30.0)] * 3]
    assert hub(mill, "P3").scores == [30.0, 30.0, 30.0]


def test_what_was_given_to_somebody_stands_under_the_number_it_was_keyed(mill: Workspace) -> None:
    recorded = reckon_period(mill, NOW).snapshot.recorded
    (punch,) = recorded.filter(pl.col("number") == "9999")["punch"]
    row = {"action": "attribute", "person": "P3", "punch": punch, "at": None, "direction": None, **SAID}
    with mill.store.writing() as conn:
        decisions.add_corrections(conn, [row])
    shown = hub(mill, "P3")
    assert (shown.presented[0]["number"], shown.presented[0]["came"]) == ("9999", "given")
    assert [one["kind"] for one in shown.decisions.iter_rows(named=True)] == ["attribution"]
    # nobody else's page tells of it
    assert all(one["number"] != "9999" for one in hub(mill, "P1").presented)
    # and it was decided of what was keyed at this reader
    assert reader_hub(reckon_period(mill, NOW), "GATE").decisions["person"].to_list() == ["P3"]


def test_a_reader_tells_whom_it_lists_and_what_is_nobodys_there(mill: Workspace) -> None:
    shown = reader_hub(reckon_period(mill, NOW), "GATE")
    listed = shown.listed.select("number", "person", "known_name").rows()
    assert listed == [("0042", "P1", "Ida Marlow"), ("2290", "P3", "Lena Fisk"), ("7315", "P2", "Rui Okoro")]
    assert shown.strays == [("9999", 1)]
    assert shown.fresh.file == "punches.csv"
