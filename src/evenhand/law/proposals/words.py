"""What a proposal rests on, in words: English that is kept, and told again in its reader's language."""

from __future__ import annotations

from evenhand.terms.languages import sentence

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
    "start": sentence("the start of work"),
    "meal_out": sentence("going to the meal"),
    "meal_in": sentence("coming back from the meal"),
    "break_out": sentence("going to a break"),
    "break_in": sentence("coming back from a break"),
    "end": sentence("the end of work"),
}

TOO_FEW = sentence("there are fewer than three whole days of this person to go by")
NOT_LIKE = sentence("the day is like no usual day of this person")
BREAK_SIDE = sentence(
    "a punch of a short break seems to be missing, and unmarked punches do not tell whether out or in"
)
SEVERAL = sentence("more than one account of the day is about as likely")
STRAYS_TOO_FAR = sentence("{what}; on this person's usual days that time strays by more than an hour")

HABITS = (
    sentence("when the clock showed it"),
    sentence("how long it was after the punch before"),
    sentence("how long it was before the punch after"),
    sentence("how long it was after the first punch"),
    sentence("how long it was before the last punch"),
)


def say_missing(kind: str, habit: int | None = None, seen: int = 0, *, planned: bool = False) -> str:
    """Return which punch is missing, and what its time rests on where there is one."""
    what = sentence("{kind} seems to be missing").format(kind=KIND_WORDS[kind])
    if habit is None:
        return what
    by = sentence("how it compared with the schedule") if planned and habit == 0 else HABITS[habit]
    return sentence("{what}; the time is from {by} on {seen} usual days").format(what=what, by=by, seen=seen)


def say_too_many(seen: int) -> str:
    """Return why a punch is taken to be one too many."""
    return sentence("without it the day is like {seen} usual days of this person").format(seen=seen)


def say_marks(seen: int) -> str:
    """Return why a punch is taken to be marked the wrong way."""
    return sentence("with the other way the day is like {seen} usual days of this person").format(seen=seen)
