"""What each decision writes, what it shows first, and what it refuses: corrections, files for payroll, strays."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

import openpyxl
import polars as pl
import pytest

from evenhand.jobs.correct import CorrectionRequest, reckon_around
from evenhand.jobs.mending_steps import mending_steps
from evenhand.jobs.stray_decisions import confirm_above, reject_candidate, undo_stray
from evenhand.jobs.strays import proposal_of
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions, frames
from evenhand.terms.records import Refusal
from tests.jobs import test_strays as strays
from tests.jobs.asked import civil_instant, correct, decide, find_strays, hand_off, person_week, preview_correction

NOW = datetime(2026, 11, 9, 14, 0, tzinfo=UTC)
H = 3600


@pytest.fixture(scope="module")
def mill(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workspace]:
    """The mill whose Ida Marlow is enrolled under swapped digits; for tests that only look."""
    opened = strays.taken(tmp_path_factory.mktemp("strays"))
    yield opened
    opened.close()


def punch_at(workspace: Workspace, person: str, text: str) -> int:
    at = int(civil_instant(workspace, person, text).timestamp())
    with workspace.store.reading() as conn:
        recorded = frames.recorded(conn)
    [punch] = recorded.filter(pl.col("at") == at)["punch"]
    return int(punch)


def test_leaving_out_the_last_punch_of_a_day_takes_its_span_and_asks(shared: Workspace) -> None:
    # Monday from 08:00 to 17:00 loses its second span, 10:20 to 17:00, and the rest that is paid before it.
    last = punch_at(shared, "P1", "2026-11-02T17:00")
    seen = preview_correction(
        shared, CorrectionRequest("leave_out", "P1", "Ada", "a colleague's", punch=last), as_of=NOW
    )
    assert (seen.ordinary_before_s, seen.overtime_before_s) == (40 * H, 5 * H)
    assert seen.ordinary_after_s + seen.overtime_after_s == 36 * H + 2 * H
    assert (seen.questions_before, seen.questions_after) == (0, 1)
    assert (seen.double_before_s, seen.double_after_s) == (0, 0)
    assert (seen.person["person"], seen.day) == ("P1", date(2026, 11, 2))
    assert seen.at == civil_instant(shared, "P1", "2026-11-02T17:00").timestamp()
    # 40 h at 18.25 and 5 at one and a half times; after, 38 h.
    assert (str(seen.pay_before), str(seen.pay_after)) == ("866.88", "693.50")


def test_a_preview_shows_the_weeks_that_change_and_no_others(shared: Workspace) -> None:
    # The night of Saturday 31 October runs into the next workweek; nothing of P2's stands in the week before.
    begins = punch_at(shared, "P2", "2026-10-31T23:00")
    seen = preview_correction(
        shared, CorrectionRequest("leave_out", "P2", "Ada", "somebody else's", punch=begins), as_of=NOW
    )
    # 23:00 to 03:00 over the hour that occurs twice is five hours, one of them before midnight.
    assert seen.ordinary_before_s == 9 * H
    assert seen.ordinary_after_s == 4 * H
    assert seen.day == date(2026, 10, 31)
    # the hour before midnight stays where the second half of the night goes: the eight after it alone are shown
    ends = punch_at(shared, "P2", "2026-11-01T07:30")
    seen = preview_correction(
        shared, CorrectionRequest("leave_out", "P2", "Ada", "somebody else's", punch=ends), as_of=NOW
    )
    assert (seen.ordinary_before_s, seen.ordinary_after_s) == (8 * H, 4 * H)


def test_what_is_written_is_what_was_said(workspace: Workspace) -> None:
    last = punch_at(workspace, "P1", "2026-11-02T17:00")
    number, _ = correct(
        workspace, CorrectionRequest("leave_out", "ida marlow", " Ada ", " not hers ", punch=last), as_of=NOW
    )
    at = civil_instant(workspace, "P1", "2026-11-02T16:00")
    second, _ = correct(
        workspace, CorrectionRequest("add", "P1", "Ada", "seen leaving", at=at, direction="out"), as_of=NOW
    )
    with workspace.store.reading() as conn:
        rows = frames.corrections(conn).to_dicts()
    said = ("correction", "action", "person", "punch", "at", "direction", "author", "reason", "made_at")
    assert [tuple(row[name] for name in said) for row in rows] == [
        (number, "leave_out", "P1", last, None, None, "Ada", "not hers", int(NOW.timestamp())),
        (second, "add", "P1", None, int(at.timestamp()), "out", "Ada", "seen leaving", int(NOW.timestamp())),
    ]
    assert second == number + 1
    monday = person_week(workspace, "P1", date(2026, 11, 2))
    assert monday.totals["ordinary_s"] + monday.totals["overtime_s"] == 44 * H


def test_directing_a_punch_the_other_way_asks_for_its_partner(shared: Workspace) -> None:
    last = punch_at(shared, "P3", "2026-11-03T16:00")
    seen = preview_correction(
        shared, CorrectionRequest("direct", "P3", "Ada", "key mixed up", punch=last, direction="in"), as_of=NOW
    )
    assert seen.ordinary_before_s - seen.ordinary_after_s == 8 * H
    assert seen.questions_after > seen.questions_before


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        (CorrectionRequest("add", "P3", "Ada", "  ", at=NOW), "give both"),
        (CorrectionRequest("add", "P3", "  ", "why", at=NOW), "give both"),
        (CorrectionRequest("add", "P3", "Ada", "why", at=NOW, punch=1), "and no punch"),
        (CorrectionRequest("add", "P3", "Ada", "why", at=NOW + timedelta(seconds=1)), "lies in the future"),
        (CorrectionRequest("leave_out", "P1", "Ada", "why", punch=1, at=NOW), "and no time"),
        (CorrectionRequest("leave_out", "P1", "Ada", "why", punch=1, direction="in"), "only then"),
        (CorrectionRequest("direct", "P1", "Ada", "why", punch=1), "only then"),
        (CorrectionRequest("leave_out", "P1", "Ada", "why", punch=9999), "punch 9999 is not one of P1's"),
    ],
)
def test_a_correction_that_says_too_little_or_too_much_is_refused(
    shared: Workspace, asked: CorrectionRequest, sentence: str
) -> None:
    with pytest.raises(Refusal, match=sentence):
        preview_correction(shared, asked, as_of=NOW)


def test_a_punch_of_this_very_moment_can_be_added(shared: Workspace) -> None:
    assert (
        preview_correction(shared, CorrectionRequest("add", "P3", "Ada", "why", at=NOW, direction="in"), as_of=NOW).at
        == NOW.timestamp()
    )


def test_the_weeks_around_are_those_of_the_time_or_the_punch(workspace: Workspace) -> None:
    late = NOW + timedelta(days=365)
    before = punch_at(workspace, "P1", "2026-11-02T08:00")
    for given in ({"at": "2026-11-02T08:00"}, {"at": " 2026-11-02T08:00 "}, {"punch": before}):
        assert reckon_around(workspace, as_of=late, **given).snapshot.recorded.height == 27  # type: ignore[arg-type]
    for given in ({}, {"at": "no time"}, {"punch": 9999}):
        assert reckon_around(workspace, as_of=late, **given).snapshot.recorded.height == 0  # type: ignore[arg-type]
    at = civil_instant(workspace, "P3", "2026-11-04T16:00")
    number, _ = correct(workspace, CorrectionRequest("add", "P3", "Ada", "forgot", at=at, direction="out"), as_of=NOW)
    assert reckon_around(workspace, as_of=late, punch=-number).snapshot.recorded.height == 27


def test_a_punch_added_or_given_by_hand_is_the_persons_to_correct(workspace: Workspace) -> None:
    at = civil_instant(workspace, "P3", "2026-11-04T16:00")
    number, _ = correct(workspace, CorrectionRequest("add", "P3", "Ada", "forgot", at=at, direction="out"), as_of=NOW)
    again = CorrectionRequest("leave_out", "P3", "Ada", "was not there", punch=-number)
    _, seen = correct(workspace, again, as_of=NOW)
    assert (seen.at, seen.ordinary_before_s - seen.ordinary_after_s) == (int(at.timestamp()), 8 * H)

    given = punch_at(workspace, "P1", "2026-11-02T17:00")
    with workspace.store.writing() as conn:
        said = {"author": "Ada", "reason": "seen", "made_at": int(NOW.timestamp()), "at": None, "direction": None}
        decisions.add_corrections(conn, [{"action": "attribute", "person": "P3", "punch": given, **said}])
    theirs = CorrectionRequest("leave_out", "P3", "Ada", "a slip", punch=given)
    assert preview_correction(workspace, theirs, as_of=NOW).person["person"] == "P3"
    with pytest.raises(Refusal, match="is not one of P1's"):
        preview_correction(workspace, replace(theirs, person="P1"), as_of=NOW)


def test_the_record_of_a_file_for_payroll_says_what_it_was(workspace: Workspace) -> None:
    first = hand_off(workspace, as_of=NOW, despite=True, author="Ada")
    with workspace.store.reading() as conn:
        [row] = frames.handoffs(conn).to_dicts()
    assert (row["first_day"], row["last_day"]) == (first.first, first.last) == (date(2026, 11, 1), date(2026, 11, 7))
    assert (row["file"], row["digest"], row["author"]) == (first.csv.name, first.digest, "Ada")
    assert row["made_at"] == int(NOW.timestamp())
    assert json.loads(row["despite"]) == ["missing_punch/P3/2026-11-04"]
    totals = json.loads(row["totals"])
    assert (totals["rows"], totals["ordinary_s"], totals["overtime_s"]) == ("3", str(56 * H), str(5 * H))
    assert sorted(path.name for path in workspace.handoff.iterdir()) == [
        "hours-2026-11-01-to-2026-11-07-note.txt",
        "hours-2026-11-01-to-2026-11-07.csv",
        "hours-2026-11-01-to-2026-11-07.xlsx",
    ]


def test_the_note_lets_the_file_be_checked(workspace: Workspace) -> None:
    made = hand_off(workspace, as_of=NOW, despite=True, author="Ada")
    lines = made.note.read_text(encoding="utf-8").splitlines()
    assert lines[0] == "Mill: hours for payroll, 2026-11-01 to 2026-11-07"
    assert lines[1].startswith("Written ")
    assert lines[1].endswith(" by Ada")
    assert "09:00" in lines[1]  # 14:00 UTC, on the wall in New York
    for line in (
        "Rows             3",
        "People           3",
        "  Ordinary hours     56.00 as printed; 201600 seconds exactly",
        "  Overtime hours     5.00 as printed; 18000 seconds exactly",
        "  Double-time hours  0.00 as printed; 0 seconds exactly",
        f"Sources          SHA-256 {made.digest}",
        "Written despite 1 open findings:",
    ):
        assert line in lines
    assert not any("have no pay" in line or "No open finding" in line for line in lines)
    assert not any("Settled findings" in line for line in lines)


def test_payrolls_file_opens_in_a_spreadsheet_as_it_is(workspace: Workspace) -> None:
    made = hand_off(workspace, as_of=NOW, despite=True)
    content = made.csv.read_bytes()
    assert content.startswith(b"\xef\xbb\xbf")  # RFC 3629 section 6: the byte order mark of UTF-8
    assert content.count(b"\r\n") == content.count(b"\n") == 4  # RFC 4180 section 2: lines end in CR LF
    sheet: Any = openpyxl.load_workbook(made.files[0].xlsx)["Hours"]
    rows = [[cell.value for cell in row] for row in sheet.iter_rows()]
    assert rows[1] == ["P1", "Ida Marlow", "Mill", datetime(2026, 11, 1), 40, 5, 0]
    assert rows[0] == content.decode("utf-8-sig").splitlines()[0].split(",")
    assert sheet.freeze_panes == "A2"
    assert sheet["A1"].font.b
    assert not sheet["A2"].font.b


def test_a_file_is_refused_on_the_periods_last_day_and_written_on_the_next(workspace: Workspace) -> None:
    # The day is the one on the wall in New York: midnight there is 05:00 UTC once clocks are back.
    ends = datetime(2026, 11, 8, 5, tzinfo=UTC)
    with pytest.raises(Refusal, match="has not ended"):
        hand_off(workspace, as_of=ends - timedelta(seconds=1), period_day=date(2026, 11, 7), despite=True)
    assert hand_off(workspace, as_of=ends, period_day=date(2026, 11, 7), despite=True).last == date(2026, 11, 7)


def test_a_period_without_hours_is_no_file(workspace: Workspace) -> None:
    with pytest.raises(Refusal, match="nobody has hours in Sun 18 to Sat 24 Oct 2026"):
        hand_off(workspace, as_of=NOW, period_day=date(2026, 10, 20), despite=True)
    assert list(workspace.handoff.iterdir()) == []


@pytest.mark.parametrize(("threshold", "is_refused"), [(0.79, True), (0.8, False), (1.0, False), (1.01, True)])
def test_only_what_is_sure_may_be_confirmed_in_bulk(mill: Workspace, threshold: float, is_refused: bool) -> None:
    if is_refused:
        with pytest.raises(Refusal, match=r"give one from 0\.8 to 1"):
            decide(confirm_above, mill, threshold, **strays.SAID)
    else:
        unsure = max(threshold, 1.0)
        assert decide(confirm_above, mill, unsure, **strays.SAID) == ()


@pytest.mark.parametrize("said", [{"author": " "}, {"reason": " "}])
def test_every_decision_about_strays_has_an_author_and_a_reason(mill: Workspace, said: dict[str, str]) -> None:
    lacking: dict[str, Any] = {**strays.SAID, **said}
    for decision, what in ((confirm_above, (0.9,)), (reject_candidate, ("GATE/4281", "P1")), (undo_stray, ("GATE",))):
        with pytest.raises(Refusal, match="give both"):
            decide(decision, mill, *what, **lacking)


def test_what_mends_the_cause_leaves_no_reader_without_a_way_in(mill: Workspace) -> None:
    found = find_strays(mill, strays.AS_OF)
    stray = proposal_of(found, "GATE/4281")

    def steps(**ida: Any) -> tuple[str, ...]:
        people = found.people.with_columns(
            **{k: pl.when(pl.col("person") == "P1").then(pl.lit(v)).otherwise(k) for k, v in ida.items()}
        )
        return mending_steps(replace(found, people=people), stray, "P1")

    asks = "Ask Ida Marlow to punch under 4821 at GATE, and see it accepted."
    removes = "At GATE, remove the enrolment under 4281."
    assert steps() == ("At GATE, enrol Ida Marlow under 4821, with three presentations.", asks, removes)
    assert steps(is_supervisor=True)[0] == "At GATE, enrol Ida Marlow under 4821, as a supervisor."
    assert steps(number=None) == ("Give Ida Marlow a number on the roster; 4281 is what they key.",)
    assert steps(number="7315") == ("Ask Ida Marlow to punch under 7315 at GATE, and see it accepted.", removes)
    assert mending_steps(replace(found, enrolments=found.enrolments.clear()), stray, "P1")[2:] == (removes,)
    others = found.enrolments.filter(pl.col("number") != "4281")
    assert mending_steps(replace(found, enrolments=others), stray, "P1")[2:] == ()
    held = replace(stray, holder="P2", holder_name="Rui Okoro")
    assert mending_steps(found, held, "P1")[3:] == ("At GATE, enrol Rui Okoro under 4281, if they use it.",)
    zeros = replace(stray, number="004821")
    assert mending_steps(found, zeros, "P1") == (
        "Correct the roster: Ida Marlow's number is 004821, not 4821; zeros in front were lost.",
    )
