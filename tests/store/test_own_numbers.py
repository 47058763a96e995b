"""Identifiers and numbers in what others wrote: asked about where they may be the person's, never another's."""

from __future__ import annotations

import re

import pytest

from evenhand.store.own_numbers import OwnNumbers

NUMBERS = OwnNumbers(frozenset({"P1"}), frozenset({"7404", "0742"}), frozenset({"P10", "00742", "K7404", "7404-B"}))


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("see P1", "see X"),
        ("see p1.", "see X."),
        ("see P10, P12 and XP1", "see P10, P12 and XP1"),  # another's, and no words of their own
        ("locker 7404", "locker X"),  # which only a reader can tell from the badge
        ("no. 7404 said", "no. X said"),
        ("#07404/P1", "#X/X"),
        ("zq7404.xlsx", "zqX.xlsx"),
        ("K7404 and 7404-B", "K7404 and 7404-B"),  # somebody else's
        ("742 and 0742", "X and X"),
        ("00742", "00742"),  # somebody else's, with two zeros
        ("74040 or 17404", "74040 or 17404"),
        ("paid 7404.50", "paid X.50"),  # an amount, which is asked about too
        ("on 7404-11-23 at 07:42", "on 7404-11-23 at 07:42"),
        ("1.11.7404", "1.11.7404"),
        ("sha256 ab7404cd1234567890abcdef", "sha256 ab7404cd1234567890abcdef"),
        ("742", "742"),  # three digits and no word
    ],
)
def test_a_number_is_found_where_it_may_be_theirs(text: str, left: str) -> None:
    spans = NUMBERS.spans_in(text)
    for begin, end in reversed(spans):
        text = text[:begin] + "X" + text[end:]
    assert text == left
    if spans:
        assert any(re.search(f"(?i){way}", text.replace("X", "P1") + " 7404") for way in NUMBERS.ways)


def test_only_an_identifier_of_letters_and_digits_is_likely_theirs() -> None:
    assert NUMBERS.is_likely("see P1")
    assert not NUMBERS.is_likely("locker 7404")
    assert not OwnNumbers(frozenset({"May"}), frozenset(), frozenset()).is_likely("in May")


def test_a_number_that_is_somebody_elses_too_is_asked_about() -> None:
    assert OwnNumbers(frozenset(), frozenset({"7404"}), frozenset({"7404"})).spans_in("no. 7404") == [(4, 8)]


def test_an_identifier_of_one_letter_is_no_word_in_small_letters() -> None:
    assert OwnNumbers(frozenset({"A"}), frozenset(), frozenset()).spans_in("a hand of A") == [(10, 11)]


def test_every_text_with_a_number_is_found_by_its_way() -> None:
    assert [bool(re.search(way, "locker 07404")) for way in NUMBERS.ways] == [True, False, False]
    assert [bool(re.search(way, "742")) for way in NUMBERS.ways] == [False, True, False]
