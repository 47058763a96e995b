"""Findings of one cause are one case: each finding in exactly one, joined by persons, readers, numbers and days."""

from __future__ import annotations

import tomllib
from collections import Counter
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import polars as pl
import pytest

from evenhand.checks import all_checks, find_all, gather
from evenhand.checks.cases.stories import STORIES
from evenhand.checks.cases.telling import PLACES_OF_STEPS
from evenhand.enrolment.rounds import STATES
from evenhand.terms.cases import Case
from evenhand.terms.tables import GIVEN
from evenhand.web.pages.today.case_view import shown_case
from tests.checks.check_cases import AS_OF, FIRST, facts_of, instant

WRITTEN = [
    (path.stem, case)
    for path in sorted(Path(__file__).parents[1].glob("*.toml"))
    for case in tomllib.loads(path.read_text(encoding="utf-8"))["case"]
]

# Ben is enrolled under 1375, two digits of 1357 swapped, on a reader that names him; all his punches come under it.
BEN = {"person": "P2", "name": "Ben Okafor", "number": "1357", "is_supervisor": True}
SWAPPED: dict[str, Any] = {
    "people": [{"person": "P1", "name": "Ana Ruiz", "number": "4821", "is_supervisor": True}, BEN],
    "enrolments": [
        {"number": "4821", "name": "RUIZ", "is_supervisor": True},
        {"number": "1375", "name": "OKAFOR", "is_supervisor": True},
    ],
    "punches": [
        *({"number": "4821", "at": f"2026-03-0{day} {at}"} for day in (2, 3) for at in ("08:00", "16:00")),
        *({"number": "1375", "at": f"2026-03-0{day} {at}"} for day in (2, 3) for at in ("08:01", "16:02")),
    ],
    "schedules": [
        {"person": who, "starts_at": f"2026-03-0{day} 08:00", "ends_at": f"2026-03-0{day} 16:00"}
        for who in ("P1", "P2")
        for day in (2, 3)
    ],
}


def cases_of(case: dict[str, Any], **more: Any) -> list[Case]:
    facts = replace(facts_of(case), **more)
    return list(gather(find_all(facts), facts))


def the_case(cases: list[Case], kind: str) -> Case:
    (found,) = [one for one in cases if one.kind == kind]
    return found


@pytest.mark.parametrize(("code", "case"), WRITTEN, ids=[f"{code}-{case['name']}" for code, case in WRITTEN])
def test_every_finding_is_in_exactly_one_case_and_every_case_is_told(code: str, case: dict[str, Any]) -> None:
    facts = facts_of(case)
    findings = find_all(facts)
    cases = gather(findings, facts)
    assert Counter(one.key for each in cases for one in each.findings) == Counter(one.key for one in findings)
    assert len({each.key for each in cases}) == len(cases)
    for each in cases:
        assert each.title
        assert all(sentence.endswith((".", "?", "”.")) for sentence in each.story), each.story
        assert each.steps
        assert each.blocks_pay == any(one.blocks_pay for one in each.findings)
        assert each.stake.people >= max(one.stake.people for one in each.findings)


def test_a_hand_under_a_wrong_number_is_one_case_with_its_punches_its_entry_and_what_it_leaves_missing() -> None:
    case = the_case(cases_of(SWAPPED), "other_number")
    assert case.key == "other_number/Mill/1375"
    assert {one.code for one in case.findings} == {
        "wrong_number",
        "unattributed_punches",
        "no_punches",
        "few_supervisors",
    }
    assert (case.person, case.reader, case.number) == ("P2", "North", "1375") or case.reader == "North"
    assert "the hand of Ben Okafor (P2) seems to stand under 1375 instead of 1357" in case.story[0]
    assert "4 punches under it" in case.story[1]
    assert "1 absence of theirs seems to be the same hours" in case.story[1]
    # 2 x 8 h 01 min of punches, and two days of 8 h without any: the same hours, counted once
    assert case.stake.minutes == 2 * 8 * 60 + 2
    assert [(step.kind, step.state) for step in case.steps] == [
        ("give_punches", "to_do"),
        ("round", "to_do"),
        ("proof", "waits"),
    ]
    assert case.waits_for == ""


