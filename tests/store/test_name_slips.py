"""Initials alone and names with one letter off, in texts that somebody wrote."""

from __future__ import annotations

import re

import pytest

from evenhand.store.own_numbers import OwnNumbers
from evenhand.store.part_names import PartNames, sharing

ZELDA = sharing(
    "Zelda Quackenbush", ["Ada Quill", "Mario Quackenbosh"], OwnNumbers(frozenset({"P04"}), frozenset({"74"}))
)


@pytest.mark.parametrize(
    "text",
    [
        "Quackenbish said so",  # changed
        "Quackenbsh said so",  # left out
        "QUACKENBUSSH SAID SO",  # doubled
        "asked Zedla",  # turned
        "ask Z.Q. first",
        "ask z. q.",
        "ZQ was there",
        "74",
        "#074",
    ],
)
def test_what_may_mean_somebody_is_found_faintly_and_else_not(text: str) -> None:
    assert not ZELDA.names(text)
    assert ZELDA.faintly.names(text)
    assert re.search(ZELDA.faintly.pattern, text)
    assert not ZELDA.faintly.is_likely(text)


@pytest.mark.parametrize(
    "text",
    [
        "Mario Quackenbosh was there",  # another's name, a letter away
        "at 8 z.q.",  # as in 8 a.m.
        "THE ZQ OF ALL",  # in capitals throughout
        "zq",
        "A.Z.Q. Ltd",
        "744",
        "74.50",
        "selfa and quack",  # two letters off, and a beginning
    ],
)
def test_what_means_another_or_anything_is_not(text: str) -> None:
    assert not ZELDA.faintly.names(text)


def test_a_short_name_has_no_letter_off_and_a_name_of_one_word_no_initials() -> None:
    rook = sharing("Ben Rook", [])
    assert not rook.faintly.names("Bem Rock")
    assert rook.faintly.replaced("B.R. knows", "erased-1") == "erased-1 knows"
    assert not sharing("Cher", []).faintly.names("C. and C")
    assert not sharing("Ada Marlow", []).faintly.names("at 8 a.m., or AM")


def test_an_accent_may_be_written_in_any_way_in_a_name_with_a_letter_off() -> None:
    parts: PartNames = sharing("Zo\u00e9 N\u00fa\u00f1ez-Ibarra", [])
    for said in ("N\u00fa\u00f1es", "Nu\u0301n\u0303es", "Nunes"):
        assert parts.faintly.names(said)
        assert re.search(parts.faintly.pattern, said)
