"""When attributed punches are doubted, at the bounds."""

from __future__ import annotations

import pytest

from evenhand.linkage import doubted, roster_of
from evenhand.terms.settings import Policy
from evenhand.terms.sources import ENROLMENTS, PEOPLE, SCHEDULES
from evenhand.terms.tables import ATTRIBUTED
from tests.linkage.scene import DAY, HOUR, MONDAY, POLICY, READER_ROWS, attributed, shifts

SIX = MONDAY + 6 * HOUR
DEE = {"person": "D", "name": "Dee Quill", "number": "9914", "site": "Quarry"}


def doubts(owns, people=None, listed=(), policy=POLICY) -> dict[str, int]:
    """How many punches are doubted at each reader."""
    rows = ATTRIBUTED.rows([{"punch": at, **row} for at, row in enumerate(owns)])
    roster = roster_of(PEOPLE.rows(people or [DEE]), READER_ROWS, rows, SCHEDULES.empty())
    found = doubted(rows, roster, ENROLMENTS.rows(listed), policy)
    assert set(found["person"]) <= {"D"}
    return dict(found.group_by("reader").len().rows())


@pytest.mark.parametrize(("punches", "found"), [(4, {"GATE": 4}), (3, {})])
def test_four_punches_at_another_site_are_doubted(punches: int, found: dict[str, int]) -> None:
    own = attributed("D", shifts(range(5)), "FAR")
    assert doubts(own + attributed("D", shifts(range(7, 8))[:punches])) == found


def test_the_reader_somebody_uses_most_at_their_own_site_is_theirs() -> None:
    # though the gate sees most of Dee's punches, she belongs to the quarry
    assert doubts(attributed("D", shifts(range(1)), "FAR") + attributed("D", shifts(range(2, 9)))) == {"GATE": 28}
    # and where she has no other reader, nothing says that these are not hers
    assert doubts(attributed("D", shifts(range(5)))) == {}


def test_another_name_beside_the_number_is_a_doubt() -> None:
    own = attributed("D", shifts(range(5)), "GATE") + attributed("D", shifts(range(7, 9)), "DOCK")
    mill = [DEE | {"site": "Mill"}]
    assert doubts(own, mill, [{"reader": "DOCK", "number": "9914", "name": "Ben Oor"}]) == {"DOCK": 8}
    assert doubts(own, mill, [{"reader": "DOCK", "number": "9914", "name": "QUILL D"}]) == {}
    assert doubts(own, mill, [{"reader": "DOCK", "number": "9914", "name": ""}]) == {}
    assert doubts(own, mill, [{"reader": "DOCK", "number": "1111", "name": "Ben Oor"}]) == {}


def test_another_name_is_a_doubt_at_the_only_reader_too() -> None:
    own = attributed("D", shifts(range(5)), "FAR")
    assert doubts(own, listed=[{"reader": "FAR", "number": "9914", "name": "Ben Oor"}]) == {"FAR": 20}
    assert doubts(own, listed=[{"reader": "FAR", "number": "9914", "name": "Dee Quill"}]) == {}


def clashing(days: int, apart: int, way: str = "in") -> dict[str, int]:
    """In at the gate each day, and `apart` seconds later once more at the dock, which sees her on other days too."""
    gate = [(SIX + DAY * day, "in") for day in range(9)]
    dock = [(SIX + DAY * day + apart, way) for day in range(days)]
    rest = [(SIX + DAY * (20 + day), "in") for day in range(4)]
    return doubts(attributed("D", gate) + attributed("D", dock + rest, "DOCK"), [DEE | {"site": "Mill"}])


@pytest.mark.parametrize(
    ("days", "apart", "way", "found"),
    [
        (3, 60, "in", {"DOCK": 7}),
        (2, 60, "in", {}),  # two clashes are chance
        (3, 59, "in", {}),  # one act, by the policy
        (3, 60, "out", {}),
        (3, POLICY.longest_span_s, "in", {"DOCK": 7}),
    ],
)
def test_going_in_twice_without_going_out_is_a_doubt_from_three_times_on(days, apart, way, found) -> None:
    assert clashing(days, apart, way) == found


