"""Pay on the pages: a week's lines, a day's worth, before and after a correction, and the statement to take away."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import httpx
import pytest

from evenhand.jobs.handoff import hand_off
from evenhand.jobs.reckoning import reckon_period
from evenhand.store.settings import write_settings
from evenhand.terms.settings import SiteRules
from tests.web.conftest import MILL_AS_OF, Served, copied, serving, taken
from tests.web.pages.test_hours import text_of

RATES = "person,valid from,pay rate\nP1,2026-01-01,20.00\nP2,2026-01-01,18.00\n"


@pytest.fixture(scope="module")
def paid(mill_directory: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    workspace = copied(mill_directory, tmp_path_factory)
    file = tmp_path_factory.mktemp("rates") / "rates.csv"
    file.write_text(RATES)
    taken(workspace, [file])
    with serving(workspace, MILL_AS_OF) as served:
        yield served


@pytest.fixture
def client(paid: Served) -> Iterator[httpx.Client]:
    with paid.enter() as entered:
        yield entered


def test_a_week_shows_its_pay_line_by_line(client: httpx.Client) -> None:
    # 7 h 45 min at 20.00 are 155.00.
    page = text_of(client.get("/hours/P1?week=2026-03-02").text)
    assert "Hourly pay 7 h 45 min 20.0000 29 CFR 778.110(a), 778.115 155.00" in page
    assert "All pay of the week 155.00 Regular rate 20.0000 an hour" in page


def test_a_day_shows_what_it_is_worth(client: httpx.Client) -> None:
    page = text_of(client.get("/hours/P1/2026-03-02").text)
    assert "Hourly pay 7 h 45 min 20.0000 155.00" in page


@pytest.fixture
def from_noon(mill_directory: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The mill with workweeks from Sunday noon, and five days of eight hours before Sunday 1 March, which has eight."""
    workspace = copied(mill_directory, tmp_path_factory)
    rules = SiteRules("Mill", "America/New_York", workweek_s=12 * 3600)
    write_settings(workspace.settings_file, replace(workspace.settings, sites={"Mill": rules}))
    days = [f"2026-02-{day}" for day in range(23, 28)] + ["2026-03-01"]
    punches = [f"MILL-1,4101,{day} {at}:00,{way}\n" for day in days for at, way in (("08:00", "in"), ("16:00", "out"))]
    folder = tmp_path_factory.mktemp("noon")
    (folder / "rates.csv").write_text(RATES)
    (folder / "earlier.csv").write_text("reader,number,time,direction\n" + "".join(punches))
    taken(workspace, [folder / "rates.csv", folder / "earlier.csv"])
    with serving(workspace, MILL_AS_OF) as served:
        yield served


def test_a_day_that_two_workweeks_share_is_worth_what_it_adds_to_both(from_noon: Served) -> None:
    # Four hours past the 40 of the week that ends at noon, at 20.00 and half of it; four straight in the next.
    with from_noon.enter() as client:
        page = text_of(client.get("/hours/P1/2026-03-01").text)
    assert "Paid: 8 h recorded + 0 min by rules 8 h" in page
    worth = page[page.index("What the day is worth") :]
    assert "Hourly pay, week of Sun 22 Feb 4 h 20.0000 80.00" in worth
    assert "beyond straight pay, week of Sun 22 Feb 4 h 10.0000 40.00" in worth
    assert "Hourly pay, week of Sun 1 Mar 4 h 20.0000 80.00" in worth
    assert len(re.findall(r"\d\.\d{4} \d+\.\d\d", worth)) == 3


def test_a_week_without_a_rate_says_so_and_shows_no_sum(client: httpx.Client) -> None:
    page = text_of(client.get("/hours/P3?week=2026-03-02").text)
    assert "No one rate of pay holds on Mon 2 Mar 2026." in page
    assert "All pay of the week" not in page


def test_a_correction_shows_pay_before_and_after(client: httpx.Client) -> None:
    # P2 has 8 h at 18.00; an out at 15:00 on Monday makes 8 h more.
    asked = "/hours/P2/2026-03-02/correct?action=add&on=2026-03-02&at=15:00&direction=out"
    page = text_of(client.get(asked).text)
    assert "Pay 144.00 288.00 + 144.00" in page


