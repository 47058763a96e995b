"""Teaching: letting a phone in to practise and nothing else, and codes that are keyed and taken back."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import httpx
import pytest

from evenhand.enrolment.teaching.results import Result, write_result
from evenhand.jobs.practice import practice_round, standing_practices
from evenhand.jobs.teaching_cover import ReaderCover
from evenhand.records.codes import checked
from evenhand.store import frames
from evenhand.web.doorkeeper import Visit
from evenhand.web.pages.teaching.view import cover_shown
from tests.web.conftest import Served

Token = Callable[[httpx.Client], str]
THEMES = tuple(practice_round().themes)
CODE = checked(write_result(Result(1, date(2026, 3, 8), THEMES[:-2], 5), THEMES))


def practised(served: Served) -> list[tuple[str, str]]:
    with served.workspace.store.reading() as conn:
        return list(standing_practices(frames.practices(conn)).select("person", "code").iter_rows())


def test_a_code_that_was_read_out_is_kept_and_taken_back(
    mill: Served, at_mill: httpx.Client, form_token: Token
) -> None:
    form = {"form_token": form_token(at_mill), "person": "P1", "code": CODE.lower(), "author": "R. Hale"}
    assert at_mill.post("/teaching/codes", data=form).status_code == 303
    said = "Kept: Tess Marrow practised on Sun 8 Mar 2026, and 14 of 16 parts went well."
    assert said in at_mill.get("/teaching").text
    assert ("P1", CODE) in practised(mill)
    with mill.workspace.store.reading() as conn:
        number = frames.practices(conn).filter(code=CODE)["practice"][0]
    back = {"form_token": form["form_token"], "practice": str(number), "author": "R. Hale"}
    assert at_mill.post("/teaching/back", data=back).status_code == 303
    assert ("P1", CODE) not in practised(mill)


def test_a_code_keyed_wrong_is_refused_with_what_to_do(at_mill: httpx.Client, form_token: Token) -> None:
    form = {"form_token": form_token(at_mill), "person": "P1", "code": CODE[:-1], "author": "R. Hale"}
    answer = at_mill.post("/teaching/codes", data=form)
    assert answer.status_code == 409
    assert "a letter is wrong or missing" in answer.text


@pytest.mark.parametrize("place", ["/practice/P2", "/practice/nobody"])
def test_only_a_supervisor_of_the_roster_has_a_round_of_their_own(at_mill: httpx.Client, place: str) -> None:
    assert at_mill.get(place).status_code == 404


def test_a_phone_that_is_let_in_to_practise_sees_that_and_nothing_else(mill: Served) -> None:
    secret = mill.keeper.invite(Visit("/practice/P1", lambda: False))
    with httpx.Client(base_url=mill.base, headers={"origin": mill.base}) as phone:
        assert phone.get(f"/enter/{secret}").headers["location"] == "/practice/P1"
        page = phone.get("/practice/P1")
        assert page.status_code == 200
        assert phone.get("/practice-worker.js").status_code == 200
        for place in ("/", "/practice", "/practice/P3", "/teaching", "/practice.html", "/people", "/rounds"):
            assert phone.get(place).status_code == 403, place
        for name in ("Bram", "Ines", "4101", "4102"):  # others' names, and numbers
            assert name not in page.text


def test_no_phone_is_let_in_where_none_reaches_the_pages(at_mill: httpx.Client, form_token: Token) -> None:
    answer = at_mill.post("/teaching/phone", data={"form_token": form_token(at_mill), "person": "P1"})
    assert answer.status_code == 409
    assert "give the round as a file" in answer.text


def test_the_address_that_lets_a_phone_in_opens_one_supervisors_round(
    mill: Served, at_mill: httpx.Client, form_token: Token
) -> None:
    mill.app.state.address = "https://desk.example.org:8765"
    try:
        shown = at_mill.post("/teaching/phone", data={"form_token": form_token(at_mill), "person": "P1"})
    finally:
        mill.app.state.address = None
    assert "For Tess Marrow" in shown.text
    secret = shown.text.split("https://desk.example.org:8765/enter/")[1].split("<")[0]
    with httpx.Client(base_url=mill.base) as phone:
        assert phone.get(f"/enter/{secret}").headers["location"] == "/practice/P1"


def test_as_a_file_it_names_nobody_of_the_workplace(at_mill: httpx.Client) -> None:
    answer = at_mill.get("/practice.html")
    assert answer.headers["content-disposition"] == 'attachment; filename="practice.html"'
    # without script each language's file leads to the other's, where both lie in one folder
    spanish = at_mill.get("/practice.es.html")
    assert spanish.headers["content-disposition"] == 'attachment; filename="practice.es.html"'
    for file in (answer.text, spanish.text):
        assert 'href="practice.html" lang="en"' in file
        assert 'href="practice.es.html" lang="es"' in file
    assert 'href="/practice.es.html" lang="es"' in at_mill.get("/teaching?speak=en").text
    assert 'href="?speak=es" lang="es"' in at_mill.get("/practice").text
    assert "https://" not in answer.text.replace("http://www.w3.org", "")
    for word in ("Marrow", "Ostler", "Mill", "form_token=", "/static/"):
        assert word not in answer.text


def test_supervisors_stand_by_name_and_each_with_the_reason(at_mill: httpx.Client) -> None:
    page = at_mill.get("/teaching").text
    who = page.split("Who can do it")[1].split("On every reader and shift")[0]
    assert who.index("Ines") < who.index("Tess Marrow")
    assert "Not known yet: has not practised yet, and no enrolment of theirs was proved in the last half year" in who
    assert "Yes:" not in who
    assert "Bram Ostler" not in who


def test_a_supervisor_sees_their_own_work_and_nobody_elses(
    mill: Served, at_mill: httpx.Client, form_token: Token
) -> None:
    form = {"form_token": form_token(at_mill), "person": "P3", "code": CODE, "author": "R. Hale"}
    assert at_mill.post("/teaching/codes", data=form).status_code == 303
    secret = mill.keeper.invite(Visit("/practice/P3", lambda: False))
    with httpx.Client(base_url=mill.base, headers={"origin": mill.base}) as phone:
        phone.get(f"/enter/{secret}")
        own = phone.get("/practice/P3", params={"own": "yes"}).text
        assert "14 of 16 parts went well" in own
        assert "Quill" in own
        assert "Marrow" not in own
        assert phone.get("/practice/P1", params={"own": "yes"}).status_code == 403
        assert phone.get("/teaching/P3").status_code == 403
    assert "14 of 16 parts went well" in at_mill.get("/teaching/P3").text
    assert at_mill.get("/teaching/P2").status_code == 404  # no supervisor


def test_of_many_supervisors_at_a_reader_the_first_are_named_and_the_others_counted() -> None:
    names = tuple(f"Supervisor {place}" for place in range(9))
    told = cover_shown(ReaderCover("GATE-1", names[:6], (), names, 0, ()))
    assert told["can"] == "; ".join(names[:6])
    assert told["not_known"] == "; ".join(names[:6]) + " and 3 more"
