"""What a part of the corpus is made from: its words, workplaces, habits, and how often each is met."""

from __future__ import annotations

import random
import tomllib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

__all__ = ["Kit", "Weighted", "draw", "load"]

T = TypeVar("T")
Weighted = Sequence[tuple[T, float]]


@dataclass(frozen=True)
class Kit:
    """One part of the corpus.

    `words` are headers by language and concept; `dates` patterns by country, `odd_dates` those that any country may
    bring; `directions` pairs of words for in and out by language; `answers` pairs for yes and no; `roles` for
    supervisor and not; `outcomes` for accepted and refused; `titles` lines above a header by language; `strangers`
    files that are no table of ours. `doubtful` are what a careful clerk would not be sure of, so that whoever
    reads it may ask first: language, concept and header; or nothing and two codes for in and out. `notes` are
    lines below the rows, and `bands` words in a line above the header, over whom the rows are about and over when.
    """

    name: str
    words: Mapping[str, Mapping[str, Mapping[str, Sequence[str]]]]
    workplaces: Mapping[str, Mapping[str, Any]]
    dates: Mapping[str, Weighted[str]]
    odd_dates: Weighted[str]
    times: Mapping[str, Weighted[str]]
    odd_times: Weighted[str]
    directions: Mapping[str, Sequence[tuple[str, str]]]
    codes: Weighted[tuple[str, str]]
    answers: Mapping[str, Sequence[tuple[str, str]]]
    roles: Mapping[str, Sequence[tuple[str, str]]]
    outcomes: Mapping[str, Sequence[tuple[str, str]]]
    titles: Mapping[str, Sequence[str]]
    totals: Mapping[str, Sequence[str]]
    file_names: Mapping[str, Mapping[str, Sequence[str]]]
    strangers: Mapping[str, Sequence[Callable[[random.Random], tuple[str, list[str], list[list[str]]]]]]
    doubtful: frozenset[tuple[str, str, str]] = frozenset()
    notes: Mapping[str, Sequence[str]] = field(default_factory=dict)
    bands: Mapping[str, tuple[str, str]] = field(default_factory=dict)


def draw(rng: random.Random, weighted: Weighted[T]) -> T:
    """Return one of the values, each as often as its weight says."""
    return rng.choices([value for value, _ in weighted], [weight for _, weight in weighted])[0]


def load(name: str) -> dict[str, Any]:
    """Return what one of this folder's lists holds."""
    return tomllib.loads((Path(__file__).parent / name).read_text(encoding="utf-8"))
