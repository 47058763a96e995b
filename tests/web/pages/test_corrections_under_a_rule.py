"""The day's forms offer what a correction rests on, show what it asks for, and keep it with the reason.

Sources: 29 CFR 785.22 (sleep in a tour of 24 hours or more), 785.19 (a meal that is interrupted is work).
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from tests.web.conftest import MILL_AS_OF, copied, serving
from tests.web.pages.test_hours import text_of
from tests.web.pages.test_money import decided

DAY = "/hours/P1/2026-03-02"


@pytest.fixture
def client(mill_directory: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[httpx.Client]:
    with serving(copied(mill_directory, tmp_path_factory), MILL_AS_OF) as served, served.enter() as entered:
        yield entered


def offered(page: str, action: str) -> list[str]:
    """Return the values that the form of an action offers as what it rests on."""
    return re.findall(
        r'<option value="([^"]*)"', page.split(f'id="rule-{action}"')[1].split("</select>", maxsplit=1)[0]
    )


def test_each_form_offers_the_rules_that_it_may_rest_on(client: httpx.Client) -> None:
    page = client.get(DAY).text
    assert offered(page, "add") == ["", "sleep", "interrupted_meal"]
    assert offered(page, "leave_out") == ["", "interrupted_meal"]
    # Which way a punch went rests on no such rule.
    assert 'name="rule"' not in page.split('aria-labelledby="form-way"')[1].split("</form>")[0]


def test_what_the_rule_asks_for_is_shown_and_kept_with_the_reason(client: httpx.Client) -> None:
    # The 32 minutes between the punches of noon are paid once the punch out is left out and the one back too.
    punch = re.search(r'<option value="(\d+)">12:00 out', client.get(DAY).text)
    assert punch is not None
    asked = {"action": "leave_out", "punch": punch[1], "rule": "interrupted_meal"}
    preview = client.get(f"{DAY}/correct", params=asked).text
    says = "a meal that was interrupted by work is work: 29 CFR 785.19"
    assert f"Kept with the reason: {says}. Whether that is so, somebody says and stands for" in text_of(preview)
    form = decided(preview, client, author="R. Hale", reason="called to the saw")
    assert client.post(f"{DAY}/correct", data=form).status_code == 303
    assert f"“called to the saw ({says})”" in html.unescape(client.get(DAY).text)


def test_sleep_that_does_not_fit_its_rule_is_told_before_it_is_left_out(client: httpx.Client) -> None:
    asked = {"action": "add", "on": "2026-03-02", "at": "13:00", "direction": "out", "rule": "sleep"}
    preview = text_of(client.get(f"{DAY}/correct", params=asked).text)
    assert "Kept with the reason: sleep left out under 29 CFR 785.22" in preview
    assert "add the other one too" in preview


@pytest.mark.parametrize(
    ("rule", "says"),
    [
        ("siesta", "is no rule that a correction may rest on; use one of sleep, interrupted_meal"),
        ("sleep", " correction for sleep cannot be of this kind: add an out where it begins"),
    ],
)
def test_a_rule_that_it_cannot_rest_on_is_refused(client: httpx.Client, rule: str, says: str) -> None:
    punch = re.search(r'<option value="(\d+)">12:00 out', client.get(DAY).text)
    assert punch is not None
    asked = {"action": "leave_out", "punch": punch[1], "rule": rule}
    refused = client.get(f"{DAY}/correct", params=asked)
    assert refused.status_code == 409
    assert says in html.unescape(refused.text)
