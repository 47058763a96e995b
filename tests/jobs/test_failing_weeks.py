"""A week whose recorded time and steps do not make what is paid is shown nowhere and keeps its period from payroll."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from evenhand.cli import evenhand
from evenhand.jobs.access import access_report
from evenhand.jobs.correct import CorrectionRequest
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.signing import confirm
from evenhand.jobs.statement_codes import find_code, issue_code
from evenhand.jobs.workspace import Workspace
from evenhand.law.jurisdiction import Pass
from evenhand.law.jurisdictions import JURISDICTIONS
from evenhand.law.site import Site
from evenhand.law.spans import Spans
from evenhand.store import frames
from evenhand.terms.records import Refusal
from tests.jobs.asked import civil_instant, correct, hand_off, hours_between, person_week, preview_correction
from tests.jobs.workplaces import made
from tests.web.conftest import serving

NOW = datetime(2026, 11, 9, 14, 0, tzinfo=UTC)
WEEK = date(2026, 11, 1)


def drop_a_second(spans: Spans, site: Site) -> Spans:
    """Pay the first person's first span a second less and say nothing of it."""
    pay_at = spans.pay_at.copy()
    pay_at[0] += 1
    return replace(spans, pay_at=pay_at)


@pytest.fixture
def workspace(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Workspace]:
    shipped = JURISDICTIONS["us_federal"]
    place = [rule.name for rule in shipped.rules].index("us_federal.rounding") + 1
    rules = (*shipped.rules[:place], Pass("us_federal.faulty", (), "moves", drop_a_second), *shipped.rules[place:])
    monkeypatch.setitem(JURISDICTIONS, "us_federal", replace(shipped, rules=rules))
    opened = made(tmp_path)
    yield opened
    opened.close()


def test_a_failing_week_is_in_no_frame_and_the_others_are(workspace: Workspace) -> None:
    hours = hours_between(workspace, WEEK, WEEK)
    (failing,) = hours.failing.rows(named=True)
    for frame in (hours.weeks, hours.classed):
        assert failing["person"] not in frame["person"]
        assert frame.height
    assert failing["recorded_s"] + failing["steps_s"] - failing["paid_s"] == 1


def test_doors_refuse_it_in_one_sentence(workspace: Workspace) -> None:
    (failing,) = hours_between(workspace, WEEK, WEEK).failing.rows(named=True)
    with pytest.raises(Refusal, match=r"do not make .* paid\. That is a fault of this program"):
        person_week(workspace, failing["person"], date(2026, 11, 4))
    with pytest.raises(Refusal, match="a fault of this program"):
        hand_off(workspace, as_of=NOW, despite=True, author="Kim")
    listed = CliRunner().invoke(evenhand, ["-w", str(workspace.directory), "hours", "--week", WEEK.isoformat()])
    assert listed.exit_code == 0
    assert f"Not shown: {failing['person']}, week of {WEEK}" in listed.stderr


def test_a_person_is_given_the_rest_of_what_is_held_on_them(workspace: Workspace) -> None:
    (failing,) = hours_between(workspace, WEEK, WEEK).failing.rows(named=True)
    told = next(one for one in access_report(workspace, failing["person"], as_of=NOW).parts if one.name == "hours")
    assert "a fault of this program" in told.note


def test_no_correction_is_foreseen_in_it(workspace: Workspace) -> None:
    (failing,) = hours_between(workspace, WEEK, WEEK).failing.rows(named=True)
    at = civil_instant(workspace, failing["person"], "2026-11-04T18:00")
    asked = CorrectionRequest("add", failing["person"], "Ada", "stayed", at=at, direction="in")
    with pytest.raises(Refusal, match="a fault of this program"):
        preview_correction(workspace, asked, as_of=NOW)
    with pytest.raises(Refusal, match="a fault of this program"):
        correct(workspace, asked, as_of=NOW)
    with workspace.store.reading() as conn:
        assert frames.corrections(conn).is_empty()


def test_the_page_of_everybodys_hours_names_it(workspace: Workspace) -> None:
    with serving(workspace, NOW) as served, served.enter() as client:
        page = client.get(f"/hours?week={WEEK}").text
    assert "a fault of this program" in page
    assert "Not shown: P" in page


def test_a_signed_week_that_fails_is_told_in_the_preview_of_another(
    workspace: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    (failing,) = hours_between(workspace, WEEK, WEEK).failing.rows(named=True)
    person = failing["person"]
    faulty = JURISDICTIONS["us_federal"]
    monkeypatch.setitem(JURISDICTIONS, "us_federal", replace(faulty, rules=tuple(_sound(faulty.rules))))
    code = issue_code(workspace, reckon_period(workspace, NOW), person, as_of=NOW)
    found = find_code(workspace, code, as_of=NOW)
    confirm(workspace, reckon_period(workspace, NOW), found, way="paper", author="Vera", as_of=NOW)
    monkeypatch.setitem(JURISDICTIONS, "us_federal", faulty)
    at = civil_instant(workspace, person, "2026-11-09T08:00")
    asked = CorrectionRequest("add", person, "Ada", "came at eight", at=at, direction="in")
    (told,) = preview_correction(workspace, asked, as_of=NOW).undoes
    assert told.startswith("Whether this undoes the confirmation of the hours of")
    assert "the workweek of Sun 1 Nov 2026 does not add up, which is a fault of this program" in told


def _sound(rules: tuple[Any, ...]) -> list[Any]:
    return [rule for rule in rules if rule.name != "us_federal.faulty"]
