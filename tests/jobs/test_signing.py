"""Hours are signed as they were seen: by a code that nobody can guess, by a supervisor whose people they are."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy.exc import DatabaseError

from evenhand.jobs import disputes as disputing
from evenhand.jobs.approving import Approved, approve
from evenhand.jobs.correct import CorrectionRequest
from evenhand.jobs.premiums import PremiumRequest, preview_premium
from evenhand.jobs.reckoning import Reckoning, reckon_period
from evenhand.jobs.signed_hours import undone_signoffs
from evenhand.jobs.signed_period import period_signed
from evenhand.jobs.signing import Confirmed, confirm, confirm_papers, take_sign_off_back
from evenhand.jobs.statement import statement, statement_pdf
from evenhand.jobs.statement_codes import KEPT_DAYS, find_code, issue_code
from evenhand.jobs.take import take_files
from evenhand.jobs.takes import foresee_back
from evenhand.jobs.workspace import SETTINGS_FILE, Workspace
from evenhand.records.codes import BITS
from evenhand.store import decisions, frames
from evenhand.store.settings import read_settings
from evenhand.store.settings_text import write_settings
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.settings import SiteRules
from tests.jobs.asked import civil_instant, correct, find_today, hand_off, preview_correction
from tests.jobs.workplaces import PEOPLE, made
from tests.printed import texts

NOW = datetime(2026, 11, 9, 14, 0, tzinfo=UTC)
FIRST, LAST = date(2026, 11, 1), date(2026, 11, 7)


@pytest.fixture
def workspace(tmp_path: Path) -> Iterator[Workspace]:
    opened = made(tmp_path)
    yield opened
    opened.close()


def now(workspace: Workspace, at: datetime = NOW) -> Reckoning:
    return reckon_period(workspace, at)


def code_of(workspace: Workspace, person: str, at: datetime = NOW) -> str:
    return issue_code(workspace, now(workspace, at), person, as_of=at)


def confirmed(workspace: Workspace, code: str, at: datetime = NOW) -> Confirmed:
    found = find_code(workspace, code, as_of=at)
    return confirm(workspace, now(workspace, at), found, way="paper", author="Vera", as_of=at)


def approved(workspace: Workspace, by: str, *people: str) -> Approved:
    return approve(workspace, now(workspace), by, people, author="Vera", as_of=NOW)


def states(workspace: Workspace) -> dict[str, tuple[str, str]]:
    return {one.person: (one.confirmed, one.approved) for one in period_signed(now(workspace)).people}


def late_out(workspace: Workspace, person: str = "P3", at: str = "2026-11-04T16:00") -> CorrectionRequest:
    instant = civil_instant(workspace, person, at)
    return CorrectionRequest("add", person, "Ada", "forgot to punch out", at=instant, direction="out")


def test_a_code_is_kept_for_the_same_hours_and_changes_with_them(workspace: Workspace) -> None:
    code = code_of(workspace, "P3")
    assert re.fullmatch(r"(?:[0-9A-HJKMNP-TV-Z]{4}-){2}[0-9A-HJKMNP-TV-Z]{4}", code)
    assert BITS >= 50
    assert code_of(workspace, "P3") == code != code_of(workspace, "P1")
    correct(workspace, late_out(workspace), as_of=NOW)
    assert code_of(workspace, "P3") != code


def test_no_code_is_given_while_the_period_runs(workspace: Workspace) -> None:
    running = datetime(2026, 11, 6, 14, 0, tzinfo=UTC)
    assert issue_code(workspace, reckon_period(workspace, running, FIRST), "P3", FIRST, as_of=running) == ""


def test_a_slip_a_code_never_printed_and_one_too_old_are_refused(workspace: Workspace) -> None:
    code = code_of(workspace, "P3")
    assert find_code(workspace, code.lower().replace("-", " "), as_of=NOW).person == "P3"
    slip = ("A" if code[0] != "A" else "B") + code[1:]
    with pytest.raises(Refusal, match="no code of a statement"):
        find_code(workspace, slip, as_of=NOW)
    for keyed, at in (("0000-0000-0000", NOW), (code, NOW + timedelta(days=KEPT_DAYS, seconds=1))):
        with pytest.raises(Refusal) as refused:
            find_code(workspace, keyed, as_of=at)
        assert "code" in str(refused.value)
    with pytest.raises(Unknown, match="no statement of the last 92 days"):
        find_code(workspace, code, as_of=NOW + timedelta(days=KEPT_DAYS, seconds=1))


def test_a_confirmation_is_of_the_hours_printed_and_is_made_once(workspace: Workspace) -> None:
    code = code_of(workspace, "P3")
    first = confirmed(workspace, code)
    assert (first.person, first.first, first.last, first.is_known) == ("P3", FIRST, LAST, False)
    again = confirmed(workspace, code)
    assert (again.signoff, again.is_known) == (first.signoff, True)
    assert states(workspace)["P3"] == ("yes", "no")
    with workspace.store.reading() as conn:
        row = frames.signoffs(conn).row(0, named=True)
    # Tuesday 08:00 to 16:00: eight hours, and Wednesday is open
    assert row["hours"] == '[["2026-11-03","ordinary",28800]]'
    assert (row["way"], row["author"], row["supervisor"]) == ("paper", "Vera", None)


def test_hours_that_changed_since_the_paper_was_printed_are_not_confirmed(workspace: Workspace) -> None:
    code = code_of(workspace, "P3")
    correct(workspace, late_out(workspace), as_of=NOW)
    with pytest.raises(Refusal, match="no longer those on this statement"):
        confirmed(workspace, code)
    assert states(workspace)["P3"] == ("no", "no")


def test_papers_keyed_together_are_confirmed_all_or_none(workspace: Workspace) -> None:
    codes = [code_of(workspace, person) for person in ("P1", "P3")]
    with pytest.raises(Refusal, match=r"^0000: .* Nothing was confirmed"):
        confirm_papers(workspace, [*codes, "0000"], author="Vera", as_of=NOW)
    correct(workspace, late_out(workspace), as_of=NOW)
    with pytest.raises(Refusal, match=r"Lena Fisk, .* are no longer those"):
        confirm_papers(workspace, codes, author="Vera", as_of=NOW)
    assert states(workspace)["P1"] == ("no", "no")
    codes[1] = code_of(workspace, "P3")
    made = confirm_papers(workspace, [*codes, codes[1].lower()], author="Vera", as_of=NOW)
    assert [(one.person, one.is_known) for one in made] == [("P1", False), ("P3", False)]


def test_a_change_says_beforehand_whose_sign_off_it_undoes_and_today_asks_for_a_new_one(workspace: Workspace) -> None:
    confirmed(workspace, code_of(workspace, "P3"))
    approved(workspace, "P1", "P3")
    seen = preview_correction(workspace, late_out(workspace), as_of=NOW)
    assert seen.undoes == (
        "This undoes the confirmation of Sun 1 to Sat 7 Nov 2026 by Lena Fisk (P3), who is asked again.",
        "This undoes the approval of Lena Fisk (P3), Sun 1 to Sat 7 Nov 2026, by Ida Marlow (P1), who is asked again.",
    )
    assert undone_signoffs(now(workspace)).is_empty()
    correct(workspace, late_out(workspace), as_of=NOW)
    assert undone_signoffs(now(workspace))["differs"].to_list() == ["Wed 4 Nov: ordinary time +8:00 h"] * 2
    found = {one.code: one for one in find_today(workspace, NOW).findings}["signature_undone"]
    assert "have changed since they were confirmed by them and approved by Ida Marlow (P1)" in found.says
    assert found.stake.minutes == 8 * 60
    # undone once already: another change undoes nothing more
    other = late_out(workspace, at="2026-11-05T09:00")
    assert preview_correction(workspace, other, as_of=NOW).undoes == ()
    confirmed(workspace, code_of(workspace, "P3"))
    approved(workspace, "P1", "P3")
    assert states(workspace)["P3"] == ("yes", "yes")
    assert "signature_undone" not in {one.code for one in find_today(workspace, NOW).findings}


def test_a_change_of_somebody_elses_hours_undoes_nothing(workspace: Workspace) -> None:
    confirmed(workspace, code_of(workspace, "P3"))
    asked = CorrectionRequest(
        "add", "P1", "Ada", "stayed on", at=civil_instant(workspace, "P1", "2026-11-07T12:00"), direction="in"
    )
    assert preview_correction(workspace, asked, as_of=NOW).undoes == ()


def test_taking_a_log_back_says_whose_sign_off_it_undoes(workspace: Workspace) -> None:
    confirmed(workspace, code_of(workspace, "P1"))
    take = now(workspace).snapshot.takes.filter(file="punches.csv")["take"][0]
    assert foresee_back(workspace, take, as_of=NOW).undoes == (
        "This undoes the confirmation of Sun 1 to Sat 7 Nov 2026 by Ida Marlow (P1), who is asked again.",
    )


def test_deciding_about_hours_owed_says_whose_sign_off_it_undoes(workspace: Workspace) -> None:
    confirmed(workspace, code_of(workspace, "P1"))
    asked = PremiumRequest("owe", "P1", date(2026, 11, 3), "rest", "Ada", "no rest given", Decimal(1))
    assert "undoes the confirmation" in preview_premium(now(workspace), asked, as_of=NOW).undoes[0]


def test_settings_that_change_hours_undo_what_was_signed(workspace: Workspace) -> None:
    confirmed(workspace, code_of(workspace, "P1"))
    path = workspace.directory / SETTINGS_FILE
    rules = SiteRules("Mill", "America/New_York", jurisdiction="california")
    write_settings(path, replace(read_settings(path), sites={"Mill": rules}))
    # of nine hours a day California pays one as overtime (Cal. Lab. Code 510), where the federal forty end on Friday
    undone = undone_signoffs(now(workspace)).row(0, named=True)
    assert undone["person"] == "P1"
    assert "Mon 2 Nov: " in undone["differs"]
    assert "ordinary time -1:00 h, overtime +1:00 h" in undone["differs"]


def test_a_supervisor_approves_their_people_and_nobody_else(workspace: Workspace) -> None:
    signed = {one.person: one.supervisors for one in period_signed(now(workspace)).people}
    # Milling has two supervisors, who approve each other; Packing has none, so that the site's do
    assert signed == {"P1": ("P2",), "P2": ("P1",), "P3": ("P1", "P2")}
    with pytest.raises(Refusal, match=r"Ida Marlow \(P1\) are not for Ida Marlow \(P1\) to approve"):
        approved(workspace, "P1", "P1")
    with pytest.raises(Refusal, match=r"nothing .* is left for Lena Fisk"):
        approved(workspace, "P3")
    assert [one.person for one in approved(workspace, "P1").people] == ["P3", "P2"]
    with pytest.raises(Refusal, match=r"nothing .* is left"):
        approved(workspace, "P1")
    assert states(workspace) == {"P1": ("no", "no"), "P2": ("no", "yes"), "P3": ("no", "yes")}


def test_who_has_no_hours_waits_for_no_approval(workspace: Workspace, tmp_path: Path) -> None:
    (tmp_path / "people.csv").write_text(f"{PEOPLE}P4,Omar Vale,2291,Mill,Packing,no,2020-01-01,,16.00\n")
    take_files(workspace, [tmp_path / "people.csv"])
    asked: dict[str, Any] = {"kind": "day", "day": date(2026, 11, 4), "says": "I was there", "way": "desk"}
    disputing.open_dispute(workspace, now(workspace), "P4", author="Vera", **asked, as_of=NOW)
    assert {one.person: one.waits for one in period_signed(now(workspace)).people}["P4"] is False
    with pytest.raises(Refusal, match=r"nothing .* is left"):
        approved(workspace, "P1", "P4")


def test_an_approval_of_hours_other_than_those_shown_is_refused_whole(workspace: Workspace) -> None:
    seen = {one.person: one.seen for one in period_signed(now(workspace)).people}
    correct(workspace, late_out(workspace), as_of=NOW)
    with pytest.raises(Refusal, match="Lena Fisk have changed since they were shown"):
        approve(workspace, now(workspace), "P1", seen=seen, author="Vera", as_of=NOW)
    assert set(states(workspace).values()) == {("no", "no")}


def test_nothing_is_approved_while_the_period_runs_nor_by_nobody(workspace: Workspace) -> None:
    running = reckon_period(workspace, datetime(2026, 11, 6, 14, 0, tzinfo=UTC), FIRST)
    with pytest.raises(Refusal, match="has not ended"):
        approve(workspace, running, "P1", day=FIRST, author="Vera", as_of=NOW)
    with pytest.raises(Refusal, match="entered by somebody"):
        approve(workspace, now(workspace), "P1", author=" ", as_of=NOW)


def test_a_sign_off_keyed_by_mistake_is_taken_back_once(workspace: Workspace) -> None:
    made_one = confirmed(workspace, code_of(workspace, "P3"))
    take_sign_off_back(workspace, made_one.signoff, author="Vera", reason="another's paper", as_of=NOW)
    assert states(workspace)["P3"] == ("no", "no")
    with pytest.raises(Refusal, match="taken back already"):
        take_sign_off_back(workspace, made_one.signoff, author="Vera", reason="again", as_of=NOW)
    with pytest.raises(Unknown, match="no sign-off 99"):
        take_sign_off_back(workspace, 99, author="Vera", reason="none", as_of=NOW)
    assert not confirmed(workspace, code_of(workspace, "P3")).is_known


def test_the_note_says_how_many_signed_and_that_nothing_is_waived(workspace: Workspace) -> None:
    confirmed(workspace, code_of(workspace, "P1"))
    approved(workspace, "P1", "P3")
    disputing.open_dispute(
        workspace,
        now(workspace),
        "P3",
        kind="day",
        day=date(2026, 11, 4),
        says="I left at four",
        way="paper",
        as_of=NOW,
    )
    note = " ".join(hand_off(workspace, as_of=NOW, despite=True).note.read_text().split())
    assert (
        "Of the hours of 3 people: 1 confirmed by the person, 1 approved by a supervisor, 1 disputed and not answered "
        "yet, 0 changed since they were signed, 1 without a word of the person." in note
    )
    assert "A confirmation waives nothing" in note
    assert "324 U.S. 697 (1945)" in note


def test_approval_is_demanded_before_the_hand_off_only_where_the_settings_say_so(workspace: Workspace) -> None:
    assert "approval_missing" not in {one.code for one in find_today(workspace, NOW).findings}
    path = workspace.directory / SETTINGS_FILE
    write_settings(path, replace(read_settings(path), approval_demanded=True))
    waiting = [one for one in find_today(workspace, NOW).findings if one.code == "approval_missing"]
    assert {one.subject: one.details["people"] for one in waiting} == {
        "of P1": ["P2"],
        "of P1 P2": ["P3"],
        "of P2": ["P1"],
    }
    assert all(one.blocks_pay for one in waiting)
    approved(workspace, "P1")
    approved(workspace, "P2")
    assert "approval_missing" not in {one.code for one in find_today(workspace, NOW).findings}


def test_the_statement_carries_the_code_and_says_that_nothing_is_waived(workspace: Workspace) -> None:
    code = code_of(workspace, "P3")
    printed = " ".join(" ".join(texts(statement_pdf(statement(now(workspace), "P3", code=code)))).split())
    assert code in printed
    assert "A confirmation waives nothing" in printed
    unsigned = " ".join(" ".join(texts(statement_pdf(statement(now(workspace), "P3")))).split())
    assert "key this code" not in unsigned


def test_rows_of_what_was_signed_are_never_changed(workspace: Workspace) -> None:
    confirmed(workspace, code_of(workspace, "P3"))
    for table in ("signoffs", "statement_codes"):
        with pytest.raises((DatabaseError, Refusal)), workspace.store.writing() as conn:
            decisions.change_row(conn, table, 1, {"person": "P1"})
