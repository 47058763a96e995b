"""Today lists what needs a person, narrows it, and lets it be settled."""

from __future__ import annotations

import html
import json
import re
import threading
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from urllib.parse import quote

import httpx
import pytest

from evenhand.checks import all_checks
from evenhand.jobs.handoff import hand_off
from evenhand.jobs.listed_before import compare_with_earlier
from evenhand.jobs.reckoning import Reckoning, reckon_period
from evenhand.jobs.score_watch import draw_charts
from evenhand.jobs.today import Today, find_today
from evenhand.jobs.workspace import create_workspace
from evenhand.store import frames
from evenhand.terms.settings import PayPeriod
from evenhand.web.desk import Desk, Reckonings
from evenhand.web.forms import way_back
from evenhand.web.pages.today.view import CaseFilter, view
from tests.web.conftest import MILL_AS_OF, MILL_FIRST, TWIN_AS_OF, Served, copied, serving, taken
from tests.web.pages.test_hours import text_of


@pytest.fixture(scope="module")
def at_twin(twin: Served) -> httpx.Client:
    with twin.enter() as client:
        yield client


def shown_to_the_end(found: Today, narrowed: CaseFilter, reckoning: Reckoning) -> list[str]:
    """Return the keys of the cases on every page of the list, those that wait for others last."""
    first = view(found, narrowed, reckoning)
    pages = [view(found, replace(narrowed, page=number), reckoning) for number in range(1, first.pages + 1)]
    return [one.case.key for page in pages for one in (*page.cases, *page.rest)] + [
        one.case.key for one in first.waiting
    ]


