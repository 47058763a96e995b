"""People are found, sorted, and shown with their enrolments."""

from __future__ import annotations

import re

import httpx
import pytest


@pytest.mark.parametrize(("asked", "names"), [("ostler", ["P2"]), ("4103", ["P3"]), ("mill fenn", ["P4"]), ("zz", [])])
def test_people_are_found_by_name_number_and_site(at_mill: httpx.Client, asked: str, names: list[str]) -> None:
    page = at_mill.get("/people", params={"q": asked}).text
    assert re.findall(r'href="/people/(P\d)"', page) == names


def test_people_are_sorted_by_the_column_asked_for(at_mill: httpx.Client) -> None:
    page = at_mill.get("/people?sort=number&order=down").text
    assert re.findall(r'href="/people/(P\d)"', page) == ["P4", "P3", "P2", "P1"]
    assert 'aria-sort="descending"' in page


def test_who_is_enrolled_nowhere_is_said_in_words(at_mill: httpx.Client) -> None:
    row = at_mill.get("/people?q=fenn").text
    assert '<span class="lacking">nowhere</span>' in row


def test_a_person_is_found_by_number_too(at_mill: httpx.Client) -> None:
    page = at_mill.get("/people/4101").text
    assert "<h1>Tess Marrow</h1>" in page
    assert "MILL-1" in page
    # paid time of Monday 2 March, as reckoned for the day's page
    assert "7\u00a0h\u00a045\u00a0min" in page


def test_a_person_without_punches_has_a_page(at_mill: httpx.Client) -> None:
    page = at_mill.get("/people/P4").text
    assert "No reader lists the number 4104." in page
    assert "No hours in these weeks." in page


def test_what_is_held_on_a_person_is_taken_from_their_page(at_mill: httpx.Client) -> None:
    page = at_mill.get("/people/P1").text
    for form in ("pdf", "json"):
        assert f'href="/people/P1/held.{form}"' in page
    told = at_mill.get("/people/P1/held.json")
    assert told.headers["content-disposition"] == 'attachment; filename="held.json"'
    assert told.json()["person"] == "P1"
    assert "Ostler" not in told.text
    assert at_mill.get("/people/P1/held.pdf").content.startswith(b"%PDF")
    assert at_mill.get("/people/P99/held.pdf").status_code == 404
