"""The round at the reader."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.enrolment.rounds import checked_outcome, round_items, round_states, waiting
from evenhand.enrolment.tables import ATTENDED, PLAN
from evenhand.terms.rounds import OUTCOMES, RESULTS
from evenhand.terms.sources import PEOPLE
from evenhand.terms.tables import READER_STEPS
from tests.enrolment.rounds import items, outcomes

FOUR = items(
    ("r1-1", "GATE", 1, "enrol_supervisor", "P1", "1001"),
    ("r1-2", "GATE", 2, "enrol", "P2", "1002"),
    ("r1-3", "GATE", 3, "enrol", "P3", "1003"),
    ("r1-4", "GATE", 4, "remove", "P4", "1004"),
)


def _next(*rows):
    return waiting(round_states(FOUR, outcomes(*rows)), "GATE")["item"].to_list()


def test_people_are_called_in_order() -> None:
    assert _next() == ["r1-1", "r1-2", "r1-3", "r1-4"]
    assert _next(("a", "r1-1", "enrolled", 5)) == ["r1-2", "r1-3", "r1-4"]


def test_who_is_to_try_again_comes_after_the_others_and_who_did_not_come_last() -> None:
    assert _next(("a", "r1-1", "did_not_come", 5), ("b", "r1-2", "try_again", 6)) == ["r1-3", "r1-4", "r1-2", "r1-1"]


def test_passed_over_means_somebody_else_goes_first_and_nobody_is_never_called() -> None:
    done = [("a", "r1-1", "enrolled", 1), ("b", "r1-4", "removed", 2), ("c", "r1-2", "stopped", 3)]
    assert _next(*done) == ["r1-3", "r1-2"]
    # though the hand of the other is to rest until the end: there is nobody else
    assert _next(*done, ("d", "r1-3", "passed_over", 4)) == ["r1-2", "r1-3"]
    said, called = list(done), []
    for at in range(4, 12):
        called.append(_next(*said)[0])
        said.append((f"x{at}", called[-1], "passed_over", at))
    assert called == ["r1-3", "r1-2"] * 4


def test_of_three_whoever_rests_is_called_though_the_others_are_passed_over_again_and_again() -> None:
    said, called = [("a", "r1-1", "enrolled", 1), ("b", "r1-4", "stopped", 2)], []
    for at in range(3, 9):
        called.append(_next(*said)[0])
        said.append((f"x{at}", called[-1], "passed_over", at))
    assert set(called) == {"r1-2", "r1-3", "r1-4"}


def test_a_slip_of_the_thumb_is_undone() -> None:
    assert _next(("a", "r1-1", "cannot", 5), ("b", "r1-1", "undone", 9))[0] == "r1-1"


def test_the_last_outcome_by_the_phones_clock_counts_whenever_it_arrives() -> None:
    states = round_states(FOUR, outcomes(("late", "r1-2", "did_not_come", 5), ("early", "r1-2", "enrolled", 60)))
    row = states.filter(states["item"] == "r1-2").row(0, named=True)
    assert (row["result"], row["called"], row["at"]) == ("enrolled", 1, 60)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(
        st.tuples(st.sampled_from(["r1-1", "r1-2", "r1-3"]), st.sampled_from(RESULTS), st.integers(0, 9)), max_size=8
    ),
    st.randoms(use_true_random=False),
)
def test_a_round_stands_the_same_in_whatever_order_its_outcomes_arrive(said, random) -> None:
    rows = [(f"o{n}", *row) for n, row in enumerate(said)]
    mixed = random.sample(rows, len(rows))
    assert round_states(FOUR, outcomes(*rows)).equals(round_states(FOUR, outcomes(*mixed)))


PEOPLE_THERE = PEOPLE.rows(
    {"person": f"P{n}", "name": f"Person {n}", "number": f"100{n}", "is_supervisor": n == 1} for n in range(1, 5)
)


def test_a_round_calls_supervisors_first_then_slot_by_slot_and_removes_at_the_end() -> None:
    plan = PLAN.rows(
        {"visit": visit, "person": person, "reader": "GATE", "slot": slot, "is_supervisor": is_supervisor, "minutes": 5}
        for visit, person, slot, is_supervisor in ((1, "P3", 1, False), (2, "P1", 0, True), (3, "P2", 1, False))
    )
    steps = READER_STEPS.rows(
        {"reader": "GATE", "position": n, "action": action, "number": number, "person": person, "why": "-"}
        for n, (action, number, person) in enumerate(
            [("enrol_again", "1002", "P2"), ("remove", "1004", "P4"), ("remove", "77", None)]
        )
    )
    attended = ATTENDED.rows([{"reader": "GATE", "slot": 1, "person": "P1"}])
    got = round_items("r1", plan, steps, attended, PEOPLE_THERE, [100, 200], languages={"P3": "es"})
    assert got.select("position", "action", "number", "starts_at", "language", "stands").rows() == [
        (1, "enrol_supervisor", "1001", 100, "en", None),
        (2, "enrol", "1003", 200, "es", "Person 1"),
        (3, "enrol_again", "1002", 200, "en", "Person 1"),
        (4, "remove", "1004", None, "en", None),
        (5, "remove", "77", None, "en", None),
    ]
    assert got["item"].to_list() == [f"r1-{n}" for n in range(1, 6)]


def test_a_full_reader_has_a_number_taken_off_before_the_next_hand() -> None:
    plan = PLAN.rows(
        {"visit": n, "person": f"P{n}", "reader": "GATE", "slot": 0, "is_supervisor": False, "minutes": 5}
        for n in (1, 2, 3)
    )
    steps = READER_STEPS.rows(
        {"reader": "GATE", "position": n, "action": "remove", "number": str(n), "why": "-"} for n in (7, 8, 9)
    )
    full = {"capacity": {"GATE": 4}, "held": {"GATE": ["7", "8", "9"]}}
    got = round_items("r1", plan, steps, ATTENDED.empty(), PEOPLE_THERE, [100], languages={}, **full)
    assert got["number"].to_list() == ["1001", "7", "1002", "8", "1003", "9"]
    assert got["starts_at"].to_list() == [100, 100, 100, 100, 100, None]


def _said(**values):
    return dict.fromkeys(OUTCOMES.names) | {"result": "enrolled"} | values


@pytest.mark.parametrize(
    ("said", "action", "wrong"),
    [
        (_said(presentations=3, scores="4 7.5"), "enrol", None),
        (_said(), "remove", '"enrolled" is no outcome of an item that says "remove"'),
        (_said(result="removed"), "enrol", '"removed" is no outcome of'),
        (_said(result="gone"), "enrol", '"gone" is no outcome'),
        (_said(presentations=0), "enrol", "0 presentations"),
        (_said(result="cannot", other_way="a card"), "enrol", "give the reason"),
        (_said(result="cannot", reason="a cast"), "enrol", "another way to clock"),
        (_said(scores="4 -1"), "enrol", '"-1" is no score'),
        (_said(scores="4 nan"), "enrol", '"nan" is no score'),
    ],
)
def test_an_outcome_says_what_it_must(said, action, wrong) -> None:
    found = checked_outcome(said, action)
    assert (found is None) == (wrong is None)
    assert wrong is None or wrong in found