def test_page_nought_holds_every_case_to_print(twin: Served, monkeypatch: pytest.MonkeyPatch) -> None:
    reckoning = reckon_period(twin.workspace, TWIN_AS_OF)
    today = find_today(reckoning)
    monkeypatch.setattr("evenhand.web.pages.today.view.OF_A_PAGE", 2)
    in_pages, whole = view(today, CaseFilter(), reckoning), view(today, CaseFilter(page=0), reckoning)
    to_do = [case.key for case in today.cases if not case.waits_for]
    assert in_pages.pages == -(-len(to_do) // 2) > 1
    assert [one.case.key for one in (*whole.cases, *whole.rest)] == to_do
    assert whole.pages == 1
    assert len(whole.waiting) == len(today.cases) - len(to_do)
    with twin.enter() as client:
        page = client.get("/").text
        assert f"This is page 1 of {in_pages.pages}; choose “All on one page” before printing" in page
        assert 'href="/?page=0"' in page
        assert client.get("/?page=0").text.count('class="case') >= len(to_do)
        assert client.get("/?page=-1").status_code in (400, 422)


def test_every_case_is_shown_once_in_their_order_and_with_it_every_finding(twin: Served) -> None:
    reckoning = reckon_period(twin.workspace, TWIN_AS_OF)
    today = find_today(reckoning)
    keys = shown_to_the_end(today, CaseFilter(), reckoning)
    assert sorted(keys) == sorted(case.key for case in today.cases)
    to_do = [case.key for case in today.cases if not case.waits_for]
    assert keys[: len(to_do)] == to_do
    told = [one.key for case in today.cases for one in case.findings]
    assert sorted(told) == sorted(one.key for one in today.findings)
    assert len(today.cases) < len(today.findings)


def test_a_long_list_is_turned_over_and_each_page_holds_what_follows(
    at_twin: httpx.Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    every = re.findall(r'data-case="([^"]+)"', at_twin.get("/").text)
    monkeypatch.setattr("evenhand.web.pages.today.view.OF_A_PAGE", 10)
    seen, address = [], "/"
    while address:
        page = at_twin.get(address)
        assert page.status_code == 200
        seen += re.findall(r'data-case="([^"]+)"', page.text.split('id="waiting"')[0])
        following = re.search(r'<a rel="next" href="(/\?page=[^"]+)">Next<', page.text)
        address = html.unescape(following[1]) if following else ""
    assert len(seen) > 10
    assert [one for one in every if one in seen] == seen
    # a case of a later page opens on its page
    assert "Page 2 of" in at_twin.get(f"/?open={quote(seen[12], safe='')}").text


def test_narrowing_leaves_as_many_as_its_link_says(at_twin: httpx.Client) -> None:
    page = at_twin.get("/").text
    links = re.findall(r'<a href="(/\?[^"]+)"[^>]*><span>[^<]*</span> <span class="count">(\d+)</span>', page)
    assert len(links) > 5
    for link, count in links:
        narrowed = at_twin.get(html.unescape(link)).text
        assert narrowed.count('<details class="case') == int(count), link


def test_a_finding_names_what_is_at_stake_and_leads_to_the_day(at_mill: httpx.Client) -> None:
    page = at_mill.get("/?kind=missing_punch").text
    assert 'href="/hours/P2/2026-03-02?back=' in page
    assert "Blocks pay" in page
    assert "<strong>Next:</strong>" in page


def test_the_top_says_what_keeps_the_period_from_payroll_and_until_when(at_mill: httpx.Client) -> None:
    page = at_mill.get("/").text.replace("\u00a0", " ")
    assert "Sun 1 to Sat 7 Mar 2026" in page
    # 36 hours after midnight at the end of Saturday 7 March is noon on Monday; that night clocks skipped an hour.
    assert re.search(r"Mon 9 Mar 2026, 1[23]:00", page)
    assert "from payroll" in page


def test_settling_asks_who_and_why_and_then_the_finding_is_gone(
    mill: Served, at_mill: httpx.Client, form_token: Callable[[httpx.Client], str]
) -> None:
    keys = re.findall(r'name="key" value="([^"]+)"', at_mill.get("/").text)
    form = {"key": keys[0], "form_token": form_token(at_mill), "back": "/?show_only=pay"}
    assert at_mill.post("/settle", data=form | {"author": "R. Hale", "reason": "  "}).status_code == 400
    done = at_mill.post("/settle", data=form | {"author": "R. Hale", "reason": "known"})
    assert (done.status_code, done.headers["location"]) == (303, "/?show_only=pay")
    assert f'id="{keys[0]}"' not in at_mill.get("/").text
    with mill.workspace.store.reading() as conn:
        assert frames.settled(conn).select("finding", "author", "reason").row(0) == (keys[0], "R. Hale", "known")
    again = at_mill.post("/settle", data=form | {"author": "R. Hale", "reason": "known"})
    assert again.status_code == 409
    # it is listed with what it said, and opened again by somebody with a reason
    listed = at_mill.get("/settled").text
    assert f'value="{keys[0]}"' in listed
    assert "Settled by R. Hale" in text_of(listed)
    assert '<a href="/settled">' in at_mill.get("/").text
    opening = {"key": keys[0], "form_token": form_token(at_mill), "author": "Zoe"}
    assert at_mill.post("/settled/open", data=opening | {"reason": ""}).status_code == 400
    assert at_mill.post("/settled/open", data=opening | {"reason": "not so"}).headers["location"] == "/settled"
    assert f'id="{keys[0]}"' in at_mill.get("/").text
    told = text_of(at_mill.get("/settled").text)
    assert "open again" in told
    assert "Opened again by Zoe" in told
    assert at_mill.post("/settled/open", data=opening | {"reason": "not so"}).status_code == 409
    # and the undo is undone
    assert at_mill.post("/settle", data=form | {"author": "R. Hale", "reason": "known"}).status_code == 303
    assert f'id="{keys[0]}"' not in at_mill.get("/").text


def test_those_of_one_site_and_day_are_settled_together_and_one_of_them_is_left(
    mill: Served, at_mill: httpx.Client, form_token: Callable[[httpx.Client], str], tmp_path: Path
) -> None:
    shifts = tmp_path / "schedules.csv"
    # On Tuesday P2 alone came, on Monday P4 did not.
    shifts.write_text(
        "person,start,end\n"
        + "".join(f"{who},2026-03-03 08:00:00,2026-03-03 16:00:00\n" for who in ("P1", "P3", "P4"))
        + "P4,2026-03-02 08:00:00,2026-03-02 16:00:00\n"
    )
    taken(mill.workspace, [shifts])
    page = at_mill.get("/?kind=no_punches").text
    [together] = re.findall(r'<form method="post" action="/settle" class="together">.*?</form>', page, re.DOTALL)
    assert "2 people of Mill left no punch on 2 days they were to work." in text_of(page).replace("\u00a0", " ")
    assert "<legend>Tue 3 Mar 2026</legend>" in together.replace("\u00a0", " ")
    # Nobody enrolled P4 at the mill, which is another cause.
    assert "No reader of the site has them enrolled, so that none could accept them." in page
    marked = re.findall(r'<input type="checkbox" name="key" value="([^"]+)" checked>', together)
    assert marked == ["no_punches/P1/2026-03-03/2026-03-03", "no_punches/P3/2026-03-03/2026-03-03"]
    form = {"form_token": form_token(at_mill), "author": "R. Hale", "reason": "the line stood still"}
    none = at_mill.post("/settle", data=form)
    assert (none.status_code, none.headers["location"]) == (303, "/")
    here = re.search(r'name="back" value="([^"]+)"', together)
    assert here
    none = at_mill.post("/settle", data=form | {"back": html.unescape(here[1])})
    again = at_mill.get(none.headers["location"]).text
    assert "Nothing was marked, so nothing was settled: mark what may stand. Your reason is kept." in text_of(again)
    assert again.count('value="the line stood still"') == 1
    assert 'value="the line stood still"' not in at_mill.get(none.headers["location"]).text  # once
    assert at_mill.post("/settle", data=form | {"key": marked}).status_code == 303
    after = at_mill.get("/?kind=no_punches").text
    assert "2 findings; each is opened again by itself" in text_of(after).replace("\u00a0", " ")
    assert "Settle together who was away" not in after
    assert 'value="no_punches/P4/2026-03-03/2026-03-02"' in after
    with mill.workspace.store.reading() as conn:
        assert frames.settled(conn).select("finding", "reason").rows()[-2:] == [(key, form["reason"]) for key in marked]


def test_people_away_are_listed_by_day_where_one_reason_may_settle_them_and_none_is_left_out(twin: Served) -> None:
    reckoning = reckon_period(twin.workspace, TWIN_AS_OF)
    today = find_today(reckoning)
    shown = view(today, CaseFilter(kind="away"), reckoning)
    assert shown.cases
    for one in shown.cases:
        assert one.together is not None
        listed = [finding.key for _, theirs in one.together.days for finding in theirs]
        assert sorted(listed) == sorted(finding.key for finding in one.case.findings)
        # Whose punches may be under a number of nobody's is decided there, and not settled as absent.
        assert not any(finding.details["strays"] for finding in one.case.findings)
    away = {finding.key for one in shown.cases for finding in one.case.findings}
    strays = {one.key for one in today.findings if one.code == "no_punches" and one.details["strays"]}
    assert strays
    assert not strays & away


def test_a_case_stays_open_until_it_is_done_and_then_the_next_one_is(
    week_later: Served,
) -> None:
    with week_later.enter() as client:
        page = client.get("/?period=2026-03-01").text
        first = re.search(r'data-case="([^"]+)"', page)
        assert first is not None
        opened = client.get(f"/?period=2026-03-01&open={quote(first[1], safe='')}").text
        case = opened.split('id="at"')[1]
        assert case.count("<summary>") >= 1
        key = re.search(r'name="key" value="([^"]+)"', case)
        back = re.search(r'name="back" value="([^"]+)"', case)
        token = re.search(r'name="form_token" value="([^"]+)"', case)
        assert key is not None
        assert back is not None
        assert token is not None
        sent = {
            "form_token": token[1], "key": key[1], "period": "2026-03-01", "back": html.unescape(back[1]),
            "author": "R. Hale", "reason": "known",
        }  # fmt: skip
        done = client.post("/settle", data=sent)
        assert done.headers["location"].endswith("#at")
        after = client.get(done.headers["location"]).text
        inside_open = after.split('id="at"')[1].split("</details>")[0]
        # what was done stands where one is, with the way back beside it
        assert "Settled by R. Hale" in inside_open
        undo = dict(
            re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)">', inside_open.split("</form>")[0])
        )
        assert undo["key"] == key[1]
        assert f'id="{key[1]}"' not in after
        undone = client.post("/settled/open", data={name: html.unescape(value) for name, value in undo.items()})
        assert undone.status_code == 303
        assert f'id="{key[1]}"' in client.get(undone.headers["location"]).text
        # nothing is said twice
        assert "Opened again by" not in client.get("/?period=2026-03-01").text


def test_a_hand_under_another_number_is_put_right_from_its_case(
    twin_directory: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    with serving(copied(twin_directory, tmp_path_factory), TWIN_AS_OF) as served, served.enter() as client:
        page = client.get("/?kind=wrong_number").text
        case = next(part for part in page.split('<details class="case')[1:] if "/confirm" in part and "/round" in part)
        give = re.search(r'action="(/strays/[^"]+/confirm)">\n(.*?)</form>', case, re.DOTALL)
        assert give is not None
        asked = {name: html.unescape(value) for name, value in re.findall(r'name="([^"]+)" value="([^"]*)"', give[2])}
        foreseen = client.get(give[1], params=asked).text
        assert f'name="back" value="{html.escape(asked["back"])}"' in foreseen
        token = re.search(r'name="form_token" value="([^"]+)"', page)
        assert token is not None
        signed = {"form_token": token[1], "author": "R. Hale", "reason": "they said so", "back": asked["back"]}
        done = client.post(give[1], data=signed | {"person": asked["person"]})
        assert (done.status_code, done.headers["location"]) == (303, asked["back"])
        after = text_of(client.get(done.headers["location"]).text).replace("\u00a0", " ")
        assert "by R. Hale" in after
        again = client.get("/?kind=wrong_number").text
        case = next(part for part in again.split('<details class="case')[1:] if "were given to" in part)
        assert 'class="done"' in case
        form = case.split('action="/round"')[1].split("</form>")[0]
        fields = {name: html.unescape(value) for name, value in re.findall(r'name="([^"]+)" value="([^"]*)"', form)}
        put = client.post("/round", data=fields | {"author": "R. Hale"})
        assert put.status_code == 303
        with served.workspace.store.reading() as conn:
            rounds = frames.rounds(conn)
            items = frames.round_items(conn, rounds["round"][0])
        assert items.sort("position")["action"].to_list() == ["enrol", "remove"]
        assert items.sort("position")["number"].to_list()[1] == fields["number"]
        assert items["person"].to_list()[0] == fields["person"]
        # on the round it waits for others, and is not put on again
        waiting = client.get("/").text.split('id="waiting"')[1]
        assert f"waits for round {rounds['round'][0]} at" in text_of(waiting)
        held = f"/rounds/{rounds['round'][0]}/{quote(fields['reader'])}"
        assert re.search(rf'href="{held}\?back=[^"]+">Open the round at {fields["reader"]}</a>', waiting)
        assert fields["person"] in items["person"].to_list()
        assert items["name"][0] in client.get(held).text
        assert client.post("/round", data=fields | {"author": "R. Hale"}).status_code == 409
        # it is taken back off at once, or later from the case, from the hubs and from the round itself
        name, back = rounds["round"][0], {"author": "R. Hale", "reason": "Taken back at once"}
        for place in ("/", f"/people/{fields['person']}", f"/readers/{quote(fields['reader'])}", f"/rounds/{name}"):
            page = client.get(place).text
            forms = [one.split("</form>")[0] for one in page.split('action="/round/off"')[1:]]
            told = [dict(re.findall(r'name="([^"]+)" value="([^"]*)"', one)) for one in forms]
            assert forms, place
            told = [one for one in told if html.unescape(one["back"]).startswith(place)]
            sent = next(one for one in told if one.get("round") == name or one["number"] in items["number"])
            off = client.post("/round/off", data=sent | back)
            assert (off.status_code, off.headers["location"].split("#")[0].split("?")[0]) == (303, place), place
            shown = text_of(client.get(off.headers["location"]).text).replace("\u00a0", " ")
            steps = "1 step." if place.startswith("/rounds") else "2 steps."
            assert re.search(rf"Taken off round \S+ by R. Hale: {steps}", shown), place
            if place.startswith("/rounds"):
                break  # one of its two steps is on it still
            assert f"waits for round {name} at" not in text_of(client.get("/").text)
            put = client.post("/round", data=fields | {"author": "R. Hale"})
            assert put.status_code == 303


def test_the_enrolment_of_somebody_on_no_reader_is_planned_from_their_case(at_twin: httpx.Client) -> None:
    page = at_twin.get("/?kind=not_enrolled").text
    led = re.search(
        r'href="(/enrolment/plan\?people=(\w+)&amp;look=yes&amp;back=[^"#]+)#seen">Plan their enrolment</a>', page
    )
    assert led
    link, person = led.groups()
    plan = at_twin.get(html.unescape(link)).text
    assert f">\n{person}</textarea>" in plan
    assert 'id="seen"' in plan
    assert "is no day" not in plan


def test_what_is_new_since_the_list_of_another_day_is_said_and_nothing_where_none_was_looked_at(
    mill_directory: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    workspace = copied(mill_directory, tmp_path_factory)
    try:
        today = find_today(reckon_period(workspace, MILL_AS_OF))
        assert compare_with_earlier(workspace, today).since is None
        assert compare_with_earlier(workspace, today).since is None  # the same day is not another
        later = find_today(reckon_period(workspace, MILL_AS_OF + timedelta(days=1)))
        fewer = replace(later, cases=later.cases[1:])
        told = compare_with_earlier(workspace, fewer)
        assert (told.since, told.new) == (today.day, frozenset(case.key for case in fewer.cases) - keys_of(today))
        assert (today.cases[0].title, 1) in told.gone
        again = find_today(reckon_period(workspace, MILL_AS_OF + timedelta(days=2)))
        assert later.cases[0].key in compare_with_earlier(workspace, again).new
        # nobody's name, number or identifier stands in what is kept
        kept = (workspace.directory / "listed.json").read_text()
        assert not [word for word in ("P2", "P4", "4102", "Ostler", "MILL-1") if word in kept]
        assert len(json.loads(kept)["lists"]) == 2
        # nor what a digest is made with; and where that is lost, nothing is told rather than that all is new
        key = workspace.directory / "listed.key"
        assert (key.stat().st_mode & 0o777, len(key.read_bytes())) == (0o600, 32)
        assert key.read_bytes().hex() not in kept
        key.unlink()
        after = find_today(reckon_period(workspace, MILL_AS_OF + timedelta(days=3)))
        assert compare_with_earlier(workspace, after).since is None
    finally:
        workspace.close()


def keys_of(today: Today) -> frozenset[str]:
    return frozenset(case.key for case in today.cases)


def test_an_empty_workspace_says_how_to_begin(tmp_path: Path) -> None:
    workspace = create_workspace(tmp_path / "workspace", "Mill & Sons", period=PayPeriod(MILL_FIRST))
    with serving(workspace, MILL_AS_OF) as served, served.enter() as client:
        page = client.get("/").text
        said = text_of(page)
        assert "Begin here" in said
        assert said.index("The readers") < said.index("The people") < said.index("The punches")
        assert page.count(">To do<") == 5
        assert 'href="/files"' in page


def test_nothing_to_do_is_said_gladly(twin: Served) -> None:
    reckoning = reckon_period(twin.workspace, TWIN_AS_OF)
    nothing = replace(find_today(reckoning), cases=(), findings=())
    shown = view(nothing, CaseFilter(), reckoning)
    assert (shown.total, shown.blocking, list(shown.cases), list(shown.waiting)) == (0, 0, [], [])


@pytest.mark.parametrize("back", ["https://evil.example/", "//evil.example", "/\\evil.example", "evil.example", ""])
def test_settling_never_leads_to_another_site(back: str) -> None:
    assert way_back({"back": back}, "/") == "/"


def test_every_check_has_a_title_for_its_group() -> None:
    assert all(check.title and check.why for check in all_checks())


def test_a_large_workplace_does_not_wait_for_its_charts_and_is_told_so(
    twin: Served, at_twin: httpx.Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("evenhand.web.desk.CHARTED_AT_ONCE", 0)
    reckonings = Reckonings(twin.workspace, lambda: TWIN_AS_OF)
    monkeypatch.setattr(twin.app.state, "reckonings", reckonings)
    drawn = threading.Event()
    monkeypatch.setattr("evenhand.web.desk.draw_charts", lambda reckoning: (drawn.wait(60), draw_charts(reckoning)))
    whole = find_today(reckon_period(twin.workspace, TWIN_AS_OF))
    page = at_twin.get("/").text
    assert "is still being worked out" in page
    today = Desk(reckonings).today
    assert not today.has_charts
    assert {finding.key for finding in today.findings} < {finding.key for finding in whole.findings}
    assert [finding.key for finding in today.blockers] == [finding.key for finding in whole.blockers]
    drawn.set()
    assert reckonings._drawing is not None
    reckonings._drawing.join(60)
    assert "is still being worked out" not in at_twin.get("/").text
    assert Desk(reckonings).today.findings == whole.findings


@pytest.fixture
def week_later(mill_directory: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The mill a week on: payroll waits for 8 to 14 March, and 1 to 7 March was not handed off."""
    workspace = copied(mill_directory, tmp_path_factory)
    with serving(workspace, datetime(2026, 3, 16, 13, tzinfo=UTC)) as served:
        yield served


def inside(page: str) -> list[str]:
    """Return where the links, and the forms that ask, of the page's own part lead."""
    main = page.split("<main")[1].split("</main>", maxsplit=1)[0]
    return [html.unescape(link) for link in re.findall(r'<a [^>]*href="(/(?:\?|settled)[^"]*)"', main)]


def test_an_earlier_period_is_chosen_and_kept_by_every_link_and_form(week_later: Served) -> None:
    with week_later.enter() as client:
        first = text_of(client.get("/").text)
        assert "Sun 8 to Sat 14 Mar 2026 ended; payroll waits for it" in first
        assert 'href="/?period=2026-03-01">Period before' in client.get("/").text
        page = client.get("/?period=2026-03-04").text  # any day of it
        said = text_of(page)
        assert "Sun 1 to Sat 7 Mar 2026 ended earlier and not handed off; go to the one payroll waits for" in said
        assert "The deadline passed 6 days ago" in said
        links = inside(page)
        assert len(links) > 5
        # Only the way to the awaited period leads out of this one, and the neighbours name theirs.
        assert {link for link in links if "period=2026-03-01" not in link} == {"/?period=2026-02-22"}
        key = re.search(r'name="key" value="(missing_punch/P2/2026-03-02)"', page)
        assert key is not None
        assert key[1] not in client.get("/").text
        form = page.split(f'name="key" value="{key[1]}"')[-1]  # the finding's own form
        assert 'name="period" value="2026-03-01"' in form.split("</form>")[0]
        token = re.search(r'name="form_token" value="([^"]+)"', page)
        assert token is not None
        sent = {
            "form_token": token[1],
            "key": key[1],
            "period": "2026-03-01",
            "back": "/?period=2026-03-01",
            "author": "R. Hale",
            "reason": "r",
        }
        done = client.post("/settle", data=sent)
        assert (done.status_code, done.headers["location"]) == (303, "/?period=2026-03-01")
        assert f'id="{key[1]}"' not in client.get("/?period=2026-03-01").text
        settled = client.get("/settled?period=2026-03-01").text
        assert 'href="/?period=2026-03-01">Today, pay period of' in settled
        assert 'name="back" value="/settled?period=2026-03-01"' in settled
        again = sent | {"back": "/settled?period=2026-03-01"}
        assert client.post("/settled/open", data=again).headers["location"] == "/settled?period=2026-03-01"


def test_the_running_period_can_be_looked_at_and_a_later_one_cannot(week_later: Served) -> None:
    with week_later.enter() as client:
        page = client.get("/?period=2026-03-15").text
        assert "Sun 15 to Sat 21 Mar 2026 not ended yet" in text_of(page)
        assert "Period after" not in page
        assert 'href="/">Period before' in page  # the awaited one needs no naming
        later = client.get("/?period=2026-03-22")
        assert later.status_code == 409
        assert "has not begun yet" in later.text
        assert client.post("/settle", data={"period": "soon"}).status_code == 400


def test_a_period_that_was_handed_off_says_so(mill_directory: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    workspace = copied(mill_directory, tmp_path_factory)
    hand_off(workspace, reckon_period(workspace, MILL_AS_OF), as_of=MILL_AS_OF, despite=True, author="R. Hale")
    with serving(workspace, MILL_AS_OF) as served, served.enter() as client:
        said = text_of(client.get("/").text)
        assert "Sun 1 to Sat 7 Mar 2026 handed off" in said
        assert "Payroll has it." in said
        assert "The deadline passed" not in said
