"""Numbers on a page: who has none, new ones given as a file that waits, slips, what rests and what clashes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, date, datetime
from html import unescape
from pathlib import Path

import httpx
import pytest

from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.take import take_files
from evenhand.jobs.waiting import list_waiting, path_of
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.terms.settings import PayPeriod
from tests.printed import texts
from tests.web.conftest import serving

NOW = datetime(2026, 3, 9, 13, tzinfo=UTC)
FILES = {
    "readers.csv": "reader,site,zone,max digits\nGATE,Mill,America/New_York,4\n",
    "people.csv": (
        "person,name,number,site\n"
        "P1,Tess Marrow,4101,Mill\nP2,Bram Ostler,4102,Mill\nP3,Ines Quill,,Mill\nP4,Joss Fenn,,Mill\n"
    ),
    "enrolled.csv": "reader,number,name\nGATE,4101,MARROW\nGATE,7777,SOMEBODY\n",
    "punches.csv": "reader,number,time,direction\nGATE,4101,2026-03-02 08:00,in\nGATE,8642,2026-03-02 08:01,in\n",
}


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    made = create_workspace(tmp_path / "mill", period=PayPeriod(date(2026, 3, 1)))
    for name, text in FILES.items():
        (tmp_path / name).write_text(text)
    take_files(made, [tmp_path / name for name in FILES])
    return made


@pytest.fixture
def client(workspace: Workspace) -> Iterator[httpx.Client]:
    with serving(workspace, NOW) as served, served.enter() as client:
        yield client


def printed_text(pdf: bytes) -> str:
    return "\n".join(texts(pdf))


def hidden(html: str, to: str) -> list[tuple[str, str]]:
    form = re.search(rf'<form[^>]*action="{re.escape(to)}".*?</form>', html, re.DOTALL)
    assert form, html
    return [
        (name, unescape(value)) for name, value in re.findall(r'type="hidden" name="([^"]+)" value="([^"]*)"', form[0])
    ]


def sent(client: httpx.Client, to: str, fields: list[tuple[str, str]]) -> httpx.Response:
    data: dict[str, list[str]] = {}
    for name, value in fields:
        data.setdefault(name, []).append(value)
    return client.post(to, data=data, follow_redirects=True)


def test_the_page_shows_who_has_none_what_rests_and_what_is_one_slip_apart(client: httpx.Client) -> None:
    page = client.get("/numbers").text.replace("\u00a0", " ")
    assert re.search(r"<dt>Without a number</dt><dd>2</dd>", page)
    assert re.search(r'name="person" value="P3" checked.*?name="person" value="P4" checked', page, re.DOTALL) or (
        'value="P3" checked' in page and 'value="P4" checked' in page
    )
    resting = page[page.index('id="resting"') :]
    assert re.search(r">7777</a></th><td[^>]*>GATE</td>.*?once it is taken off", resting, re.DOTALL)
    # keyed on 2 March at 08:01 in New York, free eight weeks later
    assert re.search(r">8642</a>.*?no reader.*?Mon 2 Mar 2026, 08:01.*?Mon 27 Apr 2026", resting, re.DOTALL)
    assert re.search(r">4101</a> Tess Marrow.*?>4102</a> Bram Ostler", page, re.DOTALL)


def test_numbers_are_shown_then_wait_as_a_file_and_are_given_when_it_is_taken(
    client: httpx.Client, workspace: Workspace
) -> None:
    shown = client.get("/new-numbers?person=P3&person=P4&more=1&scheme=usual&seed=7").text
    again = client.get("/new-numbers?person=P3&person=P4&more=1&scheme=usual&seed=7").text
    assert re.findall(r"<strong>(\d{4})</strong>", again) == re.findall(r"<strong>(\d{4})</strong>", shown)
    numbers = re.findall(r"<strong>(\d{4})</strong>", shown)
    assert len(set(numbers)) == 3
    assert not {"4101", "4102", "7777", "8642", "4100", "4103"} & set(numbers)
    assert "Nothing has been given yet" in shown
    looked = sent(client, "/new-numbers", hidden(shown, "/new-numbers"))
    assert "numbers-2026-03-09.csv waits here" in looked.text
    to = looked.url.path
    # that the file is a part of the roster is chosen already
    assert re.search(r'<option value="part" selected>stay on the roster</option>', looked.text)
    sent(client, to, [*hidden(looked.text, to), ("roster", "part"), ("do", "take")])
    assert "Everybody on the roster has a number" in client.get("/numbers").text
    # whoever got none of them is on the roster as before, with the number that works for them
    of = reckon_period(workspace, NOW).snapshot
    assert of.gone_people.is_empty()
    assert of.listed.select("person", "number").rows() == [
        ("P1", "4101"),
        ("P2", "4102"),
        ("P3", numbers[0]),
        ("P4", numbers[1]),
    ]
    slips = printed_text(client.get("/number-slips.pdf?site=Mill").content)
    assert numbers[0] in slips.replace(" ", "")
    assert "Ines Quill" in slips


def test_a_file_of_numbers_names_those_alone_who_get_one(client: httpx.Client, workspace: Workspace) -> None:
    shown = client.get("/new-numbers?person=P4&more=0&scheme=usual&seed=7").text
    sent(client, "/new-numbers", hidden(shown, "/new-numbers"))
    (one,) = list_waiting(workspace)
    lines = path_of(workspace, one.key)[1].read_text(encoding="utf-8").splitlines()
    assert [line.partition(",")[0] for line in lines] == ["person", "P4"]
    # a part of the roster it is also where the file is opened from the list of those that wait
    looked = client.get(f"/files/waiting/{one.key}").text
    assert re.search(r'<option value="part" selected>stay on the roster</option>', looked)


def test_slips_of_the_numbers_shown_are_printed_before_they_are_given(client: httpx.Client) -> None:
    asked = "person=P3&more=0&scheme=usual&seed=7"
    (number,) = re.findall(r"<strong>(\d{4})</strong>", client.get(f"/new-numbers?{asked}").text)
    printed = printed_text(client.get(f"/new-numbers/slips.pdf?{asked}").content)
    assert number in printed.replace(" ", "")
    assert "Your number at the reader" in printed


def test_numbers_that_are_no_longer_those_shown_are_not_given(client: httpx.Client) -> None:
    shown = client.get("/new-numbers?person=P3&more=0&scheme=usual&seed=7").text
    fields = [(name, "1357" if name == "shown" else value) for name, value in hidden(shown, "/new-numbers")]
    assert "others would be given now; look again" in sent(client, "/new-numbers", fields).text
    assert "numbers-2026" not in client.get("/files").text


@pytest.mark.parametrize(
    ("asked", "status", "why"),
    [
        ("more=0", 409, "cannot be handed out at once"),
        ("person=P1&more=0", 409, "has the number 4101 by now"),
        ("person=P9&more=0", 404, "nobody here is"),
        ("more=ten", 400, "is told in figures"),
        ("more=1&scheme=odd", 409, "is none that the page lists"),
    ],
)
def test_what_cannot_be_given_is_said(client: httpx.Client, asked: str, status: int, why: str) -> None:
    answer = client.get(f"/new-numbers?{asked}")
    assert answer.status_code == status
    assert why.lower() in unescape(answer.text).lower()


def test_the_move_to_safer_numbers_is_planned_and_changes_nothing(client: httpx.Client) -> None:
    page = client.get("/moving-numbers").text
    assert "1 person changes" in page.replace("\u00a0", " ")
    assert "This plan changes nothing" in page
    spaced = client.get("/moving-numbers?scheme=4-19-1-").text
    assert "when divided by 19" in spaced


def test_a_number_of_ones_own_choice_is_foreseen_taken_as_a_file_and_taken_back(
    client: httpx.Client, workspace: Workspace
) -> None:
    assert "/change-number" in client.get("/people/P1").text
    shown = client.get("/change-number", params={"person": "Tess", "number": "7777"}).text
    text = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", "", shown))
    assert "7777 for Tess Marrow?" in text
    assert "GATE lists 7777 already, under the name SOMEBODY" in text
    assert "GATE lists 4101 as well" in text
    assert "people.csv says 4101" in text
    fields = hidden(shown, "/change-number")
    assert sent(client, "/change-number", fields).status_code == 400  # nobody gives it
    looked = sent(client, "/change-number", [*fields, ("author", "R. Hale")])
    assert "number changes: Tess Marrow (P1) 4101 to 7777" in looked.text
    assert re.search(r'name="author"[^>]*value="R. Hale"', looked.text)
    to = looked.url.path
    taken = sent(client, to, [*hidden(looked.text, to), ("roster", "part"), ("do", "take"), ("author", "R. Hale")])
    of = reckon_period(workspace, NOW).snapshot
    row = of.find_person("P1")
    assert (row["number"], row["site"]) == ("7777", "Mill")  # nothing else of them is told otherwise
    assert of.gone_people.is_empty()
    # what came under the earlier number stays theirs
    assert reckon_period(workspace, NOW).attribution.attributed["person"].to_list() == ["P1"]
    assert "R. Hale" in client.get("/ledger").text
    back = f"{taken.url.path}/back"
    fields = hidden(client.get(back).text, back)
    sent(client, back, [*fields, ("author", "R. Hale"), ("reason", "a slip")])
    assert reckon_period(workspace, NOW).snapshot.find_person("P1")["number"] == "4101"


def test_whoever_came_from_a_case_is_led_back_to_it(client: httpx.Client) -> None:
    came_from = "/?open=lost_zeros%2FP1&then=x#at"
    asked = {"person": "Tess", "number": "7777", "back": came_from}
    shown = client.get("/change-number", params=asked).text
    assert unescape(shown).count(f'<a href="{came_from}">') == 2  # above, and beside the button
    assert f'name="back" value="{came_from}"' in unescape(
        client.get("/change-number", params=asked | {"number": ""}).text
    )
    assert "//elsewhere" not in client.get("/change-number", params=asked | {"back": "//elsewhere.example"}).text


def test_punches_under_a_number_are_theirs_who_get_it(client: httpx.Client) -> None:
    shown = client.get("/change-number", params={"person": "P3", "number": "8642"}).text.replace("\u00a0", " ")
    assert "1 punch under 8642" in shown
    assert "has no number" in shown
    looked = sent(client, "/change-number", [*hidden(shown, "/change-number"), ("author", "R. Hale")])
    to = looked.url.path
    sent(client, to, [*hidden(looked.text, to), ("roster", "part"), ("do", "take")])
    assert ">Ines Quill</a>" in client.get("/numbers/8642").text.split('id="keyed"')[0]


@pytest.mark.parametrize(
    ("person", "number", "why"),
    [
        ("P1", "4102", "4102 is the number of Bram Ostler (P2)"),
        ("P1", "4101", "has the number 4101 already"),
        ("P1", "41O1", "is no number that readers take"),
        ("P1", "1" * 21, "is no number that readers take"),
        ("P9", "1234", "nobody on the roster answers to"),
    ],
)
def test_a_number_that_cannot_be_given_is_asked_for_again(
    client: httpx.Client, person: str, number: str, why: str
) -> None:
    answer = client.get("/change-number", params={"person": person, "number": number})
    assert answer.status_code == 200
    assert why in unescape(answer.text)
    assert "<button>Give it" not in answer.text


def test_a_number_too_long_for_the_readers_of_the_site_is_said_to_be(client: httpx.Client) -> None:
    assert "Too long" in client.get("/change-number", params={"person": "P3", "number": "86421"}).text
