"""People, readers and numbers as hubs: all about one on one page, and a link there from wherever one is named."""

from __future__ import annotations

import re
from collections.abc import Callable
from html.parser import HTMLParser

import httpx
import pytest

from tests.web.conftest import Served
from tests.web.pages.test_hours import text_of

READERS = {"MILL-1": "/readers/MILL-1"}
PEOPLE = {f"P{at}": f"/people/P{at}" for at in range(1, 5)}
NUMBERS = {f"410{at}": f"/numbers/410{at}" for at in range(1, 5)}
HUBS = {**READERS, **PEOPLE, **NUMBERS}
# What is chosen, pressed or read out is no place for a link; a heading names the page itself.
BARE = {"a", "option", "label", "button", "summary", "title", "h1", "code", "svg", "script", "legend"}
PLACES = [
    "/people",
    "/people/P1",
    "/people/P2",
    "/readers",
    "/readers/MILL-1",
    "/succession/P1",
    "/hands",
    "/strays",
    "/hours?week=2026-03-02",
    "/hours/P1?week=2026-03-02",
    "/hours/P1/2026-03-02",
    "/numbers/4101",
    "/consent",
    "/consent/people/P1",
    "/leavers",
    "/rounding",
    "/files",
    "/ledger/decisions",
]


class Named(HTMLParser):
    """Collects every text that is exactly a name of something: outside of links, and within them with the address.

    What stands beside a link to the same place, as an identifier beside the name, needs none of its own.
    """

    def __init__(self) -> None:
        super().__init__()
        self.stack: list[tuple[str, str]] = []
        self.line = 0
        self.bare: list[tuple[int, str]] = []
        self.linked: list[tuple[int, str, str]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.line += tag in ("tr", "li", "p", "div")
        if tag not in ("input", "br", "meta", "link", "img", "wbr", "hr", "col"):
            self.stack.append((tag, dict(attrs).get("href") or ""))

    def handle_endtag(self, tag: str) -> None:
        while self.stack and self.stack.pop()[0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        links = [href for tag, href in self.stack if tag == "a"]
        text = data.strip()
        if links:
            self.linked.append((self.line, text, links[-1]))
        elif text in HUBS and not BARE & {tag for tag, _ in self.stack}:
            self.bare.append((self.line, text))

    def lacking(self) -> list[str]:
        """Return what is named without a link to it on its line."""
        there = {(line, address) for line, _, address in self.linked}
        return [text for line, text in self.bare if (line, HUBS[text]) not in there]


@pytest.mark.parametrize("place", PLACES)
def test_whatever_is_named_on_a_page_is_a_link(at_mill: httpx.Client, place: str) -> None:
    read = Named()
    answer = at_mill.get(place)
    assert answer.status_code == 200
    read.feed(answer.text)
    own = place.rsplit("/", maxsplit=1)[-1]
    assert [name for name in read.lacking() if name != own] == []
    assert [(name, to) for _, name, to in read.linked if name in HUBS and to != HUBS[name]] == []


def test_the_twin_names_nobodys_number_without_a_link(twin: Served) -> None:
    with twin.enter() as client:
        page = client.get("/people?sort=number").text
        numbers = re.findall(r'data-label="Number" class="number">(.*?)</td>', page)
        assert len(numbers) > 50
        assert all('href="/numbers/' in cell or "none" in cell for cell in numbers)


def test_a_person_is_a_hub_of_what_they_keyed_and_of_what_was_decided(
    at_mill: httpx.Client, form_token: Callable[[httpx.Client], str]
) -> None:
    before = text_of(at_mill.get("/people/P4").text)
    assert "None of theirs in the last weeks." in before
    form = {
        "action": "add",
        "on": "2026-03-03",
        "at": "07:00",
        "direction": "in",
        "author": "R. Hale",
        "reason": "forgot",
    }
    made = at_mill.post("/hours/P4/2026-03-03/correct", data=form | {"form_token": form_token(at_mill), "seen": "0"})
    assert made.status_code == 303, text_of(made.text)
    page = at_mill.get("/people/P4").text
    assert "Tue 3 Mar 2026, 07:00" in text_of(page)
    assert "added by a correction" in page
    assert '<a href="/hours/P4/2026-03-03">A punch added at 07:00, in</a>' in page
    assert 'href="/hands/person/P4"' in page
    assert 'href="/consent/people/P4"' in page


def test_a_reader_is_a_hub_of_whom_it_lists_and_where_its_log_comes_from(at_mill: httpx.Client) -> None:
    page = at_mill.get("/readers/MILL-1").text
    listed = page[page.index('id="people"') :]
    assert re.findall(r'<a class="number" href="/numbers/(\d+)">', listed) == ["4101", "4102", "4103"]
    assert '<a href="/people/P2">Bram Ostler</a>' in listed
    assert '<a href="/files/takes/4">punches.csv</a>' in page
    turned = at_mill.get("/readers/MILL-1?sort=number&order=down").text
    listed = turned[turned.index('id="people"') :]
    assert re.findall(r'<a class="number" href="/numbers/(\d+)">', listed) == ["4103", "4102", "4101"]


def test_a_finding_on_a_hub_leads_to_its_case_on_today_and_back(at_mill: httpx.Client) -> None:
    hub = at_mill.get("/people/P2").text
    led = re.findall(r'Part of a case: <a href="([^"]+)">([^<]+)</a>', hub)
    assert led, "no finding of P2 names its case"
    to, title = led[0]
    assert title
    page = at_mill.get(to.replace("&amp;", "&").removesuffix("#at")).text
    assert len(re.findall(r'<details class="case[^"]*" data-case="[^"]*" open>', page)) == 1
    assert '<p class="trail screen-only"><a href="/people/P2">Back to P2</a></p>' in page
    assert "hub=%2Fpeople%2FP2" in page.partition('class="case')[2], "what is done there keeps the way back"


@pytest.mark.parametrize("hub", ["https://elsewhere.example/people/P2", "//elsewhere.example", "/files", ""])
def test_today_leads_back_to_nothing_but_a_person_a_reader_or_a_number(at_mill: httpx.Client, hub: str) -> None:
    assert "Back to" not in at_mill.get("/", params={"hub": hub}).text


def test_a_number_that_nobody_holds_names_each_place_on_its_page_once(twin: Served) -> None:
    with twin.enter() as client:
        answer = client.get("/numbers/0540", timeout=60)
        assert answer.status_code == 200
        assert "nobody’s on the roster" in answer.text
        named = re.findall(r' id="([^"]+)"', answer.text)
        assert sorted(named) == sorted(set(named))


def test_a_deadline_names_the_workplaces_zone_and_is_the_same_on_today_and_on_hubs(twin: Served) -> None:
    moment = r"\w{3} \d+ \w{3} \d{4}, \d\d:\d\d(?: [A-Z]{3,4})?"
    with twin.enter() as client:
        [due] = re.findall(f"for payroll by ({moment})", client.get("/hand-off", timeout=90).text)
        people = set(re.findall(r'href="/people/(\w+)', client.get("/", timeout=90).text))
        pages = [client.get(f"/people/{person}").text for person in sorted(people)[:6]]
    told = {one for page in pages for one in re.findall(f"by ({moment})</", page)}
    assert due in told
    assert {one.rpartition(" ")[2] for one in told} == {"CDT"}  # summer time in America/Chicago (49 CFR 71.7)
