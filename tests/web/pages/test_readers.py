"""Readers are shown with their standing, and with the steps to carry to them."""

from __future__ import annotations

import re

import httpx


def test_a_reader_shows_what_it_holds_and_what_passed(at_mill: httpx.Client) -> None:
    page = at_mill.get("/readers").text
    assert "3 of 50 places in use" in page
    # 9 punches on Monday and Tuesday, none refused: 2 March saw 7 of them, the busiest day.
    assert re.search(r"Presentations a day from [^:]+: 0 to 7, 0 on the last", page)
    assert "of 9</span>" in page


def test_a_readers_steps_stand_in_order_with_a_box_to_tick(at_mill: httpx.Client) -> None:
    page = at_mill.get("/readers/MILL-1").text
    # Joss Fenn, 4104, works at the mill and is on none of its readers.
    assert re.search(r"<strong>Enrol</strong> <span class=\"big number\">4104</span>", page)
    assert page.count('class="tick-box"') == page.count('class="big number"')
    assert "Consent comes before enrolment" in page
