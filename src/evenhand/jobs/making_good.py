"""Make good what changed in several periods that were handed off, each in its own way, with one word and one reason."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from evenhand.jobs.closed import Adjusted, refuse_unseen
from evenhand.jobs.handoff import HandedOff, settle_closed
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.workspace import Workspace
from evenhand.terms.languages import DaySpan, said_of, told
from evenhand.terms.records import Refusal

__all__ = ["ChangeMadeGood", "make_good"]


@dataclass(frozen=True)
class ChangeMadeGood:
    """How what changed in the closed period that holds `day` is made good; the rest is as `settle_closed` has it."""

    day: date
    way: str
    seen: str
    people: Sequence[str] = ()
    despite: bool = False


def make_good(
    workspace: Workspace,
    reckon: Callable[[], Reckoning],
    asked: Sequence[ChangeMadeGood],
    *,
    author: str,
    reason: str,
    as_of: datetime,
) -> list[HandedOff | Adjusted]:
    """Make good each of the changes, those that write a file first, and return what was made in that order.

    `reckon` returns what follows from the store as it is by then, since each is decided in sight of the one before.
    Raises Refusal, and makes none, where one has changed again since it was shown. A refusal that comes later says what
    was made good before it.
    """
    for one in asked:
        refuse_unseen(reckon(), one.day, one.seen)
    made: list[HandedOff | Adjusted] = []
    for one in sorted(asked, key=lambda one: (one.way != "replace", one.day)):
        try:
            made.append(
                settle_closed(
                    workspace,
                    reckon(),
                    one.day,
                    way=one.way,
                    people=one.people,
                    seen=one.seen,
                    despite=one.despite,
                    author=author,
                    reason=reason,
                    as_of=as_of,
                )
            )
        except Refusal as refusal:
            if not made:
                raise
            raise Refusal(
                told("{done:listed 99}; then: {refusal}", done=[_told(one) for one in made], refusal=said_of(refusal))
            ) from refusal
    return made


def _told(done: HandedOff | Adjusted) -> str:
    if isinstance(done, Adjusted):
        return told("{days} was made good", days=DaySpan(done.first, done.last))
    return told("{file} was written in place of {replaced}", file=done.csv.name, replaced=done.replaces)