def test_a_step_that_is_done_or_on_a_round_says_so_and_then_the_case_waits_for_others() -> None:
    items = STATES.rows(
        [
            {
                "item": "2026-03-10-1/1", "round": "2026-03-10-1", "reader": "North", "position": 1, "action": "enrol",
                "number": "1357", "person": "P2", "name": "Ben Okafor", "language": "en", "called": 0,
            }
        ]
    )  # fmt: skip
    given = GIVEN.rows(
        [
            {
                "reader": "North", "number": "1375", "person": "P2", "punches": 4, "author": "R. Hale",
                "made_at": instant(AS_OF),
            }
        ]
    )  # fmt: skip
    quiet = {**SWAPPED, "punches": [one for one in SWAPPED["punches"] if one["number"] == "4821"], "schedules": []}
    case = the_case(cases_of(quiet, on_rounds=items, given=given), "other_number")
    assert [(step.kind, step.state) for step in case.steps] == [
        ("give_punches", "done"),
        ("round", "waits"),
        ("proof", "waits"),
    ]
    assert "given to Ben Okafor (P2) by R. Hale" in case.steps[0].says
    assert "round 2026-03-10-1" in case.steps[1].says
    assert case.waits_for == "round 2026-03-10-1 at North"


@pytest.mark.parametrize(
    ("results", "state"),
    [(("enrolled", "removed"), "done"), (("cannot", "removed"), "to_do"), (("enrolled", "not_done"), "to_do")],
)
def test_a_step_is_done_where_every_item_was_and_still_to_do_where_one_was_given_up(
    results: tuple[str, str], state: str
) -> None:
    items = STATES.rows(
        {
            "item": f"R-{place}", "round": "R", "reader": "North", "position": place, "action": action,
            "number": number, "person": "P2", "name": "Ben Okafor", "language": "en", "called": 0, "stopped": 0,
            "result": result,
        }
        for place, (action, number, result) in enumerate(
            zip(("enrol", "remove"), ("1357", "1375"), results, strict=True), start=1
        )
    )  # fmt: skip
    case = the_case(cases_of(SWAPPED, on_rounds=items), "other_number")
    (step,) = [step for step in case.steps if step.kind == "round"]
    assert step.state == state
    assert ("says that it is done" in step.says) == (state == "done")


def test_a_number_taken_off_with_nobody_enrolled_under_the_right_one_is_not_done() -> None:
    items = STATES.rows(
        [
            {
                "item": "R-1", "round": "R", "reader": "North", "position": 1, "action": "remove", "number": "1375",
                "person": "P2", "name": "Ben Okafor", "language": "en", "called": 0, "stopped": 0, "result": "removed",
            }
        ]
    )  # fmt: skip
    case = the_case(cases_of(SWAPPED, on_rounds=items), "other_number")
    (step,) = [step for step in case.steps if step.kind == "round"]
    assert step.state == "to_do"
    assert step.says.endswith("Round R says that 1375 was taken off, and of no enrolment.")


def test_the_same_punches_in_a_period_that_was_handed_off_are_at_stake_beside_this_one() -> None:
    facts = facts_of(SWAPPED)
    earlier = [{"number": "1375", "at": f"2026-02-2{day} {at}"} for day in (3, 4) for at in ("08:00", "16:00")]
    before = facts_of({**SWAPPED, "punches": earlier}).unattributed
    closed = (facts.period.first.replace(month=2, day=22), facts.period.first.replace(month=2, day=28))
    alone = the_case(cases_of(SWAPPED, strays=before), "other_number")
    assert alone.stake.closed_minutes == 0
    both = the_case(cases_of(SWAPPED, strays=before, handed_off=(closed,)), "other_number")
    assert (both.stake.minutes, both.stake.closed_minutes) == (alone.stake.minutes, 2 * 8 * 60)


def test_hours_of_a_period_that_was_handed_off_itself_are_at_stake_once() -> None:
    facts = facts_of(SWAPPED)
    shown = (facts.period.first, facts.period.last)
    alone = the_case(cases_of(SWAPPED, strays=facts.unattributed), "other_number")
    handed = the_case(cases_of(SWAPPED, strays=facts.unattributed, handed_off=(shown,)), "other_number")
    assert alone.stake.minutes > 0
    assert (handed.stake.minutes, handed.stake.closed_minutes) == (alone.stake.minutes, 0)


def test_two_people_who_forgot_a_punch_are_two_cases_and_one_who_forgot_twice_is_one() -> None:
    asked = [
        {
            "person": who, "kind": "missing_out", "at": f"2026-03-0{day} 07:58", "workweek": FIRST, "punch": at,
            "minutes": 480,
        }
        for at, (who, day) in enumerate((("P1", 2), ("P1", 3), ("P2", 2)), 1)
    ]  # fmt: skip
    people = [
        {"person": "P1", "name": "Ana Ruiz", "number": "4821"},
        {"person": "P2", "name": "Ben Okafor", "number": "1357"},
    ]
    cases = [one for one in cases_of({"people": people, "questions": asked}) if one.kind == "asked"]
    assert sorted((one.key, len(one.findings)) for one in cases) == [("asked/P1", 2), ("asked/P2", 1)]
    twice = next(one for one in cases if one.key == "asked/P1")
    assert [step.day and step.day.day for step in twice.steps] == [2, 3]


