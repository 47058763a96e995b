"""Strays and people as columns, and the frames handed on, from rows whose order and gaps are known."""

from __future__ import annotations

from datetime import date
from math import log2
from typing import Any

import numpy as np
import polars as pl
import pytest

from evenhand.linkage.blocking import Pairs
from evenhand.linkage.comparisons.compare import Decisions, _decided, _employed_meanwhile
from evenhand.linkage.comparisons.nonmatches import times_of_nobody
from evenhand.linkage.comparisons.sampling import expanded
from evenhand.linkage.comparisons.times import anybody_at_all, compare_times
from evenhand.linkage.roster import NEVER
from evenhand.linkage.strays import StrayColumns, group_strays
from evenhand.linkage.tables import PAIRS
from evenhand.linkage.weights.parameters import Weights
from evenhand.terms.tables import RECORDED
from tests.linkage.scene import DAY, HOUR, MONDAY, POLICY, attributed, every_pair, roster, shifts, stray, strays_of

SIX = MONDAY + 6 * HOUR
ANA: dict[str, Any] = {"person": "A", "name": "Ana Vell", "number": " 4821 ", "site": "Mill"}
BEN: dict[str, Any] = {"person": "B", "name": "Ben Oor", "number": None, "site": "Quarry"}
EPOCH = date(1970, 1, 1)


def grouped(rows: list[dict[str, Any]], zones: dict[str, str], holders: list[str | None] | None = None) -> StrayColumns:
    punches = RECORDED.rows([{"punch": 100 + at, **row} for at, row in enumerate(rows)])
    given = pl.Series(holders or [None] * len(rows), dtype=pl.String)
    return group_strays(punches.with_columns(holder=given), zones, POLICY)


def test_strays_stand_by_reader_and_number_and_their_punches_by_time() -> None:
    late, early = (MONDAY + DAY, "out"), (MONDAY, "in")
    rows = stray("22", [late, early]) + stray("11", [(MONDAY + 5, None)], "DOCK") + stray("11", [early])
    found = grouped(rows, {"GATE": "UTC", "DOCK": "UTC"}, ["P", "P", None, "Q"])
    assert found.size == 3
    assert found.name.to_list() == ["DOCK/11", "GATE/11", "GATE/22"]
    assert (found.reader.to_list(), found.number.to_list()) == (["DOCK", "GATE", "GATE"], ["11", "11", "22"])
    assert found.holder.to_list() == [None, "Q", "P"]
    assert (found.first.tolist(), found.until.tolist()) == ([0, 1, 2], [1, 2, 4])
    assert found.punch.tolist() == [102, 103, 101, 100]
    assert found.of_stray.tolist() == [0, 1, 2, 2]
    assert found.direction.tolist() == [0, 1, 1, -1]
    assert (found.first_day - found.first_day[0]).tolist() == [0, 0, 0]
    assert (found.last_day - found.first_day).tolist() == [0, 0, 1]
    assert found.keys().rows() == [("DOCK", "11", 0), ("GATE", "11", 1), ("GATE", "22", 2)]


