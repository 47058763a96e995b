"""Whose punch it is: the one person who held the number on that civil day, corrections applied."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.reconcile import attribute, holders
from evenhand.terms.records import Refusal
from evenhand.terms.settings import Policy
from evenhand.terms.sources import PEOPLE, READERS
from evenhand.terms.tables import ATTRIBUTED, CORRECTIONS, RECORDED

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
    return dict(attribution.attributed.select("punch", "person").iter_rows())


def test_refused_presentations_are_nobodys_and_a_log_without_outcomes_holds_accepted_ones():
    given_punches = punches({"at": 1000, "outcome": "refused"}, {"at": 1001, "outcome": "accepted"}, {"at": 1002})
    found = attribute(given_punches, people({"number": "4821"}), READERS_HERE, NOBODY)
    assert owners(found) == {2: "P0", 3: "P0"}
    assert found.unattributed.height == 0


@pytest.mark.parametrize(
    ("row", "owner"),
    [
        ({"at": instant("2026-03-01 23:59:59")}, None),
        ({"at": instant("2026-03-02 00:00:00")}, "P0"),
        ({"at": instant("2026-03-06 23:59:59")}, "P0"),
        ({"at": instant("2026-03-07 00:00:00")}, None),
        # the same instant as the fourth, on a clock an hour behind: still the last day there
        ({"at": instant("2026-03-06 23:00:00", DENVER), "reader": "Hill"}, "P0"),
    ],
)
def test_a_shift_may_begin_on_each_day_of_employment_by_the_readers_clock(row, owner):
    roster = people({"number": "4821", "hired_on": date(2026, 3, 2), "left_on": date(2026, 3, 6)})
    found = attribute(punches(row), roster, READERS_HERE, NOBODY)
    assert owners(found) == ({1: owner} if owner else {})
    assert found.unattributed.height == (owner is None)


def times(*texts, **others):
    """Punches at these times, each marked in or out where a way is written behind it."""
    rows = [text.rsplit(" ", 1) if text.endswith(("in", "out")) else (text, None) for text in texts]
    return punches(*({"at": instant(f"2026-03-{at}"), "direction": way} | others for at, way in rows))


@pytest.mark.parametrize(
    ("seen", "mine", "others"),
    [
        # a night shift that begins on the last day, with its meal and its end after midnight, marked or not
        (times("06 22:00 in", "07 02:00 out", "07 02:30 in", "07 06:00 out"), [1, 2, 3, 4], []),
        (times("06 22:00", "07 02:00", "07 02:30", "07 06:00"), [1, 2, 3, 4], []),
        # the next evening is another shift, and a morning after an evening's end is one too
        (times("06 22:00 in", "07 06:00 out", "07 22:00 in", "08 06:00 out"), [1, 2], [3, 4]),
        (times("06 08:00 in", "06 16:00 out", "07 08:00 in", "07 16:00 out"), [1, 2], [3, 4]),
        # whoever goes in twice has been out in between, so that the second is no part of a shift of the last day
        (times("06 16:00 in", "07 05:00 in", "07 13:00 out"), [1], [2, 3]),
        # and the first day likewise: a shift that began the evening before it is not theirs
        (times("01 22:00 in", "02 02:00 out", "02 02:30 in", "02 06:00 out", "02 22:00 in"), [5], [1, 2, 3, 4]),
        (times("01 22:00", "02 06:00", "02 22:00"), [3], [1, 2]),
        # fourteen hours in, five hours out: longer than that is another shift
        (times("06 18:00 in", "07 08:00 out"), [1, 2], []),
        (times("06 18:00 in", "07 08:00:01 out"), [1], [2]),
        (times("06 10:00 in", "06 20:00 out", "07 01:00 in", "07 03:00 out"), [1, 2, 3, 4], []),
        (times("06 10:00 in", "06 20:00 out", "07 01:00:01 in", "07 03:00 out"), [1, 2], [3, 4]),
    ],
)
def test_days_of_employment_bound_shifts_and_not_punches(seen, mine, others):
    roster = people({"number": "4821", "hired_on": date(2026, 3, 2), "left_on": date(2026, 3, 6)})
    found = attribute(seen, roster, READERS_HERE, NOBODY)
    assert sorted(owners(found)) == mine
    assert sorted(found.unattributed["punch"]) == others
    # one punch alone is told by the others under its number
    for punch in seen["punch"]:
        alone = attribute(seen, roster, READERS_HERE, NOBODY, punches=[punch])
        assert sorted(owners(alone)) == [one for one in mine if one == punch]


def test_a_number_handed_on_overnight_leaves_the_night_to_whoever_began_it():
    roster = people({"number": "4821", "left_on": date(2026, 3, 6)}, {"number": "4821", "hired_on": date(2026, 3, 7)})
    seen = times("06 22:00 in", "07 06:00 out", "07 07:00 in", "07 15:00 out")
    # the break of an hour is within the leaver's shift by the policy, but for a policy that ends shifts sooner
    assert owners(attribute(seen, roster, READERS_HERE, NOBODY)) == dict.fromkeys(range(1, 5), "P0")
    brisk = Policy(shift_gap_s=1800)
    found = attribute(seen, roster, READERS_HERE, NOBODY, policy=brisk)
    assert owners(found) == {1: "P0", 2: "P0", 3: "P1", 4: "P1"}


def test_a_refused_hand_within_the_night_neither_begins_nor_ends_a_shift():
    roster = people({"number": "4821", "left_on": date(2026, 3, 6)})
    rows = [("06 22:00", "in", None), ("07 01:00", "in", "refused"), ("07 06:00", "out", None)]
    seen = punches(*({"at": instant(f"2026-03-{at}"), "direction": way, "outcome": out} for at, way, out in rows))
    assert owners(attribute(seen, roster, READERS_HERE, NOBODY)) == {1: "P0", 3: "P0"}


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
    assert found.unattributed["punch"].to_list() == [2]


def test_unknown_numbers_lost_zeros_and_readers_not_listed_leave_a_punch_unattributed():
    found = attribute(
        punches(
            {"at": 1, "number": "9999"}, {"at": 2, "number": "821"}, {"at": 3, "reader": "Attic", "number": "0821"}
        ),
        people({"number": "0821"}),
        READERS_HERE,
        NOBODY,
    )
    assert found.attributed.height == 0
    assert found.unattributed.height == 3
    RECORDED.check(found.unattributed)


def test_an_added_punch_stands_in_the_zone_of_the_persons_site():
    roster = people({"number": "4821"}, {"number": "1357", "site": "Quarry"})
    found = attribute(
        RECORDED.empty(),
        roster,
        READERS_HERE,
        corrections({"action": "add", "at": 5000, "direction": "in"}, {"action": "add", "person": "P1", "at": 6000}),
    )
    assert found.attributed.rows() == [(-1, "P0", None, CHICAGO, 5000, "in"), (-2, "P1", None, DENVER, 6000, None)]


def test_a_later_correction_for_the_same_punch_wins():
    roster = people({"number": "4821"})
    left_out = {"action": "leave_out", "punch": 1}
    out, back_in = (
        {"action": "direct", "punch": 1, "direction": "out"},
        {"action": "direct", "punch": 1, "direction": "in"},
    )
    recorded = punches({"at": 1000, "direction": "in"})

    def after(*decided):
        return attribute(recorded, roster, READERS_HERE, corrections(*decided)).attributed["direction"].to_list()

    assert after(out) == ["out"]
    assert after(out, back_in) == ["in"]
    assert after(out, left_out) == []
    assert after(left_out, out) == ["out"]


def test_a_punch_left_out_is_not_unattributed_and_an_added_one_can_be_left_out():
    recorded = punches({"at": 1000, "number": "9999"})
    decided = corrections(
        {"action": "leave_out", "punch": 1}, {"action": "add", "at": 5000}, {"action": "leave_out", "punch": -2}
    )
    found = attribute(recorded, people({"number": "4821"}), READERS_HERE, decided)
    assert (found.attributed.height, found.unattributed.height) == (0, 0)


def test_an_attributed_stray_keeps_its_person_when_its_direction_is_said_later():
    recorded = punches({"at": 1000, "number": "4281", "direction": "in"})
    decided = corrections({"action": "attribute", "punch": 1}, {"action": "direct", "punch": 1, "direction": "out"})
    found = attribute(recorded, people({"number": "4821"}), READERS_HERE, decided)
    assert found.attributed.rows() == [(1, "P0", "North", CHICAGO, 1000, "out")]
    assert found.unattributed.height == 0


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
def test_each_accepted_punch_is_attributed_by_its_only_holder_that_day_or_by_nobody(keyed, held):
    roster = people(*({"number": number, "hired_on": hired, "left_on": left} for number, hired, left in held))
    recorded = punches(*({"number": number, "at": at} for number, at in keyed))
    found = attribute(recorded, roster, READERS_HERE, NOBODY)
    ATTRIBUTED.check(found.attributed)
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
    assert set(found.unattributed["punch"]) == set(recorded["punch"]) - set(expected)
    assert found.attributed.equals(found.attributed.sort("person", "at", "punch"))


def test_a_punch_returned_to_nobody_is_unattributed_again():
    found = punches({"number": "4281", "at": instant("2026-03-02T08:00")})
    given_away = {"action": "attribute", "punch": 1, "person": "P0"}
    returned = {"action": "attribute", "punch": 1, "person": ""}
    everybody = people({"number": "4821"})
    assert owners(attribute(found, everybody, READERS_HERE, corrections(given_away))) == {1: "P0"}
    after = attribute(found, everybody, READERS_HERE, corrections(given_away, returned))
    assert owners(after) == {}
    assert after.unattributed["punch"].to_list() == [1]
    assert owners(attribute(found, everybody, READERS_HERE, corrections(given_away, returned, given_away))) == {1: "P0"}


def test_a_punch_returned_to_nobody_goes_back_to_whoever_holds_its_number():
    found = punches({"number": "4821", "at": instant("2026-03-02T08:00")})
    given_away = {"action": "attribute", "punch": 1, "person": "P1"}
    returned = {"action": "attribute", "punch": 1, "person": ""}
    everybody = people({"number": "4821"}, {"number": "7360"})
    assert owners(attribute(found, everybody, READERS_HERE, corrections(given_away))) == {1: "P1"}
    assert owners(attribute(found, everybody, READERS_HERE, corrections(given_away, returned))) == {1: "P0"}


FEW_NUMBERS = ["1", "2", "3", "01"]


@st.composite
def workplaces(draw):
    """Punches with some outcomes, people who hand numbers on, and corrections of every kind."""
    day = st.dates(date(2026, 3, 1), date(2026, 3, 9)) | st.none()
    held = draw(st.lists(st.tuples(st.sampled_from(FEW_NUMBERS), day, day), min_size=1, max_size=6))
    roster = people(*({"number": number, "hired_on": hired, "left_on": left} for number, hired, left in held))
    keyed = draw(
        st.lists(
            st.tuples(
                st.sampled_from(FEW_NUMBERS),
                st.sampled_from(["North", "Hill", "Attic"]),
                # few instants, so that punches of one person often tie
                st.integers(0, 40).map(lambda hours: instant("2026-02-28 00:00") + 5 * 3600 * hours),
                st.sampled_from([None, "accepted", "accepted", "refused"]),
            ),
            max_size=25,
        )
    )
    stored = draw(st.permutations(range(1, len(keyed) + 1)))
    recorded = RECORDED.rows(
        {"punch": punch, "number": number, "reader": reader, "at": at, "outcome": outcome, "direction": None}
        for punch, (number, reader, at, outcome) in zip(stored, keyed, strict=True)
    )
    about = st.sampled_from([*stored, -1, -2])
    decided = draw(
        st.lists(
            st.one_of(
                st.fixed_dictionaries({"action": st.just("leave_out"), "punch": about}),
                st.fixed_dictionaries(
                    {"action": st.just("direct"), "punch": about, "direction": st.sampled_from(["in", "out"])}
                ),
                st.fixed_dictionaries(
                    {
                        "action": st.just("attribute"),
                        "punch": about,
                        "person": st.sampled_from(["", "P0", "P1", "elsewhere"]),
                    }
                ),
                st.fixed_dictionaries(
                    {"action": st.just("add"), "at": st.integers(0, 10**9), "person": st.sampled_from(["P0", "P9"])}
                ),
            ),
            max_size=8,
        )
    )
    # an added punch needs somebody whose site has a reader
    decided = [row | {"person": "P0"} if row["action"] == "add" else row for row in decided]
    return recorded, roster, corrections(*decided)


@given(workplaces(), st.sets(st.sampled_from(FEW_NUMBERS)), st.sets(st.integers(-8, 25)))
@settings(max_examples=200, deadline=None)
def test_some_punches_attributed_anew_are_as_in_the_whole_run(place, numbers, some):
    recorded, roster, decided = place
    whole = attribute(recorded, roster, READERS_HERE, decided)
    part = attribute(recorded, roster, READERS_HERE, decided, numbers=numbers, punches=some)
    keyed = set(recorded.filter(pl.col("number").is_in(sorted(numbers)))["punch"]) | some
    within = pl.col("punch").is_in(sorted(keyed))
    assert part.attributed.equals(whole.attributed.filter(within))
    assert part.unattributed.equals(whole.unattributed.filter(within))


@given(workplaces())
@settings(max_examples=60, deadline=None)
def test_attributed_punches_stand_by_person_time_and_punch_and_no_punch_is_lost(place):
    recorded, roster, decided = place
    found = attribute(recorded, roster, READERS_HERE, decided)
    ATTRIBUTED.check(found.attributed)
    assert found.attributed.equals(found.attributed.sort("person", "at", "punch"))
    both = [*found.attributed["punch"], *found.unattributed["punch"]]
    assert len(both) == len(set(both))
    left_out = decided.filter(pl.col("punch").is_not_null()).unique("punch", keep="last", maintain_order=True)
    gone = set(left_out.filter(pl.col("action") == "leave_out")["punch"])
    counting = set(recorded.filter(pl.col("outcome").fill_null("accepted") == "accepted")["punch"])
    added = {-row for row in decided.filter(pl.col("action") == "add")["correction"]}
    assert set(both) == (counting | added) - gone


@pytest.mark.parametrize("apart", [1, 2**61])
def test_times_too_far_apart_for_one_sorting_key_are_sorted_all_the_same(apart):
    roster = people({"number": "1"}, {"number": "2"})
    recorded = punches(
        {"at": apart, "number": "2"},
        {"at": -apart, "number": "2"},
        {"at": apart, "number": "1"},
        {"at": -apart, "number": "1", "punch": 9},
        {"at": -apart, "number": "1", "punch": 8},
    )
    found = attribute(recorded, roster, READERS_HERE, NOBODY)
    assert found.attributed["punch"].to_list() == [8, 9, 3, 2, 1]


def test_a_refused_presentation_has_the_holder_of_its_number_and_a_number_of_two_has_none():
    roster = people({"number": "4821"}, {"number": "1357"}, {"number": "1357"})
    recorded = punches(
        {"at": 1000, "outcome": "accepted"},
        {"at": 1001, "outcome": "refused"},
        {"at": 1002, "number": "1357"},
        {"at": 1003, "number": "9999", "outcome": "refused"},
    )
    assert holders(recorded, roster, READERS_HERE).to_list() == ["P0", "P0", None, None]


def test_a_reader_listed_twice_is_as_listed_first_and_gives_nobody_anothers_punches():
    twice = pl.concat([READERS_HERE.head(1), READERS_HERE.head(1).with_columns(zone=pl.lit(DENVER))])
    at = instant("2026-03-03 12:00")
    roster = people({"number": "1", "hired_on": date(2026, 3, 4)}, {"number": "2"})
    found = attribute(punches({"number": "1", "at": at}, {"number": "2", "at": at}), roster, twice, NOBODY)
    assert owners(found) == {2: "P1"}
    assert found.unattributed["punch"].to_list() == [1]


def test_a_sites_zone_is_that_of_most_of_its_readers_and_the_first_by_name_where_as_many_stand_in_each():
    hung = READERS.rows(
        {"reader": f"R{at}", "site": site, "zone": zone}
        for at, (site, zone) in enumerate(
            [("Mill", CHICAGO), ("Mill", DENVER), ("Mill", DENVER), ("Quarry", DENVER), ("Quarry", CHICAGO)]
        )
    )
    roster = people({"number": "1"}, {"number": "2", "site": "Quarry"})
    decided = corrections({"action": "add", "at": 1}, {"action": "add", "at": 2, "person": "P1"})
    found = attribute(RECORDED.empty(), roster, hung, decided).attributed
    assert found.select("person", "zone").rows() == [("P0", DENVER), ("P1", CHICAGO)]


@pytest.mark.parametrize("site", [None, "Attic"])
def test_where_all_readers_stand_in_one_zone_an_added_punch_stands_there_too(site):
    added = corrections({"action": "add", "at": 5000, "direction": "out"})
    found = attribute(RECORDED.empty(), people({"site": site}), READERS_HERE.head(1), added)
    assert found.attributed.rows() == [(-1, "P0", None, CHICAGO, 5000, "out")]
    with pytest.raises(Refusal) as refused:
        attribute(RECORDED.empty(), people({"site": site}), READERS_HERE, added)
    assert str(refused.value) == (
        "correction 1 adds a punch for P0, whose site has no reader, so its time zone is not known; "
        "give the person a site that has a reader."
    )


def test_an_added_punch_stands_among_those_of_its_person_by_time_and_can_be_directed_later():
    recorded = punches(
        {"at": 3000, "direction": "out"},
        {"at": 1000, "direction": "in"},
        {"at": 2000, "reader": "Attic"},
        {"at": 2500, "reader": "Hill", "number": "1357"},
    )
    decided = corrections(
        {"action": "add", "at": 2000},
        {"action": "direct", "punch": -1, "direction": "out"},
        {"action": "add", "at": 1000, "person": "P1", "direction": "in"},
        {"action": "attribute", "punch": 3},
    )
    found = attribute(recorded, people({"number": "4821"}, {"number": "1357"}), READERS_HERE, decided)
    assert found.attributed.rows() == [
        (2, "P0", "North", CHICAGO, 1000, "in"),
        (-1, "P0", None, CHICAGO, 2000, "out"),
        (1, "P0", "North", CHICAGO, 3000, "out"),
        (-3, "P1", None, CHICAGO, 1000, "in"),
        (4, "P1", "Hill", DENVER, 2500, None),
    ]
    # nobody says in which zone a reader stands that is not listed, whoever it is given to
    assert found.unattributed["punch"].to_list() == [3]


def test_a_number_of_many_holders_in_turn_belongs_to_each_on_their_days_alone():
    turns = [
        {"number": "4821", "hired_on": date(2026, 3, 2 * at), "left_on": date(2026, 3, 2 * at)} for at in range(1, 6)
    ]
    recorded = punches(*({"at": instant(f"2026-03-{day:02d} 08:00")} for day in range(1, 12)))
    found = attribute(recorded, people(*turns, {"number": "4822"}), READERS_HERE, NOBODY)
    assert owners(found) == {2: "P0", 4: "P1", 6: "P2", 8: "P3", 10: "P4"}
    assert found.unattributed["punch"].to_list() == [1, 3, 5, 7, 9, 11]
