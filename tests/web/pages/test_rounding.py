"""Rounding reads as the mill's clerk reckons it."""

from __future__ import annotations

import httpx
import pytest

from evenhand.web.pages.rounding.drawing import draw_interval
from tests.web.conftest import Served
from tests.web.pages.test_hours import text_of


def test_what_rounding_did_is_told_for_sites_and_people(at_mill: httpx.Client) -> None:
    # Tess: 7 min taken at 07:53, 2 and 7 given at 12:32 and 16:08: 2 min given on one day.
    page = text_of(at_mill.get("/rounding?weeks=4").text)
    assert "each punch to the nearest 15 minutes" in page
    assert "Tess Marrow 1 day + 2 min +120 s, no interval from one" in page
    assert "proves nothing for one person" in page
    assert "29 CFR 785.48(b)" in page


def test_names_are_never_read_as_markup(at_mill: httpx.Client) -> None:
    assert "<b>Ines</b>" not in at_mill.get("/rounding").text


def test_a_workplace_that_rounds_nothing_is_told_so(twin: Served) -> None:
    with twin.enter() as client:
        page = text_of(client.get("/rounding").text)
    assert "nothing was given or taken" in page


def test_people_are_found_by_name_and_those_of_a_page_are_counted(at_mill: httpx.Client) -> None:
    page = at_mill.get("/rounding?weeks=4&q=tess").text
    assert "/people/P1" in page
    assert "/people/P3" not in page
    assert "/people/P3" in at_mill.get("/rounding?weeks=4&page=9").text
    assert "Nobody matches “zz”." in at_mill.get("/rounding?weeks=4&q=zz").text


@pytest.mark.parametrize("weeks", ["0", "-3", "many"])
def test_weeks_that_are_none_are_refused(at_mill: httpx.Client, weeks: str) -> None:
    assert at_mill.get(f"/rounding?weeks={weeks}").status_code == 400


def test_the_interval_is_drawn_on_both_sides_of_nought() -> None:
    # A reach of 100 fills 48 per cent on each side of the middle: -50 stands at 26, 25 at 62.
    drawn = str(draw_interval(-12.5, -50, 25, 100, "says", alarming=False))
    assert 'x1="26.00%" x2="62.00%"' in drawn
    assert 'x="44.00%"' in drawn
    assert "circle" in drawn
    beyond = str(draw_interval(0, -500, 25, 100, "says", alarming=False))
    assert 'x1="0.00%" x2="62.00%"' in beyond
    assert beyond.count('class="interval"') == 2  # the line and one of its two ends
    assert "circle" not in str(draw_interval(-12.5, -50, -1, 100, "says", alarming=True))
