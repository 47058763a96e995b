"""Consent: how people stand, sheets keyed back, one person's words, each looked at before it is recorded."""

from __future__ import annotations

import re
import shutil
from datetime import date
from html import unescape
from pathlib import Path

import httpx
import pytest

from evenhand.jobs.consent_policies import PolicyAsked, add_policy, example_policy
from evenhand.jobs.workspace import open_workspace
from evenhand.records.consent.laws import CONSENT_LAWS
from tests.printed import texts
from tests.untranslated import language_of, left_in_english
from tests.web.conftest import MILL_AS_OF, Served, serving


@pytest.fixture(scope="module", autouse=True)
def policy(mill: Served) -> None:
    """The mill's policy, which nobody has answered yet."""
    add_policy(mill.workspace, PolicyAsked(example_policy(), "hands.toml", date(2026, 3, 1), "Ida"), as_of=MILL_AS_OF)


def look(client: httpx.Client, **answers: str) -> httpx.Response:
    return client.get("/consent/look", params=answers)


def hidden(page: str) -> dict[str, str]:
    return dict(re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', page))


def recorded(client: httpx.Client, *, reason: str = "", **answers: str) -> httpx.Response:
    seen = look(client, **answers)
    assert seen.status_code == 200, seen.text
    said = {"author": "Ida"} | ({"reason": reason} if reason else {})
    return client.post("/consent/record", data=hidden(seen.text) | said)


def codes(client: httpx.Client) -> dict[str, str]:
    pages = texts(client.get("/consent/policies/1/sheets.pdf?site=Mill").content)
    return {re.findall(r"\((P\d)\)", page)[0]: re.findall(r"[0-9A-Z]{4}(?:-[0-9A-Z]{4}){2}", page)[0] for page in pages}


def stands(client: httpx.Client, person: str) -> str:
    return re.findall(r'<p class="tag">([^<]+)</p>', client.get(f"/consent/people/{person}").text)[0]


def test_the_page_counts_everybody_and_finds_them(at_mill: httpx.Client) -> None:
    page = at_mill.get("/consent").text
    assert "Asking for Hand readers, version 1" in page
    assert re.findall(r'href="/consent/people/(P\d)"', at_mill.get("/consent?q=ostler").text) == ["P2"]
    assert "Nobody stands so." in at_mill.get("/consent?kind=lapsed").text
    assert "counsel" in page


def test_the_law_of_a_sites_place_stands_first(at_mill: httpx.Client, mill: Served) -> None:
    laws = at_mill.get("/consent").text.split('id="laws"')[1]
    assert laws.index("<details>") < laws.index("740 ILCS 14/10")
    settings = mill.workspace.settings_file.read_text()
    mill.workspace.settings_file.write_text(settings.replace('[site."Mill"]', '[site."Mill"]\nplace = "US-IL"'))
    laws = at_mill.get("/consent").text.split('id="laws"')[1]
    assert laws.index("740 ILCS 14/10") < laws.index("<details>") < laws.index("503.001")
    mill.workspace.settings_file.write_text(settings)


def test_what_people_wrote_is_shown_as_text(at_mill: httpx.Client) -> None:
    for path in ("/consent", "/consent/people/P3"):
        assert "<b>Ines</b>" not in at_mill.get(path).text
        assert "&lt;b&gt;Ines&lt;/b&gt; Quill" in at_mill.get(path).text


def test_a_version_is_shown_whole_in_each_language_with_its_digest(at_mill: httpx.Client) -> None:
    page = at_mill.get("/consent/policies/1").text
    assert "geometry of your hand" in page
    assert 'lang="es"' in page
    assert re.search(r"<code class=\"digest\">[0-9a-f]{64}</code>", page)
    assert at_mill.get("/consent/policies/7").status_code == 404


def test_a_signed_sheet_is_keyed_back_after_a_look(at_mill: httpx.Client) -> None:
    code = codes(at_mill)["P4"]
    seen = look(at_mill, codes=code, action="agree", said_on="2026-03-09")
    assert "They may be planned and enrolled from then on." in seen.text
    assert stands(at_mill, "P4") == "nothing said"
    done = recorded(at_mill, codes=code.lower(), action="agree", said_on="2026-03-09")
    assert done.status_code == 303
    assert "Joss Fenn: agreed on Mon 9 Mar 2026." in at_mill.get("/consent").text
    assert stands(at_mill, "P4") == "agreed"
    wrong = look(at_mill, codes="AAAA-AAAA-AAAA", action="agree")
    assert wrong.status_code == 404
    assert "no sheet bears this code" in wrong.text


def test_whoever_chooses_another_way_comes_off_and_a_mistake_is_taken_back(
    at_mill: httpx.Client,
) -> None:
    seen = look(at_mill, person="P2", action="other_way", said_on="2026-03-09")
    assert "4102 is listed at MILL-1: it is to come off (Readers lists the steps" in seen.text
    recorded(at_mill, person="P2", action="other_way", said_on="2026-03-09")
    page = at_mill.get("/consent/people/P2").text
    assert "is still listed at MILL-1" in page
    (row,) = re.findall(r'href="/consent/look\?person=P2&amp;action=take_back&amp;takes_back=(\d+)"', page)
    today = at_mill.get("/").text
    assert "Bram Ostler (P2) chose another way to clock on Mon 9 Mar 2026 and is still enrolled at MILL-1." in today
    assert re.search(r'<a href="/consent/people/P2\?back=[^"]+">See Consent</a>', today)
    without = recorded(at_mill, person="P2", action="take_back", takes_back=row)
    assert without.status_code == 409
    assert "a row is taken back for a reason" in without.text.lower()
    recorded(at_mill, person="P2", action="take_back", takes_back=row, reason="another Bram")
    assert stands(at_mill, "P2") == "nothing said"
    assert "took row" in at_mill.get("/consent/people/P2").text


def test_what_was_recorded_meanwhile_is_looked_at_first(at_mill: httpx.Client) -> None:
    seen = look(at_mill, person="P1", action="withdraw", said_on="2026-03-09").text
    said = {**hidden(seen), "author": "Ida"}
    assert at_mill.post("/consent/record", data=said).status_code == 303
    here = f"{at_mill.base_url}/consent/look?person=P1&action=withdraw&said_on=2026-03-09"
    again = at_mill.post("/consent/record", data=said, headers={"referer": here})
    assert again.status_code == 409
    assert "recorded of Tess Marrow just now" in again.text
    (back,) = re.findall(r'href="(/consent/look[^"]*)">Back to where you were', again.text)
    assert "Record of Tess Marrow that they" in at_mill.get(unescape(back)).text


@pytest.mark.parametrize(
    ("answers", "says"),
    [
        ({"person": "P1", "action": ""}, "Say what was said"),
        ({"action": "agree"}, "Key the code of a sheet, or choose a person"),
        ({"person": "P1", "action": "agree", "said_on": "soon"}, "is no day"),
        ({"person": "P1", "action": "take_back", "takes_back": "x"}, "is no row&#39;s number"),
        ({"person": "P1", "action": "agree", "said_on": "2026-03-10"}, "still to come"),
    ],
)
def test_what_is_not_whole_is_refused_with_the_way_back(
    at_mill: httpx.Client, answers: dict[str, str], says: str
) -> None:
    came_from = {"referer": f"{at_mill.base_url}/consent/people/P1"}
    refused = at_mill.get("/consent/look", params=answers, headers=came_from)
    assert refused.status_code in (400, 409)
    assert says.lower() in refused.text.lower()
    assert '<a href="/consent/people/P1">Back to where you were</a>' in refused.text


def test_no_reason_is_kept_of_what_somebody_says(at_mill: httpx.Client) -> None:
    refused = recorded(at_mill, person="P3", action="withdraw", said_on="2026-03-09", reason="religion")
    assert refused.status_code == 409
    assert "no reason is asked or kept" in refused.text.lower()
    assert stands(at_mill, "P3") == "nothing said"


def test_a_sheet_of_one_person_in_their_language(at_mill: httpx.Client) -> None:
    (page,) = texts(at_mill.get("/consent/policies/1/sheets.pdf?person=P3&speak=es").content)
    assert "No acepto" in page
    assert at_mill.get("/consent/policies/1/sheets.pdf?person=P9").status_code == 404


def test_a_version_of_the_policy_is_added_on_the_page_after_its_preview(mill_directory: Path, tmp_path: Path) -> None:
    shutil.copytree(mill_directory, tmp_path / "policies")
    with serving(open_workspace(tmp_path / "policies"), MILL_AS_OF) as served, served.enter() as client:
        assert 'href="/consent/new-policy"' in client.get("/consent").text
        html = client.get("/consent/new-policy").text
        token = re.findall(r'name="form_token" value="([^"]+)"', html)[0]
        text = unescape(re.findall(r"<textarea[^>]*>\n(.*?)</textarea>", html, re.DOTALL)[0])
        said = {"form_token": token, "text": text, "from": "2026-03-09", "author": "R. Hale"}
        shown = client.post("/consent/new-policy", data={**said, "do": "look"}).text
        assert "Nothing has been added yet" in shown
        assert "No policy was added yet" in client.get("/consent").text
        seen = re.findall(r'name="seen" value="([^"]+)"', shown)[0]
        other = client.post("/consent/new-policy", data={**said, "do": "add", "seen": "x"}).text
        assert "Nothing has been added yet" in other
        made = client.post("/consent/new-policy", data={**said, "do": "add", "seen": seen}, follow_redirects=True)
        assert "was added by R. Hale" in made.text
        assert "No policy was added yet" not in client.get("/consent").text
        more = "".join(f"# {at}. Of matter {at}\n{'Who may see it. ' * 220}\n" for at in range(1, 61))
        long = text.replace("[en]\n", f'[en]\ntext = """\n{more}"""\n', 1)
        shown = client.post(
            "/consent/new-policy", data={**said, "text": long, "from": "2026-03-10", "go_on": "yes", "do": "look"}
        )
        seen = re.findall(r'name="seen" value="([^"]+)"', shown.text)[0]
        asked = {**said, "text": long, "from": "2026-03-10", "go_on": "yes", "do": "add", "seen": seen}
        page = client.post("/consent/new-policy", data=asked, follow_redirects=True).text
        assert '<li><a href="#en-60">60. Of matter 60</a></li>' in page
        assert '<h3 id="en-60">60. Of matter 60</h3>' in page
        wrong = client.post("/consent/new-policy", data={**said, "text": "[x", "do": "look"}).text
        assert "It cannot be added so" in wrong


LAWS = (
    *(law.cites for law in CONSENT_LAWS),
    *(quoted for law in CONSENT_LAWS for quoted in law.covers.split('"')[1:2]),
)
"""Laws as they are cited, and the words of a statute."""


def test_consent_is_asked_looked_at_and_recorded_in_spanish(mill: Served, at_mill: httpx.Client) -> None:
    assert left_in_english(mill, at_mill, "/consent", (*LAWS, "SHA-256", "Ida", "English", "español")) == set()
    form = {"person": "P3", "action": "other_way", "said_on": "2026-03-06"}
    at_mill.get("/consent?speak=es")
    asked = look(at_mill, **form, other_way="El número solo").text
    assert language_of(asked) == "es"
    assert "eligió otra forma de marcar" in asked
    assert "Esta persona marca de otra forma, como con el número solo; la puntualidad se juzga igual." in asked
    wrong = look(at_mill, **{**form, "said_on": "2031-03-06"})
    assert (wrong.status_code, language_of(wrong.text)) == (409, "es")
    assert "Jue 6 mar 2031: ese día aún no ha llegado; indique el día en que" in wrong.text
    at_mill.get("/consent?speak=en")
