"""What a proposal rests on, in words."""

from __future__ import annotations

__all__ = [
    "BREAK_SIDE",
    "KIND_WORDS",
    "NOT_LIKE",
    "SEVERAL",
    "STRAYS_TOO_FAR",
    "TOO_FEW",
    "say_marks",
    "say_missing",
    "say_too_many",
]

KIND_WORDS = {
    "start": "the start of work",
    "meal_out": "going to the meal",
    "meal_in": "coming back from the meal",
    "break_out": "going to a break",
    "break_in": "coming back from a break",
    "end": "the end of work",
}

TOO_FEW = "there are fewer than three whole days of this person to go by"
NOT_LIKE = "the day is like no usual day of this person"
BREAK_SIDE = "a punch of a short break seems to be missing, and unmarked punches do not tell whether out or in"
SEVERAL = "more than one account of the day is about as likely"
STRAYS_TOO_FAR = "on this person's usual days that time strays by more than an hour"

HABITS = (
    "when the clock showed it",
    "how long it was after the punch before",
    "how long it was before the punch after",
    "how long it was after the first punch",
    "how long it was before the last punch",
)


def say_missing(kind: str, habit: int | None = None, seen: int = 0, *, planned: bool = False) -> str:
    """Return which punch is missing, and what its time rests on where there is one."""
    what = f"{KIND_WORDS[kind]} seems to be missing"
    if habit is None:
        return what
    by = "how it compared with the schedule" if planned and habit == 0 else HABITS[habit]
    return f"{what}; the time is from {by} on {seen} usual days"


def say_too_many(seen: int) -> str:
    """Return why a punch is taken to be one too many."""
    return f"without it the day is like {seen} usual days of this person"


def say_marks(seen: int) -> str:
    """Return why a punch is taken to be marked the wrong way."""
    return f"with the other way the day is like {seen} usual days of this person"
