"""A result in letters says the day and what went well, and nothing that was keyed wrong is read."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenhand.enrolment.teaching.results import Result, read_result, write_result
from evenhand.jobs.practice import practice_round
from evenhand.records.codes import LETTERS, checked, read_code

THEMES = ("first", "consent", "number")


@given(
    st.integers(0, 31),
    st.dates(date(2024, 1, 1), date(2068, 11, 8)),
    st.sets(st.sampled_from(THEMES)),
    st.integers(0, 2**18 - 1),
)
def test_what_is_written_is_read(edition: int, day: date, well: set[str], drawn: int) -> None:
    result = Result(edition, day, tuple(theme for theme in THEMES if theme in well), drawn)
    letters = write_result(result, THEMES)
    assert len(letters) == 11
    assert set(letters) <= set(LETTERS)
    assert read_result(letters, THEMES) == result


def test_it_is_as_reckoned_by_hand() -> None:
    # 1 in 5 bits, 2 days in 14, the first and third of the themes (101) in 18, nothing drawn in 18; cut into fives:
    # 00001 00000 00000 00100 00000 00000 00001 01000 00000 00000 00000, which are 1 0 0 4 0 0 1 8 0 0 0.
    assert write_result(Result(1, date(2024, 1, 3), ("first", "number")), THEMES) == "10040018000"


def test_themes_that_the_edition_has_not_are_not_read() -> None:
    assert read_result(write_result(Result(1, date(2026, 3, 2), ("number",)), THEMES), THEMES[:2]) is None


def test_a_day_before_the_first_cannot_be_written() -> None:
    with pytest.raises(ValueError, match="does not fit"):
        write_result(Result(1, date(2023, 12, 31), ()), THEMES)


def test_every_letter_keyed_wrong_is_found() -> None:
    code = checked(write_result(Result(1, date(2026, 3, 2), ("number",), 77), THEMES))
    for place, letter in enumerate(code):
        for other in LETTERS:
            if letter not in ("-", other):
                assert read_code(code[:place] + other + code[place + 1 :]) is None


def test_the_themes_fit() -> None:
    assert len(practice_round().themes) <= 18
