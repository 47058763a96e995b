"""At the reader nobody is enrolled without a release; the person reads, and agrees or says no by their own hand."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import httpx
import pytest
from playwright.sync_api import Browser, expect

from evenhand.jobs.consent import record_consents
from evenhand.jobs.consent_foreseen import ConsentAsked
from evenhand.jobs.consent_policies import PolicyAsked, add_policy, consents_now, example_policy
from evenhand.jobs.rounds import see_round
from evenhand.jobs.workspace import open_workspace
from evenhand.records.consent import code_of, digest_of
from evenhand.store import frames
from evenhand.web.doorkeeper import MOST_WRONG
from tests.web.chromium import chromium
from tests.web.conftest import MILL_AS_OF, Served, serving
from tests.web.rounds import NAME, PLACE, add_mill_round

Token = Callable[[httpx.Client], str]
NEEDED = "No release in force: the person reads and decides first."


@pytest.fixture(scope="module", autouse=True)
def a_round(mill: Served) -> None:
    """A policy that asks everybody anew: of the round's people P1 has signed it, on paper."""
    add_mill_round(mill)
    asked = PolicyAsked(example_policy(), "hands.toml", date(2026, 3, 7), "Ida", renew_by=date(2026, 3, 8))
    add_policy(mill.workspace, asked, as_of=MILL_AS_OF)
    snapshot = consents_now(mill.workspace, MILL_AS_OF)
    record_consents(mill.workspace, snapshot, [ConsentAsked("agree", "P1", "Ida", "paper")], as_of=MILL_AS_OF)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as opened:
        yield opened


def enrolled(client: httpx.Client, token: Token, item: str) -> dict[str, object]:
    tap = {
        "outcome": f"tap-{item}",
        "item": f"{NAME}-{item}",
        "result": "enrolled",
        "author": "Sol",
        "made_at": int(MILL_AS_OF.timestamp()),
    }
    sent = client.post(PLACE, data={"form_token": token(client), "outcomes": json.dumps([tap])})
    answer: dict[str, object] = sent.json()
    return answer


def test_a_tap_for_a_hand_without_a_release_is_rejected_with_the_way_out(
    at_mill: httpx.Client, form_token: Token
) -> None:
    assert enrolled(at_mill, form_token, "1")["kept"] == ["tap-1"]
    answer = enrolled(at_mill, form_token, "2")
    assert answer["kept"] == []
    (why,) = dict(answer["rejected"]).values()  # type: ignore[call-overload]
    assert "Bram Ostler has no release in force" in why
    assert "Take the number off the reader." in why


def test_the_policy_is_read_in_the_persons_language_and_is_text(at_mill: httpx.Client) -> None:
    page = at_mill.get(f"{PLACE}?read={NAME}-2&speak=es").text
    assert "geometría de su mano" in page
    assert "Su nombre, como firma" in page
    nobody = at_mill.get(f"{PLACE}?read={NAME}-5")
    assert nobody.status_code == 409
    assert "enrols nobody here" in nobody.text


def test_a_long_policy_lists_its_headings_and_leads_to_where_one_decides(mill_directory: Path, tmp_path: Path) -> None:
    more = "".join(f"# {at}. Of matter {at}\n{'Who may see it, and when. ' * 135}\n" for at in range(1, 61))
    text = example_policy().replace("[en]\n", f'[en]\ntext = """\n{more}"""\n', 1)
    assert len(text) > 200_000
    shutil.copytree(mill_directory, tmp_path / "long")
    with serving(open_workspace(tmp_path / "long"), MILL_AS_OF) as served, served.enter() as client:
        add_mill_round(served)
        asked = PolicyAsked(text, "hands.toml", date(2026, 3, 7), "Ida", renew_by=date(2026, 3, 8))
        add_policy(served.workspace, asked, as_of=MILL_AS_OF)
        page = client.get(f"{PLACE}?read={NAME}-2&speak=en").text
    assert '<li><a href="#part-60">60. Of matter 60</a></li>' in page
    assert '<h3 id="part-60">60. Of matter 60</h3>' in page
    assert '<a href="#decide">Go to where you decide</a>' in page
    assert '<form id="decide"' in page


