"""A day's page offers what is proposed for a missing punch in its forms, and a person says what happened."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import httpx
import pytest

from tests.jobs.workplaces import PUNCHES, made
from tests.web.conftest import serving

NOW = datetime(2026, 11, 9, 15, tzinfo=UTC)
DAY = "/hours/P3/2026-11-04"
HISTORY = [
    f"GATE,2290,2026-10-{day} {at}:{day % 4:02}:00,{way}"
    for day in (19, 20, 21, 22, 23, 26, 27, 28, 29, 30)
    for at, way in (("08", "in"), ("16", "out"))
]


@contextmanager
def at_mill(directory: Path, *more: str) -> Iterator[httpx.Client]:
    with serving(made(directory, [*PUNCHES, *HISTORY, *more]), NOW) as served, served.enter() as client:
        yield client


def field(page: str, name: str) -> str:
    found = re.search(rf'<input id="{name}"[^>]*value="([^"]*)"', page)
    assert found is not None
    return found[1]


def chosen(page: str, name: str) -> str:
    select = page.split(f'<select id="{name}"')[1].split("</select>", maxsplit=1)[0]
    found = re.search(r'<option value="([^"]*)" selected>([^<]*)', select)
    return html.unescape(found[2]) if found else ""


def test_the_form_holds_the_proposed_day_time_and_way(tmp_path: Path) -> None:
    with at_mill(tmp_path) as client:
        page = client.get(DAY).text
    said = re.search(r"Proposed out: (\d\d:\d\d) \(between \d\d:\d\d and \d\d:\d\d, \d\d times in a hundred\)", page)
    assert said is not None
    assert (field(page, "on"), field(page, "at"), chosen(page, "way")) == ("2026-11-04", said[1], "out")
    assert "Nothing is paid from a proposal" in page


@pytest.mark.parametrize("stray", [True, False])
def test_no_time_is_filled_in_where_none_is_proposed(tmp_path: Path, stray: bool) -> None:
    more = "GATE,4281,2026-11-04 16:02:00,out" if stray else "GATE,2290,2026-11-04 11:30:00,in"
    with at_mill(tmp_path, more) as client:
        page = client.get(DAY).text
    assert field(page, "at") == ""
    assert chosen(page, "way") == "out"
    assert ("A punch under number 4281 at GATE at 16:02 may be it" in page) == stray


def test_one_too_many_is_chosen_to_be_left_out(tmp_path: Path) -> None:
    with at_mill(tmp_path, "GATE,2290,2026-11-04 11:30:00,in", "GATE,2290,2026-11-04 16:01:00,out") as client:
        page = client.get(DAY).text
    assert "The punch at 11:30 is rather one too many" in page
    assert chosen(page, "left-out").startswith("11:30 in")
    assert field(page, "at") == ""


def test_one_that_says_the_wrong_way_is_chosen_to_be_directed(tmp_path: Path) -> None:
    with at_mill(tmp_path, "GATE,2290,2026-11-04 16:01:00,in") as client:
        page = client.get(DAY).text
    assert "The punch at 16:01 rather went out" in page
    assert chosen(page, "directed").startswith("16:01 in")
    assert chosen(page, "said") == "out"
