"""Invented logs of scores, small and with known truth."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import numpy as np
import polars as pl

from evenhand.scores import PRESENTED

FIRST = date(2026, 3, 2)
FIRST_AT = 1_772_409_600  # 2 March 2026, 00:00 UTC


def rows(*given: dict[str, Any]) -> pl.DataFrame:
    """Presentations from a few columns: `at` in seconds after the first day's midnight, the rest by default."""
    filled = []
    for punch, row in enumerate(given):
        at = row.get("at", 0)
        filled.append(
            {"punch": punch, "person": "P1", "reader": "A", "is_refused": False, "score": 4.0}
            | row
            | {"at": FIRST_AT + at, "day": FIRST + timedelta(days=at // 86_400), "clock_s": at % 86_400}
        )
    return PRESENTED.rows(filled)


def log(
    rng: np.random.Generator,
    *,
    people: int = 40,
    readers: int = 3,
    days: int = 40,
    per_day: int = 4,
    shift: Any = None,
    threshold: float = 18.0,
    spread: float = 0.45,
) -> pl.DataFrame:
    """Lognormal scores of people who use two readers; `shift(person, reader, day)` is added on the log scale.

    Person effects have sd 0.2, readers 0.1. Above the threshold a presentation is refused.
    """
    n = people * days * per_day
    person = np.repeat(np.arange(people), days * per_day)
    day = np.tile(np.repeat(np.arange(days), per_day), people)
    turn = np.tile(np.arange(per_day), people * days)
    reader = np.where(rng.random(n) < 0.7, person % readers, (person + 1) % readers)
    level = 1.4 + rng.normal(0, 0.2, people)[person] + rng.normal(0, 0.1, readers)[reader]
    if shift is not None:
        level = level + np.vectorize(shift, otypes=[float])(person, reader, day)
    score = np.exp(level + rng.normal(0, spread, n))
    at = FIRST_AT + day * 86_400 + 7 * 3600 + turn * 7200 + person * 40 + rng.normal(0, 240, n).astype(int)
    return PRESENTED.frame(
        {
            "punch": np.arange(n),
            "number": [f"1{p:03d}" for p in person],
            "person": [f"P{p:03d}" for p in person],
            "reader": [f"R{r}" for r in reader],
            "at": at,
            "day": [FIRST + timedelta(days=int(d)) for d in day],
            "clock_s": (at - FIRST_AT) % 86_400,
            "is_refused": score > threshold,
            "score": score,
        }
    )
