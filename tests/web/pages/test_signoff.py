"""Sign-off on the pages: people approved in one go, papers keyed back, disputes answered, and a person at a reader."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from datetime import UTC, datetime

import httpx
import pytest

from evenhand.jobs.correction_rows import CorrectionRequest
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.signing import confirm_papers
from evenhand.jobs.statement_codes import issue_code
from evenhand.terms.records import Refusal
from evenhand.web.doorkeeper import MOST_WRONG, WRONG_S, Doorkeeper, Visit
from tests.jobs.asked import correct
from tests.untranslated import language_of, untranslated
from tests.web.conftest import MILL_AS_OF, Served

Token = Callable[[httpx.Client], str]
READER = "/signoff/reader"
KNOWN = ("Mill & Sons", "<b>Ines</b> Quill", "Sign-off")


@pytest.fixture
def token(at_mill: httpx.Client, form_token: Token) -> dict[str, str]:
    return {"form_token": form_token(at_mill)}


def code_of(mill: Served, person: str) -> str:
    return issue_code(mill.workspace, reckon_period(mill.workspace, MILL_AS_OF), person, as_of=MILL_AS_OF)


def row_of(page: str, person: str) -> str:
    return next(row for row in re.findall(r"<tr>.*?</tr>", page, re.DOTALL) if f">{person}</a>" in row)


def test_a_supervisors_people_are_approved_in_one_go_as_they_were_shown(
    at_mill: httpx.Client, token: dict[str, str]
) -> None:
    page = at_mill.get("/signoff").text
    assert "Of the hours of 3 people: 0 confirmed by the person" in page
    seen = dict(re.findall(r'name="(seen:P\d)" value="([0-9a-f]{64})"', page))
    assert set(seen) == {"seen:P1", "seen:P2", "seen:P3"}
    form = {**token, **seen, "period": "2026-03-01", "supervisor": "P1", "person": ["P2", "P3"], "author": "Vera"}
    stale = at_mill.post("/signoff/approve", data={**form, "seen:P2": "0" * 64})
    assert stale.status_code == 409
    assert "changed since they were shown" in stale.text
    assert at_mill.post("/signoff/approve", data=form).status_code == 303
    page = at_mill.get("/signoff?period=2026-03-02").text
    assert "Approved: the hours of 2 people" in page
    assert "2 approved by a supervisor" in page
    assert 'data-label="Approved">yes' in row_of(page, "P2")
    own = at_mill.post("/signoff/approve", data={**form, "person": ["P1"]})
    assert "not for Tess Marrow (P1) to approve" in own.text


def test_whoever_approves_leaves_their_own_hours_to_another(at_mill: httpx.Client, token: dict[str, str]) -> None:
    page = at_mill.get("/signoff?group=Mill").text
    seen = dict(re.findall(r'name="(seen:P\d)" value="([0-9a-f]{64})"', page))
    form = {**token, **seen, "period": "2026-03-01", "supervisor": "P3", "person": ["P1", "P3"], "author": "Vera"}
    assert at_mill.post("/signoff/approve", data=form).status_code == 303
    page = at_mill.get("/signoff").text
    assert "Approved: the hours of 1 person" in page
    assert 'data-label="Approved">yes' in row_of(page, "P1")


def test_a_paper_is_keyed_back_and_taken_back(at_mill: httpx.Client, mill: Served, token: dict[str, str]) -> None:
    form = {**token, "code": code_of(mill, "P3").lower(), "author": "Vera"}
    assert at_mill.post("/signoff/confirm", data=form).status_code == 303
    page = at_mill.get("/signoff").text
    number = re.search(r'data-label="Confirmed">yes <span class="quiet">(\d+)', row_of(page, "P3"))
    assert number
    back = {**token, "number": number[1], "author": "Vera", "reason": "another's paper"}
    assert at_mill.post("/signoff/withdraw", data=back).status_code == 303
    assert 'data-label="Confirmed">yes' not in row_of(at_mill.get("/signoff").text, "P3")


def test_a_dispute_is_entered_stands_on_today_and_is_answered(at_mill: httpx.Client, token: dict[str, str]) -> None:
    said = {**token, "person": "P2", "kind": "day", "day": "2026-03-02", "says": "I left at <four>", "author": "Vera"}
    assert at_mill.post("/signoff/disputes", data=said).status_code == 303
    page = at_mill.get("/signoff").text
    assert "“I left at &lt;four&gt;”" in page
    number = re.search(r'name="dispute" value="(\d+)"', page)
    assert number
    today = at_mill.get("/").text
    assert "Bram Ostler (P2) disputes: day, Mon 2 Mar 2026." in today
    assert re.search(r'href="/signoff\?back=[^"#]+#disputes"', today)
    answer = {**token, "dispute": number[1], "outcome": "rejected", "reason": "the gate log says six", "author": "Vera"}
    assert at_mill.post("/signoff/disputes/answer", data=answer).status_code == 303
    assert "I left at" not in at_mill.get("/signoff").text


@pytest.fixture
def at_reader(mill: Served) -> Iterator[httpx.Client]:
    """A browser let in for the page at a reader, and nothing else."""
    with httpx.Client(base_url=mill.base, headers={"origin": mill.base}, timeout=30) as client:
        entered = client.get(f"/enter/{mill.keeper.invite(Visit(READER, lambda: False))}")
        assert (entered.status_code, entered.headers["location"]) == (303, READER)
        yield client


NUMBER_OF_P1 = "4101"


def keyed(client: httpx.Client, **said: str) -> httpx.Response:
    page = client.get(READER).text
    signature = page.split('name="form_token" value="')[1].split('"')[0]
    return client.post(READER, data={"form_token": signature, "number": NUMBER_OF_P1, **said})


def test_a_person_sees_their_own_hours_and_nobody_elses_and_confirms_them(
    at_reader: httpx.Client, mill: Served
) -> None:
    code = code_of(mill, "P1")
    shown = keyed(at_reader, code=code).text
    assert "<h1>Tess Marrow</h1>" in shown
    # 7:53 to 12:00 and 12:32 to 16:08, each punch to the nearest quarter hour, as reckoned for the day's page
    assert "ordinary time 7:45" in shown
    shown = re.sub(r' value="[^"]*"', "", answered := shown)  # what is drawn by chance may hold any two letters
    for other in ("Ostler", "Quill", "P2", "4102", 'href="/people', 'href="/hours'):
        assert other not in shown
    assert "324 U.S. 697 (1945)" in shown
    assert "<script" not in shown
    seen = re.search(r'name="seen" value="([0-9a-f]+)"', answered)
    assert seen
    assert keyed(at_reader, code=code, do="confirm", seen="0" * 64).status_code == 409
    assert keyed(at_reader, code=code, do="confirm", seen=seen[1]).status_code == 303
    assert "Confirmed: Sun 1 to Sat 7 Mar 2026." in at_reader.get(READER).text
    assert "You have confirmed these hours." in keyed(at_reader, code=code).text


def test_a_person_disputes_a_line_at_the_reader(at_reader: httpx.Client, mill: Served, at_mill: httpx.Client) -> None:
    code = code_of(mill, "P1")
    said = {"do": "dispute", "kind": "day", "day": "2026-03-02", "says": "I began at seven"}
    assert keyed(at_reader, code=code, **said).status_code == 303
    assert "You are answered by" in at_reader.get(READER).text
    assert "“I began at seven”" in at_mill.get("/signoff").text


def test_a_person_reads_and_signs_their_hours_in_spanish(at_reader: httpx.Client, mill: Served) -> None:
    code = code_of(mill, "P3")
    asked = {"code": code, "number": "4103"}
    starts = [at_reader.get(f"{READER}?speak={one}").text for one in ("en", "es")]
    assert [language_of(page) for page in starts] == ["en", "es"]
    assert untranslated(*starts, KNOWN) == set()
    wrong = keyed(at_reader, code="0000-0000-0000")
    assert language_of(wrong.text) == "es"
    assert "Este no es el código de un detalle de horas" in wrong.text
    others = keyed(at_reader, code=code)
    assert "Ningún detalle de horas de los últimos 92 días corresponde a este número y este código" in others.text
    pages = [keyed(at_reader, **asked, speak=one).text for one in ("en", "es")]
    assert [language_of(page) for page in pages] == ["en", "es"]
    assert untranslated(*pages, KNOWN) == set()
    assert "lunes 2 de marzo de 2026" in pages[1]
    assert "tiempo ordinario" in pages[1]
    incomplete = keyed(at_reader, **asked, do="dispute", kind="day", says="La puerta estaba cerrada.")
    assert (incomplete.status_code, language_of(incomplete.text)) == (409, "es")
    assert "Día: la reclamación es de un día; diga cuál." in incomplete.text
    no_words = keyed(at_reader, **asked, do="dispute", kind="other", says=" ")
    assert "Diga qué debería decir; no se cambió nada." in no_words.text
    said = {"do": "dispute", "kind": "day", "day": "2026-03-02", "says": "Empecé a las siete."}
    assert keyed(at_reader, **asked, **said).status_code == 303
    assert "Se le responde a más tardar el " in at_reader.get(READER).text
    # and goes with whoever said it: the next one is shown their own language
    assert language_of(keyed(at_reader, **asked).text) == "en"
    seen = re.search(r'name="seen" value="([0-9a-f]+)"', keyed(at_reader, **asked, speak="es").text)
    assert seen
    changed = keyed(at_reader, **asked, do="confirm", seen="0" * 64)
    assert "ya no son las de este detalle de horas, así que no se confirmó nada" in changed.text
    assert language_of(changed.text) == "es"
    assert keyed(at_reader, **asked, do="confirm", seen=seen[1]).status_code == 303
    assert "Horas confirmadas, del dom 1 al sáb 7 mar 2026. Gracias." in at_reader.get(READER).text
    # whoever leaves takes their language along
    assert language_of(at_reader.get(f"{READER}?speak=any").text) == "en"
    assert language_of(at_reader.get(READER).text) == "en"


def test_what_cannot_be_kept_as_disputed_stays_written_where_it_is_mended(
    at_reader: httpx.Client, mill: Served
) -> None:
    code = code_of(mill, "P1")
    asked = keyed(at_reader, code=code, do="dispute", kind="punch", day="", says="I left at five")
    assert (asked.status_code, "A punch is disputed of a day; say which. Nothing was kept yet." in asked.text) == (
        409,
        True,
    )
    for still in (f'name="code" value="{code}"', 'value="punch" selected', 'value="I left at five"'):
        assert still in asked.text
    assert 'name="code" required' not in asked.text
    astray = at_reader.get("/signoff/reader?day=1890-01-01").text
    assert "Back to the round" not in astray
    assert f'<a href="{READER}">Back to where you began</a>' in astray


def test_hours_that_changed_since_the_statement_are_shown_and_told_and_confirmed_as_they_are_seen(
    at_reader: httpx.Client, mill: Served
) -> None:
    code = code_of(mill, "P2")
    for hour, way in ((12, "in"), (13, "out")):
        at = datetime(2026, 3, 6, hour, tzinfo=UTC)
        correct(
            mill.workspace, CorrectionRequest("add", "P2", "Ada", "told so", at=at, direction=way), as_of=MILL_AS_OF
        )
    shown = keyed(at_reader, code=code, number="4102").text
    assert "These hours have changed since your statement was printed." in shown
    with pytest.raises(Refusal, match="no longer those on this statement, so nothing was confirmed"):
        confirm_papers(mill.workspace, [code], author="Vera", as_of=MILL_AS_OF)
    seen = re.search(r'name="seen" value="([0-9a-f]+)"', shown)
    assert seen
    assert keyed(at_reader, code=code, number="4102", do="confirm", seen=seen[1]).status_code == 303


def test_the_page_at_a_reader_opens_nothing_else(at_reader: httpx.Client) -> None:
    for place in ("/signoff", "/", "/people/P1/held.pdf", "/hours/P1/statement.pdf"):
        assert at_reader.get(place).status_code == 403


def test_nobody_pages_through_codes_and_an_empty_one_is_none(at_reader: httpx.Client, mill: Served) -> None:
    for _ in range(MOST_WRONG):
        asked = keyed(at_reader, code=" ")
        assert (asked.status_code, "Key the code on your statement of hours." in asked.text) == (400, True)
    for _ in range(MOST_WRONG):
        assert keyed(at_reader, code="0000-0000-0000").status_code == 404
    closed = keyed(at_reader, code=code_of(mill, "P1"))
    assert closed.status_code == 429
    assert "Marrow" not in closed.text
    assert "wait a quarter of an hour" in closed.text


def test_wrong_codes_are_forgotten_after_a_quarter_of_an_hour() -> None:
    now = [0.0]
    keeper = Doorkeeper(lambda: now[0])
    session = keeper.session(keeper.enter(keeper.invite()))
    assert session is not None
    for at in range(MOST_WRONG):
        assert keeper.may_try(session)
        now[0] = at
        keeper.tried_wrong(session)
    assert not keeper.may_try(session)
    now[0] = WRONG_S - 0.1
    assert not keeper.may_try(session)
    now[0] = WRONG_S
    assert keeper.may_try(session)
