"""Codes on sheets: the same for the same sheet, and a letter keyed wrong is seen."""

from __future__ import annotations

import base64
import hashlib
import hmac

from hypothesis import given
from hypothesis import strategies as st

from evenhand.records.codes import LETTERS, read_code
from evenhand.records.consent.codes import code_of

people = st.text(min_size=1, max_size=12)
DIGEST, SECRET = "ab" * 32, "0f" * 32
HEX32 = str.maketrans("0123456789ABCDEFGHIJKLMNOPQRSTUV", LETTERS)


@given(people)
def test_a_code_reads_back_however_it_is_keyed(person) -> None:
    code = code_of(DIGEST, person, SECRET)
    assert code == code_of(DIGEST, person, SECRET)
    assert len(code) == 14
    assert read_code(code) == code
    assert read_code(code.lower().replace("-", " ").replace("0", "o").replace("1", "l")) == code


@given(people, st.integers(0, 11), st.sampled_from(LETTERS))
def test_one_letter_keyed_wrong_is_never_taken(person, place, letter) -> None:
    # ISO/IEC 7064: its systems detect every single substitution.
    letters = code_of(DIGEST, person, SECRET).replace("-", "")
    wrong = letters[:place] + letter + letters[place + 1 :]
    assert (read_code(wrong) is None) == (wrong != letters)


def test_each_version_and_each_person_has_a_code_of_its_own() -> None:
    codes = {code_of(digest, f"P{number}", SECRET) for digest in (DIGEST, "cd" * 32) for number in range(5000)}
    assert len(codes) == 10_000


@given(people)
def test_a_code_is_made_with_the_secret_and_those_of_before_are_what_they_were(person) -> None:
    # RFC 4648, section 7: eleven letters of base 32 are the first 55 bits.
    of = f"{DIGEST}\n{person}".encode()
    for secret, digest in (
        (SECRET, hmac.new(bytes.fromhex(SECRET), of, hashlib.sha256).digest()),
        ("", hashlib.sha256(of).digest()),
    ):
        letters = base64.b32hexencode(digest).decode()[:11].translate(HEX32)
        assert code_of(DIGEST, person, secret).replace("-", "")[:11] == letters


def test_what_is_no_code_is_none() -> None:
    assert read_code("") is None
    assert read_code("ABCD-EFGH") is None
    assert read_code("UUUU-UUUU-UUUU") is None