def test_a_day_is_the_readers_own_and_that_of_utc_where_the_reader_is_not_listed() -> None:
    # half past midnight in UTC on 2 March is the evening before in New York
    at = [(MONDAY + HOUR // 2, "in")]
    rows = stray("11", at) + stray("11", at, "DOCK") + stray("11", at, "ATTIC")
    found = grouped(rows, {"GATE": "America/New_York", "DOCK": "Europe/Paris"})
    days = dict(zip(found.reader, found.first_day.tolist(), strict=True))
    monday = (date(2026, 3, 2) - EPOCH).days
    assert days == {"GATE": monday - 1, "DOCK": monday, "ATTIC": monday}


def test_stretches_of_work_are_each_strays_own() -> None:
    found = strays_of(stray("11", shifts(range(2))) + stray("22", shifts(range(1), 14)))
    start, length = MONDAY + 6 * HOUR - 240, 8 * HOUR
    assert found.stretch_stray.tolist() == [0, 0, 1]
    assert found.stretch_starts.tolist() == [start, start + DAY, start + 8 * HOUR]
    assert found.stretch_ends.tolist() == [start + length, start + DAY + length, start + 8 * HOUR + length]
    assert (found.stretch_first.tolist(), found.stretch_until.tolist()) == ([0, 2], [2, 3])
    assert found.of_stretch.tolist() == [0] * 4 + [1] * 4 + [2] * 4
    # a shift less the meal of half an hour, which is punched
    assert found.minutes.tolist() == [2 * 450, 450]


def test_everybody_on_the_roster_has_a_code_a_site_and_days_of_work() -> None:
    hired, left = date(2026, 3, 1), date(2026, 3, 9)
    found = roster([ANA | {"hired_on": hired}, BEN | {"left_on": left}, {"person": "C", "name": "Cy", "site": None}])
    assert found.size == 3
    assert found.number.to_list() == ["4821", "", ""]
    assert found.site.tolist() == [0, 1, -1]
    assert found.hired.tolist() == [(hired - EPOCH).days, -NEVER, -NEVER]
    assert found.left.tolist() == [NEVER, (left - EPOCH).days, NEVER]
    assert found.codes_of(pl.Series(["C", "Z", "A"])).tolist() == [2, -1, 0]
    assert found.keys().rows() == [("A", "4821", 0), ("B", "", 1), ("C", "", 2)]


def test_punches_stand_by_person_and_time_whatever_order_they_come_in() -> None:
    owns = [
        *attributed("B", [(SIX + 9, "out"), (SIX, None)], "FAR"),
        *attributed("Z", [(SIX, "in")]),  # nobody on the roster
        *attributed("A", [(SIX + 5, "in")], "ATTIC"),  # a reader that is not listed
        *attributed("A", [(SIX + 1, "out")], "DOCK"),
    ]
    found = roster([ANA, BEN], owns)
    own = found.attributed
    assert own.person.tolist() == [0, 0, 1, 1]
    assert own.at.tolist() == own.ends.tolist() == [SIX + 1, SIX + 5, SIX, SIX + 9]
    assert own.direction.tolist() == [-1, 1, 0, -1]
    assert own.reader.tolist() == [1, -1, 2, 2]
    assert own.punch.tolist() == [10_004, 10_003, 10_001, 10_000]
    assert found.attributed_site.tolist() == [0, -1, 1, 1]
    assert found.site_counts.tolist() == [[1, 0], [0, 2]]
    # from the first at or after the start to the last at or before the end, of that person alone
    who = np.array([0, 0, 1, 1, 1])
    starts, ends = (
        np.array([SIX, SIX + 2, SIX, SIX + 1, SIX + 10]),
        np.array([SIX + 5, SIX + 4, SIX + 9, SIX + 8, SIX + 99]),
    )
    left, right = own.between(who, starts, ends)
    assert (right - left).tolist() == [2, 0, 2, 0, 0]
    assert left[:3].tolist() == [0, 1, 2]
    # without two of them, as though nobody had made them
    less = found.without(pl.Series([10_003, 10_000]))
    assert less.attributed.punch.tolist() == [10_004, 10_001]
    assert less.attributed_site.tolist() == [0, 1]
    assert less.site_counts.tolist() == [[1, 0], [0, 1]]
    assert found.without(pl.Series([1])) is found


def test_hours_are_known_from_a_schedule_or_from_eight_punches() -> None:
    found = roster([ANA, BEN], attributed("B", shifts(range(2)), "FAR"), [("A", SIX, SIX + HOUR)])
    assert (found.has_schedule.tolist(), found.has_hours.tolist()) == ([True, False], [True, True])
    assert roster([ANA, BEN], attributed("B", shifts(range(2))[:7])).has_hours.tolist() == [False, False]
    assert (found.schedule.at.tolist(), found.schedule.ends.tolist()) == ([SIX], [SIX + HOUR])


def test_every_pair_is_set_beside_every_sampled_place_of_its_stray() -> None:
    mine, people = strays_of(stray("11", [(SIX, "in")]) + stray("22", shifts(range(1)))), roster([ANA, BEN])
    sampled = np.array([0, 1, 1]), np.array([0, 2, 4])
    pair, place = expanded(every_pair(mine, people), sampled)
    assert pair.tolist() == [0, 1, 2, 2, 3, 3]
    assert place.tolist() == [0, 0, 2, 4, 2, 4]


@pytest.mark.parametrize(
    ("bounds", "many"),
    [
        ({"hired_on": date(2026, 3, 4)}, 2),  # the day of the last punch
        ({"hired_on": date(2026, 3, 5)}, 1),
        ({"left_on": date(2026, 3, 2)}, 2),  # that of the first
        ({"left_on": date(2026, 3, 1)}, 1),
    ],
)
def test_whoever_was_employed_between_the_first_and_the_last_punch_counts(bounds: dict[str, date], many: int) -> None:
    mine = strays_of(stray("11", [(SIX + DAY, "in")]) + stray("22", [(SIX, "in"), (SIX + 2 * DAY, "in")]))
    assert _employed_meanwhile(mine, roster([ANA | bounds, BEN])) == many
    # somebody always is, lest the chance of everybody be infinite
    assert _employed_meanwhile(mine, roster([ANA | {"left_on": date(2026, 1, 1)}])) == 1
    assert _employed_meanwhile(strays_of([]), roster([ANA, BEN])) == 1


def test_what_somebody_decided_or_tried_counts_for_its_pairs_alone() -> None:
    mine, people = strays_of(stray("11", [(SIX, "in")]) + stray("22", [(SIX, "in")], "DOCK")), roster([ANA, BEN])
    # places: 0 is the dock's 22, 1 the gate's 11
    decisions = Decisions(
        tried_both=PAIRS.rows([{"stray": 1, "who": 0}, {"stray": 1, "who": 0}]),
        confirmed=PAIRS.rows([{"stray": 0, "who": 1}]),
        logs_refusals=np.array([False, True]),
    )
    found = _decided(mine, people, every_pair(mine, people), decisions)
    assert found["confirmed"].agreements.tolist() == [0, 1, 0, 0]
    assert found["confirmed"].trials.tolist() == [1, 1, 0, 0]
    coincidence = found["confirmed"].coincidence
    assert coincidence is not None
    assert coincidence.tolist() == [0.5] * 4  # one of two people
    assert found["refused"].agreements.tolist() == [0, 0, 1, 0]
    assert found["refused"].trials.tolist() == [0, 0, 1, 1]
    assert found["refused"].coincidence is None


def test_somebody_unknown_keeps_the_hours_of_somebody_of_the_site_or_of_nobody_in_particular() -> None:
    weights = Weights()
    mine = strays_of(stray("11", [(SIX, "in"), (SIX + 4 * HOUR, "out")]))
    people = roster([ANA], attributed("A", [(SIX + DAY * day, "in") for day in range(8)]))
    hers = float(compare_times(mine, people, every_pair(mine, people), weights).bits[0])
    anybody = float(anybody_at_all(mine, people)[0])
    # both punches count; Ana, the only one of the site, and one more who is anybody
    expected = log2((2 ** (2 * hers) + 2 ** (2 * anybody)) / 2)
    pairs = every_pair(mine, people)
    compared = compare_times(mine, people, pairs, weights)
    assert times_of_nobody(mine, people, pairs, compared, weights).tolist() == [pytest.approx(expected)]
    # whoever of the site is not among the pairs counts all the same
    none = Pairs.of(np.array([], dtype=np.int64), np.array([], dtype=np.int64), 1)
    unseen = compare_times(mine, people, none, weights)
    assert times_of_nobody(mine, people, none, unseen, weights).tolist() == [pytest.approx(expected)]
    # at most five punches count, and where nobody's hours are known there is anybody alone
    many = strays_of(stray("11", [(SIX + HOUR * 2 * at, None) for at in range(9)]))
    nobody = roster([ANA], attributed("A", [(SIX, "in")]))
    alone = float(anybody_at_all(many, nobody)[0]) * 5
    times = compare_times(many, nobody, every_pair(many, nobody), weights)
    assert times_of_nobody(many, nobody, every_pair(many, nobody), times, weights).tolist() == [pytest.approx(alone)]
