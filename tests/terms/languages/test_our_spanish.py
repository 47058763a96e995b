"""The words that docs/languages.md sets aside stand in no catalogue."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from evenhand.jobs.languages import words_said

TABLE = Path(__file__).parents[3] / "docs" / "languages.md"
SET_ASIDE = re.compile(r"^\|[^|]+\|[^|]+\|([^|]+)\|$", re.MULTILINE)


def words_set_aside() -> list[str]:
    """Return the words of the table's last column."""
    columns = SET_ASIDE.findall(TABLE.read_text(encoding="utf-8"))[2:]  # below its head
    return [word.strip() for column in columns for word in column.split(",") if word.strip()]


@pytest.mark.parametrize("word", words_set_aside())
def test_a_word_set_aside_says_nothing_in_spanish(word: str) -> None:
    stands = re.compile(rf"\b{word.removesuffix('ción')}(?:ción|ciones|s|es)?\b", re.IGNORECASE)
    assert [said for said in words_said()["es"].values() if stands.search(said)] == []


def test_words_are_set_aside() -> None:
    assert {"fichar", "recepción", "huérfana"} <= set(words_set_aside())
