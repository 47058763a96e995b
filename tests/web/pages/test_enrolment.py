"""Enrolment day on a page: planned as it was shown, changed while it runs, proved by punches; coverage and the line."""

from __future__ import annotations

import html
import re
import shutil
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from urllib.parse import urlencode

import httpx
import pytest

from evenhand.jobs.rounds import list_rounds, record_outcomes, see_round
from evenhand.jobs.take import take_files
from evenhand.jobs.workspace import Workspace, open_workspace
from evenhand.store import frames
from tests.untranslated import language_of, untranslated
from tests.web.conftest import MILL_AS_OF, Served, serving

DAY = "2026-03-10"
ASKED = {"look": "yes", "day": DAY, "title": "Spring", "begins": "08:00", "ends": "10:00", "slot": "20", "each": "5"}
PLAN = f"/enrolment/plan?{urlencode(ASKED)}"


@pytest.fixture
def workspace(mill_directory: Path, tmp_path: Path) -> Workspace:
    shutil.copytree(mill_directory, tmp_path / "workspace")
    with (tmp_path / "workspace" / "evenhand.toml").open("a") as file:
        file.write("\n[consent]\nrequired = false\n")
    return open_workspace(tmp_path / "workspace")


@pytest.fixture
def client(workspace: Workspace) -> Iterator[httpx.Client]:
    with serving(workspace, MILL_AS_OF) as served, served.enter() as client:
        yield client


def keep(client: httpx.Client, page: str, to: str, **said: str) -> httpx.Response:
    """Send the form of a page that keeps what it shows, with what stands in it."""
    html = client.get(page).text
    form = re.search(rf'<form[^>]*method="post" action="{re.escape(to)}".*?</form>', html, re.DOTALL)
    assert form, html
    data: dict[str, list[str]] = {}
    for name, value in re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', form[0]):
        data.setdefault(name, []).append(unescape(value))
    return client.post(to, data={**data, **said}, follow_redirects=True)


def test_a_day_is_planned_and_kept_only_as_it_was_shown(client: httpx.Client, workspace: Workspace) -> None:
    page = client.get(PLAN).text
    assert "Nothing has been kept yet" in page
    assert re.search(r"Joss Fenn</td><td data-label=\"Do\">enrol</td>.*?4104", page, re.DOTALL)
    assert list_rounds(workspace).is_empty()
    other = keep(client, PLAN, "/enrolment/plan", author="R. Hale", seen="another")
    assert "would be another by now" in other.text
    assert list_rounds(workspace).is_empty()
    made = keep(client, PLAN, "/enrolment/plan", author="R. Hale")
    assert f"Round {DAY}-1 was made by R. Hale" in made.text
    (row,) = list_rounds(workspace).rows(named=True)
    assert (row["title"], row["author"]) == ("Spring", "R. Hale")
    assert "4104" in see_round(workspace, f"{DAY}-1").states["number"].to_list()


def test_who_is_meant_when_and_where_is_chosen(client: httpx.Client) -> None:
    asked = urlencode({**ASKED, "people": "Tess Marrow", "again": "4101", "reader": "MILL-1", "spanish": "P1"})
    page = client.get(f"/enrolment/plan?{asked}").text
    assert re.search(r"Tess Marrow</td><td data-label=\"Do\">enrol again</td>", page)
    assert "Joss Fenn</td>" not in page
    assert 'value="MILL-1" checked' in page


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ({"begins": "8"}, "From: “8” is no time of day"),
        ({"begins": "08:0000060"}, "is no time of day"),
        ({"busy": "noon"}, "is not understood; write it as 10:00-10:30"),
        ({"each": " " * 12 + "0"}, "is no whole number above 0"),
        ({"each": "9" * 5000}, "is no whole number above 0"),
        ({"each": "0"}, "One enrolment takes: “0” is no whole number above 0"),
        ({"slot": "4"}, "a slot must be long enough"),
        ({"ends": "07:00"}, "the day ends before its first slot does"),
        ({"people": "Nobody Known"}, "nobody on the roster answers to"),
        ({"day": "soon"}, "is no day"),
        ({"day": "2026-03-08"}, "Sun 8 Mar 2026 is over; choose today or a day to come"),
        ({"people": "P1"}, "nothing is to be enrolled or taken off"),
    ],
)
def test_a_day_that_cannot_be_planned_says_why(client: httpx.Client, said: dict[str, str], why: str) -> None:
    page = unescape(client.get(f"/enrolment/plan?{urlencode({**ASKED, **said})}").text)
    assert why.replace("“", '"').replace("”", '"').lower() in page.lower()
    assert "Make it a round" not in page


