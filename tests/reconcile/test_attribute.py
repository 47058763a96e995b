"""Whose punch it is: the one person who held the number on that civil day, corrections applied."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.reconcile import attribute
from evenhand.terms.records import Refusal
from evenhand.terms.sources import PEOPLE, READERS
from evenhand.terms.tables import CORRECTIONS, OWNED, RECORDED

CHICAGO, DENVER = "America/Chicago", "America/Denver"
READERS_HERE = READERS.rows(
    [{"reader": "North", "site": "Mill", "zone": CHICAGO}, {"reader": "Hill", "site": "Quarry", "zone": DENVER}]
)
NOBODY = CORRECTIONS.empty()


def instant(text, zone=CHICAGO):
    return int(datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(zone)).timestamp())


def people(*rows):
    return PEOPLE.rows(
        {"person": f"P{at}", "name": f"Person {at}", "site": "Mill"} | row for at, row in enumerate(rows)
    )


def punches(*rows):
    return RECORDED.rows(
        {"punch": at, "reader": "North", "number": "4821"} | row for at, row in enumerate(rows, start=1)
    )


def corrections(*rows):
    return CORRECTIONS.rows(
        {"correction": at, "author": "Kim", "reason": "asked", "made_at": 0, "person": "P0"} | row
        for at, row in enumerate(rows, start=1)
    )


def owners(attribution):
    return dict(attribution.owned.select("punch", "person").iter_rows())


def test_refused_presentations_are_nobodys_and_a_log_without_outcomes_holds_accepted_ones():
    given_punches = punches({"at": 1000, "outcome": "refused"}, {"at": 1001, "outcome": "accepted"}, {"at": 1002})
    found = attribute(given_punches, people({"number": "4821"}), READERS_HERE, NOBODY)
    assert owners(found) == {2: "P0", 3: "P0"}
    assert found.unowned.height == 0


def test_first_and_last_day_of_employment_count_whole_by_the_readers_clock():
    roster = people({"number": "4821", "hired_on": date(2026, 3, 2), "left_on": date(2026, 3, 6)})
    found = attribute(
        punches(
            {"at": instant("2026-03-01 23:59:59")},
            {"at": instant("2026-03-02 00:00:00")},
            {"at": instant("2026-03-06 23:59:59")},
            {"at": instant("2026-03-07 00:00:00")},
            # the same instant as the fourth, on a clock an hour behind: still the last day there
            {"at": instant("2026-03-06 23:00:00", DENVER), "reader": "Hill"},
        ),
        roster,
        READERS_HERE,
        NOBODY,
    )
    assert owners(found) == {2: "P0", 3: "P0", 5: "P0"}
    assert found.unowned["punch"].to_list() == [1, 4]
    assert found.owned.filter(pl.col("punch") == 5)["zone"].to_list() == [DENVER]


def test_a_number_handed_on_belongs_to_each_holder_in_turn_and_to_nobody_while_both_hold_it():
    roster = people({"number": "4821", "left_on": date(2026, 3, 4)}, {"number": "4821", "hired_on": date(2026, 3, 4)})
    found = attribute(
        punches(
            {"at": instant("2026-03-03 08:00")},
            {"at": instant("2026-03-04 08:00")},
            {"at": instant("2026-03-05 08:00")},
        ),
        roster,
        READERS_HERE,
        NOBODY,
    )
    assert owners(found) == {1: "P0", 3: "P1"}
    assert found.unowned["punch"].to_list() == [2]


def test_unknown_numbers_lost_zeros_and_readers_not_listed_leave_a_punch_unowned():
    found = attribute(
        punches(
            {"at": 1, "number": "9999"}, {"at": 2, "number": "821"}, {"at": 3, "reader": "Attic", "number": "0821"}
        ),
        people({"number": "0821"}),
        READERS_HERE,
        NOBODY,
    )
    assert found.owned.height == 0
    assert found.unowned.height == 3
    RECORDED.check(found.unowned)


def test_an_added_punch_stands_in_the_zone_of_the_persons_site():
    roster = people({"number": "4821"}, {"number": "1357", "site": "Quarry"})
    found = attribute(
        RECORDED.empty(),
        roster,
        READERS_HERE,
        corrections({"action": "add", "at": 5000, "direction": "in"}, {"action": "add", "person": "P1", "at": 6000}),
    )
    assert found.owned.rows() == [(-1, "P0", None, CHICAGO, 5000, "in"), (-2, "P1", None, DENVER, 6000, None)]


def test_a_later_correction_for_the_same_punch_wins():
    roster = people({"number": "4821"})
    left_out = {"action": "leave_out", "punch": 1}
    out, back_in = (
        {"action": "direct", "punch": 1, "direction": "out"},
        {"action": "direct", "punch": 1, "direction": "in"},
    )
    recorded = punches({"at": 1000, "direction": "in"})

    def after(*decided):
        return attribute(recorded, roster, READERS_HERE, corrections(*decided)).owned["direction"].to_list()

    assert after(out) == ["out"]
    assert after(out, back_in) == ["in"]
    assert after(out, left_out) == []
    assert after(left_out, out) == ["out"]


def test_a_punch_left_out_is_not_unowned_and_an_added_one_can_be_left_out():
    recorded = punches({"at": 1000, "number": "9999"})
    decided = corrections(
        {"action": "leave_out", "punch": 1}, {"action": "add", "at": 5000}, {"action": "leave_out", "punch": -2}
    )
    found = attribute(recorded, people({"number": "4821"}), READERS_HERE, decided)
    assert (found.owned.height, found.unowned.height) == (0, 0)


def test_an_attributed_stray_keeps_its_owner_when_its_direction_is_said_later():
    recorded = punches({"at": 1000, "number": "4281", "direction": "in"})
    decided = corrections({"action": "attribute", "punch": 1}, {"action": "direct", "punch": 1, "direction": "out"})
    found = attribute(recorded, people({"number": "4821"}), READERS_HERE, decided)
    assert found.owned.rows() == [(1, "P0", "North", CHICAGO, 1000, "out")]
    assert found.unowned.height == 0


def test_an_added_punch_for_a_site_without_a_reader_is_refused():
    with pytest.raises(Refusal, match="correction 1 adds a punch for P0, whose site has no reader"):
        attribute(RECORDED.empty(), people({"site": "Attic"}), READERS_HERE, corrections({"action": "add", "at": 5000}))


@given(
    st.lists(st.tuples(st.sampled_from(["1", "2", "3", "01"]), st.integers(0, 2_000_000_000)), max_size=30),
    st.lists(
        st.tuples(
            st.sampled_from(["1", "2", "01", None]),
            st.dates(date(1990, 1, 1), date(2030, 1, 1)) | st.none(),
            st.dates(date(1990, 1, 1), date(2030, 1, 1)) | st.none(),
        ),
        max_size=6,
    ),
)
@settings(max_examples=60, deadline=None)
def test_each_accepted_punch_is_owned_by_its_only_holder_that_day_or_by_nobody(keyed, held):
    roster = people(*({"number": number, "hired_on": hired, "left_on": left} for number, hired, left in held))
    recorded = punches(*({"number": number, "at": at} for number, at in keyed))
    found = attribute(recorded, roster, READERS_HERE, NOBODY)
    OWNED.check(found.owned)
    expected = {}
    for punch, (number, at) in enumerate(keyed, start=1):
        day = datetime.fromtimestamp(at, ZoneInfo(CHICAGO)).date()
        holders = [
            f"P{row}"
            for row, (own, hired, left) in enumerate(held)
            if own == number and (hired is None or hired <= day) and (left is None or day <= left)
        ]
        if len(holders) == 1:
            expected[punch] = holders[0]
    assert owners(found) == expected
    assert set(found.unowned["punch"]) == set(recorded["punch"]) - set(expected)
    assert found.owned.equals(found.owned.sort("person", "at", "punch"))


def test_a_punch_returned_to_nobody_is_unowned_again():
    found = punches({"number": "4281", "at": instant("2026-03-02T08:00")})
    given_away = {"action": "attribute", "punch": 1, "person": "P0"}
    returned = {"action": "attribute", "punch": 1, "person": ""}
    everybody = people({"number": "4821"})
    assert owners(attribute(found, everybody, READERS_HERE, corrections(given_away))) == {1: "P0"}
    after = attribute(found, everybody, READERS_HERE, corrections(given_away, returned))
    assert owners(after) == {}
    assert after.unowned["punch"].to_list() == [1]
    assert owners(attribute(found, everybody, READERS_HERE, corrections(given_away, returned, given_away))) == {1: "P0"}


def test_a_punch_returned_to_nobody_goes_back_to_whoever_holds_its_number():
    found = punches({"number": "4821", "at": instant("2026-03-02T08:00")})
    given_away = {"action": "attribute", "punch": 1, "person": "P1"}
    returned = {"action": "attribute", "punch": 1, "person": ""}
    everybody = people({"number": "4821"}, {"number": "7360"})
    assert owners(attribute(found, everybody, READERS_HERE, corrections(given_away))) == {1: "P1"}
    assert owners(attribute(found, everybody, READERS_HERE, corrections(given_away, returned))) == {1: "P0"}
