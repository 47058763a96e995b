"""Which pairs are compared at all, and which strays bear on each other."""

from __future__ import annotations

from datetime import date

import numpy as np
import polars as pl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenhand.linkage import blocking
from evenhand.linkage.assignment.ties import tied_pairs
from evenhand.linkage.blocking import MOST_SILENT, _sampled_stretches, _touches, candidate_pairs
from evenhand.linkage.tables import PAIRS, SOUGHT
from evenhand.terms.tables import EXPLANATIONS
from tests.linkage.scene import DAY, HOUR, MONDAY, attributed, roster, shifts, stray, strays_of

SIX = MONDAY + 6 * HOUR
ANA = {"person": "A", "name": "Ana Vell", "number": "4821", "site": "Mill"}
BEN = {"person": "B", "name": "Ben Oor", "number": "7360", "site": "Mill"}
DEE = {"person": "D", "name": "Dee Quill", "number": "9914", "site": "Quarry"}
NONE = PAIRS.empty()


def pairs(strays, people, explanations=None, also=NONE, never=NONE) -> list[tuple[int, int]]:
    """The pairs that the indexes find, as where people are too many to be looked at one by one."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(blocking, "MOST_PAIRS", 0)
        return every_pair_of(strays, people, explanations, also, never)


def every_pair_of(strays, people, explanations=None, also=NONE, never=NONE) -> list[tuple[int, int]]:
    found = candidate_pairs(strays, people, EXPLANATIONS.empty() if explanations is None else explanations, also, never)
    return list(zip(found.stray.tolist(), found.person.tolist(), strict=True))


def test_where_people_are_few_everybody_of_the_site_is_compared() -> None:
    mine, people = strays_of(stray("4281", [(SIX, "in")])), roster([ANA, BEN, DEE])
    assert every_pair_of(mine, people) == [(0, 0), (0, 1)]
    assert every_pair_of(mine, people, never=PAIRS.rows([{"stray": 0, "who": 0}])) == [(0, 1)]
    assert every_pair_of(strays_of(stray("4281", [(SIX, "in")], "ATTIC")), people) == []


def test_numbers_lead_to_people_and_what_was_rejected_is_left_out() -> None:
    mine, people = strays_of(stray("4281", [(SIX, "in")])), roster([ANA, BEN, DEE])
    told = EXPLANATIONS.rows(
        [
            {"keyed": keyed, "person": who, "kind": "adjacent", "meant": "4821", "likelihood": 0.3}
            for keyed, who in (("4281", "A"), ("4281", "Z"), ("9999", "B"))
        ]
    )
    also = PAIRS.rows([{"stray": 0, "who": 2}])
    assert pairs(mine, people, told, also) == [(0, 0), (0, 2)]
    assert pairs(mine, people, told, also, PAIRS.rows([{"stray": 0, "who": 0}])) == [(0, 2)]


@pytest.mark.parametrize(
    ("bounds", "paired"),
    [
        ({"hired_on": date(2026, 3, 6)}, True),  # the stray's last day
        ({"hired_on": date(2026, 3, 7)}, False),
        ({"left_on": date(2026, 3, 2)}, True),  # its first
        ({"left_on": date(2026, 3, 1)}, False),
    ],
)
def test_only_people_employed_on_a_day_of_the_stray_are_compared(bounds, paired: bool) -> None:
    daily = [(SIX + DAY * day, "in") for day in range(5)]
    mine, people = strays_of(stray("4281", daily)), roster([ANA | bounds])
    assert pairs(mine, people, also=PAIRS.rows([{"stray": 0, "who": 0}])) == ([(0, 0)] if paired else [])


def planned(person: str, days=range(5), hour: int = 6) -> list[tuple[str, int, int]]:
    return [(person, MONDAY + DAY * day + HOUR * hour, MONDAY + DAY * day + HOUR * (hour + 8)) for day in days]


def test_whoever_was_due_and_silent_at_the_site_is_compared() -> None:
    mine = strays_of(stray("5555", shifts(range(5))))
    worked = attributed("B", shifts(range(5)))
    people = roster([ANA, BEN, DEE], worked, [*planned("A"), *planned("B"), *planned("D")])
    # Ben was there, Dee is missing at another site
    assert pairs(mine, people) == [(0, 0)]
    # on two of five days Ana was there herself: silent on three is more than half; on two it is not
    some = attributed("A", shifts(range(2)))
    assert pairs(mine, roster([ANA], some, planned("A"))) == [(0, 0)]
    most = attributed("A", shifts(range(3)))
    assert pairs(mine, roster([ANA], most, planned("A"))) == []


@pytest.mark.parametrize(("at", "missed"), [(-2 * HOUR, False), (-2 * HOUR - 1, True), (10 * HOUR, False)])
def test_a_shift_is_missed_without_a_punch_from_two_hours_before_to_two_after(at: int, missed: bool) -> None:
    mine = strays_of(stray("5555", shifts(range(1))))
    people = roster([ANA], attributed("A", [(SIX + at, "in")]), planned("A", range(1)))
    assert pairs(mine, people) == ([(0, 0)] if missed else [])


def test_of_many_silent_people_those_silent_most_often_are_compared() -> None:
    mine = strays_of(stray("5555", shifts(range(5))))
    many = [{**ANA, "person": f"Q{at:02d}", "number": str(3000 + at)} for at in range(MOST_SILENT + 3)]
    # the first three were there once
    worked = [row for who in ("Q00", "Q01", "Q02") for row in attributed(who, shifts(range(1)))]
    people = roster(many, worked, [row for one in many for row in planned(one["person"])])
    assert pairs(mine, people) == [(0, who) for who in range(3, MOST_SILENT + 3)]


def test_people_without_a_schedule_are_silent_where_they_punch_little() -> None:
    mine = strays_of(stray("5555", shifts(range(5))))
    worked = [row for who in ("B", "C") for row in attributed(who, shifts(range(5)))]
    others = [BEN, {**BEN, "person": "C", "number": "7361"}]
    assert pairs(mine, roster([ANA, *others], worked)) == [(0, 0)]


FOUR = [{**BEN, "person": f"Q{at}", "number": str(7000 + at)} for at in range(4)]
THERE = [row for one in FOUR for row in attributed(one["person"], shifts(range(5)))]  # 20 punches each


@pytest.mark.parametrize(("punches", "quiet"), [(12, True), (13, False)])
def test_six_tenths_of_what_people_usually_punch_is_little(punches: int, quiet: bool) -> None:
    mine = strays_of(stray("5555", shifts(range(1))))
    hers = attributed("A", shifts(range(20, 24))[:punches])
    assert pairs(mine, roster([ANA, *FOUR], THERE + hers)) == ([(0, 0)] if quiet else [])
    # at another site, or at none, nobody looks for her
    for site in ("Quarry", None):
        assert pairs(mine, roster([ANA | {"site": site}, *FOUR], THERE + hers)) == []


# the stretch begins between 04:00 and 08:00: eight hours before those four and eight after them
@pytest.mark.parametrize(
    ("hour", "silent"), [(-4 - 1 / HOUR, True), (-4, False), (6, False), (16, False), (16 + 1 / HOUR, True)]
)
def test_somebody_without_a_schedule_is_silent_eight_hours_before_and_after(hour: float, silent: bool) -> None:
    mine = strays_of(stray("5555", shifts(range(1))))
    hers = attributed("A", [(round(MONDAY + hour * HOUR), "in")])
    assert pairs(mine, roster([ANA, *FOUR], THERE + hers)) == ([(0, 0)] if silent else [])


@pytest.mark.parametrize(("sampled", "stretches"), [([0], 1), ([0, 1, 2], 3), ([0, 2, 4, 6, 8, 10], 11)])
def test_six_stretches_of_each_stray_are_looked_at_evenly_chosen(sampled: list[int], stretches: int) -> None:
    before = stray("1111", shifts(range(2)))
    mine = strays_of(before + stray("2222", shifts(range(stretches))))
    assert _sampled_stretches(mine).tolist() == [0, 1, *(2 + at for at in sampled)]


SPANS = st.lists(st.tuples(st.integers(-1, 3), st.integers(90, 120), st.integers(0, 9)), min_size=1, max_size=8)


@given(SPANS, st.lists(st.tuples(st.integers(-1, 3), st.integers(95, 115)), min_size=1, max_size=8))
def test_a_span_is_looked_at_where_it_holds_a_bucket_wanted_at_its_site(
    spans: list[tuple[int, int, int]], sought: list[tuple[int, int]]
) -> None:
    wanted = SOUGHT.rows([{"stray": 0, "site": site, "bucket": bucket} for site, bucket in sought])
    site, begins, length = (np.array(column) for column in zip(*spans, strict=True))
    found = _touches(site, begins, begins + length, wanted)
    assert found.tolist() == [
        any(at == there and first <= bucket <= first + more for at, bucket in sought) for there, first, more in spans
    ]


def ties(rows, plausible=((0, 0), (1, 0)), holders=(None, None)) -> list[tuple[int, int, str]]:
    mine = strays_of(rows)
    assert mine.size == 2
    object.__setattr__(mine, "holder", pl.Series(holders, dtype=pl.String))
    choices = pl.DataFrame(
        [(at, who, True) for at, who in plausible], schema=["stray", "who", "is_plausible"], orient="row"
    )
    return tied_pairs(mine, roster(), choices).rows()


def test_two_numbers_at_one_reader_whose_times_interleave_are_two_people() -> None:
    early, late = [(SIX, "in"), (SIX + HOUR, "out")], [(SIX + HOUR, "in"), (SIX + 2 * HOUR, "out")]
    assert ties(stray("1111", early) + stray("2222", late)) == [(0, 1, "apart")]
    # one after the other they explain one person's same silent day
    later = [(at + 1, way) for at, way in late]
    assert ties(stray("1111", early) + stray("2222", later)) == [(0, 1, "two_numbers")]
    assert ties(stray("1111", early) + stray("2222", [(at + DAY, way) for at, way in late])) == []


def test_strays_that_share_no_candidate_bear_on_each_other_by_their_number_alone() -> None:
    acts = [(SIX, "in"), (SIX + HOUR, "out")]
    assert ties(stray("1111", acts) + stray("2222", acts), plausible=[(0, 0), (1, 1)]) == []
    both = stray("1111", acts, "DOCK") + stray("1111", [(SIX + DAY, "in")])
    assert ties(both, plausible=[(0, 0), (1, 1)]) == [(0, 1, "same_number")]
    assert ties(both, plausible=[(0, 0), (1, 1)], holders=["A", None]) == []


@pytest.mark.parametrize(("apart", "kind"), [(600, "apart"), (601, "two_numbers")])
def test_two_sites_within_ten_minutes_are_two_people(apart: int, kind: str) -> None:
    far = stray("2222", [(SIX + apart, "in")], "FAR")
    assert ties(stray("1111", [(SIX, "in")]) + far) == [(0, 1, kind)]
    # within one site one may walk
    assert ties(stray("1111", [(SIX, "in")], "DOCK") + stray("2222", [(SIX + apart, "in")])) == [(0, 1, "two_numbers")]


def test_only_strays_of_one_day_explain_the_same_silence() -> None:
    acts = [(SIX + DAY * day, "in") for day in (0, 1)]
    mine = strays_of(
        stray("1111", acts[:1], "DOCK")
        + stray("2222", acts[1:], "DOCK")
        + stray("3333", acts[1:])
        + stray("4444", acts)
    )
    choices = pl.DataFrame([(at, 0, True) for at in range(4)], schema=["stray", "who", "is_plausible"], orient="row")
    # 3333 and 4444 stand at one reader and interleave
    assert tied_pairs(mine, roster(), choices).rows() == [
        (0, 3, "two_numbers"),
        (1, 2, "two_numbers"),
        (1, 3, "two_numbers"),
        (2, 3, "apart"),
    ]


def test_a_candidate_unlikely_for_a_stray_counts_where_likely_for_the_same_number_elsewhere() -> None:
    mine = strays_of(
        stray("1111", [(SIX, "in")], "DOCK") + stray("1111", [(SIX + DAY, "in")]) + stray("2222", [(SIX + DAY, "in")])
    )
    rows = [(0, 0, True), (1, 0, False), (2, 0, True)]
    choices = pl.DataFrame(rows, schema=["stray", "who", "is_plausible"], orient="row")
    assert (1, 2, "apart") in tied_pairs(mine, roster(), choices).rows()
    alone = pl.DataFrame(rows[1:], schema=["stray", "who", "is_plausible"], orient="row")
    assert tied_pairs(mine, roster(), alone).filter(pl.col("one") == 1).rows() == []