def test_a_plan_with_nobody_in_it_is_made_no_round_and_says_what_to_change(
    client: httpx.Client, workspace: Workspace
) -> None:
    asked = urlencode({**ASKED, "busy": "08:00-10:00"})
    page = client.get(f"/enrolment/plan?{asked}").text
    assert "Nobody is in this plan, so there is no round to make of it: change the day" in page
    assert "Make it a round" not in page
    token = re.search(r'name="form_token" value="([^"]+)"', client.get(PLAN).text)
    assert token
    said = {**ASKED, "busy": "08:00-10:00", "seen": "x", "author": "R. Hale", "form_token": token[1]}
    assert client.post("/enrolment/plan", data=said).status_code == 409
    assert list_rounds(workspace).is_empty()


def test_the_rest_is_planned_again_without_whoever_is_absent(client: httpx.Client, workspace: Workspace) -> None:
    keep(client, PLAN, "/enrolment/plan", author="R. Hale")
    name = f"{DAY}-1"
    page = client.get(f"/enrolment/change/{name}").text
    assert re.search(r'value="P4"[^>]*><label[^>]*>Joss Fenn', page)
    to = f"/enrolment/change/{name}"
    before = see_round(workspace, name).states.rows()
    shown = client.get(f"{to}?look=yes&absent=P4").text
    assert "Nothing has been moved yet" in shown
    # nobody stands by for whoever does not come, and they have no turn
    assert "Nobody stands by who can" not in shown
    assert "Joss Fenn</td>" not in shown
    assert "Joss Fenn</td>" in client.get(f"{to}?look=yes").text
    assert "Nobody stands by who can" in client.get(f"{to}?look=yes").text
    nope = client.get(f"{to}?look=yes&absent=NOPE").text
    assert "It cannot be planned again" in nope
    assert "Nobody on the roster answers to" in nope
    assert see_round(workspace, name).states.rows() == before
    look = f"{to}?look=yes&absent=P4"
    assert "would be another by now" in keep(client, look, to, seen="another", author="R. Hale").text
    nobody = keep(client, look, to, author=" ")
    assert (nobody.status_code, "say who plans the day" in nobody.text.lower()) == (400, True)
    assert see_round(workspace, name).states.rows() == before
    moved = keep(client, look, to, author="Ida Frost")
    assert "Ida Frost" in unescape(client.get("/ledger").text)
    assert f"The rest of round {name} was planned again" in moved.text


def test_whoever_is_on_a_round_of_that_day_is_not_called_twice(client: httpx.Client) -> None:
    keep(client, PLAN, "/enrolment/plan", author="R. Hale")
    again = client.get(PLAN).text
    assert f"{DAY}-1 is this plan already" in again
    assert "“Plan its rest again” on the page Enrolment day" in again
    assert "Make it a round" not in again


def test_whoever_waits_on_a_round_to_come_is_told_with_it_in_the_plan_of_another_day(client: httpx.Client) -> None:
    keep(client, PLAN, "/enrolment/plan", author="R. Hale")
    later = unescape(client.get(PLAN.replace(DAY, "2026-03-12")).text)
    assert f"Joss Fenn is on round {DAY}-1 at MILL-1, which is not over" in later
    assert f'<a href="/rounds/{DAY}-1">See round {DAY}-1</a>' in later
    assert "Joss Fenn: Joss Fenn" not in later
    assert "Make it a round" not in later


def test_what_was_done_is_told_with_what_the_punches_prove(
    client: httpx.Client, workspace: Workspace, tmp_path: Path
) -> None:
    keep(client, PLAN, "/enrolment/plan", author="R. Hale")
    name = f"{DAY}-1"
    item = next(row["item"] for row in see_round(workspace, name).states.iter_rows(named=True) if row["person"] == "P4")
    at = int(MILL_AS_OF.timestamp())
    done = {"outcome": "x", "item": item, "result": "enrolled", "presentations": 3, "author": "Sol", "made_at": at}
    record_outcomes(workspace, name, [done], as_of=MILL_AS_OF, reader="MILL-1")
    page = client.get("/enrolment").text
    assert "0 proved, 1 not yet" in page
    assert re.search(r"Joss Fenn</a>.*?not proved yet", page, re.DOTALL)
    # the first punch under the new number, at 09:30 in New York, half an hour after the enrolment
    (tmp_path / "more.csv").write_text("reader,number,time,direction\nMILL-1,4104,2026-03-09 09:30:00,in\n")
    take_files(workspace, [tmp_path / "more.csv"])
    page = client.get("/enrolment").text
    assert "1 proved, 0 not yet" in page
    assert "Nothing is left to be looked at" in page


