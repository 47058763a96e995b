"""A phone sees one round at one reader, and the network nothing else."""

from __future__ import annotations

import asyncio
import json
import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path
from typing import Any

import httpx
import pytest
from fastapi import FastAPI

from evenhand.jobs.rounds import done_at, list_rounds, record_outcomes, see_round
from evenhand.jobs.workspace import Workspace, open_workspace
from evenhand.web.app import create_app
from evenhand.web.doorkeeper import UNUSED_S, VISIT_S, Doorkeeper
from tests.printed import codes
from tests.web.certificates import HOST
from tests.web.conftest import MILL_AS_OF, Served
from tests.web.rounds import NAME, PLACE, READER, add_mill_round

ADDRESS = f"https://{HOST}:8765"
DESK, PHONE = ("127.0.0.1", 50000), ("192.0.2.7", 50000)  # RFC 5737: an address for documentation
ELSEWHERE = ("/", "/people", "/people/P1", "/readers", "/hours", "/hand-off", "/rounds", f"/rounds/{NAME}",
             f"/rounds/{NAME}/MILL-2", f"/rounds/{NAME}/print/slips.pdf", f"/rounds/queues/{READER}", PLACE + "/",
             "/rounds/2026-03-10-1/" + READER, "/nowhere", f"/static/..{PLACE}/../../people")  # fmt: skip


class Browser:
    """Keeps cookies and speaks to the pages without a network, from whatever machine `client` says."""

    def __init__(self, app: FastAPI, client: tuple[str, int], base: str) -> None:
        # Requests come to 198.51.100.1, this machine's address on the network (RFC 5737).
        async def arriving(scope, receive, send) -> None:  # type: ignore[no-untyped-def]
            await app(scope | {"server": ("198.51.100.1", 8765)}, receive, send)

        self.base, self.cookies = base, httpx.Cookies()
        self._transport = httpx.ASGITransport(arriving, client=client)

    def ask(self, method: str, place: str, **more: Any) -> httpx.Response:
        async def asked() -> httpx.Response:
            async with httpx.AsyncClient(
                transport=self._transport, base_url=self.base, cookies=self.cookies, headers={"origin": self.base}
            ) as client:
                answer = await client.request(method, place, **more)
                self.cookies = client.cookies
                return answer

        return asyncio.run(asked())

    def get(self, place: str, **more: Any) -> httpx.Response:
        return self.ask("GET", place, **more)

    def post(self, place: str, **more: Any) -> httpx.Response:
        return self.ask("POST", place, **more)


@dataclass
class House:
    """The mill's pages as they are served under a name, with a clock that the test turns."""

    workspace: Workspace
    seconds: float = 0.0
    app: FastAPI = field(init=False)

    def __post_init__(self) -> None:
        keeper = Doorkeeper(clock=lambda: self.seconds)
        self.app = create_app(
            self.workspace,
            now=lambda: MILL_AS_OF + timedelta(seconds=self.seconds),
            keeper=keeper,
            address=ADDRESS,
        )

    def browser(self, client: tuple[str, int], base: str = ADDRESS) -> Browser:
        return Browser(self.app, client, base)

    def desk(self) -> Browser:
        browser = self.browser(DESK)
        assert browser.get(f"/enter/{self.app.state.keeper.invite()}").status_code == 303
        return browser

    def phone(self) -> Browser:
        browser = self.browser(PHONE)
        answer = browser.get(self.address())
        assert (answer.status_code, answer.headers["location"]) == (303, PLACE)
        return browser

    def address(self) -> str:
        desk = self.desk()
        page = desk.post(f"/rounds/{NAME}", data={"reader": READER, "form_token": token(desk, f"/rounds/{NAME}")})
        assert page.status_code == 200
        return re.search(r"<code>(https://[^<]+)</code>", page.text)[1]  # type: ignore[index]


def token(browser: Browser, place: str) -> str:
    return browser.get(place).text.split('name="form_token" value="')[1].split('"')[0]


def outcome(name: str, item: int, result: str = "enrolled") -> dict[str, object]:
    made_at = int(MILL_AS_OF.timestamp()) + item
    return {"outcome": name, "item": f"{NAME}-{item}", "result": result, "author": "Sol", "made_at": made_at}


@pytest.fixture
def house(mill_directory: Path, tmp_path: Path) -> Iterator[House]:
    workspace = open_workspace(shutil.copytree(mill_directory, tmp_path / "workspace"))
    house = House(workspace)
    add_mill_round(Served("", house.app.state.keeper, house.app, workspace))
    yield house
    workspace.close()


def test_a_phone_sees_its_page_its_worker_and_static_files(house: House) -> None:
    phone = house.phone()
    page = phone.get(PLACE + "?speak=es")
    assert page.status_code == 200
    assert "Tess Marrow" in page.text
    for part in ("/rounds/worker.js", *re.findall(r'(?:href|src)="(/static/[^"]+)"', page.text)):
        assert phone.get(part).status_code == 200, part
    assert f'href="/rounds/{NAME}"' not in page.text


