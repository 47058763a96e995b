"""Ledger lists what was done, proves it by a button, and gives proofs away."""

from __future__ import annotations

import re
from collections.abc import Callable

import httpx
import pytest

from evenhand.store.ledger_tables import OF_TAKES, row_tables
from evenhand.web.pages.ledger.view import SAID
from tests.web.pages.test_hours import text_of


def head_on(client: httpx.Client) -> str:
    found = re.search(r"<code>(\d+: [0-9a-f ]{79})</code>", client.get("/ledger").text)
    assert found is not None
    return found[1]


def test_entries_stand_newest_first_and_are_found_by_kind(at_mill: httpx.Client) -> None:
    page = text_of(at_mill.get("/ledger").text)
    assert page.index("take 4, punches") < page.index("take 1, readers") < page.index("Entry 0")
    assert "Earlier entries" not in page
    takes = text_of(at_mill.get("/ledger?kind=take").text)
    assert "take 4, punches" in takes
    assert "Entry 0" not in takes
    assert "No entry is like that" in text_of(at_mill.get("/ledger?by=nobody").text)
    earlier = text_of(at_mill.get("/ledger?before=1").text)
    assert "Entry 0" in earlier
    assert "Entry 1" not in earlier


def test_one_entry_shows_what_is_hashed_and_names_nobody_in_it(at_mill: httpx.Client) -> None:
    page = at_mill.get("/ledger/0").text
    assert "&#34;kind&#34;:&#34;beginning&#34;" in page
    assert "Tess" not in page
    assert at_mill.get("/ledger/99999").status_code == 404
    assert at_mill.get(f"/ledger/{2**64}").status_code == at_mill.get(f"/ledger/{2**64}/proof.json").status_code == 400


def test_every_entry_that_is_listed_opens(at_mill: httpx.Client) -> None:
    # among them takes of punches, whose rows are sealed together, not one by one
    listed = re.findall(r'href="(/ledger/\d+)"', at_mill.get("/ledger").text)
    assert len(listed) > 4
    assert {place: at_mill.get(place).status_code for place in listed} == dict.fromkeys(listed, 200)


def test_everything_is_proved_by_a_button(at_mill: httpx.Client, form_token: Callable[[httpx.Client], str]) -> None:
    form = {"form_token": form_token(at_mill), "head": ""}
    proved = text_of(at_mill.post("/ledger/verified", data=form).text)
    assert "Nothing was altered" in proved
    held = head_on(at_mill)
    proved = text_of(at_mill.post("/ledger/verified", data=form | {"head": held}).text)
    assert "The ledger goes on from the" in proved
    another = held[:-1] + ("0" if held[-1] != "0" else "1")
    found = text_of(at_mill.post("/ledger/verified", data=form | {"head": another}).text)
    assert "Something was altered" in found
    assert at_mill.post("/ledger/verified", data=form | {"head": "12"}).status_code == 409


def test_a_file_that_payroll_has_is_looked_at(at_mill: httpx.Client, form_token: Callable[[httpx.Client], str]) -> None:
    form = {"form_token": form_token(at_mill), "head": ""}
    found = at_mill.post("/ledger/verified", data=form, files={"file": ("<b>x.csv", b"Hours\r\n")}).text
    assert "&lt;b&gt;x.csv is no file that was handed off" in found


def test_proofs_are_given_away(at_mill: httpx.Client) -> None:
    proof = at_mill.get("/ledger/2/proof.json")
    assert proof.headers["content-disposition"] == 'attachment; filename="ledger-entry-2.json"'
    assert proof.json()["proves"] == "inclusion"
    since = at_mill.get("/ledger/consistency.json?size=2")
    assert since.json()["old_size"] == 2
    assert at_mill.get("/ledger/consistency.json?size=0").status_code == 409
    assert at_mill.get("/ledger/consistency.json?size=-1").status_code == 400


