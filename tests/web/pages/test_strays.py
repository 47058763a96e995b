"""Strays are listed with their evidence, and decided about by forms that show hours before and after."""

from __future__ import annotations

import html
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from importlib.resources import files
from types import SimpleNamespace

import httpx
import pytest

from evenhand.jobs.strays import proposal_of
from evenhand.terms.records import Unknown
from evenhand.web.addresses import in_path
from evenhand.web.pages.strays import view
from tests.jobs.asked import find_strays
from tests.web import test_browser
from tests.web.conftest import TWIN_AS_OF, Served
from tests.web.test_browser import Enter

browser, enter = test_browser.browser, test_browser.enter  # fixtures

Token = Callable[[httpx.Client], str]


def text_of(page: str) -> str:
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", page))).replace("\u00a0", " ")


@pytest.fixture
def at_twin(twin: Served) -> Iterator[httpx.Client]:
    with twin.enter() as client:
        yield client


def first_sure(served: Served) -> tuple[str, str, str]:
    """The first stray that has a likeliest person and no holder: its name, the person's name and identifier."""
    for one in find_strays(served.workspace, TWIN_AS_OF).proposals:
        if one.best is not None and not one.holder:
            return one.stray, one.best.name, one.best.person
    raise AssertionError("the twin has strays")


def test_the_list_ranks_strays_by_minutes_at_stake(twin: Served, at_twin: httpx.Client) -> None:
    page = at_twin.get("/strays").text
    listed = re.findall(r'href="/strays/([^"]+)"><span class="number">', page)
    found = find_strays(twin.workspace, TWIN_AS_OF).proposals
    assert [html.unescape(one) for one in listed] == [in_path(one.stray) for one in found]
    minutes = [one.minutes for one in found]
    assert minutes == sorted(minutes, reverse=True)


def test_probabilities_are_called_rough_where_not_everybody_was_looked_at(twin: Served, at_twin: httpx.Client) -> None:
    found = find_strays(twin.workspace, TWIN_AS_OF)
    assert view.listed(found).rough == ""
    assert "as rough" not in at_twin.get("/strays").text
    assert view.listed(replace(found, why_rough="There are too many.")).rough == "There are too many."


def test_where_probabilities_are_rough_a_word_stands_for_what_is_below_999_in_a_thousand() -> None:
    said = [view.percent(chance, is_rough=True) for chance in (0.01, 0.3, 0.93, 0.995, 0.999, 0.9999)]
    assert said == ["hardly", "may be", "may be", "may be", "99.9\u00a0%", "over 99.9\u00a0%"]
    assert view.percent(0.93) == "93.0\u00a0%"


def test_a_stray_shows_every_part_and_their_sum(twin: Served, at_twin: httpx.Client) -> None:
    stray, name, _ = first_sure(twin)
    page = at_twin.get(f"/strays/{in_path(stray)}").text
    why = page.split(f"Why {html.escape(name)}")[1].split("</table>")[0]
    bits = [float(one.replace("−", "-")) for one in re.findall(r'data-label="Bits" class="amount">([^<]+)<', why)]
    *parts, total = bits
    # every part is rounded to a tenth
    assert sum(parts) == pytest.approx(total, abs=0.05 * (len(parts) + 1))
    assert why.count("<svg") == len(parts)
    assert page.count('class="mark timeline"') >= 1
    assert "Nobody on the roster" in text_of(page)


def test_confirming_shows_hours_first_needs_a_name_and_can_be_undone(
    twin: Served, at_twin: httpx.Client, form_token: Token
) -> None:
    stray, name, person = first_sure(twin)
    preview = text_of(at_twin.get(f"/strays/{in_path(stray)}/confirm", params={"person": person}).text)
    assert f"to {name}?" in preview
    assert "Nothing has been changed yet" in preview
    form = {"form_token": form_token(at_twin), "person": person, "author": "Kim", "reason": ""}
    assert at_twin.post(f"/strays/{in_path(stray)}/confirm", data=form).status_code == 400
    form["reason"] = "saw the hand"
    assert at_twin.post(f"/strays/{in_path(stray)}/confirm", data=form).status_code == 303
    listed = at_twin.get("/strays").text
    assert f'href="/strays/{in_path(stray)}"' not in listed
    assert "given to" in text_of(listed)
    assert "by Kim" in text_of(listed)
    assert at_twin.post(f"/strays/{in_path(stray)}/undo", data=form).status_code == 303
    assert f'href="/strays/{in_path(stray)}"' in at_twin.get("/strays").text


