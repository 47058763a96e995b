"""What a person disputes is kept, waits on Today until it is answered by its day, and comes back with the answer."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from evenhand.jobs.correct import CorrectionRequest
from evenhand.jobs.dispute_answers import answer_dispute
from evenhand.jobs.disputes import DisputeListed, disputes_of, list_disputes, open_dispute
from evenhand.jobs.premiums import PremiumRequest, decide_premium
from evenhand.jobs.reckoning import Reckoning, reckon_period
from evenhand.jobs.signed_period import period_signed
from evenhand.jobs.statement import statement, statement_pdf
from evenhand.jobs.workspace import SETTINGS_FILE, Workspace, open_workspace
from evenhand.store.settings import read_settings
from evenhand.store.settings_text import write_settings
from evenhand.terms.lines import LONGEST
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.settings import SiteRules
from tests.jobs.asked import civil_instant, correct, find_today, settle
from tests.jobs.workplaces import made
from tests.printed import texts

NOW = datetime(2026, 11, 9, 14, 0, tzinfo=UTC)
WEDNESDAY = date(2026, 11, 4)


@pytest.fixture
def workspace(tmp_path: Path) -> Iterator[Workspace]:
    opened = made(tmp_path)
    yield opened
    opened.close()


def now(workspace: Workspace, at: datetime = NOW) -> Reckoning:
    return reckon_period(workspace, at)


def said(workspace: Workspace, person: str = "P3", at: datetime = NOW, **more: Any) -> DisputeListed:
    told: dict[str, Any] = {"kind": "day", "day": WEDNESDAY, "says": "I left at four", "way": "paper", "author": "Vera"}
    return open_dispute(workspace, now(workspace, at), person, **(told | more), as_of=at)


def answered(workspace: Workspace, number: int, outcome: str, at: datetime = NOW, **more: Any) -> DisputeListed:
    told: dict[str, Any] = {"reason": "looked at with you", "author": "Ada"}
    return answer_dispute(workspace, now(workspace, at), number, outcome, **(told | more), as_of=at)


def corrected(workspace: Workspace, person: str = "P3") -> int:
    at = civil_instant(workspace, person, "2026-11-04T16:00")
    asked = CorrectionRequest("add", person, "Ada", "forgot to punch out", at=at, direction="out")
    return correct(workspace, asked, as_of=NOW)[0]


def in_europe(workspace: Workspace) -> None:
    path = workspace.directory / SETTINGS_FILE
    rules = SiteRules("Mill", "Europe/Berlin", jurisdiction="eu_2003_88")
    write_settings(path, replace(read_settings(path), sites={"Mill": rules}))


def test_a_dispute_waits_on_today_until_it_is_answered(workspace: Workspace) -> None:
    one = said(workspace)
    assert (one.dispute, one.state, one.is_open) == (1, "open", True)
    (found,) = [finding for finding in find_today(workspace, NOW).findings if finding.code == "dispute_open"]
    assert found.person == "P3"
    assert found.says.startswith("Lena Fisk (P3) disputes: day, Wed 4 Nov 2026.")
    assert "They say: “I left at four”" in found.evidence
    # what is not disputed is paid on its day (Cal. Lab. Code 206(a)): a dispute never keeps a period from payroll
    assert not found.blocks_pay
    answered(workspace, 1, "rejected", reason="the gate was closed at three")
    assert "dispute_open" not in {finding.code for finding in find_today(workspace, NOW).findings}
    assert list_disputes(now(workspace).snapshot) == []
    (kept,) = list_disputes(now(workspace).snapshot, with_answered=True)
    assert (kept.state, kept.answers[0].reason) == ("rejected", "the gate was closed at three")


def test_no_settling_puts_a_dispute_aside(workspace: Workspace) -> None:
    said(workspace)
    with pytest.raises(Refusal, match="evenhand dispute answer"):
        settle(workspace, "dispute_open/1/2026-11-04", as_of=NOW, author="Ada", reason="no time")


def test_the_workplace_answers_in_the_days_of_its_settings(workspace: Workspace) -> None:
    assert said(workspace).answer_by == date(2026, 11, 23)
    path = workspace.directory / SETTINGS_FILE
    write_settings(path, replace(read_settings(path), answer_days=5))
    assert said(workspace, says="and on Thursday too").answer_by == date(2026, 11, 14)


# GDPR art. 12(3); Regulation (EEC, Euratom) 1182/71 art. 3(2)(c), 3(4), from memory: a month without that day ends on
# its last one, and the last day moves off a Saturday; one plans for the nominal day all the same.
@pytest.mark.parametrize(
    ("received", "nominal", "latest"),
    [
        (datetime(2026, 1, 30, 12, tzinfo=UTC), date(2026, 2, 28), "Mon 2 Mar 2026"),
        (datetime(2025, 1, 31, 12, tzinfo=UTC), date(2025, 2, 28), "Fri 28 Feb 2025"),
        (datetime(2024, 1, 31, 12, tzinfo=UTC), date(2024, 2, 29), "Thu 29 Feb 2024"),
        (datetime(2025, 8, 31, 12, tzinfo=UTC), date(2025, 9, 30), "Tue 30 Sep 2025"),
    ],
)
def test_in_the_union_an_answer_is_due_in_a_month(
    workspace: Workspace, received: datetime, nominal: date, latest: str
) -> None:
    in_europe(workspace)
    one = said(workspace, at=received, kind="other", day=None)
    assert one.answer_by == nominal
    assert latest in one.rule
    assert "GDPR art. 12(3)" in one.rule


@pytest.mark.parametrize("place", ["DE", "US"])
def test_a_month_binds_rules_of_ones_own_and_places_too(workspace: Workspace, place: str) -> None:
    own = workspace.directory / "rules" / "haus"
    own.mkdir(parents=True)
    (own / "jurisdiction.toml").write_text('based_on = "eu_2003_88"\n')
    path = workspace.directory / SETTINGS_FILE
    jurisdiction = "us_federal" if place == "DE" else "haus"
    rules = SiteRules("Mill", "Europe/Berlin", jurisdiction=jurisdiction, place=place)
    write_settings(path, replace(read_settings(path), sites={"Mill": rules}))
    one = said(open_workspace(workspace.directory), kind="other", day=None)
    assert "GDPR art. 12(3)" in one.rule
    assert one.answer_by == date(2026, 12, 9)


def test_two_months_more_are_told_within_the_first_and_once(workspace: Workspace) -> None:
    in_europe(workspace)
    received = datetime(2025, 8, 31, 12, tzinfo=UTC)
    said(workspace, at=received, kind="other", day=None)
    late = datetime(2025, 10, 1, 12, tzinfo=UTC)
    with pytest.raises(Refusal, match="first month is over"):
        answered(workspace, 1, "extended", at=late)
    extended = answered(workspace, 1, "extended", at=received + timedelta(days=20), reason="logs of two years")
    assert (extended.answer_by, extended.is_open) == (date(2025, 11, 30), True)
    with pytest.raises(Refusal, match="extended already"):
        answered(workspace, 1, "extended", at=received + timedelta(days=21))
    assert not answered(workspace, 1, "withdrawn", at=late).is_open


def test_a_time_that_is_the_workplaces_own_is_not_extended(workspace: Workspace) -> None:
    said(workspace)
    with pytest.raises(Refusal, match="no law extends it"):
        answered(workspace, 1, "extended")


def test_what_is_accepted_names_what_mends_it(workspace: Workspace) -> None:
    said(workspace)
    with pytest.raises(Refusal, match="make the correction, and name it"):
        answered(workspace, 1, "accepted")
    with pytest.raises(Refusal, match="no correction 7 of Lena Fisk stands"):
        answered(workspace, 1, "accepted", correction=7)
    mend = corrected(workspace)
    done = answered(workspace, 1, "accepted", correction=mend)
    assert (done.state, done.answers[0].correction) == ("accepted", mend)
    with pytest.raises(Refusal, match="has its answer already"):
        answered(workspace, 1, "rejected")


def test_what_mends_it_is_of_the_day_that_is_disputed(workspace: Workspace) -> None:
    said(workspace)
    at = civil_instant(workspace, "P3", "2026-11-03T17:00")
    asked = CorrectionRequest("add", "P3", "Ada", "stayed an hour", at=at, direction="in")
    other = correct(workspace, asked, as_of=NOW)[0]
    with pytest.raises(Refusal, match=rf"correction {other} is of Tue 3 Nov 2026, and what is disputed of Wed 4 Nov"):
        answered(workspace, 1, "accepted", correction=other)


def test_the_end_of_a_night_shift_mends_the_day_on_which_it_began(workspace: Workspace) -> None:
    said(workspace, "P2", day=date(2026, 10, 31), says="I stayed until eight")
    # the shift from Saturday evening on, with what ends it on Sunday morning
    (last,) = [row for row in now(workspace).snapshot.recorded.rows(named=True) if row["number"] == "7315"][-1:]
    asked = CorrectionRequest("direct", "P2", "Ada", "went out there", punch=last["punch"], direction="out")
    made_of = correct(workspace, asked, as_of=NOW)[0]
    assert answered(workspace, 1, "accepted", correction=made_of).state == "accepted"


def test_a_decision_about_hours_owed_mends_its_own_workday_alone(workspace: Workspace) -> None:
    said(workspace, kind="premium", says="no rest on Wednesday")
    asked = PremiumRequest("owe", "P3", date(2026, 11, 3), "rest", "Ada", "no rest given", Decimal(1))
    other = decide_premium(workspace, now(workspace), asked, as_of=NOW)
    with pytest.raises(Refusal, match=r"decision 1 is of Tue 3 Nov 2026, and what is disputed of Wed 4 Nov 2026"):
        answered(workspace, 1, "accepted", decision=1)
    assert other


def test_a_dispute_without_a_day_counts_in_the_period_payroll_waited_for_and_in_no_other(workspace: Workspace) -> None:
    said(workspace, kind="pay", day=None, says="the rate is not mine")

    def disputed(day: date) -> dict[str, int]:
        reckoning = reckon_period(workspace, NOW, day)
        return {one.person: one.disputes for one in period_signed(reckoning, day).people if one.disputes}

    assert disputed(WEDNESDAY) == {"P3": 1}
    assert disputed(date(2026, 10, 28)) == {}
    assert disputed(NOW.date()) == {}


def test_an_answer_is_one_of_four(workspace: Workspace) -> None:
    said(workspace)
    with pytest.raises(Refusal, match='"perhaps" answers nothing'):
        answered(workspace, 1, "perhaps")


def test_anothers_correction_mends_nothing(workspace: Workspace) -> None:
    said(workspace, "P1", says="not my hours")
    with pytest.raises(Refusal, match="of Ida Marlow stands"):
        answered(workspace, 1, "accepted", correction=corrected(workspace))


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"says": "  "}, "say what it should say"),
        ({"says": "x" * (LONGEST + 1)}, "fit; shorten it"),
        ({"says": "left at \u202efour"}, "do not show"),
        ({"day": None}, "say which"),
        ({"day": date(2026, 12, 1)}, "has not come yet"),
        ({"kind": "weather"}, "cannot be disputed"),
    ],
)
def test_a_dispute_that_says_nothing_is_refused(workspace: Workspace, more: dict[str, Any], says: str) -> None:
    with pytest.raises(Refusal, match=says):
        said(workspace, **more)
    assert disputes_of(now(workspace).snapshot, "P3") == []


def test_what_is_said_twice_while_it_waits_is_one_and_afterwards_another(workspace: Workspace) -> None:
    assert said(workspace).dispute == said(workspace, says=" I left\nat four ").dispute == 1
    answered(workspace, 1, "rejected")
    assert said(workspace).dispute == 2


def test_an_answer_comes_from_somebody_for_a_reason_to_a_dispute_that_is_there(workspace: Workspace) -> None:
    said(workspace)
    with pytest.raises(Refusal, match="answered by somebody"):
        answered(workspace, 1, "rejected", author="")
    with pytest.raises(Refusal, match="say why"):
        answered(workspace, 1, "rejected", reason=" ")
    with pytest.raises(Unknown, match="no dispute 8"):
        answered(workspace, 8, "rejected")


def test_the_next_statement_says_what_was_answered_and_not_by_whom(workspace: Workspace) -> None:
    said(workspace)
    said(workspace, "P1", says="somebody else's matter")
    answered(workspace, 1, "rejected", reason="the gate was closed at three, Rui Okoro (7315) says", author="Vera Lund")
    printed = " ".join(" ".join(texts(statement_pdf(statement(now(workspace), "P3")))).split())
    assert "I left at four" in printed
    assert "not accepted: the gate was closed at three" in printed
    for other in ("somebody else's matter", "Vera", "Lund", "Rui", "Okoro", "7315"):
        assert other not in printed
