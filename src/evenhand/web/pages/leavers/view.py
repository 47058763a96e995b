"""What Leavers shows: everybody by what is next, and the words of an erasure."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from evenhand.jobs.leavers import Leaver
from evenhand.terms.languages import sentence, told

__all__ = ["HandsByDay", "LeaversView", "hands_by_day", "listed", "other_laws"]

OTHER_LAW = re.compile(r"(\d{4}-\d\d-\d\d) by (.+) \(([^()]*)\)")
GROUPS = (
    ("to_remove", sentence("Hands to be removed")),
    ("to_prove", sentence("Removals to be proved")),
    ("may_go", sentence("Records that may go")),
    ("on_hold", sentence("Under a legal hold")),
    ("no_law", sentence("No law on time records on file")),
    ("kept", sentence("Records that must stay")),
)


@dataclass(frozen=True)
class LeaversView:
    """Everybody by what is next, each group with its title; `due` are the hands that are on no round yet."""

    groups: tuple[tuple[str, str, tuple[Leaver, ...]], ...]
    everybody: int
    overdue: int
    due: int


def listed(found: Sequence[Leaver]) -> LeaversView:
    """Return everybody by what is next."""
    groups = tuple(
        (state, title, of) for state, title in GROUPS if (of := tuple(one for one in found if one.state == state))
    )
    every = [hand for one in found for hand in one.hands]
    overdue = sum(hand.is_overdue for hand in every)
    return LeaversView(groups, len(found), overdue, sum(hand.state == "held" for hand in every))


@dataclass(frozen=True)
class HandsByDay:
    """The readers from which a hand must be gone by one day; `by` is None for those it is proved to be gone from."""

    readers: tuple[str, ...]
    by: date | None
    is_overdue: bool


def hands_by_day(one: Leaver) -> list[HandsByDay]:
    """Return the readers of somebody's hands by the day by which they must be gone, then those that are proved."""
    days: dict[tuple[date | None, bool], list[str]] = {}
    for hand in sorted(one.hands, key=lambda hand: (hand.state == "proved", hand.destroy_by, hand.reader)):
        key = (None, False) if hand.state == "proved" else (hand.destroy_by, hand.is_overdue)
        days.setdefault(key, []).append(hand.reader)
    return [HandsByDay(tuple(readers), *key) for key, readers in days.items()]


def other_laws(chosen_from: str) -> list[str]:
    """Return the other days and their laws (BINDING), one by one."""
    found = [(one, OTHER_LAW.fullmatch(one)) for one in chosen_from.split("; ")]
    return [
        told("{day} by {law:again} ({place})", day=date.fromisoformat(of[1]), law=of[2], place=of[3]) if of else one
        for one, of in found
    ]
