from __future__ import annotations

from datetime import date
from itertools import combinations

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.numbers import (
    Scheme,
    allocate,
    chance_of_landing,
    confusable_pairs,
    design,
    known_by_heart,
    migrate,
    part_confusable,
)
from evenhand.terms.likeness.slips import likelihoods
from evenhand.terms.records import Refusal
from evenhand.terms.sources import ENROLMENTS, PEOPLE
from evenhand.terms.tables import ATTRIBUTED

ROSTER = PEOPLE.rows(
    [
        {"person": "A", "name": "Ana", "number": "4821", "phone": "555-010-7730"},
        {"person": "B", "name": "Ben", "number": "4812"},
        {"person": "C", "name": "Cy", "number": "4813", "hired_on": date(2026, 3, 9)},
        {"person": "D", "name": "Dee", "number": "9047"},
        {"person": "E", "name": "Eve", "number": None},
    ]
)
LISTS = ENROLMENTS.rows(
    [{"reader": reader, "number": number} for reader in ("R1", "R2") for number in ("4812", "9047")]
    + [{"reader": "R1", "number": "4813"}, {"reader": "R1", "number": "4821"}]
)


def one_slip(one: str, other: str) -> bool:
    return bool(likelihoods(one, other) or likelihoods(other, one))


def test_the_shortest_spaced_numbers_that_hold_the_growth_come_first() -> None:
    assert design(300, people_later=450, max_digits=6)[0].scheme == Scheme(4, 19, 1)
    assert design(300, people_later=2000, max_digits=6)[0].scheme == Scheme(5, 19, 1)


def test_people_who_do_not_fit_are_refused_in_one_sentence() -> None:
    with pytest.raises(Refusal, match="do not fit into 3 digits"):
        design(300, people_later=1000, max_digits=3)


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_new_numbers_are_never_in_a_row_never_known_and_never_one_slip_from_another(seed: int) -> None:
    taken = ["4821", "3057"]
    given_ = allocate(20, Scheme(4, 19, 5), taken=taken, avoid=["0005"], rng=np.random.default_rng(seed))
    numbers = [one.number for one in given_]
    assert len({*numbers, *taken, "0005"}) == 23
    for one, other in combinations([*numbers, *taken], 2):
        assert not one_slip(one, other)
        assert abs(int(one) - int(other)) > 1
    assert all(int(number) % 19 == 5 for number in numbers)


def test_more_numbers_than_there_are_is_told_before_any_is_drawn() -> None:
    with pytest.raises(Refusal, match=r"^any 4 digits has \d+ free numbers, not 99999999; choose a longer or closer"):
        allocate(99_999_999, Scheme(4), taken=[], rng=np.random.default_rng(1))


def test_obvious_numbers_are_never_given() -> None:
    # all numbers of four digits with remainder 0 by 1111 are one digit repeated
    with pytest.raises(Refusal, match="free numbers"):
        allocate(1, Scheme(4, 1111, 0), taken=[], rng=np.random.default_rng(1))
    # and years from 1900 to 2099 are the only ones left below
    with pytest.raises(Refusal, match="free numbers"):
        allocate(
            1,
            Scheme(4),
            taken=[],
            avoid=[str(value).zfill(4) for value in range(10_000) if not 1900 <= value <= 2099],
            rng=np.random.default_rng(1),
        )


def test_what_people_know_by_heart_is_avoided() -> None:
    assert {"7730", "0309", "0903", "2026"} <= known_by_heart(ROSTER)


def test_moving_everybody_keeps_the_remainder_with_most_enrolments() -> None:
    # 9047 = 19 * 476 + 3; 4812 = 19 * 253 + 5; 4821 = 19 * 253 + 14; 4813 = 19 * 253 + 6.
    # 4812 and 9047 stand on two readers each, so that remainder 3 or 5 keeps most; the first is taken.
    moved = migrate(ROSTER, LISTS, Scheme(4, 19), rng=np.random.default_rng(3))
    assert moved.scheme.remainder == 3
    assert moved.kept == 1
    assert moved.enrolments == 4
    assert moved.after.overall == 0 < moved.before.overall
    assert [change.person for change in moved.changes] == ["A", "B", "C", "E"]


def test_parting_confusable_numbers_takes_the_fewest_enrolments() -> None:
    # pairs one slip apart: 4821-4812 (swap), 4812-4813 (single). Moving B alone (2 readers) parts both;
    # moving A and C (1 reader each) would part them too but moves two people.
    moved = part_confusable(ROSTER, LISTS, 4, rng=np.random.default_rng(3))
    assert [change.person for change in moved.changes] == ["B"]
    assert moved.enrolments == 2
    assert chance_of_landing([*("4821", "4813", "9047"), moved.changes[0].new_number]).overall == 0


def test_the_smallest_cover_is_as_small_as_trying_every_set() -> None:
    rng = np.random.default_rng(11)
    numbers = [str(value).zfill(3) for value in rng.choice(1000, 14, replace=False)]
    people = PEOPLE.rows([{"person": f"P{at}", "name": "x", "number": number} for at, number in enumerate(numbers)])
    moved = part_confusable(people, ENROLMENTS.empty(), 5, rng=rng)
    pairs = [(one, other) for one, other in combinations(numbers, 2) if one_slip(one, other)]
    assert pairs
    best = next(
        size
        for size in range(len(numbers))
        if any(all(a in chosen or b in chosen for a, b in pairs) for chosen in map(set, combinations(numbers, size)))
    )
    assert len(moved.changes) == best


def test_pairs_who_share_a_reader_and_hours_come_first() -> None:
    def punches(person: str, reader: str, hour: int) -> list[dict[str, object]]:
        return [
            {"person": person, "reader": reader, "zone": "UTC", "at": 86_400 * day + 3600 * hour} for day in range(5)
        ]

    rows = [*punches("A", "R1", 6), *punches("B", "R1", 6), *punches("C", "R2", 22)]
    attributed = ATTRIBUTED.rows([{"punch": at, **row} for at, row in enumerate(rows)])
    pairs = confusable_pairs(ROSTER, attributed)
    assert pairs.select("number", "other_number").rows()[0] == ("4812", "4821")
    assert pairs["shared"].to_list()[0] == pytest.approx(1.0)
    assert pairs.filter(pl.col("other_number") == "4813")["shared"].to_list() == [0.0]


def test_numbers_too_close_to_be_parted_are_refused_and_not_searched_for_hours() -> None:
    # Of 1,200 four-digit numbers each has about five neighbours in use: 9 digits in 4 places, an eighth of all taken.
    drawn = np.random.default_rng(1).choice(10_000, 1_200, replace=False)
    people = (
        PEOPLE.empty()
        .clear(1_200)
        .with_columns(
            person=pl.Series([f"P{at}" for at in range(1_200)]), number=pl.Series([f"{one:04}" for one in drawn])
        )
    )
    with pytest.raises(Refusal, match="too close together to be parted"):
        part_confusable(people, ENROLMENTS.empty(), 4, rng=np.random.default_rng(2))
