"""A pay week from files to payroll, by hand arithmetic and the Labor Department's clock-change example."""

from __future__ import annotations

import csv
import hashlib
from datetime import UTC, date, datetime

import openpyxl
import polars as pl
import pytest

from evenhand.jobs.correct import CorrectionRequest
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.terms.records import Refusal
from tests.jobs.asked import (
    civil_instant,
    correct,
    day_hours,
    find_today,
    hand_off,
    hours_between,
    person_week,
    preview_correction,
    settle,
)

NOW = datetime(2026, 11, 9, 14, 0, tzinfo=UTC)  # Monday morning in New York, three hours before the deadline
WEEK = date(2026, 11, 1)


def seconds(hours: float) -> int:
    return round(hours * 3600)


def test_a_short_rest_is_paid_and_the_week_past_forty_hours_is_overtime(shared: Workspace) -> None:
    # Five times 2 h and 6 h 40 recorded, 20 minutes of rest paid (29 CFR 785.18): 45 h, 5 of them past 40.
    week = person_week(shared, "P1", date(2026, 11, 4))
    assert week.workweek == WEEK
    assert week.totals == {
        "recorded_s": 5 * (7200 + 24_000),
        "ordinary_s": seconds(40),
        "overtime_s": seconds(5),
        "double_s": 0,
    }


def test_a_night_over_the_autumn_change_is_paid_for_the_time_that_passed(shared: Workspace) -> None:
    # The Labor Department's example: 23:00 to 07:30 with half an hour's meal is 9 h in autumn, not 8 (elaws advisor).
    # One hour falls before midnight of Saturday, into the workweek before.
    before = person_week(shared, "P2", date(2026, 10, 31)).totals
    after = person_week(shared, "P2", date(2026, 11, 1)).totals
    assert before["ordinary_s"] == seconds(1)
    assert after["ordinary_s"] == seconds(8)


def test_a_day_adds_up_from_recorded_time_to_paid_time(shared: Workspace) -> None:
    day = day_hours(shared, "Ida", date(2026, 11, 6))
    assert day.paid_s == seconds(9)
    assert day.recorded_s == seconds(9) - 20 * 60
    assert day.steps_s == 20 * 60
    assert {step.cites for step in day.steps} >= {"29 USC 207(a)(1); 29 CFR 778.101"}
    assert day.punches.height == 4


def test_a_missing_punch_is_a_question_and_pays_only_what_is_known(shared: Workspace) -> None:
    week = person_week(shared, "2290", date(2026, 11, 4))
    assert week.totals["ordinary_s"] == seconds(8)
    assert week.hours.questions["kind"].to_list() == ["missing_out"]


def test_today_asks_for_the_missing_punch_and_keeps_pay_back(shared: Workspace) -> None:
    today = find_today(shared, NOW)
    assert (today.period.first, today.period.last) == (WEEK, date(2026, 11, 7))
    (missing,) = (finding for finding in today.findings if finding.code == "missing_punch")
    assert missing.person == "P3"
    assert missing.day == date(2026, 11, 4)
    assert missing in today.blockers


def test_handoff_is_refused_while_a_finding_keeps_pay_back(workspace: Workspace) -> None:
    with pytest.raises(Refusal, match="1 finding keeps Sun 1 to Sat 7 Nov 2026 from payroll"):
        hand_off(workspace, as_of=NOW)
    assert list(workspace.handoff.iterdir()) == []


def test_handoff_despite_findings_lists_them_in_the_note(workspace: Workspace) -> None:
    made = hand_off(workspace, as_of=NOW, despite=True, author="Ada")
    note = made.note.read_text(encoding="utf-8")
    assert "Written despite 1 open findings:" in note
    assert "missing_punch/P3/2026-11-04" in note
    assert made.digest in note
    assert "local codes, agreements and licensed counsel decide" in note


def test_a_correction_shows_before_and_after_and_leaves_the_punches_as_they_were(workspace: Workspace) -> None:
    with workspace.store.reading() as conn:
        before = frames.recorded(conn)
    at = civil_instant(workspace, "P3", "2026-11-04T16:10")
    asked = CorrectionRequest("add", "P3", "Ada", "forgot, seen leaving by R. Okoro", at=at, direction="out")
    seen = preview_correction(workspace, asked, as_of=NOW)
    assert (seen.ordinary_before_s, seen.ordinary_after_s) == (seconds(8), seconds(8) + 29_400)
    assert (seen.questions_before, seen.questions_after) == (1, 0)
    correct(workspace, asked, as_of=NOW)
    with workspace.store.reading() as conn:
        assert frames.recorded(conn).equals(before)
    assert person_week(workspace, "P3", date(2026, 11, 4)).totals["ordinary_s"] == seconds(8) + 29_400
    assert find_today(workspace, NOW).blockers == []