@pytest.mark.parametrize("place", ELSEWHERE)
def test_a_phone_is_refused_everything_else(house: House, place: str) -> None:
    phone = house.phone()
    answer = phone.get(place)
    assert answer.status_code in (403, 404)
    assert answer.status_code == 403 or place.startswith("/static/")
    assert "one page and sees nothing else" in answer.text or answer.status_code == 404
    assert "Mill &amp; Sons" not in answer.text


def test_a_phone_sends_outcomes_of_its_reader_only(house: House) -> None:
    phone = house.phone()
    form = {"form_token": token(phone, PLACE), "outcomes": json.dumps([outcome("a", 1), outcome("b", 99)])}
    said = phone.post(PLACE, data=form).json()
    assert said["kept"] == ["a"]
    assert "nothing to be done here" in said["rejected"]["b"]
    for place in (f"/rounds/{NAME}", "/hand-off", "/settle", f"/rounds/{NAME}/MILL-2"):
        assert phone.post(place, data=form | {"reader": READER}).status_code == 403
    assert phone.post(PLACE, data=form | {"form_token": "guessed"}).status_code == 400
    assert phone.post(PLACE, data=form, headers={"origin": f"http://{HOST}:8765"}).status_code == 403


def test_a_phone_does_not_find_out_the_roster_by_trying(house: House) -> None:
    phone = house.phone()
    form = {"form_token": token(phone, PLACE), "author": "Sol"}
    said = [phone.post(PLACE, data=form | {"stranger": f"Nobody {n}"}).text for n in range(6)]
    assert all("look at it once more" in answer for answer in said[:5])
    assert "Too many names and numbers were" in said[5]


def test_outcomes_of_another_readers_people_are_refused(house: House) -> None:
    taken = record_outcomes(house.workspace, NAME, [outcome("a", 1)], as_of=MILL_AS_OF, reader="MILL-2")
    assert taken.new == 0
    assert [name for name, _ in taken.rejected] == ["a"]


def test_a_refused_form_leads_a_phone_back_to_its_page_and_shows_no_menu(house: House) -> None:
    phone = house.phone()
    answer = phone.post(PLACE, data={"form_token": token(phone, PLACE), "author": ""})
    assert answer.status_code == 400
    assert f'href="{PLACE}"' in answer.text
    assert 'href="/people"' not in answer.text


def test_an_address_for_a_phone_works_once(house: House) -> None:
    address = house.address()
    assert house.browser(PHONE).ask("HEAD", address).status_code == 405
    assert house.browser(PHONE).get(address).status_code == 303
    again = house.browser(PHONE).get(address)
    assert again.status_code == 403
    assert "set-cookie" not in again.headers


@pytest.mark.parametrize(("after_s", "status"), [(UNUSED_S - 1, 303), (UNUSED_S, 403)])
def test_an_address_for_a_phone_expires_after_a_quarter_of_an_hour(house: House, after_s: int, status: int) -> None:
    address = house.address()
    assert UNUSED_S == 15 * 60
    house.seconds += after_s
    assert house.browser(PHONE).get(address).status_code == status


def test_a_phone_is_out_after_twelve_hours(house: House) -> None:
    phone = house.phone()
    assert VISIT_S == 12 * 3600
    house.seconds += VISIT_S - 1
    assert phone.get(PLACE).status_code == 200
    house.seconds += 1
    over = phone.get(PLACE)
    assert over.status_code == 403
    assert "ask at the desk for another address" in over.text
    assert "Tess Marrow" not in over.text


def test_a_phone_is_out_when_the_round_is_done_and_the_last_tap_can_no_longer_be_taken_back(house: House) -> None:
    phone = house.phone()
    said = [outcome(f"o{n}", n) for n in (1, 2, 3, 4)]
    record_outcomes(house.workspace, NAME, said, as_of=MILL_AS_OF)
    assert done_at(house.workspace, NAME, READER) is None
    house.seconds = 3600
    assert phone.get(PLACE).status_code == 200
    form = {"form_token": token(phone, PLACE), "outcomes": json.dumps([outcome("o5", 5, "removed")])}
    assert phone.post(PLACE, data=form).status_code == 200
    assert done_at(house.workspace, NAME, READER) == int(MILL_AS_OF.timestamp()) + 3600
    house.seconds += 15 * 60 - 1
    assert phone.get(PLACE).status_code == 200
    house.seconds += 1
    assert phone.get(PLACE).status_code == 403
    assert phone.post(PLACE, data=form).status_code == 403


