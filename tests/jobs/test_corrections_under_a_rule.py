"""Sleep left out and interrupted meals as corrections: what the rule wants, what is kept, and what payroll is told."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import polars as pl
import pytest

from evenhand.jobs.correct import CorrectionRequest
from evenhand.jobs.rebuild import rebuild
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.settings import write_settings
from evenhand.terms.records import Refusal
from tests.jobs.asked import correct, day_hours, hand_off, person_week, preview_correction
from tests.jobs.workplaces import made

NOW, DAY, H = datetime(2026, 11, 9, 14, tzinfo=UTC), date(2026, 11, 2), 3600
SAID = {"author": "Ada", "reason": "by agreement"}
KEPT = (
    "by agreement (sleep left out under 29 CFR 785.22: a tour of 24 hours or more, an agreement, a place to sleep, 8 "
    "hours at most, 5 or more of them slept without a call)"
)


@pytest.fixture
def hall(tmp_path: Path) -> Iterator[Workspace]:
    """P1 is on duty for 24 hours from Monday at eight, P2 for 20; P3 has a meal from twelve to half past."""
    rows = [
        "GATE,0042,2026-11-02 08:00:00,in", "GATE,0042,2026-11-03 08:00:00,out",
        "GATE,7315,2026-11-02 12:00:00,in", "GATE,7315,2026-11-03 08:00:00,out",
        "GATE,2290,2026-11-04 08:00:00,in", "GATE,2290,2026-11-04 12:00:00,out",
        "GATE,2290,2026-11-04 12:30:00,in", "GATE,2290,2026-11-04 16:30:00,out",
    ]  # fmt: skip
    opened = made(tmp_path, ["reader,number,at,direction", *rows])
    policy = replace(opened.settings.policy, longest_span_s=25 * H, long_span_s=25 * H)
    write_settings(opened.settings_file, replace(opened.settings, policy=policy))
    yield opened
    opened.close()


def at(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=ZoneInfo("America/New_York"))


def sleep(workspace: Workspace, person: str, begins: str, ends: str) -> tuple[str, ...]:
    """Leave sleep out between two times; return what is said not to fit, once both its ends are there."""
    first = CorrectionRequest("add", person, **SAID, at=at(begins), direction="out", rule="sleep")
    _, seen = correct(workspace, first, as_of=NOW)
    assert any("add the other one too" in says for says in seen.warnings)
    second = replace(first, at=at(ends), direction="in")
    warned = preview_correction(workspace, second, as_of=NOW).warnings
    correct(workspace, second, as_of=NOW)
    return warned


def recorded_h(workspace: Workspace, person: str) -> float:
    return person_week(workspace, person, DAY).totals["recorded_s"] / H


def test_eight_hours_of_sleep_are_left_out_of_a_tour_of_twenty_four(hall: Workspace) -> None:
    # 29 CFR 785.22(a): of 24 hours on duty up to 8 hours of sleep are left out by agreement: 16 are paid, not 24.
    assert recorded_h(hall, "P1") == 24
    assert sleep(hall, "P1", "2026-11-02T22:00", "2026-11-03T06:00") == ()
    assert recorded_h(hall, "P1") == 16
    with hall.store.reading() as conn:
        assert frames.corrections(conn)["reason"].to_list() == [KEPT, KEPT]
    assert rebuild(hall, True, as_of=NOW).differing == 0
    assert day_hours(hall, "P1", DAY).recorded_s == 14 * H


@pytest.mark.parametrize(
    ("person", "begins", "ends", "says"),
    [
        # 29 CFR 785.21: less than 24 hours on duty, here 20. 785.22(a): no more than 8 hours. (b): at least 5 of them.
        ("P2", "2026-11-02T22:00", "2026-11-03T04:00", "The tour lasts 20 h: on duty for less than 24 hours"),
        ("P1", "2026-11-02T21:59", "2026-11-03T06:00", "8 h 01 min of sleep: no more than 8 hours"),
        ("P1", "2026-11-02T23:00", "2026-11-03T03:59", "4 h 59 min of sleep: without 5 hours of it"),
    ],
)
def test_sleep_that_does_not_fit_its_rule_is_said(
    hall: Workspace, person: str, begins: str, ends: str, says: str
) -> None:
    (warned,) = sleep(hall, person, begins, ends)
    assert warned.startswith(says)


def test_five_hours_are_enough(hall: Workspace) -> None:
    assert sleep(hall, "P1", "2026-11-02T23:00", "2026-11-03T04:00") == ()


def test_an_interrupted_meal_is_work_and_payroll_is_told_both(hall: Workspace) -> None:
    # 29 CFR 785.19: a meal period is none where the person is not relieved: 8 h 30 min, not 8 h.
    assert recorded_h(hall, "P3") == 8
    with hall.store.reading() as conn:
        punches = frames.recorded(conn).filter(
            pl.col("at").is_in([int(at(f"2026-11-04T12:{minute}").timestamp()) for minute in ("00", "30")])
        )["punch"]
    for punch in punches:
        asked = CorrectionRequest("leave_out", "P3", "Ada", "called to the gate", punch=punch, rule="interrupted_meal")
        correct(hall, asked, as_of=NOW)
    assert recorded_h(hall, "P3") == 8.5
    sleep(hall, "P1", "2026-11-02T22:00", "2026-11-03T06:00")
    note = hand_off(hall, as_of=NOW, period_day=DAY, despite=True).note.read_text(encoding="utf-8")
    told = note[note.index("Corrections that rest on a rule:") :].splitlines()[1:5]
    meal = "P3, 2026-11-04: called to the gate (a meal that was interrupted by work is work: 29 CFR 785.19) (Ada)"
    assert told == [f"  P1, 2026-11-02: {KEPT} (Ada)", f"  P1, 2026-11-03: {KEPT} (Ada)", f"  {meal}", f"  {meal}"]


def test_a_rule_rests_on_what_it_is_about(hall: Workspace) -> None:
    punch = int(day_hours(hall, "P1", DAY).punches["punch"][0])
    asked = CorrectionRequest("leave_out", "P1", **SAID, punch=punch, rule="sleep")
    with pytest.raises(Refusal, match="add an out where it begins and an in where it ends"):
        preview_correction(hall, asked, as_of=NOW)