def test_the_statement_is_given_away_as_pdf(client: httpx.Client) -> None:
    page = client.get("/hours/P1?week=2026-03-02").text
    (link,) = re.findall(r'href="([^"]+statement\.pdf[^"]+)"', page)
    answer = client.get(link)
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.headers["content-disposition"] == 'attachment; filename="statement-2026-03-01-to-2026-03-07.pdf"'
    assert answer.content[:5] == b"%PDF-"


def test_a_statement_of_nobody_is_refused(client: httpx.Client) -> None:
    assert client.get("/hours/P99/statement.pdf").status_code == 404


def test_hours_owed_are_entered_and_struck_on_the_day(
    mill_directory: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    # Labor Code 226.7(c): an hour for missed rest periods, which no punch shows; 155.00 and 20.00 are 175.00.
    workspace = copied(mill_directory, tmp_path_factory)
    file = tmp_path_factory.mktemp("rates") / "rates.csv"
    file.write_text(RATES)
    taken(workspace, [file])
    with serving(workspace, MILL_AS_OF) as served, served.enter() as client:
        said = {"action": "owe", "kind": "rest", "hours": "1"}
        day = client.get("/hours/P1/2026-03-02").text
        # Nothing is owed or presumed on the day: the form stands closed, under what it is for.
        assert "<details" in day
        assert '<details class="settle">\n<summary>Strike or enter an hour of pay' in day
        preview = client.get("/hours/P1/2026-03-02/premium", params=said).text
        assert "Enter 1 h owed for rest, Mon 2 Mar?" in html.unescape(text_of(preview))
        assert "Owed: rest 0.00 h 1.00 h + 1.00 h" in text_of(preview)
        assert "Pay 155.00 175.00 + 20.00" in text_of(preview)
        assert "Kept with the reason" not in preview
        form = decided(preview, client, author="R. Hale", reason="no rest was given")
        unsigned = client.post("/hours/P1/2026-03-02/premium", data=form | {"author": ""})
        assert unsigned.status_code == 400
        made = client.post("/hours/P1/2026-03-02/premium", data=form)
        assert (made.status_code, made.headers["location"]) == (303, "/hours/P1/2026-03-02")
        day = client.get("/hours/P1/2026-03-02").text
        assert '<details class="settle" open>\n<summary>Strike or enter an hour of pay' in day
        page = text_of(day)
        assert "Decision 1 made by R. Hale: 1 h owed for rest, 0 h before." in page
        assert "1.0 h of pay owed: entered by R. Hale: no rest was given Cal. Labor Code 226.7(c)" in page
        assert "Rest: 1.0 h owed, “no rest was given” R. Hale" in page
        assert "All pay of the week 175.00" in text_of(client.get("/hours/P1?week=2026-03-02").text)
        # The same form again says what was not so any more when it was sent.
        again = client.post("/hours/P1/2026-03-02/premium", data=form | {"action": "strike", "hours": ""})
        assert again.status_code == 409
        assert "R. Hale has decided about these hours of Tess Marrow meanwhile" in html.unescape(again.text)
        preview = client.get("/hours/P1/2026-03-02/premium", params={"action": "strike", "kind": "rest"}).text
        struck = decided(preview, client, author="R. Hale", reason="it was given")
        assert client.post("/hours/P1/2026-03-02/premium", data=struck).status_code == 303
        assert "All pay of the week 155.00" in text_of(client.get("/hours/P1?week=2026-03-02").text)


def test_hours_owed_in_a_closed_period_are_foreseen_apart(
    mill_directory: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    workspace = copied(mill_directory, tmp_path_factory)
    file = tmp_path_factory.mktemp("rates") / "rates.csv"
    file.write_text(RATES)
    taken(workspace, [file])
    hand_off(workspace, reckon_period(workspace, MILL_AS_OF), as_of=MILL_AS_OF, despite=True, author="R. Hale")
    with serving(workspace, MILL_AS_OF) as served, served.enter() as client:
        said = {"action": "owe", "kind": "rest", "hours": "1"}
        page = text_of(client.get("/hours/P1/2026-03-02/premium", params=said).text)
    assert "In periods that payroll has already" in page
    assert "In periods not handed off yet" not in page
    assert "payroll has hours-2026-03-01-to-2026-03-07.csv" in page


def decided(preview: str, client: httpx.Client, *, author: str, reason: str) -> dict[str, str]:
    """Return what the form of a preview sends, signed."""
    form = preview.split('<form class="sign"')[1].split("</form>", maxsplit=1)[0]
    hidden = re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', form)
    return {name: html.unescape(value) for name, value in hidden} | {"author": author, "reason": reason}
