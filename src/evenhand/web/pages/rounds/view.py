"""What Round shows: the rounds, one round's readers, and the page held at one of them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from evenhand.jobs.at_reader import NAMES, OTHER_WAYS, REASONS
from evenhand.jobs.queues import QueueSeen
from evenhand.jobs.rounds import RoundSeen
from evenhand.terms.columns import Frame

__all__ = ["PRESENTATIONS", "LostTime", "judged", "language_of", "lost_times", "of_choice", "said_no"]

PRESENTATIONS = (3, 4, 5, 6, 7)


@dataclass(frozen=True)
class LostTime:
    """A quarter of an hour of the day: people and seconds lost in it, in a week."""

    begins: str
    people: float
    least_s: int
    most_s: int


def lost_times(seen: QueueSeen) -> list[LostTime]:
    """Return the quarters of an hour in which people wait, by time of day."""
    return [
        LostTime(
            f"{row['quarter'] // 4:02d}:{row['quarter'] % 4 * 15:02d}",
            row["people"],
            round(row["least_lost_s"]),
            round(row["most_lost_s"]),
        )
        for row in seen.by_time.iter_rows(named=True)
    ]


def judged(seen: RoundSeen, quality: Frame) -> list[dict[str, Any]]:
    """Return whose enrolment was judged (JUDGED), where, and what the scores say."""
    items = {row["item"]: row for row in seen.states.iter_rows(named=True)}
    return [
        {"who": item["name"] or item["number"], "reader": item["reader"], "says": row["says"]}
        for row in quality.iter_rows(named=True)
        for item in [items[row["item"]]]
    ]


def of_choice(answers: Mapping[str, str]) -> dict[str, Any]:
    """Return the outcome a form without script says: its button names the result, and presentations after a space."""
    result, _, presentations = answers.get("choice", "").partition(" ")
    cannot = result == "cannot"
    return {
        "outcome": answers.get("outcome", ""),
        "item": answers.get("item", ""),
        "result": result,
        "presentations": int(presentations) if re.fullmatch("[0-9]{1,6}", presentations) else None,
        "scores": answers.get("scores", "").strip() or None if result == "enrolled" else None,
        "reason": answers.get("reason") if cannot else None,
        "other_way": answers.get("other_way") if cannot else None,
    }


def said_no(item: str, outcome: str, author: str) -> dict[str, Any]:
    """Return the outcome of an item whose person did not agree, or chose another way."""
    return {
        "outcome": outcome,
        "item": item,
        "result": "cannot",
        "reason": REASONS[2],
        "other_way": OTHER_WAYS[2],
        "author": author,
    }


def language_of(said: str | None) -> str:
    """Return the language asked for, or English."""
    return said if said in NAMES else "en"