def test_the_most_at_stake_comes_first() -> None:
    cases = cases_of(SWAPPED)
    minutes = [one.stake.minutes + one.stake.closed_minutes for one in cases if one.stake.deadline]
    assert minutes == sorted(minutes, reverse=True)


def test_every_story_and_every_place_of_a_step_is_of_a_check_that_is_there() -> None:
    assert set(PLACES_OF_STEPS) <= {check.code for check in all_checks()}
    assert {"asked", "away", "other_number", "log", "reader", "hand_to_go"} <= set(STORIES)


# Three hands each under the next one's number, on a reader with two other supervisors.
RING: dict[str, Any] = {
    "people": [
        {"person": "P1", "name": "Ana Ruiz", "number": "4821"},
        BEN | {"is_supervisor": False},
        {"person": "P3", "name": "Cy Lund", "number": "2468"},
        {"person": "P8", "name": "Ida Marlow", "number": "5005", "is_supervisor": True},
        {"person": "P9", "name": "Rui Sorel", "number": "6006", "is_supervisor": True},
    ],
    "enrolments": [
        {"number": "1357", "name": "Ana Ruiz"},
        {"number": "2468", "name": "Ben Okafor"},
        {"number": "4821", "name": "Cy Lund"},
        {"number": "5005", "name": "Ida Marlow", "is_supervisor": True},
        {"number": "6006", "name": "Rui Sorel", "is_supervisor": True},
    ],
    "punches": [
        *({"number": "2468", "at": f"2026-03-02 {at}"} for at in ("08:00", "16:00")),
        {"number": "4821", "at": "2026-03-03 08:00"},
    ],
}
OF_RING = {"reader": "North", "action": "enrol_again", "language": "en", "called": 0, "stopped": 0, "laid_down": False}


def _turns(*results: str | None) -> Any:
    turns = zip(("4821", "1357", "2468"), ("P1", "P2", "P3"), results, strict=True)
    return STATES.rows(
        OF_RING | {"item": f"R-{at}", "round": "R", "position": at, "number": number, "person": who, "result": result}
        for at, (number, who, result) in enumerate(turns, start=1)
    )


def test_a_ring_is_one_case_with_one_visit_its_proof_and_the_punches_of_each() -> None:
    case = the_case(cases_of(RING), "other_number")
    assert "that of Ana Ruiz (P1) under 1357 of Ben Okafor (P2)" in case.story[0]
    assert case.story[1] == "3 punches under these numbers count for whoever holds each."
    assert [one.code for one in case.findings if one.code == "shared_number"] == ["shared_number"]
    visit, proof, *given = case.steps
    assert (visit.kind, visit.state, visit.reader, visit.person, visit.number) == (
        "round", "to_do", "North", "P2", "1357",
    )  # fmt: skip
    assert "in one visit, one right after the other; nobody leaves before each has keyed their own" in visit.says
    assert all(f"{who} under {number}" in visit.says for who, number in (
        ("Ana Ruiz (P1)", "4821"), ("Ben Okafor (P2)", "1357"), ("Cy Lund (P3)", "2468"),
    ))  # fmt: skip
    assert (proof.kind, proof.state) == ("proof", "waits")
    assert [step.says.split(":")[0] for step in given] == [
        "2 punches under 2468 at North count for Cy Lund (P3)",
        "1 punch under 4821 at North counts for Ana Ruiz (P1)",
    ]
    assert {step.kind for step in given} == {"give_punches"}


def test_a_ring_on_a_round_waits_for_it_and_is_done_once_each_of_it_was_enrolled() -> None:
    for results, state in (((None, None, None), "waits"), (("enrolled", "enrolled", None), "waits")):
        case = the_case(cases_of(RING, on_rounds=_turns(*results)), "other_number")
        assert (case.steps[0].state, case.steps[0].round) == (state, "R")
    done = the_case(cases_of(RING, on_rounds=_turns("enrolled", "enrolled", "enrolled")), "other_number")
    assert (done.steps[0].state, done.steps[0].says.endswith("Round R says that it is done.")) == ("done", True)
    given_up = the_case(cases_of(RING, on_rounds=_turns("enrolled", "enrolled", "cannot")), "other_number")
    assert given_up.steps[0].state == "to_do"


