"""Put what is to be done at one reader in an order that takes none of its last two supervisors who can come off it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from evenhand.reconcile.of_readers import SUPERVISORS_NEEDED

__all__ = ["HeldNumbers", "ReaderStep", "in_safe_order"]


@dataclass(frozen=True)
class ReaderStep:
    """One thing to do at a reader. A removal with `instead` waits until that number is enrolled."""

    action: Literal["enrol_supervisor", "enrol", "remove", "enrol_again"]
    number: str
    person: str | None
    why: str
    instead: str | None = None


@dataclass
class HeldNumbers:
    """What a reader holds as the steps go by: `authority` by number, and whose supervisors can no longer come."""

    authority: dict[str, bool]
    gone: frozenset[str]
    capacity: int | None

    @property
    def is_full(self) -> bool:
        """Return whether no further hand can be enrolled."""
        return self.capacity is not None and len(self.authority) >= self.capacity

    @property
    def has_supervisor(self) -> bool:
        """Return whether anybody enrolled here may enrol others."""
        return any(self.authority.values())

    def stands_without(self, number: str, needed: int = 1) -> bool:
        """Return whether as many supervisors who can still come stay when this number goes."""
        if not self.authority.get(number):
            return self.has_supervisor
        others = (may and other != number and other not in self.gone for other, may in self.authority.items())
        return sum(others) >= needed

    def stands_after(self, step: ReaderStep) -> bool:
        """Return whether enough supervisors stay after a removal.

        An exchange takes a number and nobody's authority, and whoever can no longer come is missed by nobody: after
        either, one is enough. Keeping a leaver's hand would make no second supervisor, and break the law it goes by.
        """
        is_missed = not self.authority.get(step.instead or "", False) and step.number not in self.gone
        return self.stands_without(step.number, SUPERVISORS_NEEDED if is_missed else 1)

    def allows(self, step: ReaderStep) -> bool:
        """Return whether the act is possible now and leaves enough supervisors standing."""
        present = step.number in self.authority
        if step.action == "enrol_supervisor":
            keeps = not self.authority.get(step.number) or self.stands_without(step.number)
            return keeps if present else not self.is_full
        if step.action == "enrol":
            return not present and self.has_supervisor and not self.is_full
        if step.action == "enrol_again":
            return present and self.stands_without(step.number)
        waits = step.instead is not None and step.instead not in self.authority
        return present and self.stands_after(step) and not waits

    def do(self, step: ReaderStep) -> None:
        """Change what the reader holds by the act."""
        if step.action == "remove":
            del self.authority[step.number]
        else:
            self.authority[step.number] = step.action == "enrol_supervisor"


def in_safe_order(steps: list[ReaderStep], held: HeldNumbers) -> Iterator[ReaderStep]:
    """Yield the acts that can be done, in order; what cannot be done without harm is left out.

    Supervisors come first, then enrolments, then hands enrolled again, removals last. Only where the reader is
    full do removals come before enrolments. A reader without any supervisor allows nothing else first.
    """
    waiting = sorted(steps, key=lambda step: (_rank(step, held), step.number))
    while waiting:
        chosen = next((step for step in waiting if held.allows(step)), None)
        todo = [chosen] if chosen else _make_room(waiting, held)
        if not todo:
            return
        for step in todo:
            held.do(step)
            waiting.remove(step)
            yield step


def _rank(step: ReaderStep, held: HeldNumbers) -> int:
    if step.action == "enrol_supervisor":
        return 0 if step.number in held.authority else 1
    if step.action == "remove":
        return 4 if step.instead is None else 5
    return 2 if step.action == "enrol" else 3


def _make_room(waiting: list[ReaderStep], held: HeldNumbers) -> list[ReaderStep]:
    """Return what frees a place where nothing else is possible: a number that nobody is to have another instead of.

    A wrong number never makes room for its owner's right one: until that is enrolled, it is the one that works.
    """
    if not held.is_full:
        return []
    for step in waiting:
        is_dead = step.action == "remove" and step.instead is None and step.number in held.authority
        if is_dead and (not held.authority[step.number] or held.stands_after(step)):
            return [step]
    return []
