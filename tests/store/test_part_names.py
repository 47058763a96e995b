"""Parts of a name in what others wrote: found where they may be the person's, and not where another is named whole."""

from __future__ import annotations

import re
import unicodedata
from typing import Literal

import pytest

from evenhand.store.part_names import sharing

OTHERS = ["Ada Quill", "Ben Doe", "Doe, Ben", "Will Grant"]


@pytest.mark.parametrize(
    ("name", "text", "found", "likely"),
    [
        ("Ben Rook", "asked Rook about it", ["Rook"], True),
        ("Ben Rook", "asked rook about it", ["rook"], False),  # a bird too
        ("Ben Rook", "ROOK says so", ["ROOK"], False),
        ("Ben Rook", "Rook's badge", ["Rook's"], False),  # at the beginning any word is written large
        ("Ben Rook", "it was Rook’s badge", ["Rook’s"], True),
        ("Ben Rook", "B. Rook was told", ["Rook"], True),  # an initial says that it is no other word
        ("Ben Rook", "told Ben of it", ["Ben"], False),  # which Ben, nobody knows
        ("Ben Rook", "told Ben Doe of it", [], False),
        ("Ben Rook", "he has been here", [], False),
        ("Ben Rook", "ben left", [], False),  # three letters in small ones stand for too much
        ("Ben Rook", "a rookery", [], False),
        ("Will May", "will come in May", ["will", "May"], True),
        ("Jo van Dam", "the van of Dam", ["Dam"], True),
        ("Zoé O’Neil", "asked O’Neil", ["O’Neil"], True),
        ("maria lopez", "asked lopez", ["lopez"], True),
        ("A", "asked A", [], False),
    ],
)
def test_a_part_is_found_where_it_may_be_theirs(name: str, text: str, found: list[str], likely: bool) -> None:
    parts = sharing(name, OTHERS)
    assert [one[0] for one in parts.found_in(text)] == found
    assert parts.is_likely(text) == likely
    assert len(parts.spans_in(text)) == len(found)


def test_a_replaced_part_leaves_what_stands_around_it() -> None:
    parts = sharing("Ben Rook", OTHERS)
    assert parts.replaced("Rook's badge, says Ben; not Ben Doe's", "erased-3") == (
        "erased-3's badge, says erased-3; not Ben Doe's"
    )


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("married to Z. Quackenbush", "married to X"),
        ("QUACKENBUSH Z stood in", "X stood in"),
        ("for Quackenbush, Z.; not Z. Doe", "for X; not Z. Doe"),
        ("A. Quackenbush is another, perhaps", "A. X is another, perhaps"),
        ("Zelda Q. left", "X left"),
    ],
)
def test_an_initial_beside_a_part_goes_with_it(text: str, left: str) -> None:
    parts = sharing("Zelda Quackenbush", OTHERS)
    assert parts.replaced(text, "X") == left
    assert parts.blanked(text).replace(" ", "") == left.replace("X", "").replace(" ", "")
    assert len(parts.blanked(text)) == len(text)


@pytest.mark.parametrize(
    ("author", "is_name"), [("Rook", True), ("B. Rook", True), ("ben", True), ("Ben Smith", False), ("Ida", False)]
)
def test_a_name_alone_is_theirs_where_nothing_else_stands_in_it(author: str, is_name: bool) -> None:
    assert sharing("Ben Rook", OTHERS).is_name(author) == is_name


@pytest.mark.parametrize(
    ("text", "found", "likely"),
    [
        ("mail to zquackenbush@example.org", ["zquackenbush"], True),
        ("zelda.quackenbush@example.org", ["zelda", "quackenbush"], False),
        ("login QuackenbushZ", ["QuackenbushZ"], True),
        ("ZeldaQuackenbush2", ["ZeldaQuackenbush"], True),
        ("zmquackenbush", ["zmquackenbush"], False),  # an initial that no roster tells, and Rolf may have it
        ("Quackenbushs Schrank", ["Quackenbushs"], False),  # a genitive of another language
        ("rquackenbush@example.org", [], False),  # Rolf's
        ("zq@example.org", [], False),  # initials alone
        ("QUACKENBUSH, ZELDA", ["QUACKENBUSH", "ZELDA"], False),
    ],
)
def test_a_name_in_one_word_is_found_as_logins_and_endings_have_it(text: str, found: list[str], likely: bool) -> None:
    parts = sharing("Zelda Quackenbush", [*OTHERS, "Rolf Quackenbush", "Quackenbush, Rolf"])
    assert [one[0] for one in parts.found_in(text)] == found
    assert parts.is_likely(text) == likely


@pytest.mark.parametrize("text", ["a rookery", "brooks", "Brook was here"])
def test_a_short_part_within_another_word_is_not_found(text: str) -> None:
    assert sharing("Ben Rook", [*OTHERS, "Ida Brook"]).found_in(text) == []


def test_a_short_part_with_its_initial_is_asked_about_unless_it_is_somebody_elses_name() -> None:
    assert [one[0] for one in sharing("Ben Rook", OTHERS).found_in("told brook")] == ["brook"]
    assert [one[0] for one in sharing("Bo Li", OTHERS).found_in("Bo and li, bo; boli")] == ["Bo", "boli"]


@pytest.mark.parametrize("way", ["NFC", "NFD"])
@pytest.mark.parametrize("name", ["Zoé Núñez", "Zoe\u0301 Nu\u0301n\u0303ez"])
def test_accents_are_found_however_they_are_written(name: str, way: Literal["NFC", "NFD"]) -> None:
    text = unicodedata.normalize(way, "asked Núñez, Zoé and nunez")
    parts = sharing(name, OTHERS)
    assert parts.replaced(text, "X") == "asked X and X"
    assert len(parts.blanked(text)) == len(text)
    assert re.search(parts.pattern, text)


def test_a_name_in_a_script_without_blanks_is_found_within_a_text() -> None:
    assert sharing("王小芳", OTHERS).replaced("请问王小芳吧", "X") == "请问X吧"


def test_the_whole_name_that_a_namesake_bears_too_is_found_and_likely_nobodys() -> None:
    parts = sharing("Zelda Quackenbush", [*OTHERS, "Zelda Quackenbush", "Quackenbush, Zelda", "Rolf Quackenbush"])
    text = "Zelda Quackenbush, not Rolf Quackenbush"
    assert parts.names(text) and not parts.is_likely(text)
    assert parts.replaced(text, "X") == "X, not Rolf Quackenbush"
    assert not parts.names("Rolf Quackenbush")
    assert parts.is_name("Zelda Quackenbush") and not parts.is_likely_name("Zelda Quackenbush")


@pytest.mark.parametrize(
    ("author", "likely"), [("rook", True), ("B. Rook", True), ("Ben", False), ("Rook & Sons", False)]
)
def test_a_name_alone_is_likely_theirs_where_a_part_is_nobody_elses(author: str, likely: bool) -> None:
    assert sharing("Ben Rook", OTHERS).is_likely_name(author) == likely