def test_payroll_gets_the_same_rows_as_csv_and_xlsx_with_their_total(workspace: Workspace) -> None:
    at = civil_instant(workspace, "P3", "2026-11-04T16:00")
    correct(workspace, CorrectionRequest("add", "P3", "Ada", "forgot", at=at, direction="out"), as_of=NOW)
    made = hand_off(workspace, as_of=NOW, author="Ada")
    with made.csv.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [(row["Person"], row["Ordinary hours"], row["Overtime hours"]) for row in rows] == [
        ("P1", "40.00", "5.00"),
        ("P2", "8.00", "0.00"),
        ("P3", "16.00", "0.00"),
    ]
    sheet = openpyxl.load_workbook(made.files[0].xlsx).active
    assert sheet is not None
    read = list(sheet.iter_rows(min_row=2, values_only=True))
    assert [(row[0], row[4], row[5]) for row in read] == [("P1", 40, 5), ("P2", 8, 0), ("P3", 16, 0)]
    assert (made.files[0].total.rows, made.files[0].total.ordinary_s, made.files[0].total.overtime_s) == (
        3,
        seconds(64),
        seconds(5),
    )
    assert made.despite == ()


def test_the_same_sources_give_the_same_digest_and_a_correction_another(workspace: Workspace) -> None:
    first = hand_off(workspace, as_of=NOW, despite=True)
    again = hand_off(workspace, as_of=NOW, despite=True, replace_why="the file was lost")
    assert first.digest == again.digest
    assert len(first.digest) == hashlib.sha256().digest_size * 2
    at = civil_instant(workspace, "P3", "2026-11-04T16:00")
    correct(workspace, CorrectionRequest("add", "P3", "Ada", "forgot", at=at, direction="out"), as_of=NOW)
    assert hand_off(workspace, as_of=NOW, replace_why="a punch was forgotten").digest != first.digest


def test_a_settled_finding_stays_away_and_is_named_in_the_note(workspace: Workspace) -> None:
    settle(workspace, "missing_punch/P3/2026-11-04", author="Ada", reason="went home sick at once", as_of=NOW)
    assert find_today(workspace, NOW).blockers == []
    made = hand_off(workspace, as_of=NOW)
    assert "went home sick at once (Ada)" in made.note.read_text(encoding="utf-8")


def test_a_period_that_has_not_ended_is_not_handed_off(workspace: Workspace) -> None:
    with pytest.raises(Refusal, match="Sun 8 to Sat 14 Nov 2026 has not ended"):
        hand_off(workspace, as_of=NOW, period_day=date(2026, 11, 9), despite=True)


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        (CorrectionRequest("add", "P3", "", "why", at=NOW), "give both"),
        (CorrectionRequest("add", "P3", "Ada", "why"), "give the time it should have"),
        (CorrectionRequest("add", "P3", "Ada", "why", at=datetime(2027, 1, 1, tzinfo=UTC)), "lies in the future"),
        (CorrectionRequest("leave_out", "P3", "Ada", "why"), "give the punch's number"),
        (CorrectionRequest("leave_out", "P3", "Ada", "why", punch=1), "punch 1 is not one of P3's"),
        (CorrectionRequest("add", "P9", "Ada", "why", at=NOW), 'nobody on the roster answers to "P9"'),
    ],
)
def test_a_correction_that_is_not_whole_is_refused(shared: Workspace, asked: CorrectionRequest, sentence: str) -> None:
    with pytest.raises(Refusal, match=sentence):
        preview_correction(shared, asked, as_of=NOW)


def test_a_time_that_clocks_skip_or_repeat_is_asked_about(shared: Workspace) -> None:
    with pytest.raises(Refusal, match="clocks in America/New_York showed 01:30 twice"):
        civil_instant(shared, "P3", "2026-11-01T01:30")
    with pytest.raises(Refusal, match="clocks in America/New_York skipped 02:30"):
        civil_instant(shared, "P3", "2026-03-08T02:30")
    assert civil_instant(shared, "P3", "2026-11-01T01:30-05:00").timestamp() == 1_793_514_600


def test_hours_of_one_week_are_the_same_alone_and_among_others(shared: Workspace) -> None:
    alone = hours_between(shared, WEEK, WEEK).weeks
    among = hours_between(shared, date(2026, 10, 4), date(2026, 11, 29)).weeks.filter(pl.col("workweek") == WEEK)
    assert alone.sort("person").equals(among.sort("person"))


def test_the_same_correction_is_made_once(workspace: Workspace) -> None:
    at = civil_instant(workspace, "P3", "2026-11-04T16:00")
    asked = CorrectionRequest("add", "P3", "Ada", "forgot", at=at, direction="out")
    number, _ = correct(workspace, asked, as_of=NOW)
    with pytest.raises(Refusal, match=f"correction {number} says this already"):
        correct(workspace, asked, as_of=NOW)
