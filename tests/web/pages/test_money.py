"""Pay on the pages: a week's lines, a day's worth, before and after a correction, and the statement to take away."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from tests.web.conftest import MILL_AS_OF, Served, _copied, serving, taken
from tests.web.pages.test_hours import text_of

RATES = "person,valid from,pay rate\nP1,2026-01-01,20.00\nP2,2026-01-01,18.00\n"


@pytest.fixture(scope="module")
def paid(mill_directory: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    workspace = _copied(mill_directory, tmp_path_factory)
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


def test_a_week_without_a_rate_says_so_and_shows_no_sum(client: httpx.Client) -> None:
    page = text_of(client.get("/hours/P3?week=2026-03-02").text)
    assert "No one rate of pay holds on 2026-03-02." in page
    assert "All pay of the week" not in page


def test_a_correction_shows_pay_before_and_after(client: httpx.Client) -> None:
    # P2 has 8 h at 18.00; an out at 15:00 on Monday makes 8 h more.
    asked = "/hours/P2/2026-03-02/correct?action=add&on=2026-03-02&at=15:00&direction=out"
    page = text_of(client.get(asked).text)
    assert "Pay 144.00 288.00 +144.00" in page


def test_the_statement_is_given_away_as_pdf(client: httpx.Client) -> None:
    page = client.get("/hours/P1?week=2026-03-02").text
    (link,) = re.findall(r'href="([^"]+statement\.pdf[^"]+)"', page)
    answer = client.get(link)
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.headers["content-disposition"] == 'attachment; filename="statement-2026-03-01-to-2026-03-07.pdf"'
    assert answer.content[:5] == b"%PDF-"


def test_a_statement_of_nobody_is_refused(client: httpx.Client) -> None:
    assert client.get("/hours/P99/statement.pdf").status_code == 404
