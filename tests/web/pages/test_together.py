"""Several decided together: what is certain is marked, what the marked ones do is seen, and all is undone in one go."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from datetime import timedelta

import httpx
import pytest

from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.today import find_today
from evenhand.store import frames
from evenhand.web.pages.together.view import view
from tests.untranslated import names_at, untranslated
from tests.web.conftest import MILL_AS_OF, TWIN_AS_OF, Served
from tests.web.pages.test_hours import text_of


@pytest.fixture(scope="module")
def at_twin(twin: Served) -> Iterator[httpx.Client]:
    with twin.enter() as client:
        yield client


def marks(page: str) -> list[tuple[str, bool]]:
    return [(one[1], bool(one[2])) for one in re.finditer(r'name="mark" value="(\w+)"( checked)?>', page)]


def questions(served: Served) -> int:
    with served.workspace.store.reading() as conn:
        return int(frames.corrections(conn).height)


def test_what_is_marked_is_seen_made_and_taken_back_in_one_go(twin: Served, at_twin: httpx.Client) -> None:
    today = at_twin.get("/").text
    assert '<a href="/together">' in today
    page = at_twin.get("/together")
    assert page.status_code == 200
    offered = marks(page.text)
    certain = [mark for mark, is_marked in offered if is_marked]
    assert 0 < len(certain) < len(offered)
    assert len({mark for mark, _ in offered}) == len(offered)
    token = {"form_token": re.findall(r'name="form_token" value="(\w+)"', page.text)[0]}
    before = questions(twin)
    seen = at_twin.get("/together/look", params={"mark": certain})
    assert seen.status_code == 200
    assert f"Make {len(certain)} corrections?" in seen.text
    assert "In periods not handed off yet" in seen.text
    assert questions(twin) == before  # nothing is written by looking
    assert at_twin.get("/together/look").status_code == 409
    signed = token | {"author": "R. Hale", "reason": "as their usual days", "mark": certain}
    looked_at = str(seen.url)
    refused = at_twin.post("/together", data=signed | {"reason": ""}, headers={"referer": looked_at})
    assert refused.status_code == 400
    # back from a refusal the marks are as they were
    assert at_twin.get(html.unescape(re.findall(r'href="(/together/look[^"]*)"', refused.text)[0])).text.count(
        'name="mark"'
    ) == len(certain)
    assert at_twin.post("/together", data=signed | {"mark": ["0" * 16]}).status_code == 409
    assert questions(twin) == before
    assert at_twin.post("/together", data=signed).headers["location"] == "/together"
    assert questions(twin) == before + len(certain)
    after = at_twin.get("/together").text
    assert f"{len(certain)} corrections made by R. Hale." in text_of(after)
    assert not {mark for mark, _ in marks(after)} & set(certain)
    assert at_twin.post("/together", data=signed).status_code == 409  # once
    undo = re.search(r'<form class="undo".*?</form>', after, re.DOTALL)
    assert undo
    fields = re.findall(r'name="(\w+)" value="([^"]*)"', undo[0])
    assert 'action="/together/back"' in undo[0]
    back: dict[str, list[str]] = {}
    for name, value in fields:
        back.setdefault(name, []).append(html.unescape(value))
    assert at_twin.post("/together/back", data=back).status_code == 303
    again = at_twin.get("/together").text
    assert f"{len(certain)} corrections taken back." in text_of(again)
    assert set(certain) <= {mark for mark, _ in marks(again)}


def test_what_the_marked_ones_would_do_is_said_in_spanish_as_in_english(twin: Served, at_twin: httpx.Client) -> None:
    said = {}
    for language in ("es", "en"):  # the session speaks English afterwards
        page = at_twin.get(f"/together?speak={language}").text
        seen = at_twin.get("/together/look", params={"mark": [mark for mark, _ in marks(page)]})
        assert (seen.status_code, f'<html lang="{language}"' in seen.text) == (200, True)
        said[language] = seen.text
    assert untranslated(said["en"], said["es"], names_at(twin)) == set()
    assert "¿Hacer " in said["es"]


def test_what_asks_no_correction_is_settled_there_for_one_reason(at_twin: httpx.Client) -> None:
    page = at_twin.get("/together").text
    away, asked = page.split('id="away"')[1].split('id="asked"')
    keys, others = (re.findall(r'name="key" value="([^"]+)"( checked)?', part) for part in (away, asked))
    assert all(checked for _, checked in keys)  # as in the case of a site
    assert not any(checked for _, checked in others)  # each has to be asked about
    assert len({key for key, _ in (*keys, *others)}) == len(keys) + len(others)
    token = {"form_token": re.findall(r'name="form_token" value="(\w+)"', page)[0]}
    chosen = [html.unescape(key) for key, _ in keys]
    signed = token | {"author": "R. Hale", "reason": "the crews were off", "back": "/together", "key": chosen}
    assert at_twin.post("/settle", data=signed).headers["location"] == "/together"
    assert 'id="away"' not in at_twin.get("/together").text


def test_a_reason_that_speaks_for_a_correction_stands_in_its_form_already(twin: Served, at_twin: httpx.Client) -> None:
    page = at_twin.get("/").text
    forms = re.findall(
        r'<form method="get" action="(/hours/[^"]+/correct)" class="adding">(.*?)</form>', page, re.DOTALL
    )
    at, fields = next((at, one) for at, one in forms if re.search(r'name="at"[^>]*value="\d', one))
    told = dict(re.findall(r'name="(\w+)"[^>]*? value="([^"]*)"', fields))
    way = re.search(r'<option value="(\w+)" selected>', fields)
    assert way
    query = {name: told[name] for name in ("action", "on", "at", "which")} | {"direction": way[1]}
    shown = at_twin.get(at, params=query).text
    assert re.search(r'name="reason"[^>]* value="as proposed: \w', shown)
    hour = f"{(int(told['at'][:2]) + 23) % 24:02}{told['at'][2:]}"
    other = at_twin.get(at, params=query | {"at": hour})  # somebody chose another time: why, only they can say
    assert not re.search(r'name="reason"[^>]* value=', other.text)


def test_a_stray_that_is_as_good_as_certain_names_its_evidence(at_twin: httpx.Client) -> None:
    page = at_twin.get("/strays/above?at=0.99").text
    [stray, *_] = re.findall(r'<a href="(/strays/[^"?]+)"><span class="number">', page)
    person = re.search(rf'href="{re.escape(stray)}".*?href="/people/([^"]+)"', page, re.DOTALL)
    assert person
    shown = at_twin.get(f"{stray}/confirm", params={"person": person[1]}).text
    assert re.search(
        r'name="reason"[^>]* value="(over )?[\d.]+ % likely by its evidence, above all: \w', html.unescape(shown)
    )


def test_what_another_cause_explains_is_left_to_its_own_case(twin: Served) -> None:
    today = find_today(reckon_period(twin.workspace, TWIN_AS_OF))
    explained = [one for case in today.cases if case.kind == "other_number" for one in case.findings]
    explained = [one for one in explained if one.code in ("no_punches", "missing_punch")]
    assert explained  # settled, they would never be paid
    shown = view(today)
    listed = {one.of.finding.key for one in shown.proposed} | {one.key for one in shown.asked}
    listed |= {one.key for _, theirs in shown.away for one in theirs}
    assert not listed & {one.key for one in explained}


def test_the_page_of_another_period_keeps_to_it(mill: Served, at_mill: httpx.Client) -> None:
    first = MILL_AS_OF.date() - timedelta(days=20)
    page = at_mill.get("/together", params={"period": first})
    assert page.status_code == 200
    assert f'href="/?period={first}"' in page.text
    assert at_mill.get("/together?period=2999-01-01").status_code == 409


def test_strays_whose_owner_is_as_good_as_certain_are_seen_given_and_returned_in_one_go(
    twin: Served, at_twin: httpx.Client
) -> None:
    page = at_twin.get("/together").text
    strays = [html.unescape(one) for one in re.findall(r'name="stray" value="([^"]+)" checked', page)]
    assert strays
    before = questions(twin)
    seen = at_twin.get("/together/strays", params={"stray": strays})
    assert seen.status_code == 200
    assert "In periods not handed off yet" in seen.text
    assert questions(twin) == before  # nothing is written by looking
    none = at_twin.get("/together/strays")
    assert none.status_code == 409
    assert "No stray was marked, so nothing was given; mark those that are right." in none.text
    assert [html.unescape(one) for one in re.findall(r'name="stray" value="([^"]+)" checked', none.text)] == strays
    gone = at_twin.get("/together/strays", params={"stray": ["NOWHERE/1"]})
    assert gone.status_code == 409
    assert "The owner of NOWHERE/1 is no longer as good as certain, so nothing was given" in gone.text
    token = {"form_token": re.findall(r'name="form_token" value="(\w+)"', seen.text)[0]}
    given = [html.unescape(one) for one in re.findall(r'type="hidden" name="stray" value="([^"]+)"', seen.text)]
    assert set(given) <= set(strays)
    signed = token | {"author": "R. Hale", "reason": "as their evidence says", "stray": given}
    assert at_twin.post("/together/strays", data=signed | {"reason": ""}).status_code == 400
    assert questions(twin) == before
    assert at_twin.post("/together/strays", data=signed).headers["location"] == "/together"
    made = questions(twin) - before
    assert made >= len(given)
    after = at_twin.get("/together").text
    assert "confirmed by R. Hale" in text_of(after)
    assert not [one for one in given if f'value="{html.escape(one)}"' in after.split('class="undo"')[0]]
    twice = at_twin.post("/together/strays", data=signed | {"stray": given[0]})
    assert twice.status_code == 409
    assert f"{given[0]} was given to " in text_of(twice.text)
    assert "by R. Hale meanwhile, so nothing was given now; look at those that are left." in text_of(twice.text)
    undo = re.search(r'<form class="undo".*?</form>', after, re.DOTALL)
    assert undo
    assert 'action="/together/strays/back"' in undo[0]
    fields: dict[str, list[str]] = {}
    for name, value in re.findall(r'name="(\w+)" value="([^"]*)"', undo[0]):
        fields.setdefault(name, []).append(html.unescape(value))
    assert sorted(fields["stray"]) == sorted(given)
    assert at_twin.post("/together/strays/back", data=fields).status_code == 303
    assert questions(twin) == before + 2 * made
    again = at_twin.get("/together").text
    assert [html.unescape(one) for one in re.findall(r'name="stray" value="([^"]+)" checked', again)] == strays