def test_somebody_ruled_out_is_no_longer_proposed(twin: Served, at_twin: httpx.Client, form_token: Token) -> None:
    proposals = find_strays(twin.workspace, TWIN_AS_OF).proposals
    one = next(proposal for proposal in reversed(proposals) if proposal.best is not None)
    assert one.best is not None
    form = {"form_token": form_token(at_twin), "person": one.best.person, "author": "Kim", "reason": "on leave"}
    assert at_twin.post(f"/strays/{in_path(one.stray)}/reject", data=form).status_code == 303
    page = at_twin.get(f"/strays/{in_path(one.stray)}").text
    assert f"Why {html.escape(one.best.name)}" not in page
    # who was ruled out, by whom and why, stands there, and is taken back there
    ruled_out = f"{html.escape(one.best.name)}</a></strong>: “on leave”"
    assert ruled_out in page
    form |= {"form_token": form_token(at_twin), "reason": "was back"}
    assert at_twin.post(f"/strays/{in_path(one.stray)}/propose", data=form).status_code == 303
    assert ruled_out not in at_twin.get(f"/strays/{in_path(one.stray)}").text


def test_bulk_confirmation_is_shown_first_and_never_below_its_least_threshold(at_twin: httpx.Client) -> None:
    assert "at once?" in text_of(at_twin.get("/strays/above", params={"at": 0.99}).text)
    refused = at_twin.get("/strays/above", params={"at": 0.5})
    assert refused.status_code == 409
    assert "confirms what is not sure" in text_of(refused.text)


def test_the_only_stray_there_is_is_no_first_of_several() -> None:
    one = SimpleNamespace(proposals=[SimpleNamespace(stray="GATE/4281")])
    with pytest.raises(Unknown, match="the only one is GATE/4281"):
        proposal_of(one, "NOPE")  # type: ignore[arg-type]


def test_a_stray_that_is_not_there_is_said_in_one_sentence(at_twin: httpx.Client) -> None:
    answer = at_twin.get(f"/strays/{in_path('NOWHERE/1')}")
    assert answer.status_code == 404
    assert 'There is no stray "NOWHERE/1"' in text_of(answer.text)


@pytest.mark.parametrize(("width", "scheme"), [(1280, "light"), (390, "dark")])
def test_the_pages_fit_obey_their_policy_and_put_no_barrier(
    twin: Served,
    enter: Enter,
    width: int,
    scheme: str,
) -> None:
    # The rules are axe-core's, after the Web Content Accessibility Guidelines 2.2; https://www.w3.org/TR/WCAG22/
    axe = (files("axe_core_python") / "axe.min.js").read_text()
    stray, _, person = first_sure(twin)
    page = enter(twin, width=width, bypass_csp=True, color_scheme=scheme)
    for place in (
        "/strays",
        f"/strays/{in_path(stray)}",
        f"/strays/{in_path(stray)}/confirm?person={person}",
        "/strays/above?at=0.9",
    ):
        page.goto(twin.base + place)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, place
        page.evaluate(axe + ";0")
        found = page.evaluate("axe.run({resultTypes: ['violations']})")["violations"]
        assert [(fault["id"], fault["nodes"][0]["html"]) for fault in found] == [], place


def test_strays_are_decided_without_script(twin: Served, enter: Enter) -> None:
    stray, name, _ = first_sure(twin)
    page = enter(twin, java_script_enabled=False)
    page.goto(f"{twin.base}/strays/{in_path(stray)}")
    page.get_by_role("button", name=f"See what giving them to {name} would do").click()
    page.get_by_label("Your name").fill("Kim")
    page.get_by_label("How it is known").fill("saw the hand")
    page.get_by_role("button", name=f"Give them to {name}").click()
    assert page.get_by_text("given to").first.is_visible()
