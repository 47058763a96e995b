"""Read what a round is said and printed with: the catalogue of its words and the templates of its sheets."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources

from evenhand.enrolment.languages import Words, read_words
from evenhand.enrolment.paper import Stationery
from evenhand.terms.rounds import LANGUAGES

__all__ = ["Speech", "round_stationery", "round_words", "say_in"]


@cache
def round_words() -> Mapping[str, Words]:
    """Return what each English sentence of a round is, by language."""
    beside = resources.files("evenhand.enrolment.languages")
    return read_words(
        {one: beside.joinpath(f"{one}.po").read_text(encoding="utf-8") for one in LANGUAGES if one != "en"}
    )


@dataclass(frozen=True)
class Speech:
    """Says English sentences of the catalogue in one language."""

    language: str
    words: Words

    def __call__(self, english: str) -> str:
        """Return the sentence in the language; raises KeyError for one that is not in the catalogue."""
        return self.words[english]

    def said(self, text: str) -> str:
        """Return a text in the language where it is a sentence of the catalogue, and as it was written otherwise."""
        return self.words.get(text, text)


def say_in(language: str) -> Speech:
    """Return what says the sentences of the catalogue in this language."""
    return Speech(language, round_words()[language])


@cache
def round_stationery() -> Stationery:
    """Return what the sheets of a round are set from."""
    beside = resources.files("evenhand.enrolment.paper").iterdir()
    drawn = {file.name: file.read_text(encoding="utf-8") for file in beside if file.name.endswith((".typ", ".svg"))}
    return Stationery(drawn, round_words())
