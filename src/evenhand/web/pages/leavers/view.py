"""What Leavers shows: everybody by what is next, and the words of an erasure."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass

from evenhand.jobs.erasable import Erasable
from evenhand.jobs.leavers import Leaver
from evenhand.terms.words import counted

__all__ = ["STANDS", "LeaversView", "digest", "hands", "listed"]

STANDS = {
    "to_remove": "to be removed",
    "to_prove": "removal to be proved",
    "on_hold": "legal hold",
    "no_law": "no law on file",
    "kept": "records kept",
    "may_go": "may be erased",
}
GROUPS = (
    ("to_remove", "Hands to be removed"),
    ("to_prove", "Removals to be proved"),
    ("may_go", "Records that may go"),
    ("on_hold", "Under a legal hold"),
    ("no_law", "No law on time records on file"),
    ("kept", "Records that must stay"),
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


def hands(count: int) -> str:
    """Return so many hands in words."""
    return counted(count, "hand")


def digest(seen: Erasable) -> str:
    """Return what names this very preview, so that nothing else is done than what was shown."""
    return hashlib.sha256(
        repr((seen.person, seen.what, seen.rows, seen.sources, seen.others, seen.texts)).encode()
    ).hexdigest()