def test_punches_of_a_ring_that_were_given_count_no_more_and_are_told_as_given() -> None:
    given = GIVEN.rows(
        [
            {
                "reader": "North", "number": "2468", "person": "P2", "punches": 2, "author": "R. Hale",
                "made_at": instant(AS_OF),
            }
        ]
    )  # fmt: skip
    facts = facts_of(RING)
    numbers = dict(facts.recorded.select("punch", "number").iter_rows())
    whose = {"2468": "P2", "4821": "P1"}  # Ben's hand under Cy's number: his now
    theirs = facts.attributed.with_columns(
        person=pl.Series([whose[numbers[punch]] for punch in facts.attributed["punch"]], dtype=pl.String)
    )
    case = the_case(cases_of(RING, attributed=theirs, given=given), "other_number")
    told = [step.says for step in case.steps if step.kind == "give_punches"]
    assert [says.startswith("1 punch under 4821") for says in told] == [True, False]
    assert told[1].startswith("2 punches under 2468 at North were given to Ben Okafor (P2) by R. Hale")
    assert case.stake.minutes < the_case(cases_of(RING), "other_number").stake.minutes


def test_one_hand_under_anothers_number_is_put_on_a_round_from_its_case() -> None:
    one = {**RING, "enrolments": [RING["enrolments"][0], *RING["enrolments"][3:]]}
    case = the_case(cases_of(one), "other_number")
    assert (case.steps[0].kind, case.steps[0].person, case.steps[0].number) == ("round", "P1", "1357")
    assert "enrol Ana Ruiz (P1) under 4821 and Ben Okafor (P2) under 1357, each once" in case.steps[0].says


def test_what_any_number_of_a_ring_explains_is_in_its_case() -> None:
    absent = {**RING, "schedules": [
        {"person": "P3", "starts_at": "2026-03-03 08:00", "ends_at": "2026-03-03 16:00"},
    ]}  # fmt: skip
    case = the_case(cases_of(absent), "other_number")
    assert "no_punches" in {one.code for one in case.findings}


def test_the_removal_of_a_leaver_leads_to_the_round_it_is_on() -> None:
    gone = {"people": [RING["people"][0] | {"left_on": "2026-02-20"}, *RING["people"][3:]]}
    hand = {
        "person": "P1", "reader": "North", "number": "4821", "state": "on_a_round", "round": "2026-03-10-1",
        "day": "2026-03-20", "purpose_ended": "2026-02-20",
    }  # fmt: skip
    entries = [{"number": "4821", "name": "Ana Ruiz"}, *RING["enrolments"][3:]]
    case = the_case(cases_of(gone | {"enrolments": entries, "removals": [hand]}), "hand_to_go")
    step = case.steps[0]
    assert (step.kind, step.state, step.round, step.reader) == ("round", "waits", "2026-03-10-1", "North")
    assert step.says.endswith("it is on round 2026-03-10-1.")
    shown = shown_case(case, here="/", after="", is_open=True, is_new=False).steps[0]
    assert (shown.address, shown.label) == (
        "/rounds/2026-03-10-1/North?back=%2F", "Open the round at North",
    )  # fmt: skip
    assert shown.form == "off_round"


def test_whoever_withdrew_is_told_so_with_the_hand_to_be_removed_and_another_way_to_be_offered() -> None:
    told = {"people": RING["people"], "enrolments": [{"number": "4821", "name": "Ana Ruiz"}, *RING["enrolments"][3:]]}
    hand = {
        "person": "P1", "reader": "North", "number": "4821", "state": "held",
        "day": "2026-03-02", "purpose_ended": "2026-03-02",
    }  # fmt: skip
    withdrew = [{"person": "P1", "given_on": date(2026, 1, 5), "withdrawn_on": date(2026, 3, 2)}]
    case = the_case(cases_of(told | {"consent": withdrew, "removals": [hand]}), "hand_to_go")
    assert case.story[0] == "Ana Ruiz (P1) withdrew the release on Mon 2 Mar 2026 and is still enrolled at North."
    assert [(step.kind, step.state, step.person) for step in case.steps] == [
        ("round", "to_do", "P1"), ("consent", "to_do", "P1"),
    ]  # fmt: skip
    assert "another way to clock" in case.steps[1].says
    chose = [{"person": "P1", "action": "other_way", "said_on": date(2026, 3, 2), "other_way": "A card"}]
    case = the_case(cases_of(told | {"said": chose, "removals": [hand]}), "hand_to_go")
    assert case.story[0].startswith("Ana Ruiz (P1) chose another way to clock on Mon 2 Mar 2026")
    assert [step.kind for step in case.steps] == ["round"]
