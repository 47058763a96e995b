"""Hidden characters, checked against the Unicode properties that unicodedata knows."""

import sys
import unicodedata

import pytest

from evenhand.terms.characters import escaped, hidden_in


def test_every_character_that_turns_text_is_found():
    # Unicode Standard Annex 9, table 4: the explicit formatting characters by their bidirectional class.
    turning = {"LRE", "LRO", "RLE", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
    for code in range(sys.maxunicode + 1):
        if unicodedata.bidirectional(chr(code)) in turning:
            assert hidden_in(f"A{chr(code)}B") == f"U+{code:04X}"


def test_no_letter_mark_or_number_is_hidden():
    for code in range(sys.maxunicode + 1):
        if unicodedata.category(chr(code))[0] in "LMNPSZ" and code not in (0x2028, 0x2029):
            assert not hidden_in(chr(code)), hex(code)


@pytest.mark.parametrize("text", ["Ana\u200bRuiz", "A\u200cB", "\ufeffAna", "Ana\u200e", "A\x00", "A\x7f", "A\u2060B"])
def test_invisible_characters_are_found(text):
    assert hidden_in(text)
    assert escaped(text).isprintable()


def test_joiners_that_spell_a_name_are_no_fault():
    assert not hidden_in("نیک\u200cپور")
    assert not hidden_in("क्\u200dष")


def test_a_direction_override_is_shown_escaped_and_a_tab_stays():
    assert escaped("pay\u202efdp.exe\tx") == "pay\\u202efdp.exe\tx"
    assert escaped("Müller, Zoë") == "Müller, Zoë"
