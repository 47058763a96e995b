"""Readers are shown with their standing, and with the steps to carry to them."""

from __future__ import annotations

import html
import re
from collections.abc import Callable

import httpx
import polars as pl
import pytest

from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.taking_off import steps_told


def text_of(page: str) -> str:
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", page)).replace("\u00a0", " ").split())


def test_a_reader_shows_what_it_holds_and_what_passed(at_mill: httpx.Client) -> None:
    page = at_mill.get("/readers").text
    assert "3 of 50 places in use" in page
    # 9 punches on Monday and Tuesday, none refused: 2 March saw 7 of them, the busiest day.
    assert re.search(r"Presentations a day from [^:]+: 0 to 7, 0 on the last", page)
    assert "of 9 (0 %)</span>" in page


def test_a_readers_steps_stand_in_order_with_a_box_to_tick(at_mill: httpx.Client) -> None:
    page = at_mill.get("/readers/MILL-1").text
    # Joss Fenn, 4104, works at the mill and is on none of its readers.
    assert re.search(
        r"<strong>Enrol</strong> <span class=\"big number\"><a href=\"/numbers/4104\">4104</a></span>", page
    )
    assert page.count('class="tick-box"') == page.count('class="big number"')
    assert "Consent comes before enrolment" in page


def test_a_step_that_must_wait_says_so_on_the_page(at_mill: httpx.Client, monkeypatch: pytest.MonkeyPatch) -> None:
    def held(reckoning: Reckoning, steps: pl.DataFrame, say: Callable[[str], str]) -> pl.DataFrame:
        told = steps_told(reckoning, steps, say)
        return told.with_columns(waits=pl.when(pl.col("position") == 1).then(pl.lit("Not yet: nobody saw them.")))

    monkeypatch.setattr("evenhand.web.pages.readers.page.steps_told", held)
    page = at_mill.get("/readers/MILL-1").text
    assert "<strong>Not yet: nobody saw them.</strong>" in page
    assert "Leave undone what says not yet" in page
    assert page.count('class="tick-box"') == page.count('class="big number"') - 1


def test_a_reader_shows_who_may_enrol_others_there_and_what_proves_it(at_mill: httpx.Client) -> None:
    page = text_of(at_mill.get("/readers/MILL-1").text)
    who = page[page.index("Who may enrol others here") :]
    # both punched on 2 March 2026, after their enrolment there on 5 January: 16:08 and 17:00 in New York
    assert "4101 Tess Marrow by its list Mon 5 Jan 2026" in who
    assert "16:08" in who
    assert "4103 <b>Ines</b> Quill by its list" in who
    assert who.count("If they leave") == 2
    assert "never" not in who


def test_what_comes_before_a_supervisor_goes_stands_in_order(at_mill: httpx.Client) -> None:
    page = text_of(at_mill.get("/succession/P1").text)
    assert "Before Tess Marrow stops being a supervisor" in page
    assert "Proved there and staying: <b>Ines</b> Quill (P3)." in page
    refused = at_mill.get("/succession/P2")
    assert refused.status_code == 409
    assert "may enrol others at no reader" in refused.text
    assert at_mill.get("/succession/P77").status_code == 404
