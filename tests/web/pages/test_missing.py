"""Missing punches on the pages: a supervisor's list, as a file and on a phone, and deciding on what is said."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterator

import httpx
import pytest

from evenhand.web import guard
from evenhand.web.doorkeeper import Visit
from tests.untranslated import language_of, untranslated
from tests.web.conftest import Served

Token = Callable[[httpx.Client], str]
BRAM = {"person": "P2", "day": "2026-03-02"}


@pytest.fixture
def token(at_mill: httpx.Client, form_token: Token) -> dict[str, str]:
    return {"form_token": form_token(at_mill)}


@pytest.fixture
def phone(mill: Served) -> Iterator[httpx.Client]:
    """The phone of Tess Marrow (P1), let in for her list."""
    with httpx.Client(base_url=mill.base, headers={"origin": mill.base}, timeout=30) as client:
        secret = mill.keeper.invite(Visit("/missing/at/P1", lambda: False))
        assert client.get(f"/enter/{secret}").headers["location"] == "/missing/at/P1"
        yield client


def signed(client: httpx.Client, page: str, /, **said: str) -> dict[str, str]:
    found = re.search(r'name="form_token" value="([^"]+)"', client.get(page).text)
    assert found is not None
    return {"form_token": found[1], **said}


def numbers(page: str) -> list[int]:
    return [int(one) for one in re.findall(r'id="s-(\d+)"', page)]


def test_the_list_names_what_is_asked_of_whom_and_is_given_away_as_a_file(at_mill: httpx.Client) -> None:
    page = at_mill.get("/missing?supervisor=P1").text
    assert "the people of Tess Marrow" in page
    assert "The punch at 07:00 begins something that nothing ended. When did it end?" in page
    given = at_mill.get("/missing/list.csv?supervisor=P1")
    assert given.headers["content-type"] == "text/csv; charset=utf-8"
    (row,) = csv.DictReader(io.StringIO(given.content.decode("utf-8-sig")))
    assert (row["person"], row["name"], row["day"], row["zone"]) == (
        "P2",
        "Bram Ostler",
        "2026-03-02",
        "America/New_York",
    )
    assert row["punches"] == "07:00 in, MILL-1"
    assert (row["answer_time"], row["answer_words"]) == ("", "")
    # the mill has two supervisors and Bram's department none of its own, so that both are asked
    assert "Bram Ostler" in at_mill.get("/missing?supervisor=P3").text
    assert at_mill.get("/missing?supervisor=nobody").status_code == 404


def test_a_phone_sees_its_own_list_and_nothing_else(at_mill: httpx.Client, phone: httpx.Client) -> None:
    for place in ("/", "/missing", "/missing/at/P3", "/hours/P2/2026-03-02", "/missing/list.csv"):
        assert phone.get(place).status_code == 403, place
    other = phone.post("/missing/at/P3", data=signed(phone, "/missing/at/P1", **BRAM, do="look", says="x"))
    assert other.status_code == 403
    own = signed(phone, "/missing/at/P1", person="P1", day="2026-03-02", do="look", says="I was there")
    refused = phone.post("/missing/at/P1", data=own)
    assert refused.status_code == 409
    assert "nobody for themselves" in refused.text


@pytest.mark.parametrize("person", ["P3", "4103", "Quill", "nobody", "P2"])
def test_a_phone_learns_no_name_but_those_on_its_page(phone: httpx.Client, person: str) -> None:
    # of P2 the page asks, but not about this day
    said = signed(phone, "/missing/at/P1", person=person, day="2026-03-03", do="look", says="who is this?")
    refused = phone.post("/missing/at/P1", data=said)
    assert refused.status_code == 409
    assert "asks about none of that" in refused.text
    assert not any(name in refused.text for name in ("Bram Ostler", "Ines"))


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ({"do": "add", "on": "2026-03-02", "at": "25:00", "direction": "out"}, "is no time"),
        ({"do": "add", "on": "2026-03-05", "at": "15:30", "direction": "out"}, "does not belong to"),
        ({"do": "add", "on": "2026-03-02", "at": "15:30", "direction": "up"}, "in or out"),
        ({"do": "look", "says": ""}, "Say in words"),
        ({"do": "look", "says": "ab\u202ecd"}, "do not show"),
        ({"do": "proposed", "shown": "2026-03-02 15:31"}, "has changed since it was shown"),
    ],
)
def test_what_is_not_whole_is_kept_nowhere(
    at_mill: httpx.Client, token: dict[str, str], said: dict[str, str], why: str
) -> None:
    before = at_mill.get("/missing").text
    answer = at_mill.post("/missing/said", data={**token, **BRAM, **said, "author": "R. Hale"})
    assert answer.status_code in (400, 409), answer.text
    assert why in answer.text
    assert numbers(at_mill.get("/missing").text) == numbers(before)


def test_a_list_filled_in_is_kept_whole_or_not_at_all(at_mill: httpx.Client, token: dict[str, str]) -> None:
    listed = at_mill.get("/missing/list.csv?supervisor=P3").content.decode("utf-8-sig")
    header, *rows = csv.reader(io.StringIO(listed))

    def filled(**said: str) -> bytes:
        # as a spreadsheet elsewhere writes it: semicolons, no mark of UTF-8
        written = io.StringIO()
        table = csv.writer(written, delimiter=";")
        table.writerows(
            [header, *([said.get(name, cell) for name, cell in zip(header, row, strict=True)] for row in rows)]
        )
        return written.getvalue().encode()

    def hand_in(content: bytes) -> httpx.Response:
        form = {**token, "supervisor": "P3", "author": "R. Hale"}
        return at_mill.post("/missing/answers", data=form, files={"list": ("mine.csv", content)})

    assert "holds no answer" in hand_in(filled()).text
    wrong = hand_in(filled(answer_time="half past three", answer_way="out"))
    assert "mine.csv, line 2: &#34;half past three&#34; is no time" in wrong.text
    assert hand_in(filled(answer_time="3:45 PM", answer_way="OUT", answer_words="saw them go")).status_code == 303
    page = at_mill.get("/missing").text
    assert "went out at 15:45 (“saw them go”)" in page
    (number,) = numbers(page)
    decided = {**token, "suggestion": str(number), "outcome": "declined", "reason": "not so", "author": "R. Hale"}
    assert at_mill.post("/missing/decide", data=decided).status_code == 303
    assert "Declined by R. Hale: “not so”" in at_mill.get("/missing").text
    assert at_mill.post("/missing/decide", data=decided).status_code == 409


def test_a_list_of_a_large_workplace_is_read_and_beyond_that_is_refused_in_a_sentence(
    at_mill: httpx.Client, token: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    header, first, *_ = at_mill.get("/missing/list.csv?supervisor=P3").content.decode("utf-8-sig").splitlines(True)
    long = (header + first * 400).encode()  # beyond what any other form may be
    assert len(long) > guard.LARGEST_FORM

    def hand_in(content: bytes) -> httpx.Response:
        form = {**token, "supervisor": "P3", "author": "R. Hale"}
        return at_mill.post("/missing/answers", data=form, files={"list": ("mine.csv", content)})

    assert "holds no answer" in hand_in(long).text
    monkeypatch.setattr(guard, "LARGEST_LIST", 1_000)
    refused = hand_in(long)
    assert refused.status_code == 413
    assert "The file is larger than 16 MiB, so it was not read" in refused.text


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "cp1252"])
@pytest.mark.parametrize("day", ["3/2/2026", "02.03.2026", "2026/03/02"])
def test_a_list_is_read_as_spreadsheets_save_it_where_one_day_alone_is_asked_about(
    at_mill: httpx.Client, token: dict[str, str], encoding: str, day: str
) -> None:
    assert 'name="supervisor" required' in at_mill.get("/missing").text
    assert hand_in(at_mill, token, day, "4:30 p.m.", "went to see the señor", encoding).status_code == 303
    page = at_mill.get("/missing").text
    assert "went out at 16:30 (“went to see the señor”)" in page
    (number,) = numbers(page)
    assert f"/hours/P2/2026-03-02/correct?action=add&amp;direction=out&amp;suggestion={number}&amp;" in page
    declined = {"suggestion": str(number), "outcome": "declined", "reason": "read back", "author": "R. Hale"}
    assert at_mill.post("/missing/decide", data=token | declined).status_code == 303


@pytest.mark.parametrize(
    ("day", "at", "words", "why"),
    [
        ("3/3/2026", "4:30 PM", "", "&#34;3/3/2026&#34; is no day that this list asks about"),
        ("3/2/26", "4:30 PM", "", "&#34;3/2/26&#34; is no day that this list asks about"),
        ("2026-03-02", "4:30 x.m.", "", "is no time"),
        ("2026-03-02", "4:30 PM", "ab\u202ecd", "do not show"),
        ("2026-03-12", "4:30 PM", "", "has not come"),
    ],
)
def test_a_refused_list_names_file_and_line(
    at_mill: httpx.Client, token: dict[str, str], day: str, at: str, words: str, why: str
) -> None:
    refused = hand_in(at_mill, token, day, at, words)
    assert refused.status_code == 409
    assert "mine.csv, line 2: " in refused.text
    assert why in refused.text


def hand_in(
    client: httpx.Client, token: dict[str, str], day: str, at: str, words: str, encoding: str = "utf-8"
) -> httpx.Response:
    """Hand in Bram's row as a spreadsheet may have saved it."""
    header = "person;name;day;answer_day;answer_time;answer_way;answer_words"
    content = f"{header}\r\nP2;Bram Ostler;{day};;{at};out;{words}\r\n".encode(encoding)
    form = {**token, "supervisor": "P3", "author": "R. Hale"}
    return client.post("/missing/answers", data=form, files={"list": ("mine.csv", content)})