def test_the_person_signs_on_the_phone_and_is_enrolled(mill: Served, browser: Browser) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    page = context.new_page()
    page.goto(f"{mill.base}/enter/{mill.keeper.invite()}")
    page.goto(mill.base + PLACE)
    expect(page.locator("#name")).to_have_text("Bram Ostler")
    expect(page.get_by_text(NEEDED)).to_be_visible()
    expect(page.get_by_role("button", name="3", exact=True)).to_be_hidden()
    expect(page.get_by_role("button", name="Did not come")).to_be_visible()
    page.get_by_role("link", name="Read and decide").tap()
    expect(page.get_by_label("Your name, as your signature")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.get_by_label("Your name, as your signature").fill("Bram Ostler")
    page.get_by_label("To agree: the code on your sheet").fill(code_on_sheet(mill, "P2"))
    page.get_by_label("Supervisor at the reader").fill("Tess Marrow")
    page.get_by_role("button", name="I agree", exact=True).tap()
    expect(page.get_by_role("button", name="3", exact=True)).to_be_visible()
    with mill.workspace.store.reading() as conn:
        row = frames.consent_decisions(conn).sort("decision").row(-1, named=True)
    assert (row["person"], row["action"], row["how"], row["language"]) == ("P2", "agree", "phone", "en")
    assert row["said_at"] == int(MILL_AS_OF.timestamp())
    assert row["stood_by"] == "Tess Marrow"
    expect(page.get_by_label("Supervisor at the reader")).to_have_value("Tess Marrow")
    page.get_by_role("button", name="3", exact=True).tap()
    expect(page.locator("#line")).to_have_text("Everything is sent.")
    assert see_round(mill.workspace, NAME).states.filter(item=f"{NAME}-2")["result"].to_list() == ["enrolled"]
    context.close()


def code_on_sheet(mill: Served, person: str) -> str:
    with mill.workspace.store.reading() as conn:
        [version] = frames.consent_policies(conn).rows(named=True)
    return code_of(version["digest"], person, version["secret"])


def signed(client: httpx.Client, form_token: Token, **more: str) -> httpx.Response:
    said = {"read": f"{NAME}-2", "said": "agree", "signature": "Bram Ostler", "form_token": form_token(client)}
    said["stood_by"] = "Tess Marrow"
    return client.post(PLACE, data={**said, "policy": policy_read(client, f"{NAME}-2"), **more})


def test_any_typed_name_is_no_signature(mill: Served, at_mill: httpx.Client, form_token: Token) -> None:
    other = signed(at_mill, form_token, signature="Joss Fenn", code=code_on_sheet(mill, "P2"))
    assert (other.status_code, "not the name on the roster" in other.text) == (409, True)


@pytest.mark.parametrize("keyed", ["P4", "7K2M-QX4T-9RBD"])
def test_a_release_takes_a_code_that_the_person_was_given(
    mill: Served, at_mill: httpx.Client, form_token: Token, keyed: str
) -> None:
    refused = signed(at_mill, form_token, code=code_on_sheet(mill, keyed) if keyed == "P4" else keyed)
    assert refused.status_code == 409
    assert "his is no code that Bram Ostler was given" in refused.text


def test_an_empty_code_is_asked_for_again_and_is_no_wrong_one(
    mill: Served, at_mill: httpx.Client, form_token: Token
) -> None:
    for _ in range(MOST_WRONG):
        asked = signed(at_mill, form_token, code=" - ")
        assert (asked.status_code, "nothing was kept: go back, and key it" in asked.text) == (409, True)
    done = signed(at_mill, form_token, code=code_on_sheet(mill, "P2"))
    assert done.status_code == 303


def test_a_code_that_is_worked_out_from_the_policy_and_the_person_is_none(
    at_mill: httpx.Client, form_token: Token
) -> None:
    refused = signed(at_mill, form_token, code=code_of(digest_of(example_policy()), "P2", ""))
    assert (refused.status_code, "his is no code that Bram Ostler was given" in refused.text) == (409, True)


@pytest.mark.parametrize("stood_by", ["", "Ostler, Bram"])
def test_somebody_else_stands_by_when_a_release_is_signed(
    mill: Served, at_mill: httpx.Client, form_token: Token, stood_by: str
) -> None:
    refused = signed(at_mill, form_token, code=code_on_sheet(mill, "P2"), stood_by=stood_by)
    assert (refused.status_code, "signed beside somebody else" in refused.text) == (409, True)


@pytest.mark.parametrize("stood_by", ["Sol Vane", "Joss Fenn", "Tess", "Marrow Joss"])
def test_whoever_stands_by_is_a_supervisor_of_that_day(
    mill: Served, at_mill: httpx.Client, form_token: Token, stood_by: str
) -> None:
    with mill.workspace.store.reading() as conn:
        before = frames.consent_decisions(conn).height
    refused = signed(at_mill, form_token, code=code_on_sheet(mill, "P2"), stood_by=stood_by)
    assert (refused.status_code, f"{stood_by} is no supervisor here today" in refused.text) == (409, True)
    assert "Tess Marrow" in refused.text
    assert "Ines" in refused.text
    with mill.workspace.store.reading() as conn:
        assert frames.consent_decisions(conn).height == before


def policy_read(at_mill: httpx.Client, item: str) -> str:
    return re.findall(r'name="policy" value="([0-9]+)"', at_mill.get(f"{PLACE}?read={item}&speak=en").text)[0]


def test_a_policy_that_nobody_read_is_not_signed(at_mill: httpx.Client, form_token: Token) -> None:
    said = {"read": f"{NAME}-4", "said": "agree", "signature": "Joss Fenn", "form_token": form_token(at_mill)}
    other = str(int(policy_read(at_mill, f"{NAME}-4")) + 1)
    for policy in ({}, {"policy": other}):
        refused = at_mill.post(PLACE, data={**said, **policy})
        assert refused.status_code == 409
        assert "another than the one you read" in refused.text


def test_whoever_says_no_is_done_here_and_offered_another_way(
    mill: Served, at_mill: httpx.Client, form_token: Token
) -> None:
    said = {"read": f"{NAME}-4", "said": "refuse", "signature": "Joss Fenn", "form_token": form_token(at_mill)}
    said["policy"] = policy_read(at_mill, f"{NAME}-4")
    assert at_mill.post(f"{PLACE}?speak=en", data=said).status_code == 303
    with mill.workspace.store.reading() as conn:
        row = frames.consent_decisions(conn).sort("decision").row(-1, named=True)
    assert (row["person"], row["action"], row["reason"]) == ("P4", "refuse", None)
    (state,) = see_round(mill.workspace, NAME).states.filter(item=f"{NAME}-4").rows(named=True)
    assert (state["result"], state["other_way"]) == ("cannot", "Another way, as agreed")
    held = at_mill.get(PLACE).text
    data = json.loads(re.findall(r'id="round-data">(.*?)</script>', held, re.DOTALL)[0])
    assert {item["item"]: item["is_unreleased"] for item in data["items"]}[f"{NAME}-4"] is True


@pytest.mark.parametrize("left_out", ["said", "signature"])
def test_what_is_not_signed_is_not_recorded(at_mill: httpx.Client, form_token: Token, left_out: str) -> None:
    said = {"read": f"{NAME}-2", "said": "agree", "signature": "Bram", "form_token": form_token(at_mill)}
    said["policy"] = policy_read(at_mill, f"{NAME}-2")
    assert at_mill.post(PLACE, data={**said, left_out: ""}).status_code == 400
    assert at_mill.post(PLACE, data={**said, "said": "maybe"}).status_code == 409
