"""A signature is the person's own name, as a phone's keyboard may write it, and no other's."""

from __future__ import annotations

import pytest

from evenhand.records.consent import is_name_of


@pytest.mark.parametrize(
    ("signature", "name", "is_theirs"),
    [
        ("Bram Ostler", "Bram Ostler", True),
        ("ostler, bram", "Bram Ostler", True),
        ("Zoe O'Neil", "Zoë O’Neil", True),
        ("Ana Roca", "Ana Maria Roca", True),
        ("Bram", "Bram Ostler", False),
        ("B. Ostler", "Bram Ostler", False),
        ("Joss Fenn", "Bram Ostler", False),
        ("Bram Ostler Fenn", "Bram Ostler", False),
        ("x", "Bram Ostler", False),
        ("", "", False),
    ],
)
def test_a_signature_is_the_name_on_the_roster(signature: str, name: str, is_theirs: bool) -> None:
    assert is_name_of(signature, name) == is_theirs
