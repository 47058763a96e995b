"""Whatever names somebody else is blanked, and what is the person's own is not."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenhand.records.access import BLANK, Blanks


def blanks() -> Blanks:
    return Blanks(
        ["Ida Byrne"],
        {"P1", "0042"},
        ["Rui Okoro", "Ada Byrne", "Will Stone", "Bo Li", "Zoë O’Dell"],
        {"P2", "7315", "Z1/7", "0042"},
    )


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("seen by Rui at the gate", f"seen by {BLANK} at the gate"),
        ("seen by okoro", f"seen by {BLANK}"),
        ("RUI OKORO says so", f"{BLANK} says so"),
        ("Ada Byrne and I were there", f"{BLANK} Byrne and I were there"),
        ("her own hand, Ida", "her own hand, Ida"),
        ("O’Dell was on leave", f"{BLANK} was on leave"),
        ("keyed 7315 for 0042", f"keyed {BLANK} for 0042"),
        ("given to Z1/7, not Z1", f"given to {BLANK}, not Z1"),
        ("a bo in small letters is no name, Bo is", f"a bo in small letters is no name, {BLANK} is"),
        ("on 2026-11-03 at 17:31, 73.15 owed", "on 2026-11-03 at 17:31, 73.15 owed"),
        ("attribution_overtaken/GATE/7315/P1/P2", f"attribution_overtaken/GATE/{BLANK}/P1/{BLANK}"),
    ],
)
def test_what_a_person_wrote_is_searched_in_any_letters(text: str, told: str) -> None:
    assert blanks().text(text, is_written=True) == told


def test_a_word_of_our_own_is_not_taken_for_a_name_in_small_letters() -> None:
    made = blanks()
    assert made.text("It will be answered by Will.", is_written=False) == f"It will be answered by {BLANK}."
    assert made.made == 1
    assert made.text("a stone will do", is_written=True) == f"a {BLANK} do"


def test_what_is_blanked_is_counted() -> None:
    made = blanks()
    made.text("Rui, Okoro and P2", is_written=True)
    assert made.made == 3


WORDS = st.lists(st.sampled_from(["Rui", "OKORO", "7315", "P2", "Z1/7", "Ida", "0042", "gate", "and"]), max_size=8)


@given(WORDS, st.sampled_from([" ", ", ", "; ", "/", " - "]))
def test_nothing_of_anybody_else_is_left_whatever_stands_between(words: list[str], between: str) -> None:
    told = blanks().text(between.join(words), is_written=True).casefold()
    for other in ("rui", "okoro", "7315", "p2", "z1/7"):
        assert other not in told
    assert ("0042" in told) == ("0042" in words)
