"""The plan of an enrolment day."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import OptimizeResult, linear_sum_assignment, milp

from evenhand.enrolment.planning.changes import plan_rest
from evenhand.enrolment.planning.plan import EnrolmentDay, plan_day
from evenhand.enrolment.tables import VISITS
from evenhand.terms.records import Refusal
from tests.enrolment.days import Day, faults

# An instance of our own; the optimum of 15 was proved by a constraint solver (CP-SAT) and by HiGHS alike.
TWO_READERS = Day(
    places={"A": 2, "B": 2},
    supervisors={"S1": (["A", "B"], [1, 2, 3, 4]), "S2": (["A", "B"], [2, 1, 3, 5])},
    people={
        "E1": (["A"], [5, 3, 1, 4]),
        "E2": (["A"], [2, 2, 6, 1]),
        "E3": (["A"], [9, 1, 2, 2]),
        "E4": (["B"], [3, 4, 1, 5]),
        "E5": (["B"], [7, 1, 3, 2]),
        "E6": (["B"], [4, 2, 2, 9]),
        "E7": (["A", "B"], [6, 2, 2, 3]),
    },
)


def test_two_readers_and_seven_people_cost_fifteen_and_that_is_proved() -> None:
    planned = TWO_READERS.planned(attended=False)
    assert (planned.minutes, planned.bound, planned.gap) == (15, 15, 0.0)
    assert planned.is_optimal
    assert faults(TWO_READERS, planned, attended=False) == []
    assert planned.left_out.is_empty()


def test_where_supervisors_must_attend_every_slot_is_attended_by_one_who_stands_there() -> None:
    planned = TWO_READERS.planned()
    assert planned.is_optimal
    assert faults(TWO_READERS, planned, attended=True) == []


SMALL = Day(
    places={"A": 2, "B": 1},
    supervisors={"S1": (["A", "B"], [3, 1, 4]), "S2": (["A", "B"], [2, 5, 2])},
    people={"E1": (["A"], [None, 4, 1]), "E2": (["A", "B"], [1, 2, 2])},
)


def _cheapest_of_all(day: Day) -> int:
    """Try every way to place everybody, and return the least minutes of those that keep to the rules."""
    visits, _, _, costs = day.frames()
    minutes = {(person, slot): cost for person, slot, cost in costs.iter_rows()}
    options: dict[int, list[tuple[str, str, int, bool]]] = {}
    for visit, person, reader, is_supervisor, _ in visits.iter_rows():
        options.setdefault(visit, []).extend(
            (person, reader, slot, is_supervisor) for slot in range(day.slots) if (person, slot) in minutes
        )
    best = 10**9
    for plan in product(*options.values()):
        cost = sum(minutes[person, slot] for person, _, slot, _ in plan)
        if cost >= best or len({(person, slot) for person, _, slot, _ in plan}) < len(plan):
            continue
        at = [(reader, slot) for _, reader, slot, _ in plan]
        if any(at.count(place) > day.places[place[0]] for place in at):
            continue
        first = {
            reader: min(slot for _, where, slot, is_supervisor in plan if is_supervisor and where == reader)
            for reader in day.places
        }
        if all(is_supervisor or slot > first[reader] for _, reader, slot, is_supervisor in plan):
            best = cost
    return best


def test_no_other_way_to_place_everybody_is_cheaper() -> None:
    roomier = Day(SMALL.places | {"B": 2}, SMALL.supervisors, SMALL.people)
    assert roomier.planned(attended=False).minutes == _cheapest_of_all(roomier)
    assert SMALL.planned(attended=False).minutes == _cheapest_of_all(SMALL)


@pytest.mark.parametrize("seed", range(12))
def test_where_everybody_goes_to_one_reader_the_plan_is_the_cheapest_assignment_to_its_places(seed: int) -> None:
    # a second solver: scipy.optimize.linear_sum_assignment, every place of a slot a column of its own
    rng = np.random.default_rng(seed)
    cost = rng.integers(1, 60, (7, 4))
    opened: list[int | None] = [0, None, None, None, None]
    people = {f"P{n}": (["A"], [None, *cost[n].tolist()]) for n in range(7)}
    planned = Day({"A": 2}, {"S1": (["A"], opened), "S2": (["A"], opened)}, people).planned(attended=False)
    places = np.repeat(cost, 2, axis=1)
    rows, columns = linear_sum_assignment(places)
    assert planned.left_out.is_empty()
    assert planned.minutes == places[rows, columns].sum()


@pytest.mark.parametrize(("places", "planned"), [(2, True), (1, False)])
def test_those_who_come_together_come_in_one_slot_or_not_at_all(places: int, planned: bool) -> None:
    # each would be cheapest in a slot of their own, and both are free in the third alone
    people = {"P1": (["A"], [None, 1, 9]), "P2": (["A"], [2, None, 9])}
    day = replace(
        Day({"A": places}, {}, people, (("A", "S1"), ("A", "S2"))).day(attended=False), together=(frozenset((0, 1)),)
    )
    found = plan_day(day)
    assert found.plan["slot"].to_list() == ([2, 2] if planned else [])
    why = found.left_out["why"].to_list()
    assert [one.startswith("this person's hand and others'") for one in why] == ([] if planned else [True, True])


def _minutes(slots: int) -> st.SearchStrategy[list[int | None]]:
    return st.lists(st.none() | st.integers(0, 30), min_size=slots, max_size=slots)


@st.composite
def days(draw: st.DrawFn) -> Day:
    slots = draw(st.integers(1, 5))
    readers = [f"R{n}" for n in range(draw(st.integers(1, 3)))]
    some = st.lists(st.sampled_from(readers), min_size=1, unique=True)
    supervisors = {f"S{n}": (draw(some), draw(_minutes(slots))) for n in range(draw(st.integers(0, 4)))}
    people = {f"P{n}": (draw(some), draw(_minutes(slots))) for n in range(draw(st.integers(0, 7)))}
    who = st.tuples(st.sampled_from(readers), st.sampled_from(sorted(supervisors) or ["S9"]))
    stand = draw(st.lists(who, max_size=2, unique=True))
    standing = tuple((r, s) for r, s in stand if s in supervisors and r not in supervisors[s][0])
    return Day({reader: draw(st.integers(1, 3)) for reader in readers}, supervisors, people, standing)


@settings(max_examples=60, deadline=None)
@given(days(), st.booleans())
def test_no_plan_puts_a_person_before_a_supervisor_or_goes_over_capacity(day: Day, attended: bool) -> None:
    planned = day.planned(attended=attended, seconds=5)
    assert faults(day, planned, attended=attended) == []
    made = set(planned.plan["visit"].to_list())
    visits = day.frames()[0]
    missing = visits.unique("visit", maintain_order=True).height - len(made)
    assert planned.left_out.filter(planned.left_out["person"].is_not_null()).height == missing
    assert planned.minutes >= planned.bound


def test_more_people_than_places_leaves_the_fewest_out_and_says_why() -> None:
    day = Day(
        {"A": 2},
        {"S1": (["A"], [5, 5, 5]), "S2": (["A"], [5, 5, 5])},
        {f"P{n}": (["A"], [3, 3, 3]) for n in range(6)},
    )
    # Two supervisors fill slot 0 of three slots with two places; slots 1 and 2 hold four of the six people.
    # One of the two supervisors can attend in each.
    planned = day.planned()
    assert planned.left_out["person"].to_list() == ["P4", "P5"]
    assert "6 places at A in the 3 slots" in planned.left_out["why"][0]
    assert planned.minutes == 5 + 5 + 4 * 3


def test_a_reader_without_two_supervisors_to_be_had_is_reported() -> None:
    day = Day({"A": 2}, {"S1": (["A"], [5, 5, 5])}, {"P1": (["A"], [3, 3, 3])})
    planned = day.planned()
    assert planned.plan["person"].to_list() == ["S1", "P1"]
    assert planned.left_out["why"].to_list() == [
        "A ends the day with 1 of the 2 supervisors it needs: no other supervisor is planned for it and free; "
        "name more supervisors, or open more slots."
    ]


def test_a_reader_with_two_supervisors_standing_takes_people_at_once() -> None:
    day = Day(
        {"A": 1},
        {"S1": ([], [9, 9]), "S2": ([], [9, 9])},
        {"P1": (["A"], [1, 2])},
        standing=(("A", "S1"), ("A", "S2")),
    )
    planned = day.planned()
    assert planned.plan.select("person", "slot").rows() == [("P1", 0)]
    assert planned.attended["person"][0] in ("S1", "S2")


def test_a_supervisor_whose_own_hand_is_enrolled_again_has_another_one_stand_there() -> None:
    day = Day({"A": 2}, {"S2": ([], [5, 5])}, {"S1": (["A"], [1, 9])}, standing=(("A", "S1"), ("A", "S2")))
    planned = day.planned()
    assert planned.plan.select("person", "slot").rows() == [("S1", 0)]
    assert planned.attended.rows() == [("A", 0, "S2")]
    alone = Day({"A": 2}, {"S2": ([], [None, 5])}, {"S1": (["A"], [1, None])}, standing=(("A", "S1"), ("A", "S2")))
    assert alone.planned().plan.is_empty()


def test_of_supervisors_who_may_only_the_cheapest_two_are_called() -> None:
    day = Day({"A": 3}, {f"S{n}": (["A"], [n, n]) for n in range(1, 5)}, {})
    visits, *rest = day.frames()
    planned = plan_day(EnrolmentDay(visits.with_columns(is_needed=False), *rest, slots=2))
    assert sorted(planned.plan["person"].to_list()) == ["S1", "S2"]
    assert planned.minutes == 1 + 2
    assert visits.schema == VISITS.schema


def test_no_more_of_a_crew_are_away_at_once_than_work_can_spare() -> None:
    day = Day(
        {"A": 4},
        {"S1": ([], [9, 9, 9]), "S2": ([], [9, 9, 9])},
        {f"P{n}": (["A"], [1, 5, 5]) for n in range(4)},
        standing=(("A", "S1"), ("A", "S2")),
    )
    planned = day.planned(crews=dict.fromkeys(("P0", "P1", "P2", "P3"), "press"), crew_most=2)
    # Two in the cheap slot and two elsewhere: 1 + 1 + 5 + 5.
    assert planned.minutes == 12
    assert planned.plan["slot"].value_counts()["count"].max() == 2


def test_a_missed_slot_is_planned_again_and_everybody_else_stays() -> None:
    day = Day(
        {"A": 2},
        {"S1": (["A"], [1, 1, 1, 1, 1]), "S2": (["A"], [1, 1, 1, 1, 1])},
        {f"P{n}": (["A"], [4, 4, 4, 4, 4]) for n in range(5)},
    )
    first = day.planned()
    in_slot_one = first.plan.filter(first.plan["slot"] == 1)["person"].to_list()
    done = first.plan.filter(first.plan["slot"] == 0)["visit"].to_list()
    came, missed = in_slot_one
    done += first.plan.filter(first.plan["person"] == came)["visit"].to_list()
    rest = plan_rest(first, day.day(), now=2, done=done)
    before = dict(first.plan.filter(first.plan["slot"] >= 2).select("person", "slot").iter_rows())
    after = dict(rest.plan.select("person", "slot").iter_rows())
    assert {person: after[person] for person in before} == before
    assert after[missed] >= 2
    assert rest.left_out.is_empty()


def test_who_is_away_for_the_day_is_left_out_and_nobody_is_called_in_the_past() -> None:
    first = TWO_READERS.planned()
    done = first.plan.filter(first.plan["slot"] == 0)["visit"].to_list()
    rest = plan_rest(first, TWO_READERS.day(), now=1, done=done, absent=["E1"])
    assert rest.plan["slot"].min() >= 1
    assert "E1" not in rest.plan["person"].to_list()
    assert ("E1", "did not come today; plan another day.") in rest.left_out.select("person", "why").rows()


def test_the_same_day_is_planned_the_same_way_twice() -> None:
    assert TWO_READERS.planned().plan.equals(TWO_READERS.planned().plan)


def test_a_search_cut_short_keeps_to_the_rules_and_states_how_far_from_the_best_it_may_be(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    rng = np.random.default_rng(3)
    readers = [f"R{n}" for n in range(6)]

    def minutes() -> list[int | None]:
        return [int(of) if of > 8 else None for of in rng.integers(5, 60, 14)]

    day = Day(
        dict.fromkeys(readers, 4),
        {f"S{n:02d}": ([readers[n // 2]], minutes()) for n in range(12)},
        {f"P{n:03d}": ([readers[int(rng.integers(6))]], minutes()) for n in range(60)},
    )
    best, given = day.planned(), []

    def stopped(
        costs: np.ndarray, *, integrality: np.ndarray, options: dict[str, float], **more: Any
    ) -> OptimizeResult:
        """HiGHS as if its time had run out: an answer that keeps to every rule and is not the best, and a true bound.

        When a clock stops it differs from machine to machine; the answer is the best for costs that are not the day's.
        """
        given.append(options["time_limit"])
        other = milp(costs * rng.uniform(1, 2, len(costs)), integrality=integrality, **more)
        whole = milp(costs, integrality=np.zeros(len(costs)), **more)
        return OptimizeResult(x=other.x, mip_dual_bound=whole.fun)

    monkeypatch.setattr("scipy.optimize.milp", stopped)
    hurried = day.planned(seconds=0.3)
    assert given == [0.3]
    assert faults(day, hurried, attended=True) == faults(day, best, attended=True) == []
    assert best.is_optimal
    assert not hurried.is_optimal
    assert hurried.left_out.height == best.left_out.height == 0
    assert hurried.bound <= best.minutes < hurried.minutes
    assert hurried.gap == pytest.approx((hurried.minutes - hurried.bound) / hurried.minutes)

    monkeypatch.setattr("scipy.optimize.milp", lambda *_, **__: OptimizeResult(x=None, mip_dual_bound=None))
    with pytest.raises(Refusal, match=r"^no plan was found in 0\.3 s; give the search longer"):
        day.planned(seconds=0.3)


@pytest.mark.parametrize("slots", [1, 3])
def test_a_day_without_anybody_is_an_empty_plan(slots: int) -> None:
    day = Day({}, {}, {})
    planned = plan_day(EnrolmentDay(*day.frames(), slots=slots))
    assert planned.plan.is_empty()
    assert planned.is_optimal
