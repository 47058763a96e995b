"""Stretches of work and the minutes behind them, at the bounds of the workplace's policy."""

from __future__ import annotations

import polars as pl
import pytest

from evenhand.terms.settings import Policy
from evenhand.terms.stretches import minutes_in_doubt, stretches
from evenhand.terms.tables import RECORDED

HOUR = 3600
POLICY = Policy()  # one act below 60 s, in for 14 h, out for 5 h, meals from 30 min


def punched(*acts: tuple[float, str | None], reader: str = "GATE") -> pl.DataFrame:
    return RECORDED.rows(
        [
            {"punch": at, "reader": reader, "number": "4281", "at": round(HOUR * hour), "direction": way}
            for at, (hour, way) in enumerate(acts)
        ]
    )


def parted(*acts: tuple[float, str | None], policy: Policy = POLICY) -> list[int]:
    """The length of each stretch in punches."""
    found = stretches(punched(*acts), ["reader"], policy)
    return found.group_by("stretch").len().sort("stretch")["len"].to_list()


def minutes(*acts: tuple[float, str | None], policy: Policy = POLICY) -> int:
    return int(minutes_in_doubt(punched(*acts), ["reader"], policy)["minutes"].sum())


SECOND = 1 / HOUR


@pytest.mark.parametrize(
    ("apart", "way", "together"),
    [
        (14, "in", True),  # in for the longest span the policy allows
        (14 + SECOND, "in", False),
        (5, "out", True),  # out for no longer than ends a shift
        (5 + SECOND, "out", False),
        (14, None, True),  # unmarked, the first of a run is a way in
    ],
)
def test_a_stretch_ends_where_the_policy_says(apart: float, way: str | None, together: bool) -> None:
    assert parted((6, way), (6 + apart, None)) == ([2] if together else [1, 1])


def test_another_policy_ends_stretches_elsewhere() -> None:
    broken = ((6, "in"), (8, "out"), (11, "in"), (13, "out"))
    assert parted(*broken) == [4]
    assert parted(*broken, policy=Policy(shift_gap_s=2 * HOUR)) == [2, 2]
    assert parted((6, "in"), (14, "out"), policy=Policy(longest_span_s=7 * HOUR)) == [1, 1]


def test_unmarked_punches_go_by_turns_so_that_nights_of_twelve_hours_stay_whole() -> None:
    nights = [(24 * night + hour, None) for night in range(3) for hour in (19, 31)]
    assert parted(*nights) == [2, 2, 2]
    assert minutes(*nights) == 3 * 12 * 60


def test_a_marked_punch_sets_the_turns_of_the_unmarked_ones_after_it() -> None:
    found = stretches(punched((6, None), (10, "in"), (14, None), (14.5, None)), ["reader"], POLICY)
    assert found["way"].to_list() == [1, 1, -1, 1]


def test_presentations_closer_than_the_policy_says_are_one_act() -> None:
    twice = ((6, None), (6 + 59 / HOUR, None), (14, None))
    assert stretches(punched(*twice), ["reader"], POLICY)["way"].to_list() == [1, 1, -1]
    apart = ((6, None), (6 + 60 / HOUR, None), (14, None))
    assert stretches(punched(*apart), ["reader"], POLICY)["way"].to_list() == [1, -1, 1]
    # a way in and a way out are never one act
    assert stretches(punched((6, "in"), (6 + 20 / HOUR, "out")), ["reader"], POLICY)["turn"].n_unique() == 2


@pytest.mark.parametrize(
    ("acts", "expected"),
    [
        (((6, "in"), (14, "out")), 480),
        (((6, "in"), (10, "out"), (10.5, "in"), (14, "out")), 450),  # a meal of half an hour is not paid
        (((6, "in"), (10, "out"), (10.4, "in"), (14, "out")), 480),  # a shorter break is
        (((6, "in"),), 240),  # half a day for a punch alone
        (((6, "in"), (6 + SECOND, "in")), 240),  # the same act twice
        (((14, "out"),), 240),
        (((6, "in"), (10, "out"), (10.5, "in")), 480),  # and for a way in at the end
        (((10, "out"), (10.5, "in"), (14, "out")), 450),  # and for a way out at the beginning
        (((6, "in"), (10, "in"), (14, "in")), 480),  # all the same way: first to last
        (((6, "in"), (20, "out"), (21, "in"), (22, "out")), 840),  # no more than the longest span
    ],
)
def test_minutes_in_doubt(acts: tuple[tuple[float, str], ...], expected: int) -> None:
    assert minutes(*acts) == expected


def test_groups_are_counted_apart_and_zones_play_no_part() -> None:
    both = pl.concat([punched((6, "in"), (14, "out")), punched((7, "in"), reader="DOCK")])
    assert minutes_in_doubt(both, ["reader"], POLICY).rows() == [("DOCK", 240), ("GATE", 480)]
    assert minutes_in_doubt(both.clear(), ["reader"], POLICY).is_empty()
