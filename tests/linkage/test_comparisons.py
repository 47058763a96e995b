"""What is compared of a stray and a person, each at its bounds, by hand."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import polars as pl
import pytest

from evenhand.linkage.comparisons.attempts import logs_refusals, tried_both
from evenhand.linkage.comparisons.contradictions import impossible_punches
from evenhand.linkage.comparisons.lists import compare_lists, names_beside
from evenhand.linkage.comparisons.nonmatches import compare_nonmatches
from evenhand.linkage.comparisons.number_errors import former_numbers, number_errors
from evenhand.linkage.comparisons.sampling import sampled_places
from evenhand.linkage.comparisons.times import anybody_at_all, compare_times
from evenhand.linkage.comparisons.work import compare_stretches
from evenhand.linkage.weights.mixing import learned_mixing, shaped
from evenhand.linkage.weights.parameters import ERROR_KINDS, Weights
from evenhand.terms.likeness.explain import explain
from evenhand.terms.settings import Policy
from evenhand.terms.sources import ENROLMENTS, PEOPLE
from evenhand.terms.tables import RECORDED
from tests.linkage.scene import DAY, HOUR, MONDAY, POLICY, attributed, every_pair, roster, shifts, stray, strays_of

SIX = MONDAY + 6 * HOUR
ANA = [{"person": "A", "name": "Ana Vell", "number": "4821", "site": "Mill"}]
BOTH = [*ANA, {"person": "B", "name": "Ben Oor", "number": "7360", "site": "Mill"}]
EIGHT_HOURS = stray("4281", [(SIX, "in"), (SIX + 8 * HOUR, "out")])


def counted(owns=(), planned=None, strays=EIGHT_HOURS, policy=POLICY) -> tuple[int, int, int, int]:
    """Ana's counts: silent days of days, fitting stretches of those with punches of her own."""
    mine, people = strays_of(strays, policy), roster(ANA, list(owns), planned)
    found = compare_stretches(mine, people, every_pair(mine, people), policy)
    return tuple(int(column[0]) for column in (found.days_k, found.days_n, found.parity_k, found.parity_n))


# of an eight-hour stretch, punches up to two hours before and after are looked at
@pytest.mark.parametrize(
    ("at", "silent"), [(-2 * HOUR - 1, 1), (-2 * HOUR, 0), (10 * HOUR, 0), (10 * HOUR + 1, 1), (4 * HOUR, 0)]
)
def test_somebody_with_a_punch_of_their_own_near_the_stretch_is_not_silent(at: int, silent: int) -> None:
    assert counted(attributed("A", [(SIX + at, "in")]))[:2] == (silent, 1)


# of a lone punch, up to seven hours on either side
@pytest.mark.parametrize(("at", "silent"), [(-7 * HOUR - 1, 1), (-7 * HOUR, 0), (7 * HOUR, 0), (7 * HOUR + 1, 1)])
def test_around_a_lone_punch_more_is_looked_at(at: int, silent: int) -> None:
    assert counted(attributed("A", [(SIX + at, "in")]), strays=stray("4281", [(SIX, "in")]))[0] == silent


@pytest.mark.parametrize(
    ("starts", "ends", "due"),
    [
        (0, 8, 1),
        (10, 18, 1),  # begins two hours after the stretch ends
        (10 + 1 / HOUR, 18, 0),
        (-10, -2, 1),  # ends two hours before it begins
        (-10, -2 - 1 / HOUR, 0),
    ],
)
def test_only_somebody_due_is_silent(starts: float, ends: float, due: int) -> None:
    planned = [("A", round(SIX + starts * HOUR), round(SIX + ends * HOUR))]
    assert counted(planned=planned)[:2] == (due, due)


def test_somebody_without_a_schedule_is_always_due() -> None:
    assert counted()[:2] == (1, 1)


@pytest.mark.parametrize(
    ("acts", "fits"),
    [
        ([(0.5, "in"), (7, "out")], 0),  # in while in
        ([(8.5, "in"), (9.5, "out")], 1),  # after the stretch
        ([(8 + 59 / HOUR, "out")], 1),  # one act with the way out
        ([(8 + 60 / HOUR, "out")], 0),  # another one
        ([(-1, "out")], 1),
        ([(-1, "in")], 0),
        ([(4, None)], 0),  # without a direction: three punches are not whole
        ([(8.5, None), (9, None)], 1),
        ([(2, None), (3, None)], 0),  # in the middle: the two sets would change over twice
    ],
)
def test_punches_fit_where_both_sets_go_in_and_out_by_turns(acts: list[tuple[float, str]], fits: int) -> None:
    own = attributed("A", [(round(SIX + hour * HOUR), way) for hour, way in acts])
    assert counted(own)[2:] == (fits, 1)


