"""When people can be called away."""

from __future__ import annotations

from evenhand.enrolment.planning.away import when_away
from evenhand.enrolment.tables import DEMANDS
from evenhand.terms.sources import PEOPLE, SCHEDULES

EIGHT = 1_773_064_800  # 2026-03-09T14:00Z
STARTS = [EIGHT, EIGHT + 1200, EIGHT + 2400]
PEOPLE_THERE = PEOPLE.rows(
    [
        {"person": "P1", "name": "Ana Roca", "department": "press"},
        {"person": "P2", "name": "Ben Hale", "department": "stores"},
    ]
)


def _away(demands=(), schedules=(), withheld=None):
    return when_away(
        PEOPLE_THERE,
        SCHEDULES.rows(schedules),
        DEMANDS.rows(demands),
        withheld=withheld or {},
        starts=STARTS,
        length_s=1200,
    )


def _slots(away, person):
    return dict(away.costs.filter(away.costs["person"] == person).select("slot", "minutes").iter_rows())


def test_a_slot_costs_its_minutes() -> None:
    assert _slots(_away(), "P1") == {0: 20, 1: 20, 2: 20}


def test_a_slot_must_lie_whole_within_a_shift() -> None:
    shift = {"person": "P1", "starts_at": EIGHT + 600, "ends_at": EIGHT + 3600}
    away = _away(schedules=[shift])
    assert set(_slots(away, "P1")) == {1, 2}
    assert set(_slots(away, "P2")) == {0, 1, 2}


def test_nobody_is_pulled_out_of_a_critical_task() -> None:
    task = {"department": "press", "starts_at": EIGHT + 1300, "ends_at": EIGHT + 1400}
    away = _away(demands=[task])
    assert set(_slots(away, "P1")) == {0, 2}
    assert set(_slots(away, "P2")) == {0, 1, 2}


def test_minutes_weigh_what_the_demand_says() -> None:
    # Ten of the first twenty minutes count three times: 10 + 30. The last slot is a break and counts nothing.
    peak = {"person": "P2", "starts_at": EIGHT, "ends_at": EIGHT + 600, "weight": 3}
    rest = {"starts_at": EIGHT + 2400, "ends_at": EIGHT + 3600, "weight": 0}
    away = _away(demands=[peak, rest])
    assert _slots(away, "P2") == {0: 40, 1: 20, 2: 0}
    assert _slots(away, "P1") == {0: 20, 1: 20, 2: 0}


def test_nobody_without_a_release_has_a_slot() -> None:
    away = _away(withheld={"P2": "Ben Hale has no release in force."})
    assert _slots(away, "P2") == {}
    assert _slots(away, "P1") != {}
    assert away.left_out.rows(named=True) == [
        {"person": "P2", "reader": None, "why": "Ben Hale has no release in force.", "round": None}
    ]
