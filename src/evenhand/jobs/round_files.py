"""Read what a round is said and printed with: the catalogue of its words and the templates of its sheets."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from importlib import resources

from evenhand.enrolment.languages import Words, read_words
from evenhand.enrolment.paper import Stationery
from evenhand.terms.rounds import LANGUAGES

__all__ = ["round_stationery", "round_words", "say_in"]


@cache
def round_words() -> Mapping[str, Words]:
    """Return what each English sentence of a round is, by language."""
    beside = resources.files("evenhand.enrolment.languages")
    return read_words(
        {one: beside.joinpath(f"{one}.po").read_text(encoding="utf-8") for one in LANGUAGES if one != "en"}
    )


def say_in(language: str) -> Callable[[str], str]:
    """Return the function that says an English sentence of the catalogue in this language."""
    return round_words()[language].__getitem__


@cache
def round_stationery() -> Stationery:
    """Return what the sheets of a round are set from."""
    beside = resources.files("evenhand.enrolment.paper").iterdir()
    drawn = {file.name: file.read_text(encoding="utf-8") for file in beside if file.name.endswith((".typ", ".svg"))}
    return Stationery(drawn, round_words())
