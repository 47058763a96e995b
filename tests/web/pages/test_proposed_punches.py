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


def case_of_day(client: httpx.Client, step: str) -> tuple[str, dict[str, str]]:
    """Return the first form of the step of a case, by where it leads and with what it holds already."""
    page = client.get("/").text
    told = page.split(f"<p>{step}", maxsplit=1)[1].split("</li>", maxsplit=1)[0]
    form = told.split("<form", maxsplit=1)[1].split("</form>", maxsplit=1)[0]
    holds = {name: html.unescape(value) for name, value in re.findall(r'name="([^"]+)" value="([^"]*)"', form)}
    for name, options in re.findall(r'<select id="[^"]*" name="([^"]+)">(.*?)</select>', form, re.DOTALL):
        found = re.search(r'value="([^"]*)" selected', options) or re.search(r'value="([^"]*)"', options)
        assert found is not None
        holds[name] = found[1]
    leads = re.search(r'action="([^"]+)"', form)
    assert leads is not None
    return leads[1], holds


@pytest.mark.parametrize(
    ("punches", "says"),
    [
        (["GATE,2290,2026-11-04 16:01:00,in"], "Say that the punch at 16:01 goes out"),
        (
            ["GATE,2290,2026-11-04 11:30:00,in", "GATE,2290,2026-11-04 16:01:00,out"],
            "Leave out the punch at 11:30",
        ),
    ],
    ids=["one says the wrong way", "one is too many"],
)
def test_a_case_sets_in_place_what_is_doubted_of_a_punch_that_is_there(
    tmp_path: Path, punches: list[str], says: str
) -> None:
    with at_mill(tmp_path, *punches) as client:
        leads, holds = case_of_day(client, "Ask Lena Fisk")
        foreseen = client.get(leads, params=holds).text
        assert f"<h1>{says}" in foreseen
        hidden = re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', foreseen)
        signed = {name: html.unescape(value) for name, value in hidden}
        done = client.post(leads, data=signed | {"author": "R. Hale", "reason": "asked on the day"})
        assert (done.status_code, done.headers["location"]) == (303, holds["back"])
        after = client.get(done.headers["location"]).text
        assert 'data-case="asked/P3"' not in after