def test_coverage_says_whom_a_reader_strands(client: httpx.Client) -> None:
    page = client.get("/enrolment").text.replace("\u00a0", " ")
    # the mill has one reader, so everybody enrolled there is stranded when it fails, and nobody can have a second
    assert re.search(r'Stranded if it fails">3 people', page)
    assert re.search(r"\d people cannot have one: .*Marrow", page)


def test_the_line_at_several_readers_is_told_or_why_not(client: httpx.Client) -> None:
    page = client.get("/enrolment/queue?reader=MILL-1&takes=10&first=2026-03-01&last=2026-03-08").text
    assert "<dt>One person takes</dt><dd>10 s</dd>" in page
    assert client.get("/enrolment/queue/times.csv?reader=MILL-1&wait=0").status_code == 400
    assert "busy enough" in client.get("/enrolment/queue?reader=MILL-1").text
    assert client.get("/enrolment/queue?reader=MILL-1&wait=0").status_code == 400
    assert "there is no reader" in client.get("/enrolment/queue?reader=NOWHERE").text.lower()


def test_the_figures_of_a_line_are_taken_away(twin: Served) -> None:
    with twin.enter() as client:
        reader = re.search(r'name="reader" value="([^"]+)"', client.get("/enrolment/queue").text)
        assert reader
        page = client.get("/enrolment/queue", params={"reader": html.unescape(reader[1]), "takes": "60"}).text
        [file] = re.findall(r'href="(/enrolment/queue/times.csv[^"]*)"', page)
        given = client.get(html.unescape(file))
    assert given.headers["content-type"].startswith("text/csv")
    header, *lines = given.text.splitlines()
    assert header == "quarter,people,least_lost_s,most_lost_s"
    times = [
        f"{int(quarter) // 4:02d}:{int(quarter) % 4 * 15:02d}" for quarter, *_ in (one.split(",") for one in lines)
    ]
    assert times == re.findall(r'<th scope="row">(\d\d:\d\d)</th>', page)


SPANISH_NAMES = ("Mill & Sons", "MILL-1", "MILL-2", "America/New_York", "Mill", "evenhand", "Spring", "R. Hale")


def test_a_day_is_planned_changed_and_looked_at_in_spanish(client: httpx.Client, workspace: Workspace) -> None:
    with workspace.store.reading() as conn:
        names = (*SPANISH_NAMES, *(name for name in frames.people(conn)["name"] if name))
    asked = {name: value for name, value in ASKED.items() if name != "title"}
    plan = f"/enrolment/plan?{urlencode(asked)}&speak="
    assert untranslated(client.get(plan + "en").text, client.get(plan + "es").text, names) == set()
    page = client.get(plan + "es").text
    assert language_of(page) == "es"
    assert 'name="title" maxlength="80" value="Inscripción"' in page
    kept = keep(client, plan + "es", "/enrolment/plan", author="R. Hale", title="Inscripción")
    assert f"R. Hale hizo la ronda {DAY}-1." in kept.text
    assert list_rounds(workspace)["title"].to_list() == ["Enrolment"]  # kept in one language, and said in the reader's
    seen = see_round(workspace, f"{DAY}-1")
    person = next(row["person"] for row in seen.states.iter_rows(named=True) if row["person"])
    for place in (
        "/enrolment?",
        f"/enrolment/change/{DAY}-1?look=yes&absent={person}&",
        "/enrolment/queue?reader=MILL-1&",
    ):
        english, spanish = (client.get(f"{place}speak={one}").text for one in ("en", "es"))
        assert (language_of(english), language_of(spanish)) == ("en", "es")
        assert untranslated(english, spanish, names) == set(), place
    gone = client.get(f"/enrolment/plan?{urlencode({**asked, 'day': '2026-03-01'})}&speak=es").text
    assert "Dom 1 mar 2026: ese día ya pasó; elija hoy o un día por venir. No se planificó nada." in gone