def test_no_phone_is_let_in_where_nothing_is_left_or_nothing_was_planned(house: House) -> None:
    desk = house.desk()
    form = {"form_token": token(desk, f"/rounds/{NAME}")}
    assert desk.post(f"/rounds/{NAME}", data=form).status_code == 400
    assert desk.post(f"/rounds/{NAME}", data=form | {"reader": "MILL-2"}).status_code == 404
    assert desk.post("/rounds/other", data=form | {"reader": READER}).status_code == 404
    said = [outcome(f"o{n}", n) for n in (1, 2, 3, 4)] + [outcome("o5", 5, "removed")]
    record_outcomes(house.workspace, NAME, said, as_of=MILL_AS_OF)
    answer = desk.post(f"/rounds/{NAME}", data=form | {"reader": READER})
    assert answer.status_code == 409
    assert "Nothing is left to do at this reader" in answer.text
    assert "Let a phone in" not in desk.get(f"/rounds/{NAME}").text.partition("<tbody>")[2].partition("</table>")[0]


def test_a_form_that_lets_a_phone_in_must_be_signed_and_ours(house: House) -> None:
    desk = house.desk()
    form = {"form_token": token(desk, f"/rounds/{NAME}"), "reader": READER}
    assert desk.post(f"/rounds/{NAME}", data=form | {"form_token": "guessed"}).status_code == 400
    for origin in (f"http://{HOST}:8765", f"https://{HOST}", "https://evil.example", "null"):
        assert desk.post(f"/rounds/{NAME}", data=form, headers={"origin": origin}).status_code == 403


def test_pages_served_to_this_machine_alone_let_no_phone_in_and_say_how(mill: Served) -> None:
    add_mill_round(mill)
    with mill.enter() as desk:
        page = desk.get(f"/rounds/{NAME}").text
        assert "Let a phone in" not in page
        assert "no phone reaches a round. Whoever starts them can serve them to phones too" in page
        form_token = desk.get("/hand-off").text.split('name="form_token" value="')[1].split('"')[0]
        answer = desk.post(f"/rounds/{NAME}", data={"reader": READER, "form_token": form_token})
    assert answer.status_code == 409
    assert "start it with --host" in answer.text
    assert see_round(mill.workspace, NAME).waiting(READER).height == 5


@pytest.mark.parametrize("host", ["other.test", f"{HOST}.evil.example", "192.0.2.1", "198.51.100.1:8765", ""])
def test_no_other_name_is_answered(house: House, host: str) -> None:
    assert house.desk().get("/", headers={"host": host}).status_code == 400
    assert house.phone().get(PLACE, headers={"host": host}).status_code == 400


@pytest.mark.parametrize("base", [ADDRESS, "https://127.0.0.1:8765", "https://localhost:8765"])
def test_the_desk_may_use_the_name_or_loopback(house: House, base: str) -> None:
    desk = house.browser(DESK, base)
    assert desk.get(f"/enter/{house.app.state.keeper.invite()}").status_code == 303
    assert desk.get("/people").status_code == 200


def test_cookies_go_over_tls_only(house: House) -> None:
    answer = house.browser(PHONE).get(house.address())
    assert {"secure", "httponly", "samesite=lax"} <= set(answer.headers["set-cookie"].lower().split("; "))


def test_the_whole_workspace_opens_on_this_machine_only(house: House) -> None:
    secret = house.app.state.keeper.invite()
    assert house.browser(PHONE).get(f"/enter/{secret}").status_code == 403
    desk = house.browser(("198.51.100.1", 40000))  # this machine, by its own address on the network
    assert desk.get(f"/enter/{secret}").status_code == 303
    stolen = house.browser(PHONE)
    stolen.cookies = httpx.Cookies(desk.cookies)
    for place in ("/", "/people", PLACE):
        answer = stolen.get(place)
        assert answer.status_code == 403
        assert "Mill" not in answer.text


def test_nobody_who_was_not_let_in_sees_anything(house: House) -> None:
    for place in ("/", PLACE, "/rounds/worker.js", "/enter/guessed", "/openapi.json", "/docs"):
        answer = house.browser(PHONE).get(place)
        assert answer.status_code == 403
        assert "Mill" not in answer.text.replace(READER, "")


def test_a_phone_that_was_not_let_in_is_told_how(house: House) -> None:
    answer = house.browser(PHONE).get(PLACE)
    assert answer.status_code == 403
    assert "Ask at the desk for “Let a phone in”" in answer.text


def test_sheets_printed_where_no_phone_reaches_the_pages_hold_no_code(mill: Served) -> None:
    if NAME not in list_rounds(mill.workspace)["round"]:
        add_mill_round(mill)
    with mill.enter() as desk:
        assert codes(desk.get(f"/rounds/{NAME}/print/round.pdf").content) == [[]]


def test_sheets_printed_here_lead_phones_to_the_name_and_not_to_loopback(house: House) -> None:
    desk = house.browser(DESK, "https://127.0.0.1:8765")
    desk.get(f"/enter/{house.app.state.keeper.invite()}")
    assert codes(desk.get(f"/rounds/{NAME}/print/round.pdf").content) == [[f"{ADDRESS}{PLACE}"]]
