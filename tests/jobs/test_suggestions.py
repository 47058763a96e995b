"""What supervisors say of missing punches is kept beside the record, once, and becomes a correction when accepted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from evenhand.jobs.correct import correct
from evenhand.jobs.correction_rows import CorrectionRequest
from evenhand.jobs.decision_log import decision_log
from evenhand.jobs.missing import as_csv, open_days
from evenhand.jobs.reckoning import Reckoning, reckon_period
from evenhand.jobs.suggestion_answers import accept_suggestion, answer_suggestion
from evenhand.jobs.suggestions import Suggested, SuggestionListed, list_suggestions, suggest
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions
from evenhand.store.database import Connection
from evenhand.terms.records import Refusal, Unknown
from tests.jobs.asked import civil_instant, find_today
from tests.jobs.workplaces import made

NOW = datetime(2026, 11, 9, 14, 0, tzinfo=UTC)


@pytest.fixture
def workspace(tmp_path: Path) -> Iterator[Workspace]:
    opened = made(tmp_path)
    yield opened
    opened.close()


def now(workspace: Workspace) -> Reckoning:
    return reckon_period(workspace, NOW)


def said(workspace: Workspace, **more: Any) -> SuggestionListed:
    first = open_days(now(workspace))[0]
    told: dict[str, Any] = {
        "person": first.person,
        "day": first.day,
        "action": "add",
        "way": "paper",
        "at": civil_instant(workspace, first.person, f"{first.day}T16:00"),
        "direction": "out",
        "author": "Vera",
    }
    (kept,) = suggest(workspace, now(workspace), [Suggested(**(told | more))], as_of=NOW)
    return kept


def test_a_suggestion_leaves_the_record_as_it_was_and_is_one_however_often_it_is_said(workspace: Workspace) -> None:
    before = open_days(now(workspace))
    first, again = said(workspace), said(workspace)
    assert first == again
    assert first.told == "went out at 16:00"
    after = open_days(now(workspace))
    assert [(one.person, one.day, one.asks) for one in after] == [(one.person, one.day, one.asks) for one in before]
    assert [one.suggestion for one in after[0].said] == [first.suggestion]
    assert list_suggestions(now(workspace).snapshot) == [first]


@pytest.mark.parametrize("name", ["=1+1", "Rook;=1+1", "\uff1d1+1"])
def test_the_list_runs_nothing_in_a_spreadsheet_of_any_delimiter(workspace: Workspace, name: str) -> None:
    listed = as_csv([replace(open_days(now(workspace))[0], name=name)])
    assert name.replace("=", "'=").replace("\uff1d", "'\uff1d") in listed


def test_what_is_accepted_is_corrected_with_that_reason_and_closes_the_question(workspace: Workspace) -> None:
    one = said(workspace)
    made_of = accept_suggestion(workspace, now(workspace), one.suggestion, author="Ada", reason="as seen", as_of=NOW)
    assert (made_of.state, made_of.answered_by, made_of.reason) == ("accepted", "Ada", "as seen")
    (row,) = now(workspace).snapshot.corrections.rows(named=True)
    assert row["correction"] == made_of.correction
    assert (row["person"], row["action"], row["at"], row["reason"]) == (one.person, "add", one.at, "as seen")
    assert (one.person, one.day) not in {(day.person, day.day) for day in open_days(now(workspace))}
    with pytest.raises(Refusal, match="accepted already, by Ada"):
        accept_suggestion(workspace, now(workspace), one.suggestion, author="Ada", reason="again", as_of=NOW)


def test_the_correction_and_its_answer_are_kept_together_or_neither_is(
    workspace: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    one = said(workspace)
    add_row = decisions.add_row

    def stopped(conn: Connection, table: str, values: Mapping[str, Any]) -> int:
        if table == "suggestion_answers":
            raise KeyboardInterrupt
        return add_row(conn, table, values)

    with monkeypatch.context() as patched:
        patched.setattr(decisions, "add_row", stopped)
        with pytest.raises(KeyboardInterrupt):
            accept_suggestion(workspace, now(workspace), one.suggestion, author="Ada", reason="as seen", as_of=NOW)
    assert now(workspace).snapshot.corrections.is_empty()
    assert [each.state for each in list_suggestions(now(workspace).snapshot)] == ["open"]


def test_what_somebody_else_answered_meanwhile_is_not_corrected(workspace: Workspace) -> None:
    one, before = said(workspace), now(workspace)
    answer_suggestion(workspace, before.snapshot, one.suggestion, "declined", reason="not so", author="Ben", as_of=NOW)
    with pytest.raises(Refusal, match=f"suggestion {one.suggestion} was answered meanwhile; nothing was changed"):
        accept_suggestion(workspace, before, one.suggestion, author="Ada", reason="as seen", as_of=NOW)
    assert now(workspace).snapshot.corrections.is_empty()


def test_it_waits_again_where_its_correction_is_taken_back_and_not_where_that_was_changed(
    workspace: Workspace,
) -> None:
    one = said(workspace)

    def accept() -> int:
        took = accept_suggestion(workspace, now(workspace), one.suggestion, author="Ada", reason="seen", as_of=NOW)
        assert took.correction is not None
        return took.correction

    def about(action: str, correction: int, **more: Any) -> int:
        asked = CorrectionRequest(action, one.person, "Ada", "looked again", correction=correction, **more)
        return correct(workspace, now(workspace), asked, as_of=NOW).number

    def state() -> str:
        (each,) = list_suggestions(now(workspace).snapshot, with_answered=True)
        told = {number for f in find_today(workspace, NOW).findings for number in f.details.get("suggestions", [])}
        assert (each.suggestion in told) == each.is_open
        answers = [row for row in decision_log(now(workspace)).rows(named=True) if row["table"] == "suggestion_answers"]
        assert any(row["stands"] for row in answers) != each.is_open
        return each.state

    back = about("withdraw", accept())
    assert state() == "open"
    about("withdraw", back)  # which puts the correction back
    assert state() == "accepted"
    about("change", 1, at=datetime.fromtimestamp(one.at or 0, UTC) + timedelta(minutes=5))
    assert state() == "accepted"
    about("withdraw", now(workspace).snapshot.last_correction)
    assert state() == "open"
    assert accept() == now(workspace).snapshot.last_correction
    assert state() == "accepted"


def test_a_punch_too_many_and_one_of_the_other_way_are_found_again_by_their_time(workspace: Workspace) -> None:
    day = open_days(now(workspace))[0]
    at = datetime.fromtimestamp(day.suspects[0][0], UTC)
    extra = said(workspace, action="leave_out", at=at, direction=None)
    assert extra.told.startswith("the punch at ")
    made_of = accept_suggestion(workspace, now(workspace), extra.suggestion, author="Ada", reason="seen", as_of=NOW)
    assert made_of.state == "accepted"
    told = Suggested(day.person, day.day, "direct", "paper", at, "out", author="Vera")
    (other,) = suggest(workspace, now(workspace), [told], as_of=NOW)
    with pytest.raises(Refusal, match="has no punch at that time any longer"):
        accept_suggestion(workspace, now(workspace), other.suggestion, author="Ada", reason="seen", as_of=NOW)
    declined = answer_suggestion(
        workspace, now(workspace).snapshot, other.suggestion, "declined", reason="left out", author="Ada", as_of=NOW
    )
    assert declined.state == "declined"


@pytest.mark.parametrize(
    ("more", "why"),
    [
        ({"action": "guess"}, "cannot be suggested"),
        ({"action": "look", "at": None, "says": ""}, "say in words"),
        ({"at": None}, "give the time"),
        ({"direction": None}, "which way"),
        ({"day": date(2026, 12, 24)}, "has not come yet"),
        ({"author": ""}, "say who says so"),
        ({"at": datetime(2026, 11, 9, 14, 0, 1, tzinfo=UTC)}, "does not belong|has not come"),
        ({"person": "nobody"}, "nobody on the roster"),
    ],
)
def test_what_is_not_whole_is_refused_and_nothing_is_kept(workspace: Workspace, more: dict[str, Any], why: str) -> None:
    with pytest.raises(Refusal, match=why):
        said(workspace, **more)
    assert list_suggestions(now(workspace).snapshot, with_answered=True) == []


def test_it_is_accepted_with_a_correction_of_that_person_that_stands_and_with_no_other(workspace: Workspace) -> None:
    one = said(workspace)

    def accept(correction: int) -> SuggestionListed:
        of = now(workspace).snapshot
        return answer_suggestion(
            workspace, of, one.suggestion, "accepted", reason="x", author="Ada", correction=correction, as_of=NOW
        )

    with pytest.raises(Refusal, match=r"no correction 99 of .* stands; the suggestion was not answered"):
        accept(99)
    at = datetime.fromtimestamp(one.at or 0, UTC)
    asked = CorrectionRequest("add", one.person, "Ada", "as seen", at=at, direction="out")
    made_of = correct(workspace, now(workspace), asked, as_of=NOW)
    back = CorrectionRequest("withdraw", one.person, "Ada", "not so", correction=made_of.number)
    correct(workspace, now(workspace), back, as_of=NOW)
    with pytest.raises(Refusal, match=f"no correction {made_of.number} of"):
        accept(made_of.number)
    assert [each.is_open for each in list_suggestions(now(workspace).snapshot)] == [True]


def test_there_is_nothing_to_decide_on_where_nothing_was_said(workspace: Workspace) -> None:
    of = now(workspace).snapshot
    with pytest.raises(Unknown, match="there is no suggestion 7"):
        answer_suggestion(workspace, of, 7, "declined", reason="x", author="Ada", as_of=NOW)
