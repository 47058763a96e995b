"""What people write is one clean line. Source: Unicode Standard Annexes 9 (direction) and 15 (NFC)."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenhand.terms.characters import hidden_in
from evenhand.terms.lines import LONGEST, as_line
from evenhand.terms.records import Refusal


@given(st.text(max_size=60))
def test_a_line_is_clean_or_refused(text: str) -> None:
    try:
        line = as_line(text)
    except Refusal as refusal:
        assert hidden_in(text.strip()) or "characters, and" in str(refusal)
        str(refusal).encode()  # what is told of it is text, whatever it was
        return
    assert line == unicodedata.normalize("NFC", line)
    assert not set(line) & set("\r\n\t\v\f\x00\x1b\x85\u2028\u2029\u200b\u202e")
    assert line == line.strip()
    assert as_line(line) == line


def test_line_breaks_become_blanks_so_that_nothing_forges_a_line_of_its_own() -> None:
    assert as_line("  late bus\r\n\tControl total 99.00\n") == "late bus Control total 99.00"


def test_what_is_written_in_parts_is_composed() -> None:
    assert as_line("Zoe\u0308") == "Zo\u00eb"  # UAX 15, figure 4: a letter and its mark


@pytest.mark.parametrize(
    "hidden", ["\u202e", "\u2028", "\u2029", "\u200b", "\x1b[2J", "\x00", "\ud800", "\ufeff", "\x85"]
)
def test_what_does_not_show_is_refused_by_name(hidden: str) -> None:
    with pytest.raises(Refusal, match=f"--reason .*U\\+{ord(hidden[0]):04X}"):
        as_line(f"a{hidden}b", "--reason")


def test_too_long_a_line_is_refused_with_its_length() -> None:
    assert len(as_line("x" * LONGEST)) == LONGEST
    with pytest.raises(Refusal, match="501 characters, and 500 fit"):
        as_line("x" * (LONGEST + 1))