NAMES_AND_NUMBERS = (
    "Tess Marrow",
    "Bram Ostler",
    "<b>Ines</b> Quill",
    "Mill & Sons",
    "MILL-1",
    "MILL",
    "America/New_York",
    "Mill",
    "evenhand",
)
OTHERWISE = ("R. Hale", "The gate stood open.")


def test_a_supervisor_reads_the_list_in_spanish_whole(at_mill: httpx.Client, phone: httpx.Client) -> None:
    english, spanish = (phone.get(f"/missing/at/P1?speak={one}").text for one in ("en", "es"))
    assert (language_of(english), language_of(spanish)) == ("en", "es")
    assert "La marcación de las 07:00 empieza algo que nada terminó. ¿Cuándo terminó?" in spanish
    assert "lunes 2 de marzo de 2026" in spanish
    assert untranslated(english, spanish, NAMES_AND_NUMBERS) == set()
    english, spanish = (at_mill.get(f"/missing?supervisor=P1&speak={one}").text for one in ("en", "es"))
    assert (language_of(english), language_of(spanish)) == ("en", "es")
    assert untranslated(english, spanish, NAMES_AND_NUMBERS) == set()
    at_mill.get("/missing?speak=en")


def test_what_a_supervisor_says_in_spanish_is_answered_in_spanish(at_mill: httpx.Client, phone: httpx.Client) -> None:
    here = "/missing/at/P1"
    phone.get(f"{here}?speak=es")  # chosen once, kept for as long as the phone is in
    refused = phone.post(here, data=signed(phone, here, **BRAM, do="add", on="2026-03-02", at="25:00"))
    assert refused.status_code == 409
    assert language_of(refused.text) == "es"
    assert "«25:00» no es una hora; escríbala así: 16:30 o 4:30 PM." in refused.text
    incomplete = phone.post(here, data=signed(phone, here, **BRAM, do="look", says=""))
    assert "Diga con palabras qué pasó; no se guardó nada." in incomplete.text
    assert "Esto no se puede hacer" in incomplete.text
    elsewhere = phone.get("/missing")
    assert (elsewhere.status_code, language_of(elsewhere.text)) == (403, "es")
    assert "Este teléfono tiene acceso a una sola página y no ve nada más; vuelva a ella." in elsewhere.text
    said = signed(phone, here, **BRAM, do="add", on="2026-03-02", at="15:30", direction="out")
    assert phone.post(here, data=said).status_code == 303
    kept = phone.get(here).text
    assert "Guardado: Bram Ostler, salió a las 15:30. Decide la oficina." in kept
    assert "Tess Marrow dijo: salió a las 15:30. La oficina aún no ha decidido." in kept
    # the desk reads the same suggestion in its own language
    assert "went out at 15:30" in at_mill.get("/missing").text
    page = at_mill.get("/missing?speak=es").text
    assert "Lo dice Tess Marrow, por teléfono móvil" in page
    assert "salió a las 15:30" in page
    (number,) = numbers(at_mill.get("/missing?speak=en").text)
    declined = {"suggestion": str(number), "outcome": "declined", "reason": OTHERWISE[1], "author": OTHERWISE[0]}
    at_mill.post("/missing/decide", data=signed(at_mill, "/missing", **declined))
    english, spanish = (at_mill.get(f"/missing?speak={one}").text for one in ("en", "es"))
    assert untranslated(english, spanish, (*NAMES_AND_NUMBERS, *OTHERWISE)) == set()
    at_mill.get("/missing?speak=en")


