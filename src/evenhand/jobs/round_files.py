"""Read what a round is said and printed with: the catalogue of its words and the templates of its sheets."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import resources

from evenhand.enrolment.paper import Stationery
from evenhand.jobs.languages import words_said
from evenhand.terms.languages import Words

__all__ = ["round_stationery", "round_words"]


def round_words() -> Mapping[str, Words]:
    """Return what each English sentence of a round is, by language."""
    return words_said("rounds")


@cache
def round_stationery() -> Stationery:
    """Return what the sheets of a round are set from."""
    beside = resources.files("evenhand.enrolment.paper").iterdir()
    drawn = {file.name: file.read_text(encoding="utf-8") for file in beside if file.name.endswith((".typ", ".svg"))}
    return Stationery(drawn, round_words())
