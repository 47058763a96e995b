"""Who alone held a number, from when to when, by the clock of each zone."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

import polars as pl
import pytest

from evenhand.reconcile.holdings import BEGINNING, END, sole_holdings
from evenhand.terms.sources import PEOPLE

HELD = {"number": pl.String, "zone": pl.String, "person": pl.String, "starts": pl.Int64, "ends": pl.Int64}
CHICAGO, DENVER = "America/Chicago", "America/Denver"


def midnight(day, zone=CHICAGO):
    return int(datetime(2026, 3, day, tzinfo=ZoneInfo(zone)).timestamp())


def held(*spans, zones=(CHICAGO,)):
    """Return holdings of number 1 by P0, P1 and so on, each from one day of March 2026 to another."""
    people = PEOPLE.rows(
        {
            "person": f"P{at}",
            "name": f"Person {at}",
            "number": "1",
            "hired_on": first and date(2026, 3, first),
            "left_on": last and date(2026, 3, last),
        }
        for at, (first, last) in enumerate(spans)
    )
    return sole_holdings(people, zones)


@pytest.mark.parametrize(
    ("spans", "alone"),
    [
        ([(None, None)], [("P0", BEGINNING, END)]),
        ([(2, None)], [("P0", midnight(2), END)]),
        ([(None, 6)], [("P0", BEGINNING, midnight(7))]),
        ([(2, 2)], [("P0", midnight(2), midnight(3))]),
        # 2026-03-08 has 23 hours in Chicago
        ([(8, 8)], [("P0", midnight(8), midnight(8) + 23 * 3600)]),
        # handed on from one day to the next, with days between, on the same day, and with days together
        ([(None, 4), (5, None)], [("P0", BEGINNING, midnight(5)), ("P1", midnight(5), END)]),
        ([(None, 4), (7, None)], [("P0", BEGINNING, midnight(5)), ("P1", midnight(7), END)]),
        ([(None, 4), (4, None)], [("P0", BEGINNING, midnight(4)), ("P1", midnight(5), END)]),
        ([(None, 6), (4, None)], [("P0", BEGINNING, midnight(4)), ("P1", midnight(7), END)]),
        # one within the other's days, and all the time
        ([(None, None), (4, 5)], [("P0", BEGINNING, midnight(4)), ("P0", midnight(6), END)]),
        ([(None, None), (None, None)], []),
        ([(1, 9), (1, 5), (5, 9)], []),
        ([], []),
    ],
)
def test_a_number_is_held_alone_on_whole_civil_days(spans, alone):
    found = held(*spans).sort("starts")
    assert found.schema == HELD
    assert found.rows() == [("1", CHICAGO, *row) for row in alone]


def test_each_zone_has_its_own_midnights():
    found = held((2, 3), zones=[DENVER, CHICAGO, DENVER]).sort("zone")
    assert found.rows() == [("1", zone, "P0", midnight(2, zone), midnight(4, zone)) for zone in (CHICAGO, DENVER)]
    without = held((2, 3), zones=[])
    assert without.schema == HELD
    assert without.is_empty()


def test_numbers_are_apart_blanks_around_one_are_not_of_it_and_none_is_held_by_nobody():
    people = PEOPLE.rows(
        {"person": f"P{at}", "name": "Ana", "number": number}
        for at, number in enumerate(["1", "01", " 2", "2 ", " 3 ", "  ", None])
    )
    found = sole_holdings(people, [CHICAGO]).select("number", "person").sort("person")
    assert found.rows() == [("1", "P0"), ("01", "P1"), ("3", "P4")]
