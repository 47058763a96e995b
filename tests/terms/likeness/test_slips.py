from __future__ import annotations

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rapidfuzz.distance import OSA

from evenhand.terms.likeness.slips import likelihoods, lost_zeros, one_slip_away, slips_toward

NUMBERS = st.text("0123456789", min_size=3, max_size=6)
# slips that change two digits at once and so are two steps for any edit distance
TWO_DIGIT = {"jump", "twin", "jump_twin", "phonetic", "zeros_lost", "zeros_added"}


@settings(max_examples=150, deadline=None)
@given(NUMBERS, NUMBERS)
def test_a_slip_of_one_digit_is_one_step_of_optimal_string_alignment(keyed: str, meant: str) -> None:
    # reference library: rapidfuzz
    kinds = set(likelihoods(keyed, meant)) - TWO_DIGIT
    assert bool(kinds) == (OSA.distance(keyed, meant) == 1)


@settings(max_examples=30, deadline=None)
@given(st.text("0123456789", min_size=2, max_size=5))
def test_every_number_a_slip_leads_from_is_listed(keyed: str) -> None:
    listed = set(one_slip_away(keyed))
    width = len(keyed)
    for value in range(10 ** min(width, 3)):
        meant = keyed[: width - 3] + str(value).zfill(min(width, 3)) if width > 3 else str(value).zfill(width)
        if likelihoods(keyed, meant) or likelihoods(meant, keyed):
            assert meant in listed


@settings(max_examples=40, deadline=None)
@given(NUMBERS)
def test_what_one_kind_of_slip_can_make_of_a_number_sums_to_one(meant: str) -> None:
    made: dict[str, float] = {}
    for keyed in set(one_slip_away(meant)):
        for kind, chance in likelihoods(keyed, meant).items():
            made[kind] = made.get(kind, 0.0) + chance
    for kind in ("single", "adjacent", "jump", "twin", "jump_twin", "phonetic", "dropped"):
        assert made.get(kind, 1.0) == pytest.approx(1.0), kind


def test_a_swap_of_three_possible_ones_is_one_in_three() -> None:
    # 4821: the pairs 48, 82, 21 all differ
    assert likelihoods("4281", "4821", neighbour_share=None) == {"adjacent": pytest.approx(1 / 3)}


def test_a_key_beside_the_right_one_is_likelier_than_one_across_the_pad() -> None:
    beside, across = likelihoods("5", "8")["single"], likelihoods("1", "8")["single"]
    assert beside > across
    # 8 has four neighbours (0, 5, 7, 9): 0.45 / 4 and 0.55 / 5
    assert (beside, across) == (pytest.approx(0.1125), pytest.approx(0.11))


def test_lost_zeros_and_doubled_digits_are_told_apart() -> None:
    assert set(likelihoods("417", "0417")) == {"dropped", "zeros_lost"}
    assert set(likelihoods("48821", "4821")) == {"doubled", "added"}
    assert likelihoods("4821", "4821") == {}


@pytest.mark.parametrize(
    ("keyed", "meant", "kind"),
    [
        ("1423", "1324", "jump"),
        ("1315", "1350", "phonetic"),  # fifteen for fifty
        ("5566", "5577", "twin"),
        ("5161", "5262", "jump_twin"),
        ("4281", "4821", "adjacent"),
        ("4822", "4821", "single"),
        ("481", "4821", "dropped"),
        ("48821", "4821", "doubled"),
        ("48321", "4821", "added"),
        ("123", "0123", "zeros_lost"),
        ("00123", "0123", "zeros_added"),
        ("1284", "4821", ""),
        ("4288", "4821", ""),
        ("0", "000", ""),
        ("4821", "4821", ""),
    ],
)
def test_each_kind_of_slip_is_found_among_whole_columns(keyed: str, meant: str, kind: str) -> None:
    found = slips_toward(pl.Series([keyed, keyed]), pl.Series([meant, "99999999"]))
    assert found.filter(pl.col("meant") == meant)["kind"].to_list().count(kind) == (1 if kind else 0)
    assert found["keyed"].unique().to_list() == ([keyed] if kind else [])


def test_a_digit_added_is_one_of_ten_at_one_of_so_many_places() -> None:
    # 48321 is 4821 with a 3 at one of five places; in 48821 the added 8 may be either, and 8 is one of four to double
    assert likelihoods("48321", "4821") == {"added": pytest.approx(1 / 50)}
    assert likelihoods("48821", "4821") == {"doubled": pytest.approx(1 / 4), "added": pytest.approx(2 / 50)}
    assert likelihoods("481", "4821") == {"dropped": pytest.approx(1 / 4)}
    # either of two equal digits may be the one that is missing
    assert likelihoods("421", "4221") == {"dropped": pytest.approx(2 / 4)}


def test_zeros_come_and_go_by_export_and_not_by_finger() -> None:
    assert likelihoods("21", "0021") == {"zeros_lost": 1.0}
    assert likelihoods("021", "0021")["zeros_lost"] == 0.1  # a list that loses zeros loses all
    assert likelihoods("0021", "21") == {"zeros_added": 0.5}


def test_only_zeros_in_front_are_lost_zeros() -> None:
    assert lost_zeros("123", "0123")
    assert lost_zeros("0123", "123")
    assert not lost_zeros("123", "123")
    assert not lost_zeros("1230", "123")
    assert not lost_zeros("0", "000")
