"""Policy files: a notice that lacks an element is refused, with its place."""

from __future__ import annotations

import hashlib

import pytest

from evenhand.records.consent import CONSENT_LAWS, ELEMENTS, digest_of, read_policy
from evenhand.terms.records import Refusal

LANGUAGES = ("en", "es")
WORDS = "\n".join(f'{element} = "{element} in words"' for element in ELEMENTS)
WHOLE = f'name = "Hands"\nforms = ["H-1"]\n[en]\n{WORDS}\n'


def test_a_whole_file_is_read() -> None:
    policy = read_policy(WHOLE, "hands.toml", LANGUAGES)
    assert (policy.name, policy.forms, list(policy.words)) == ("Hands", ("H-1",), ["en"])
    assert policy.spoken("es").purpose == "purpose in words"


@pytest.mark.parametrize("element", ELEMENTS)
def test_a_missing_element_is_named_with_what_it_is_for(element) -> None:
    # 740 ILCS 14/15(b)(1) to (3): notice, purpose and length of term, written release
    with pytest.raises(Refusal, match=rf"hands\.toml, en\.{element} is missing"):
        read_policy(WHOLE.replace(f'{element} = "{element} in words"', ""), "hands.toml", LANGUAGES)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('name = "Hands"', "says nothing in any language"),
        ("name = ", "not valid TOML"),
        (WHOLE + 'purpse = "x"', "nobody knows purpse"),
        (WHOLE + "[fr]\n", "nobody knows the key fr"),
        (WHOLE.replace("purpose in words", "a\u202eb"), "do not show"),
        (WHOLE.replace('["H-1"]', '"H-1"'), "forms: expected a list"),
        (WHOLE + "# " + "x" * 500_000, "longer than"),
    ],
)
def test_what_cannot_be_understood_is_refused(text, says) -> None:
    with pytest.raises(Refusal, match=says):
        read_policy(text, "hands.toml", LANGUAGES)


def test_a_law_binds_its_place_and_what_lies_in_it() -> None:
    bound = {place: {law.place for law in CONSENT_LAWS if law.binds(place)} for place in ("US-IL", "US-TX", "US", "DE")}
    assert bound == {"US-IL": {"US-IL"}, "US-TX": {"US-TX"}, "US": set(), "DE": {"EU"}}


def test_the_digest_is_the_sha_256_of_the_file() -> None:
    # FIPS 180-4, as the standard library computes it; "abc" is its own published example
    assert digest_of("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert digest_of(WHOLE) == hashlib.sha256(WHOLE.encode()).hexdigest()