def test_every_decision_is_listed_with_what_it_decided_and_the_way_back(
    at_mill: httpx.Client, form_token: Callable[[httpx.Client], str]
) -> None:
    form = {
        "action": "add",
        "on": "2026-03-04",
        "at": "07:00",
        "direction": "in",
        "author": "R. Hale",
        "reason": "forgot",
    }
    made = at_mill.post("/hours/P4/2026-03-04/correct", data=form | {"form_token": form_token(at_mill), "seen": "0"})
    assert made.status_code == 303, text_of(made.text)
    page = at_mill.get("/ledger/decisions?person=fenn").text
    assert '<a href="/hours/P4/2026-03-04">A punch added at 07:00, in</a>' in page
    assert '<a href="/people/P4">Joss Fenn</a>' in page
    back = re.findall(r'href="(/hours/P4/2026-03-04/correct\?[^"]*)">Take it back', page)
    assert "Nothing has been changed yet" in at_mill.get(back[0].replace("&amp;", "&")).text
    # it is sealed in an entry, whose page tells of it
    (entry,) = re.findall(r'<a href="(/ledger/\d+)">entry', page)
    assert "A punch added at 07:00, in" in text_of(at_mill.get(entry).text)
    whole = at_mill.get("/ledger/decisions?page=0").text
    assert "A punch added at 07:00, in" in whole
    assert "Page 1 of" not in whole
    assert "No decision is like that" in at_mill.get("/ledger/decisions?kind=erasure").text
    assert at_mill.get("/ledger/decisions?kind=guess").status_code == 409
    assert "Nobody on the roster answers to" in text_of(at_mill.get("/ledger/decisions?person=zzzz").text)


def test_decisions_are_taken_away_as_they_were_narrowed_down(at_mill: httpx.Client) -> None:
    page = at_mill.get("/ledger/decisions?kind=settings&by=").text
    (address,) = re.findall(r'<a href="(/ledger/decisions.csv[^"]*)" download', page)
    assert address == "/ledger/decisions.csv?kind=settings"
    answer = at_mill.get(address)
    assert answer.headers["content-disposition"] == 'attachment; filename="decisions.csv"'
    assert answer.text.splitlines()[0].removeprefix("\ufeff").startswith("kind,number,made_at,author,person,name")
    assert {line.split(",")[0] for line in answer.text.splitlines()[1:]} == {"settings"}


def test_decisions_of_nobody_or_of_several_ask_again_and_a_day_that_is_none_is_refused(at_mill: httpx.Client) -> None:
    several = at_mill.get("/ledger/decisions", params={"person": "s"})
    assert several.status_code == 200
    assert "give the identifier of the one you mean" in text_of(several.text)
    assert 'value="s"' in several.text
    assert at_mill.get("/ledger/decisions", params={"day": "rubbish"}).status_code == 400
    assert at_mill.get("/ledger/decisions", params={"day": ""}).status_code == 200


def test_a_refusal_leads_back_to_the_page_it_was_asked_from(at_mill: httpx.Client) -> None:
    base = str(at_mill.base_url).rstrip("/")
    asked = {"referer": f"{base}/ledger/decisions?kind=hold"}
    back = 'href="/ledger/decisions?kind=hold">Back to where you were'
    assert back in at_mill.get("/ledger/99999", headers=asked).text
    for referer in ("https://elsewhere.example/ledger", f"{base}/ledger/99999", f"{base}//elsewhere.example/", ""):
        assert "Back to where you were" not in at_mill.get("/ledger/99999", headers={"referer": referer}).text


@pytest.mark.parametrize("table", [*OF_TAKES, *row_tables()])
def test_every_table_that_is_sealed_has_a_name_to_be_told_by(table: str) -> None:
    assert table.replace("_", " ") in SAID


def test_an_address_that_only_looks_says_nothing_of_changes(at_mill: httpx.Client) -> None:
    answer = at_mill.get("/ledger/decisions?day=x")
    assert answer.status_code == 400
    assert "Not understood" in answer.text
    assert "Nothing was changed" not in answer.text
