"""Find is reached from every page, shows what is meant by kind, and opens what alone can be meant."""

from __future__ import annotations

import re

import httpx
import pytest


@pytest.mark.parametrize("place", ["/", "/people/P1", "/hours/P1/2026-03-02", "/ledger", "/no-such-page", "/find?q=zz"])
def test_every_page_has_the_search(at_mill: httpx.Client, place: str) -> None:
    page = at_mill.get(place).text
    form = re.findall(r'<form class="find" method="get" action="/find" role="search".*?</form>', page, re.DOTALL)
    assert len(form) == 1
    assert '<label for="find"' in form[0]


@pytest.mark.parametrize(
    ("asked", "address"),
    [
        ("ostler", "/people/P2"),
        ("ostlre", "/find"),
        ("fenn joss", "/people/P4"),
        ("4103", "/people/P3"),
        ("mill-1", "/readers/MILL-1"),
        ("2026-03-02", "/hours?week=2026-03-02"),
        ("ostler 2026-03-02", "/hours/P2/2026-03-02"),
        ("punches.csv", "/files/takes/4"),
        ("mill", "/people?q=Mill"),
    ],
)
def test_what_alone_can_be_meant_is_opened_and_is_there(at_mill: httpx.Client, asked: str, address: str) -> None:
    answer = at_mill.get("/find", params={"q": asked})
    if address == "/find":  # a slip is shown, not followed
        assert re.findall(r'href="/people/(P\d)"', answer.text) == ["P2"]
        return
    assert (answer.status_code, answer.headers["location"]) == (303, address)
    assert at_mill.get(address).status_code == 200


@pytest.mark.parametrize("place", ["/find", "/people", "/hours", "/files", "/hands", "/consent"])
@pytest.mark.parametrize("asked", ["1800-01-01", "18000101"])
def test_a_day_too_far_away_to_be_reckoned_is_searched_for(at_mill: httpx.Client, place: str, asked: str) -> None:
    answer = at_mill.get(place, params={"q": asked})
    assert answer.status_code == 200
    assert f'value="{asked}"' in answer.text
    assert at_mill.get("/hours", params={"week": asked}).status_code in (400, 409)


def test_a_number_of_eight_digits_is_no_day(at_mill: httpx.Client) -> None:
    # ISO 8601-1:2019 has 18000101 for 1 January 1800, and so would `date.fromisoformat`
    answer = at_mill.get("/numbers/18000101")
    assert answer.status_code == 404  # nobody has it
    assert "18000101" in answer.text
    assert "outside the years" not in answer.text
    assert at_mill.get("/change-number", params={"person": "P3", "number": "18000101"}).status_code == 200
    assert at_mill.get("/hours", params={"week": "1800-01-01"}).status_code in (400, 409)


def test_what_is_found_stands_by_kind_with_what_it_is(at_mill: httpx.Client) -> None:
    page = at_mill.get("/find?q=csv").text
    assert '<h2 id="of-file">Files taken <span class="count">4</span></h2>' in page
    assert "take 4, punches, taken" in page
    assert "<title>4 found for “csv” · Mill &amp; Sons</title>" in page
    assert '<input id="find" name="q" type="search"' in page
    assert 'value="csv"' in page


def test_a_name_with_markup_is_shown_as_it_is_written(at_mill: httpx.Client) -> None:
    page = at_mill.get("/find", params={"q": "<b>"}).text
    assert "“&lt;b&gt;”" in page
    assert ">&lt;b&gt;Ines&lt;/b&gt; Quill</a>" in page


def test_where_nothing_is_found_it_says_what_may_be_said_of_the_erased(at_mill: httpx.Client) -> None:
    page = at_mill.get("/find?q=nobodyatall").text
    assert "Nothing found for “nobodyatall”" in page
    assert "Of whoever was erased nothing is kept to be found by" in page


def test_a_number_has_a_page_with_whose_it_is_and_what_came_under_it(at_mill: httpx.Client) -> None:
    page = at_mill.get("/numbers/4102").text
    assert '<a href="/people/P2">Bram Ostler</a>' in page
    assert '<a href="/readers/MILL-1">MILL-1</a>' in page
    assert "Mon 2 Mar 2026, 07:00" in page
    assert '<a class="number" href="/numbers/4101">4101</a> <a href="/people/P1">Tess Marrow</a>' in page
    assert at_mill.get("/numbers/9").status_code == 404
