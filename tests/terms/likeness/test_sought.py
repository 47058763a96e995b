"""What is found by a few typed words, held to Unicode's own tables and to the four kinds of slip."""

from __future__ import annotations

import unicodedata

import polars as pl
import pytest

from evenhand.terms.likeness.names import folded
from evenhand.terms.likeness.sought import Nearness, find_sought, index_sought, spellings

# Invented people.
NAMES = (
    "Gåsland, Åsa",
    "Ines Quill",
    "Josef Müller",
    "Zoë O’Brien",
    "Γιώργος Ξενάκης-Λίμνης",
    "Łukasz Wójcik",
    "Mary-Ann Strauß",
    "Nguyễn Thị Hồng",
    "Жанна Ёлкина",
    "Ines Quillfeather",
)
INDEX = index_sought([pl.Series(NAMES)], [pl.Series(NAMES)])


def found(asked: str) -> list[tuple[str, Nearness]]:
    rows = find_sought(INDEX, asked).select("row", "nearness").iter_rows()
    return [(NAMES[row], Nearness(near)) for row, near in rows]


@pytest.mark.parametrize("place", range(len(NAMES)))
def test_a_name_is_found_in_every_form_that_unicode_holds_to_be_the_same(place: int) -> None:
    # The Unicode Standard, UAX #15 (normalization forms) and section 3.13 (caseless matching), by unicodedata.
    name = NAMES[place]
    for form in ("NFC", "NFD", "NFKC", "NFKD"):
        written = unicodedata.normalize(form, name)
        for told in (written, written.upper(), written.lower(), written.casefold()):
            assert found(told)[0] == (name, Nearness.WHOLE), told


def test_letters_are_found_by_the_letter_that_unicode_takes_them_apart_into() -> None:
    # Source: the decompositions of UnicodeData.txt, by unicodedata, of all Latin letters with marks up to U+024F.
    looked_at = 0
    for code in range(0x00C0, 0x0250):
        letter = chr(code)
        apart = unicodedata.normalize("NFKD", letter)
        is_marked = len(apart) > 1 and apart[0].isascii() and unicodedata.combining(apart[1])
        if unicodedata.category(letter)[0] == "L" and is_marked:
            looked_at += 1
            assert pl.select(folded(pl.lit(f"x{letter}x"))).item() == f"x{apart[0].lower()}x", letter
    assert looked_at > 200


@pytest.mark.parametrize(
    ("asked", "name"),
    [
        ("gasland", "Gåsland, Åsa"),
        ("asa gasland", "Gåsland, Åsa"),
        ("Gåsland", "Gåsland, Åsa"),
        ("gaasland aasa", "Gåsland, Åsa"),
        ("mueller", "Josef Müller"),
        ("muller josef", "Josef Müller"),
        ("obrien", "Zoë O’Brien"),
        ("zoe o'brien", "Zoë O’Brien"),
        ("strauss", "Mary-Ann Strauß"),
        ("mary ann", "Mary-Ann Strauß"),
        ("lukasz", "Łukasz Wójcik"),
        ("hong nguyen", "Nguyễn Thị Hồng"),
        ("ΞΕΝΑΚΗΣ", "Γιώργος Ξενάκης-Λίμνης"),
        ("ξενακησ", "Γιώργος Ξενάκης-Λίμνης"),
        ("елкина", "Жанна Ёлкина"),
        ("wojc", "Łukasz Wójcik"),
        ("feather", "Ines Quillfeather"),
    ],
)
def test_a_name_is_found_without_accents_in_either_order_and_by_a_part(asked: str, name: str) -> None:
    assert [one for one, near in found(asked) if near < Nearness.SLIP] == [name]


@pytest.mark.parametrize("asked", ["wojik", "wojjcik", "wojcyk", "wjocik"])  # too few, too many, another, exchanged
def test_each_kind_of_slip_is_found_and_stands_behind_what_is_written_so(asked: str) -> None:
    assert found(asked) == [("Łukasz Wójcik", Nearness.SLIP)]


def test_the_nearest_stand_first_and_all_words_have_to_be_there() -> None:
    assert found("ines quill") == [("Ines Quill", Nearness.WHOLE), ("Ines Quillfeather", Nearness.BEGINNING)]
    assert found("quill") == [("Ines Quill", Nearness.WORD), ("Ines Quillfeather", Nearness.BEGINNING)]
    assert found("ines wojcik") == []


@pytest.mark.parametrize("asked", ["", "   ", "???", "ab" * 300, "\u0301", "%_*"])
def test_what_says_nothing_finds_nothing(asked: str) -> None:
    assert find_sought(INDEX, asked).is_empty()


def test_short_words_and_figures_are_taken_as_they_are_written() -> None:
    numbers = pl.Series(["4101", "4102", "0369"])
    index = index_sought([numbers], [numbers, numbers.str.strip_chars_start("0")])
    assert find_sought(index, "4103").is_empty()  # another's number is no slip of a name
    assert find_sought(index, "369").select("row", "nearness").rows() == [(2, Nearness.WORD)]
    assert find_sought(index, "0369").select("row", "nearness").rows() == [(2, Nearness.WHOLE)]
    assert find_sought(INDEX, "ina").is_empty()


def test_what_stands_beside_only_narrows_down() -> None:
    index = index_sought([pl.Series(["Ana", "Ben"])], [pl.Series(["Ana", "Ben"])], [pl.Series(["Mill", "Mill"])])
    assert find_sought(index, "mill").is_empty()
    assert find_sought(index, "mill ben")["row"].to_list() == [1]
    assert find_sought(index_sought([pl.Series([], dtype=pl.String)], [pl.Series([], dtype=pl.String)]), "a").is_empty()


def test_a_text_has_one_spelling_or_two() -> None:
    assert spellings("Åsa  Öberg") == ["asa oberg", "aasa oeberg"]
    assert spellings("Quill") == ["quill"]
    assert spellings(" ") == []
