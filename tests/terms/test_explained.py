"""The page of the glossary and its document tell the same, from one source."""

from __future__ import annotations

import re
from pathlib import Path

from evenhand.terms.explained import GLOSSARY_WORDS

DOCUMENT = Path(__file__).parents[2] / "docs" / "glossary.md"


def test_the_document_tells_each_word_as_the_page_does() -> None:
    rows = re.findall(r"^\| (?!word|---)(.+) \| (.+) \| (.+) \|$", DOCUMENT.read_text(encoding="utf-8"), re.MULTILINE)
    assert rows == [(one.word, one.means, one.source) for one in GLOSSARY_WORDS]


def test_each_word_stands_once_in_the_order_of_the_alphabet_with_a_place_of_its_own() -> None:
    words, keys = [one.word for one in GLOSSARY_WORDS], [one.key for one in GLOSSARY_WORDS]
    assert words == sorted(set(words))
    assert len(set(keys)) == len(keys)


def test_a_meaning_is_one_or_two_sentences() -> None:
    assert [one.word for one in GLOSSARY_WORDS if not 1 <= len(re.findall(r"[.](?: |$)", one.means)) <= 2] == []