def test_the_workplaces_own_policy_says_what_is_one_act() -> None:
    twice = attributed("A", [(SIX + 8 * HOUR + 100, "out")])
    assert counted(twice)[2:] == (0, 1)
    assert counted(twice, policy=Policy(repeat_gap_s=101))[2:] == (1, 1)


def test_at_most_twelve_stretches_are_looked_at_evenly_chosen() -> None:
    stray_, place = sampled_places(np.array([0, 3]), np.array([3, 30]), 12)
    assert place[stray_ == 0].tolist() == [0, 1, 2]
    assert place[stray_ == 1].tolist() == [3 + 27 * rank // 12 for rank in range(12)]
    assert counted(strays=stray("4281", shifts(range(20))))[1] == 12


@pytest.mark.parametrize(("apart", "impossible"), [(600, 1), (601, 0), (-600, 1), (-601, 0)])
def test_nobody_is_at_two_sites_within_ten_minutes(apart: int, impossible: int) -> None:
    mine = strays_of(stray("4281", [(SIX, "in")]))
    for reader, expected in (("FAR", impossible), ("DOCK", 0)):
        people = roster(ANA, attributed("A", [(SIX + apart, "in")], reader))
        pair, place = impossible_punches(mine, people, every_pair(mine, people))
        assert (len(pair), place.tolist()) == (expected, [0] * expected)


def test_a_punch_on_the_first_or_the_last_day_of_work_is_possible() -> None:
    mine = strays_of(stray("4281", shifts(range(5))))
    bounds = {"hired_on": date(2026, 3, 3), "left_on": date(2026, 3, 5)}
    people = roster([ANA[0] | bounds])
    _, place = impossible_punches(mine, people, every_pair(mine, people))
    # Monday and Friday, four punches each
    assert sorted(place.tolist()) == [*range(4), *range(16, 20)]


def test_a_night_shift_is_possible_whole_or_not_at_all_by_the_day_on_which_it_began() -> None:
    nights = [(MONDAY + DAY * day + HOUR * 22, "in") for day in range(3)]
    nights += [(at + HOUR * 8, "out") for at, _ in nights]
    mine = strays_of(stray("4281", sorted(nights)))
    # in and out of Monday's, Tuesday's and Wednesday's night; she works on Tuesday alone, which is 3 March 2026
    people = roster([ANA[0] | {"hired_on": date(2026, 3, 3), "left_on": date(2026, 3, 3)}])
    _, place = impossible_punches(mine, people, every_pair(mine, people))
    assert sorted(place.tolist()) == [0, 1, 4, 5]


def test_what_cannot_be_of_one_stray_says_nothing_of_the_next() -> None:
    twice = [(SIX, "in"), (SIX + DAY, "in")]
    mine = strays_of(stray("1111", twice) + stray("2222", twice) + stray("3333", twice))
    people = roster([ANA[0] | {"hired_on": date(2026, 3, 3)}])
    pair, place = impossible_punches(mine, people, every_pair(mine, people))
    # of each the punch of Monday, the day before she was hired
    assert (pair.tolist(), place.tolist()) == ([0, 1, 2], [0, 2, 4])


@pytest.mark.parametrize(
    ("tried", "reader", "found"),
    [(-90, "GATE", True), (-91, "GATE", False), (-1, "GATE", True), (0, "GATE", False), (-20, "DOCK", False)],
)
def test_two_numbers_are_one_persons_within_ninety_seconds_at_one_reader(tried: int, reader: str, found: bool) -> None:
    mine, people = strays_of(stray("1188", [(SIX, "in")])), roster(BOTH)
    tries = RECORDED.rows([{"punch": 1, "reader": reader, "number": "7360", "at": SIX + tried, "outcome": "refused"}])
    assert tried_both(mine, people, tries).rows() == ([(0, 1)] if found else [])
    assert logs_refusals(mine, tries).tolist() == [reader == "GATE"]


@pytest.mark.parametrize(("later", "found"), [(90, True), (91, False), (0, False)])
def test_the_strays_number_refused_before_ones_own_was_accepted_counts_too(later: int, found: bool) -> None:
    mine = strays_of(stray("1188", [(SIX, "in")]))
    people = roster(BOTH, attributed("B", [(SIX + DAY + later, "in")]))
    tries = RECORDED.rows([{"punch": 1, "reader": "GATE", "number": "1188", "at": SIX + DAY, "outcome": "refused"}])
    assert tried_both(mine, people, tries).rows() == ([(0, 1)] if found else [])


def lists_compared(people, enrolments):
    mine, known = strays_of(stray("1188", [(SIX, "in")])), roster(people)
    listed = ENROLMENTS.rows(enrolments)
    pairs = every_pair(mine, known)
    none = np.zeros(pairs.size, dtype=bool)
    return compare_lists(mine, known, pairs, listed, names_beside(mine, known, listed), none)


def test_whose_own_number_is_missing_from_the_readers_list() -> None:
    people = [*BOTH, {"person": "N", "name": "Nil", "number": None, "site": "Mill"}]
    found = lists_compared(people, [{"reader": "GATE", "number": "7360"}, {"reader": "GATE", "number": "1188"}])
    assert found["enrolment"].agreements.tolist() == [1, 0, 1]
    assert found["enrolment"].trials.tolist() == [1, 1, 0]
    # one of the three people of the site is on the list; 1188 is nobody's
    assert found["enrolment"].coincidence.tolist() == pytest.approx([2 / 3] * 3)
    # of the quarry's people none is listed, which says nothing about those of the mill; no list is taken to be whole
    apart = [*people, {"person": "Q", "name": "Quin", "number": "5151", "site": "Quarry"}]
    of_both = lists_compared(apart, [{"reader": "GATE", "number": "7360"}, {"reader": "GATE", "number": "1188"}])
    assert of_both["enrolment"].coincidence.tolist() == pytest.approx([2 / 3] * 3 + [0.95])
    elsewhere = lists_compared(people, [{"reader": "DOCK", "number": "7360"}])
    assert elsewhere["enrolment"].trials.tolist() == [0, 0, 0]


def test_a_name_beside_the_number_says_the_more_the_rarer_it_is() -> None:
    found = lists_compared(BOTH, [{"reader": "GATE", "number": "1188", "name": "OOR BEN"}])["name"]
    assert (found.agreements.tolist(), found.trials.tolist()) == ([0, 1], [1, 1])
    assert found.coincidence.tolist() == [0.5, 0.5]
    silent = lists_compared(BOTH, [{"reader": "GATE", "number": "1188", "name": " "}])["name"]
    assert silent.trials.tolist() == [0, 0]


@pytest.mark.parametrize(("days", "agrees"), [(0, 1), (21, 1), (22, 0), (-1, 0)])
def test_hired_in_the_three_weeks_before_the_number_was_enrolled(days: int, agrees: int) -> None:
    enrolled = date(2026, 2, 25)
    people = [ANA[0] | {"hired_on": enrolled - timedelta(days=days)}, BOTH[1]]
    found = lists_compared(people, [{"reader": "GATE", "number": "1188", "enrolled_on": enrolled}])["dates"]
    # nothing is known of when Ben was hired
    assert (found.agreements.tolist(), found.trials.tolist()) == ([agrees, 0], [1, 0])
    assert found.coincidence.tolist() == [0.5, 0.5]


def test_a_number_is_the_former_one_of_whoever_was_not_employed_when_it_was_last_keyed() -> None:
    mine = strays_of(stray("4821", shifts(range(3))))  # to 4 March
    last = date(2026, 3, 4)
    for bounds, is_former in (
        ({"left_on": last}, False),
        ({"left_on": last - timedelta(days=1)}, True),
        ({"hired_on": last}, False),
        ({"hired_on": last + timedelta(days=1)}, True),
        ({}, False),
    ):
        # one leaver at most: four digits at random are one in ten thousand
        found = former_numbers(mine, roster([ANA[0] | bounds]))
        assert found.tolist() == [10_000.0 if is_former else 0.0], bounds


def test_kinds_of_error_are_found_for_the_pair_they_lead_to() -> None:
    mine, people = strays_of(stray("4281", [(SIX, "in")])), roster(BOTH)
    found = number_errors(mine, people, every_pair(mine, people), explain(mine.number, PEOPLE.rows(BOTH)))
    assert (found.pair.tolist(), found.meant.to_list()) == ([0], ["4821"])
    assert [ERROR_KINDS[kind] for kind in found.kind] == ["adjacent"]


def times_of(at: int, owns=(), planned=(("A", SIX, SIX + 8 * HOUR),)) -> tuple[float, float]:
    mine, people = strays_of(stray("4281", [(at, "in")])), roster(ANA, list(owns), list(planned))
    found = compare_times(mine, people, every_pair(mine, people), Weights())
    return float(2 ** found.bits[0]), float(found.minutes_off[0])


def test_times_lie_around_the_bounds_of_a_scheduled_shift_or_anywhere_within_it() -> None:
    # 0.45 of punches fall evenly into the 480 minutes, the others around both bounds with a scale of ten minutes
    bound = 0.55 / 40
    at_start = 0.95 * (0.45 / 480 + bound) + 0.05 / 1440
    assert times_of(SIX) == (pytest.approx(at_start), 0)
    before = 0.95 * bound * np.exp(-2) + 0.05 / 1440
    assert times_of(SIX - 20 * 60) == (pytest.approx(before), 20)
    middle = 0.95 * (0.45 / 480 + bound * np.exp(-24)) + 0.05 / 1440
    # a meal is nobody's lateness: half an hour at most counts within a shift
    assert times_of(SIX + 4 * HOUR) == (pytest.approx(middle), 30)


def test_of_several_shifts_the_nearer_one_counts() -> None:
    nights = tuple(("A", SIX + DAY * day, SIX + DAY * day + 8 * HOUR) for day in range(3))
    for day in range(3):
        assert times_of(SIX + DAY * day, planned=nights)[1] == 0
        assert times_of(SIX + DAY * day + 9 * HOUR, planned=nights)[1] == 60
    # an hour before a shift that overlaps with one nearly over
    double = (("A", SIX, SIX + 8 * HOUR), ("A", SIX + 8 * HOUR, SIX + 16 * HOUR))
    assert times_of(SIX + 8 * HOUR - 600, planned=double)[1] == 10


def test_a_shift_that_begins_more_than_two_hours_later_is_not_this_punchs() -> None:
    assert times_of(SIX - 2 * HOUR)[1] == 120
    assert times_of(SIX - 2 * HOUR - 1) == (pytest.approx(0.05 / 1440), 720)


def test_without_a_schedule_usual_hours_tell() -> None:
    habit = attributed("A", [(SIX + DAY * day, "in") for day in range(8)])
    # eight punches in one half hour: half of each counts there, a quarter in the next, 0.02 everywhere
    total = 48 * 0.02 + 8
    # two of the eight on a Monday; half a punch imagined on each day of the week
    monday = 7 * 2.5 / 11.5
    for at, share in ((SIX, 4.02), (SIX + 1800, 2.02), (SIX + 3600, 0.02)):
        expected = 0.95 * monday * share / total / 30 + 0.05 / 1440
        assert times_of(at, habit, ())[0] == pytest.approx(expected)
    assert roster(ANA, habit).has_hours.tolist() == [True]
    assert roster(ANA, habit[:7]).has_hours.tolist() == [False]


def test_the_traffic_of_the_workplace_is_what_anybodys_times_are_held_against() -> None:
    mine = strays_of(stray("4281", [(SIX, "in"), (SIX + 12 * HOUR, "out")]))
    people = roster(ANA, attributed("A", [(SIX + DAY * day, "in") for day in range(9)]))
    # nine punches spread over three half hours, and one imagined in each of the 48
    total = 9 + 48
    dense, empty = (0.7 * count / total / 30 + 0.3 / 1440 for count in (4, 1))
    assert anybody_at_all(mine, people).tolist() == [pytest.approx((np.log2(dense) + np.log2(empty)) / 2)]


def test_pairs_that_are_no_match_show_how_often_people_are_silent_all_the_same() -> None:
    mine = strays_of(stray("4281", shifts(range(5))))
    away = [{"person": f"Q{at}", "name": f"Q {at}", "number": str(5000 + at), "site": "Mill"} for at in range(24)]
    worked = [row for at in range(18) for row in attributed(f"Q{at}", shifts(range(5)))]
    people = roster(away, worked)
    before = {"days": shaped(0.15, 1.5), "parity": shaped(0.3, 2.5), "seldom_there": shaped(3.0, 0.3)}
    found = compare_nonmatches(mine, people, np.ones(24, dtype=bool), POLICY, before=before, pseudo=10.0)
    # everybody is looked at, and a quarter is never there: six of five silent days of five, eighteen of none
    k, n = np.repeat([0, 5], [18, 6]), np.full(24, 5)
    of_all = learned_mixing(k, n, np.ones(24), before["days"], 10.0)
    five = learned_mixing(k, n, np.ones(24), of_all, 10.0)
    # all have five days; how it is with one day, or with twelve, is what all show
    assert found["days"] == pytest.approx(np.array([of_all, of_all, of_all, five, of_all, of_all]))
    assert found["seldom_there"] == pytest.approx(before["seldom_there"])
    among = np.arange(24) < 18
    left = compare_nonmatches(mine, people, among, POLICY, before=before, pseudo=10.0)["days"]
    assert left[0] == pytest.approx(learned_mixing(k[:18], n[:18], np.ones(18), before["days"], 10.0))


def test_how_silent_those_are_who_are_seldom_there_is_learned_from_them_alone() -> None:
    mine = strays_of(stray("4281", shifts(range(2, 4))))
    rows = [{"person": f"Q{at}", "name": f"Q {at}", "number": str(5000 + at), "site": "Mill"} for at in range(6)]
    planned = [(who["person"], SIX + DAY * day, SIX + DAY * day + 8 * HOUR) for who in rows for day in range(6)]
    # four are there every day; one is there on no day, and one on the stray's days alone
    owns = [row for at in range(4) for row in attributed(f"Q{at}", shifts(range(6)))] + attributed(
        "Q4", shifts(range(2, 4))
    )
    before = {"days": shaped(0.15, 1.5), "parity": shaped(0.3, 2.5), "seldom_there": shaped(3.0, 0.3)}
    found = compare_nonmatches(
        mine, roster(rows, owns, planned), np.ones(6, dtype=bool), POLICY, before=before, pseudo=1.0
    )
    two = np.full(2, 2)
    assert found["seldom_there"] == pytest.approx(
        learned_mixing(np.array([0, 2]), two, np.ones(2), before["seldom_there"], 1.0)
    )
    assert found["days"][0] == pytest.approx(
        learned_mixing(np.zeros(4, int), np.full(4, 2), np.ones(4), before["days"], 1.0)
    )


def test_whoever_is_missing_outside_the_strays_days_as_well_is_seldom_there() -> None:
    mine = strays_of(stray("4281", shifts(range(2, 4))))
    rows = [ANA[0], *({"person": f"Q{at}", "name": "Q", "number": str(at), "site": "Mill"} for at in range(2))]
    planned = [(who["person"], SIX + DAY * day, SIX + DAY * day + 8 * HOUR) for who in rows for day in range(6)]
    owns = attributed("Q0", shifts(range(6))) + attributed("Q1", shifts(range(2)))
    people = roster(rows, owns, planned)
    # Ana has four shifts without a punch besides; the third has punched on two of four
    assert compare_stretches(mine, people, every_pair(mine, people), POLICY).is_seldom_there.tolist() == [
        True,
        False,
        False,
    ]
    # one shift of four is seldom, too, however many punches it holds
    once = roster(rows, attributed("Q0", shifts(range(6))) + attributed("Q1", shifts(range(1))), planned)
    assert compare_stretches(mine, once, every_pair(mine, once), POLICY).is_seldom_there.tolist() == [True, False, True]
    whole = strays_of(stray("4281", shifts(range(5))))
    assert not compare_stretches(whole, people, every_pair(whole, people), POLICY).is_seldom_there.any()


def test_without_a_schedule_somebody_is_due_at_their_own_hours_and_weekdays() -> None:
    weekly = [moment for week in range(4) for moment in shifts(range(7 * week, 7 * week + 3))]
    habit = attributed("A", weekly)
    for hour, day, due in ((6, 28, 1), (17, 28, 0), (6, 33, 0)):
        found = counted(habit, strays=stray("4281", shifts(range(day, day + 1), hour)))
        assert found[1] == due


def test_nobody_is_compared_with_a_stray_at_a_reader_that_is_not_listed() -> None:
    mine = strays_of(stray("4281", [(SIX, "in")], "ATTIC"))
    people = roster(ANA, attributed("A", [(SIX, "in")], "FAR"))
    assert impossible_punches(mine, people, every_pair(mine, people))[0].tolist() == []
    assert people.sites_of(mine.reader).tolist() == [-1]
    assert people.sites_of(pl.Series(["GATE", "FAR"])).tolist() == [0, 1]
