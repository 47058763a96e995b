"""What is shown of strays and what confirming would do, from frames written out by hand."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

import polars as pl
import pytest

from evenhand.jobs import stray_decisions
from evenhand.jobs.mending_steps import mending_steps
from evenhand.jobs.period import RECENT
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.stray_decisions import preview_confirmation
from evenhand.jobs.strays import find_strays, proposal_of
from evenhand.store.kept import HANDOFFS
from evenhand.terms.files_told import FORMER_NUMBERS, GONE_PEOPLE, ROSTER_TOLD, ROSTERS_TAKEN
from evenhand.terms.records import Refusal
from evenhand.terms.settings import PayPeriod, Settings, SiteRules
from evenhand.terms.signing import SIGNOFFS
from evenhand.terms.sources import ENROLMENTS, PEOPLE, SCHEDULES
from evenhand.terms.tables import CORRECTIONS, PREMIUM_DECISIONS, RECORDED, REJECTED_ATTRIBUTIONS
from evenhand.terms.wages import EARNINGS, RATES
from tests.linkage.scene import DAY, HOUR, MONDAY, PEOPLE_ROWS, READER_ROWS, shifts

WEEK = range(5)
AS_OF = datetime.fromtimestamp(MONDAY, UTC) + timedelta(weeks=1)
NUMBER = {row["person"]: row["number"] for row in PEOPLE_ROWS}
BEN_BESIDE_DEE = [{**row, "number": "9941"} if row["person"] == "B" else row for row in PEOPLE_ROWS]


def punched(number: str, times: list[tuple[int, str]], reader: str = "GATE") -> list[dict[str, Any]]:
    return [{"reader": reader, "number": number, "at": at, "direction": way} for at, way in times]


EVERYBODY_ELSE = [row for at in range(20) for row in punched(NUMBER[f"X{at}"], shifts(WEEK, 6 if at % 2 else 14))]
DUE = [("A", 6), ("B", 6), ("D", 6), *((f"X{at}", 6 if at % 2 else 14) for at in range(20))]


def reckoned(
    rows: list[dict[str, Any]],
    people: list[dict[str, Any]] = PEOPLE_ROWS,
    listed: list[dict[str, Any]] | None = None,
    as_of: datetime = AS_OF,
) -> Reckoning:
    given: dict[str, Any] = dict.fromkeys((field.name for field in fields(Snapshot)), None)
    planned = [
        {
            "person": who,
            "starts_at": MONDAY + DAY * day + HOUR * hour,
            "ends_at": MONDAY + DAY * day + HOUR * (hour + 8),
        }
        for who, hour in DUE
        for day in WEEK
    ]
    given |= {
        "where": "evenhand.toml",
        "settings": Settings(
            "Mill", PayPeriod(date(2026, 3, 1)), {site: SiteRules(site, "UTC") for site in ("Mill", "Quarry")}
        ),
        "own": {},
        "first": date(2026, 3, 1),
        "people": PEOPLE.rows(people),
        "readers": READER_ROWS,
        "enrolments": ENROLMENTS.rows(listed or []),
        "schedules": SCHEDULES.rows(planned),
        "rates": RATES.empty(),
        "recorded": RECORDED.rows([{"punch": at, **row} for at, row in enumerate([*rows, *EVERYBODY_ELSE])]),
        "corrections": CORRECTIONS.empty(),
        "rejected_attributions": REJECTED_ATTRIBUTIONS.empty(),
        "handoffs": HANDOFFS.empty(),
        "earnings": EARNINGS.empty(),
        "premium_decisions": PREMIUM_DECISIONS.empty(),
        "signoffs": SIGNOFFS.empty(),
        "roster_told": ROSTER_TOLD.empty(),
        "rosters_taken": ROSTERS_TAKEN.empty(),
        "gone_people": GONE_PEOPLE.empty(),
        "former_numbers": FORMER_NUMBERS.empty(),
    }
    return Reckoning(Snapshot(**given), as_of)


def test_punches_under_anothers_number_are_taken_from_one_and_given_to_the_other() -> None:
    # Dee works at the quarry; 9914 is punched at the mill as well, and Ben, 9941, is missing there
    rows = punched("9914", shifts(WEEK), "FAR") + punched("9914", shifts(WEEK))
    reckoning = reckoned(rows, BEN_BESIDE_DEE)
    proposal = proposal_of(find_strays(reckoning), "GATE/9914")
    assert (proposal.holder, proposal.holder_name) == ("D", "Dee Quill")
    assert proposal.best is not None
    assert proposal.best.person == "B"
    seen = preview_confirmation(reckoning, "GATE/9914", "B")
    # five days of eight hours with a meal of half an hour, which is not paid; the same minutes at both sites count once
    assert [(one.person, one.before_s, one.after_s) for one in seen.changes] == [
        ("B", 0, 5 * 27_000),
        ("D", 5 * 27_000, 5 * 27_000),
    ]
    assert seen.steps[-1] == "At GATE, enrol Dee Quill under 9914, if they use it."


def test_punches_that_fit_the_holder_of_their_number_are_not_shown() -> None:
    rows = punched("9914", shifts(range(3)), "FAR") + punched("9914", shifts(range(3, 5)))
    assert find_strays(reckoned(rows)).proposals == ()


def test_nobody_gets_punches_from_before_their_first_day() -> None:
    hired = [{**row, "hired_on": date(2026, 3, 4)} if row["person"] == "A" else row for row in PEOPLE_ROWS]
    seen = preview_confirmation(reckoned(punched("4281", shifts(WEEK)), hired), "GATE/4281", "Ana Vell")
    assert seen.left == tuple(range(8))  # Monday and Tuesday
    assert seen.punches == tuple(range(8, 20))
    gone = [{**row, "left_on": date(2026, 3, 2)} if row["person"] == "X7" else row for row in PEOPLE_ROWS]
    seen = preview_confirmation(reckoned(punched("4281", shifts(WEEK)), gone), "GATE/4281", "X7")
    assert seen.punches == tuple(range(4))  # the last day is a day of work


def test_nobody_gets_punches_made_while_they_were_at_another_site_however_they_are_chosen() -> None:
    rows = punched("4281", shifts(WEEK)) + punched(NUMBER["A"], shifts(range(4)), "FAR")
    seen = preview_confirmation(reckoned(rows), "GATE/4281", "A")
    assert seen.left == tuple(range(16))
    with pytest.raises(Refusal, match="none of the punches"):
        rows = punched("4281", shifts(WEEK)) + punched(NUMBER["A"], shifts(WEEK), "FAR")
        preview_confirmation(reckoned(rows), "GATE/4281", "A")


def test_strays_come_by_minutes_of_pay_and_say_what_the_roster_knows_of_the_number() -> None:
    two = [{**row, "number": "5500"} if row["person"] in {"A", "B"} else row for row in PEOPLE_ROWS]
    rows = punched("6202", shifts(range(1))) + punched("5500", shifts(range(3))) + punched("5999", shifts(range(1)))
    found = find_strays(reckoned(rows, two)).proposals
    assert [(one.stray, one.minutes) for one in found] == [
        ("GATE/5500", 3 * 450),
        ("GATE/5999", 450),
        ("GATE/6202", 450),
    ]
    assert found[0].note == "5500 is on the roster for 2 people: Ana Vell, Ben Oor."
    assert found[1].note == ""
    assert found[2].note.startswith("6202 was the number of Lea Gone, whose last day on the roster is 2026-02-27;")


def test_eight_weeks_are_looked_at_up_to_the_day_asked_about_and_one_that_runs_ahead() -> None:
    rows, monday = punched("4281", shifts(range(1))), datetime.fromtimestamp(MONDAY, UTC)
    second = timedelta(seconds=1)

    def seen(as_of: datetime) -> int:
        return sum(len(one.punches) for one in find_strays(reckoned(rows, as_of=as_of)).proposals)

    eight_weeks_on = monday + RECENT + timedelta(days=1)
    assert (seen(eight_weeks_on - second), seen(eight_weeks_on)) == (4, 0)
    day_before = monday - timedelta(days=1)
    assert (seen(day_before - second), seen(day_before)) == (0, 4)
    with pytest.raises(Refusal, match="there are none now"):
        proposal_of(find_strays(reckoned(rows, as_of=day_before - second)), "GATE/4281")


def steps(number: str, who: dict[str, Any], listed: list[dict[str, Any]]) -> tuple[str, ...]:
    people = [{**row, **who} if row["person"] == "A" else row for row in PEOPLE_ROWS]
    found = find_strays(reckoned(punched("5999", shifts(range(1))), people, listed))
    return mending_steps(found, replace(proposal_of(found, "GATE/5999"), number=number), "A")


def test_what_mends_the_cause_depends_on_roster_and_list() -> None:
    assert steps("4281", {"number": None}, []) == ("Give Ana Vell a number on the roster; 4281 is what they key.",)
    assert steps("0482", {"number": "482"}, []) == (
        "Correct the roster: Ana Vell's number is 0482, not 482; zeros in front were lost.",
    )
    ask = "Ask Ana Vell to punch under 4821 at GATE, and see it accepted."
    remove = "At GATE, remove the enrolment under 4281."
    # without the reader's list both may be enrolled
    assert steps("4281", {}, []) == ("At GATE, enrol Ana Vell under 4821, with three presentations.", ask, remove)
    own = {"reader": "GATE", "number": "4821"}
    assert steps("4281", {}, [own]) == (ask,)
    assert steps("4281", {"is_supervisor": True}, [{"reader": "GATE", "number": "4281"}]) == (
        "At GATE, enrol Ana Vell under 4821, as a supervisor.",
        ask,
        remove,
    )
    assert steps("4281", {}, [{**own, "reader": "DOCK"}])[0].startswith("At GATE, enrol")


def test_a_confirmation_names_whose_hours_change_and_what_speaks_for_the_person() -> None:
    rows = punched("9914", shifts(WEEK), "FAR") + punched("9914", shifts(WEEK))
    reckoning = reckoned(rows, BEN_BESIDE_DEE)
    best = proposal_of(find_strays(reckoning), "GATE/9914").best
    assert best is not None
    seen = preview_confirmation(reckoning, "GATE/9914", "Ben")
    assert (seen.stray, seen.person, seen.name, seen.probability) == ("GATE/9914", "B", "Ben Oor", best.probability)
    assert [(one.person, one.name) for one in seen.changes] == [("B", "Ben Oor"), ("D", "Dee Quill")]
    assert (seen.punches, seen.left) == (tuple(range(20, 40)), ())
    # nobody but them has hours that change, and of somebody who is no candidate nothing is known
    alone = preview_confirmation(reckoned(punched("4281", shifts(WEEK))), "GATE/4281", "X7")
    assert [(one.person, one.name) for one in alone.changes] == [("X7", "Other 7")]
    assert alone.probability == 0


def test_a_day_of_work_is_one_on_the_wall_of_the_reader() -> None:
    # Monday from 22:00 to midnight in New York is Tuesday in UTC; Ana's last day is that Monday
    # and what begins there in the morning is another shift
    late = [(MONDAY + DAY + HOUR * 3, "in"), (MONDAY + DAY + HOUR * 6, "out"), (MONDAY + DAY + HOUR * 12, "in")]
    in_new_york = READER_ROWS.with_columns(zone=pl.lit("America/New_York"))
    gone = [{**row, "left_on": date(2026, 3, 2)} if row["person"] == "A" else row for row in PEOPLE_ROWS]
    reckoning = reckoned(punched("4281", late), gone)
    there = Reckoning(replace(reckoning.snapshot, readers=in_new_york), AS_OF)
    seen = preview_confirmation(there, "GATE/4281", "A")
    assert (seen.punches, seen.left) == ((0, 1), (2,))
    with pytest.raises(Refusal) as refused:
        preview_confirmation(reckoning, "GATE/4281", "A")
    assert str(refused.value) == "none of the punches of GATE/4281 can be Ana Vell's; choose somebody else."


def test_no_punch_is_ever_given_to_two_people() -> None:
    first = preview_confirmation(reckoned(punched("4281", shifts(range(1)))), "GATE/4281", "A")
    assert stray_decisions._given([first, first]) == dict.fromkeys(first.punches, "A")
    with pytest.raises(AssertionError, match=r"^punch 0 would be given to two people$"):
        stray_decisions._given([first, replace(first, person="B")])