def test_beyond_the_longest_span_a_second_way_in_says_that_a_punch_is_missing() -> None:
    own = [row for day in range(0, 12, 4) for row in attributed("D", [(SIX + DAY * day, "in")])]
    own += [row for day in range(40, 46) for row in attributed("D", shifts(range(day, day + 1)))]
    later = [(SIX + DAY * day + POLICY.longest_span_s + extra, "in") for day in range(0, 12, 4) for extra in (1,)]
    dock = attributed("D", [*later, (SIX + 60 * DAY, "in")], "DOCK")
    mill = [DEE | {"site": "Mill"}]
    assert doubts(own + dock, mill) == {}
    assert doubts(own + dock, mill, policy=Policy(longest_span_s=POLICY.longest_span_s + 1)) == {"DOCK": 4}


@pytest.mark.parametrize(("apart", "found"), [(599, {"FAR": 4}), (600, {})])
def test_two_sites_sooner_than_anybody_gets_there_are_a_doubt(apart: int, found: dict[str, int]) -> None:
    # a person of no site, so that no reader is away
    gate = [(SIX + DAY * day, "in") for day in range(9)]
    far = [(SIX + DAY * day + apart, "out") for day in range(4)]
    before = attributed("D", [(SIX - DAY, "out")], "DOCK")
    assert doubts(before + attributed("D", gate) + attributed("D", far, "FAR"), [DEE | {"site": None}]) == found
    # the other way round it is the gate's punches that come too soon, and the gate is used most
    far_first = [(at - 2 * apart, way) for at, way in far]
    assert doubts(attributed("D", far_first, "FAR") + attributed("D", gate), [DEE | {"site": None}]) == {}


def doubted_rows(owns, people, listed=()) -> list[tuple[object, ...]]:
    rows = ATTRIBUTED.rows(owns)
    found = doubted(
        rows, roster_of(PEOPLE.rows(people), READER_ROWS, rows, SCHEDULES.empty()), ENROLMENTS.rows(listed), POLICY
    )
    return found.select("punch", "reader", "number", "at", "direction", "person").sort("punch").rows()


def test_a_doubted_punch_comes_with_its_number_and_its_holder_and_one_added_by_hand_is_not_doubted() -> None:
    own = attributed("D", shifts(range(5)), "FAR")
    away = attributed("D", [(SIX + 9 * DAY + at, ("in", "out", None)[at % 3]) for at in range(6)])
    numbered = [{"punch": at - 2, **row} for at, row in enumerate([*away, *own])]
    # two of the six were added by hand, and count as her use of the reader all the same
    assert doubted_rows(numbered, [DEE]) == [
        (at, "GATE", "9914", SIX + 9 * DAY + at + 2, ("in", "out", None)[(at + 2) % 3], "D") for at in range(4)
    ]
    # whoever has no number of their own keyed none that could be two people's
    assert doubted_rows(numbered, [DEE | {"number": None}]) == []


def test_a_doubt_about_one_person_is_none_about_another() -> None:
    ben = {"person": "B", "name": "Ben Oor", "number": "7360", "site": "Mill"}
    dees = attributed("D", shifts(range(5)), "FAR") + attributed("D", shifts(range(7, 9)))
    bens = attributed("B", shifts(range(5))) + attributed("B", shifts(range(7, 9)), "DOCK")
    numbered = [{"punch": at, **row} for at, row in enumerate([*dees, *bens])]
    assert {row[5] for row in doubted_rows(numbered, [ben, DEE])} == {"D"}
    # the name beside Ben's number at the dock is Dee's, so that his punches there are doubted; Dee's own is not listed
    listed = [
        {"reader": "DOCK", "number": "7360", "name": "Dee Quill"},
        {"reader": "GATE", "number": "7360", "name": " "},
    ]
    found = doubted_rows(numbered, [ben, DEE | {"site": None}], listed)
    assert {(row[1], row[5]) for row in found} == {("DOCK", "B")}
    assert len(found) == 8