def test_the_browser_and_the_switch_choose_the_language(phone: httpx.Client) -> None:
    wanted = {"accept-language": "es-MX,es;q=0.9,en;q=0.5"}
    page = phone.get("/missing/at/P1", headers=wanted).text
    assert language_of(page) == "es"
    assert '<a href="?speak=en" lang="en" hreflang="en">English</a>' in page
    assert '<a href="?speak=es" lang="es" hreflang="es" aria-current="true">español</a>' in page
    phone.get("/missing/at/P1?speak=en")
    assert language_of(phone.get("/missing/at/P1", headers=wanted).text) == "en"  # what was chosen counts for more
    assert language_of(phone.get("/missing/at/P1?speak=xx", headers=wanted).text) == "en"


def test_what_is_refused_on_a_phone_is_told_in_the_own_language_of_whoever_it_was_let_in_for(
    mill: Served, phone: httpx.Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("evenhand.web.pages.missing.page.spoken_languages", lambda _: {"P1": "es"})
    here, asked_in = "/missing/at/P1", {"accept-language": "en"}
    phone.get("/missing/at/P1?speak=any", headers=asked_in)  # what was chosen on it before is chosen no longer
    page = phone.get(here, headers=asked_in)
    assert language_of(page.text) == "es"
    sent = signed(phone, here, **BRAM, do="look", says="")
    incomplete = phone.post(here, data=sent, headers=asked_in)
    assert language_of(incomplete.text) == "es"
    assert "Diga con palabras qué pasó; no se guardó nada." in incomplete.text
    assert language_of(phone.get("/missing", headers=asked_in).text) == "es"  # nor is a door another's


def test_a_page_keeps_what_it_shows_when_its_language_is_chosen(at_mill: httpx.Client) -> None:
    page = at_mill.get("/missing?period=2026-03-01&supervisor=P1").text
    assert 'href="?period=2026-03-01&amp;supervisor=P1&amp;speak=es"' in page


def test_what_is_said_on_a_phone_pays_nothing_until_the_desk_accepts_it(
    at_mill: httpx.Client, phone: httpx.Client, token: dict[str, str]
) -> None:
    here = "/missing/at/P1"
    assert "Bram Ostler, Monday 2 March 2026" in phone.get(here).text
    said = signed(phone, here, **BRAM, do="add", on="2026-03-02", at="15:30", direction="out")
    assert phone.post(here, data=said).status_code == 303
    assert "Kept: Bram Ostler, went out at 15:30" in phone.get(here).text
    assert phone.post(here, data=said).status_code == 303  # said twice, kept once
    day = at_mill.get("/hours/P2/2026-03-02").text
    assert "begins something that nothing ended" in day
    page = at_mill.get("/missing").text
    assert len(numbers(page)) == 1
    assert "Tess Marrow says so, on a phone" in page
    assert "Tess Marrow says: went out at 15:30" in at_mill.get("/").text
    link = re.search(r'href="(/hours/P2/2026-03-02/correct\?[^"]+)"', page)
    assert link is not None
    preview = at_mill.get(link[1].replace("&amp;", "&")).text
    assert "Add a punch at 15:30, out" in preview
    hidden = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)">', preview))
    answer = {**hidden, **token, "author": "R. Hale", "reason": "as Tess Marrow says"}
    made = at_mill.post("/hours/P2/2026-03-02/correct", data=answer)
    assert (made.status_code, made.headers["location"]) == (303, "/missing?period=2026-03-01")
    page = at_mill.get("/missing").text
    assert numbers(page) == []
    assert "Accepted by R. Hale: “as Tess Marrow says”, correction 1" in page
    assert "begins something that nothing ended" not in at_mill.get("/hours/P2/2026-03-02").text
    again = at_mill.post("/hours/P2/2026-03-02/correct", data=answer)
    assert again.status_code == 409
    assert "accepted already, by R. Hale" in again.text
