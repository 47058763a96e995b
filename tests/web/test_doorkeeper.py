"""Nobody but the invited browser on this machine gets in, and no other site can act for it."""

from __future__ import annotations

import gzip
import re
import time
from collections.abc import Callable, Iterator

import httpx
import pytest
from fastapi import FastAPI
from fastapi.routing import APIRoute

from evenhand.web.desk import Desk
from evenhand.web.doorkeeper import UNUSED_S, VISIT_S, Doorkeeper, Session, Undo, Visit, is_loopback
from tests.web.conftest import Served

PLACES = ["/", "/people", "/people/P1", "/readers", "/readers/MILL-1", "/hours", "/hours/P1", "/hours/P1/2026-03-02",
          "/hours/P2/2026-03-02/correct?action=add&on=2026-03-02&at=15:00&direction=out", "/hand-off"]  # fmt: skip


def routes(app: FastAPI) -> Iterator[APIRoute]:
    for router in app.routes:
        inner = getattr(router, "original_router", None)
        yield from (route for route in getattr(inner, "routes", [router]) if isinstance(route, APIRoute))


@pytest.mark.parametrize("place", [*PLACES, "/no-such-page"])
def test_a_browser_that_was_not_let_in_is_told_how_to_get_in(mill: Served, place: str) -> None:
    answer = httpx.get(mill.base + place)
    assert answer.status_code == 403
    assert "run `evenhand serve` and open the address it prints" in answer.text
    assert "Mill &amp; Sons" not in answer.text


def test_an_address_lets_one_browser_in_once(mill: Served) -> None:
    address = f"{mill.base}/enter/{mill.keeper.invite()}"
    first, second = httpx.get(address), httpx.get(address)
    assert (first.status_code, first.headers["location"]) == (303, "/")
    assert second.status_code == 403
    assert "set-cookie" not in second.headers


def test_the_cookie_is_kept_from_scripts_and_from_other_sites(mill: Served) -> None:
    cookie = httpx.get(f"{mill.base}/enter/{mill.keeper.invite()}").headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert "path=/" in cookie


def test_another_cookie_opens_nothing(mill: Served) -> None:
    assert httpx.get(mill.base, cookies={"evenhand_session": "guessed"}).status_code == 403


@pytest.mark.parametrize("host", ["evil.example", "evil.example:8765", "127.0.0.1.evil.example", "", "[", "10.0.0.7"])
def test_a_name_that_is_not_this_machine_is_refused_even_with_the_cookie(at_mill: httpx.Client, host: str) -> None:
    assert at_mill.get("/", headers={"host": host}).status_code == 400


@pytest.mark.parametrize("host", ["127.0.0.1:8765", "localhost", "localhost:1", "[::1]:8765"])
def test_loopback_names_are_this_machine(host: str) -> None:
    assert is_loopback(host)


def test_every_form_of_every_page_must_be_signed(mill: Served, at_mill: httpx.Client) -> None:
    addresses = [route.path for route in routes(mill.app) if "POST" in route.methods]
    assert len(addresses) >= 3
    for address in addresses:
        path = address.replace("{person:path}", "P1").replace("{day:day}", "2026-03-02")
        answer = at_mill.post(path, data={"author": "A", "reason": "B", "form_token": "guessed"})
        assert answer.status_code == 400, path
        assert "not from this session" in answer.text


@pytest.mark.parametrize("origin", ["https://evil.example", "null", "http://127.0.0.1:1", ""])
def test_a_form_sent_from_elsewhere_is_refused(
    at_mill: httpx.Client, form_token: Callable[[httpx.Client], str], origin: str
) -> None:
    answer = at_mill.post(
        "/hand-off", data={"author": "A", "form_token": form_token(at_mill)}, headers={"origin": origin}
    )
    assert answer.status_code == 403
    assert "nothing was changed" in answer.text


def test_one_session_cannot_sign_for_another(
    mill: Served, at_mill: httpx.Client, form_token: Callable[[httpx.Client], str]
) -> None:
    with mill.enter() as other:
        answer = at_mill.post("/hand-off", data={"author": "A", "form_token": form_token(other)})
    assert answer.status_code == 400


def test_no_two_pages_hold_the_same_token_and_each_signs(
    at_mill: httpx.Client, form_token: Callable[[httpx.Client], str]
) -> None:
    first, second = form_token(at_mill), form_token(at_mill)
    assert first != second
    # not even half of it, which lengths of compressed pages could tell piece by piece
    assert not {first[at : at + 8] for at in range(0, len(first), 8)} & {
        second[at : at + 8] for at in range(0, len(second), 8)
    }
    half = len(first) // 2
    for token in (first, second):  # an older page's form signs as well
        assert at_mill.post("/settle", data={"form_token": token}).text.count("not from this session") == 0
    for forged in (first[:half] + second[half:], first[:half], first[half:], "0" * len(first), "zz", ""):
        assert "not from this session" in at_mill.post("/settle", data={"form_token": forged}).text


def test_a_form_of_unusual_length_is_refused_before_it_is_read(at_mill: httpx.Client) -> None:
    assert at_mill.post("/settle", content=b"x" * 70_000).status_code == 413
    assert at_mill.post("/settle", content=iter([b"x"])).status_code == 411


