"""Codes on sheets: the same for the same sheet, and a letter keyed wrong is seen."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from evenhand.records.codes import LETTERS, read_code
from evenhand.records.consent.codes import code_of

people = st.text(min_size=1, max_size=12)
DIGEST = "ab" * 32


@given(people)
def test_a_code_reads_back_however_it_is_keyed(person) -> None:
    code = code_of(DIGEST, person)
    assert code == code_of(DIGEST, person)
    assert len(code) == 14
    assert read_code(code) == code
    assert read_code(code.lower().replace("-", " ").replace("0", "o").replace("1", "l")) == code


@given(people, st.integers(0, 11), st.sampled_from(LETTERS))
def test_one_letter_keyed_wrong_is_never_taken(person, place, letter) -> None:
    # ISO/IEC 7064: its systems detect every single substitution.
    letters = code_of(DIGEST, person).replace("-", "")
    wrong = letters[:place] + letter + letters[place + 1 :]
    assert (read_code(wrong) is None) == (wrong != letters)


def test_each_version_and_each_person_has_a_code_of_its_own() -> None:
    codes = {code_of(digest, f"P{number}") for digest in (DIGEST, "cd" * 32) for number in range(5000)}
    assert len(codes) == 10_000


def test_what_is_no_code_is_none() -> None:
    assert read_code("") is None
    assert read_code("ABCD-EFGH") is None
    assert read_code("UUUU-UUUU-UUUU") is None
