"""What is decided, owed and seen of hands, in words of the catalogue: told in the language of whoever reads it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from evenhand.terms.languages import Sentence, sentence, told
from evenhand.terms.words import SAVED

__all__ = ["decision_in_words", "how_it_came", "premium_in_words", "say_struck", "some_saved"]

PREMIUMS = {
    "meal": sentence("meal"),
    "rest": sentence("rest"),
    "split_shift": sentence("split shift"),
    "reporting": sentence("reporting time"),
    "call_back": sentence("call back"),
}
"""What hours of pay beside the time worked are owed for, by the kind of the table PREMIUMS."""
ADDED = {
    "in": sentence("punch added, in"),
    "out": sentence("punch added, out"),
    None: sentence("punch added"),
}
DIRECTED = {"in": sentence("said to go in"), "out": sentence("said to go out")}
HOW_IT_CAME = {
    "step": sentence("It came at once."),
    "drift": sentence("It came little by little."),
    "unclear": sentence("Whether it came at once or little by little cannot be told."),
}
"""What is said of the shape of a change (ALARMS)."""


def premium_in_words(kind: str) -> Sentence:
    """Return what hours of pay beside the time worked are owed for, such as `reporting time`."""
    return told(PREMIUMS[kind])


def say_struck(decision: Mapping[str, Any]) -> Sentence:
    """Return that hours owed were struck (a row of PREMIUM_DECISIONS): of what, for which workday, by whom and why."""
    return told(
        "Struck: {what} of {day}, which the record alone would owe, by {author}: {reason}",
        what=premium_in_words(decision["kind"]),
        day=str(decision["workday"]),
        author=decision["author"],
        reason=decision["reason"],
    )


def decision_in_words(action: str, direction: str | None, name: str, withdraws: int | None) -> Sentence:
    """Return what a correction of a day says: `punch added, in`, `takes correction 4 back`."""
    match action:
        case "add":
            return told(ADDED[direction or None])
        case "leave_out":
            return told("punch left out")
        case "direct":
            return told(DIRECTED[direction or ""])
        case "withdraw":
            return told("takes correction {number} back", number=withdraws)
    return told("given to {name}", name=name) if name else told("returned to whoever holds the number")


def how_it_came(shape: str | None) -> str:
    """Return whether a change came at once or little by little, empty where nothing was looked at."""
    return told(HOW_IT_CAME[shape]) if shape in HOW_IT_CAME else ""


def some_saved(count: float, presented: float) -> Sentence:
    """Return how many refused presentations are saved, as the range in which nine hands in ten have lain.

    Of those `presented` in the same time no more than all can be.
    """
    low, high = max(round(SAVED[0] * count), 0), max(min(round(SAVED[1] * count), round(presented)), 1)
    return told("some {low:,} to {high:,}", low=low, high=high)