@pytest.mark.parametrize("place", [*PLACES, "/no-such-page", "/static/evenhand.css", "/enter/used"])
def test_every_answer_keeps_other_sites_and_scripts_out(at_mill: httpx.Client, place: str) -> None:
    headers = at_mill.get(place).headers
    policy = headers["content-security-policy"]
    assert policy.startswith("default-src 'none'; style-src 'self'; img-src 'self' data:; form-action 'self'")
    assert "frame-ancestors 'none'" in policy
    assert "base-uri 'none'" in policy
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "same-origin"
    assert headers["cache-control"] == ("no-cache" if place.startswith("/static/") else "no-store")


def test_style_is_sent_once_and_pages_are_pressed_together(at_mill: httpx.Client) -> None:
    # Sources: RFC 9110 section 15.4.5 (Not Modified) and RFC 1952 (gzip)
    sent = at_mill.get("/static/evenhand.css")
    again = at_mill.get("/static/evenhand.css", headers={"if-none-match": sent.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")
    with at_mill.stream("GET", "/people", headers={"accept-encoding": "gzip"}) as pressed:
        raw = b"".join(pressed.iter_raw())
    assert pressed.headers["content-encoding"] == "gzip"
    whole = gzip.decompress(raw)
    assert b"Quill" in whole
    assert len(raw) < len(whole) / 2
    with at_mill.stream("GET", "/people", headers={"accept-encoding": "identity"}) as plain:
        assert "content-encoding" not in plain.headers


@pytest.mark.parametrize("place", PLACES)
def test_no_page_needs_what_its_policy_forbids(at_mill: httpx.Client, place: str) -> None:
    answer = at_mill.get(place)
    assert answer.status_code == 200
    scripts = re.findall(r"<script.*?</script>", answer.text, re.DOTALL)
    assert scripts == ['<script src="/static/find.js" defer></script>']
    assert not re.search(r"\sstyle=|\son[a-z]+=|javascript:", answer.text)
    outside = re.findall(r'(?:src|href|action)="(?!/|#|\?)([^"]*)"', answer.text)
    assert outside == []


def test_what_a_file_wrote_is_shown_and_not_obeyed(at_mill: httpx.Client) -> None:
    page = at_mill.get("/people").text
    assert "&lt;b&gt;Ines&lt;/b&gt; Quill" in page
    assert "<b>Ines" not in page


def test_a_fault_of_ours_shows_a_reference_and_no_traceback(
    mill: Served, at_mill: httpx.Client, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def broken(desk: Desk) -> None:
        raise ZeroDivisionError("the secret of the fault")

    monkeypatch.setattr(Desk, "people", broken)
    answer = at_mill.get("/people")
    assert answer.status_code == 500
    reference = re.search(r"reference ([0-9a-f]{8})", answer.text)
    assert reference
    assert "secret" not in answer.text
    assert reference[1] in caplog.text
    assert f"{reference[1]}: GET /people: ZeroDivisionError at" in caplog.text
    assert "tests.web.test_doorkeeper line" in caplog.text
    assert "the secret of the fault" not in caplog.text, "what a fault says may hold what is known of people"


@pytest.mark.parametrize(
    ("place", "status", "sentence"),
    [
        ("/people/nobody", 404, "Nobody on the roster answers to &#34;nobody&#34;"),
        ("/readers/nowhere", 404, "There is no reader &#34;nowhere&#34;"),
        ("/hours?week=soon", 400, "which is not a date such as 2026-03-04"),
        ("/hours/P1/2026-13-45", 400, "which is not a date such as 2026-03-04"),
        ("/hand-off/99/.csv", 404, "This file is no longer"),
        ("/settle", 405, "takes no forms"),
        ("/elsewhere", 404, "There is no page at this address"),
    ],
)
def test_what_cannot_be_shown_says_why(at_mill: httpx.Client, place: str, status: int, sentence: str) -> None:
    answer = at_mill.get(place)
    assert answer.status_code == status
    assert sentence in answer.text


def test_an_invitation_that_was_never_given_opens_nothing() -> None:
    assert Doorkeeper().enter("") is None


def test_what_nobody_can_use_any_longer_is_forgotten_and_the_machines_date_does_not_matter(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    seconds = [0.0]
    keeper = Doorkeeper(clock=lambda: seconds[0])
    visit = Visit("/rounds/R/X", lambda: False)
    for _ in range(50):
        keeper.invite(visit)
    cookie = keeper.enter(keeper.invite(visit), is_near=False)
    desk = keeper.enter(keeper.invite())
    seconds[0] = UNUSED_S
    keeper.invite(visit)
    assert len(keeper._invitations) == 1
    seconds[0] = VISIT_S
    assert (session := keeper.session(cookie))
    assert keeper.has_ended(session), "a visit that is over is told so"
    seconds[0] = 3 * VISIT_S
    keeper.invite(visit)
    assert keeper.session(cookie) is None
    assert keeper.session(desk), "the desk's own lasts as long as the server"

    # PEP 418: time.monotonic is not affected by updates of the system's date, time.time is.
    ours = Doorkeeper()
    secret = ours.invite(visit)
    monkeypatch.setattr(time, "time", lambda: 0.0)
    assert ours.enter(secret, is_near=False)


def test_an_undo_is_offered_once_and_beside_its_own_notice_alone() -> None:
    session = Session(notice="Correction 1 made.")
    session.undo = Undo(session.notice, "/hours/P1/2026-03-02/correct", ())
    session.notice = "A file waits here."  # nobody looked in between
    assert session.take_undo(session.take_notice()) is None
    assert session.undo is None
    session.notice = "Correction 2 made."
    session.undo = Undo(session.notice, "/hours/P1/2026-03-02/correct", ())
    assert session.take_undo(session.take_notice()) == Undo("Correction 2 made.", "/hours/P1/2026-03-02/correct", ())
