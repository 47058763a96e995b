"""Put what is to be done at one reader in an order that never leaves it without a supervisor."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

__all__ = ["Act", "Held", "in_safe_order"]

NEW_HANDS = ("enrol", "enrol_supervisor")


@dataclass(frozen=True)
class Act:
    """One thing to do at a reader. A removal with `instead` waits until that number is enrolled."""

    action: Literal["enrol_supervisor", "enrol", "remove", "enrol_again"]
    number: str
    person: str | None
    why: str
    instead: str | None = None


@dataclass
class Held:
    """What a reader holds as the steps go by: `authority` by number, and whose supervisors can no longer come."""

    authority: dict[str, bool]
    gone: frozenset[str]
    capacity: int | None

    @property
    def is_full(self) -> bool:
        """Return whether no further hand can be enrolled."""
        return self.capacity is not None and len(self.authority) >= self.capacity

    @property
    def fits_once_gone(self) -> bool:
        """Return whether one more can be enrolled as soon as one is gone; a reader can list more than it holds."""
        return self.capacity is None or len(self.authority) <= self.capacity

    @property
    def has_supervisor(self) -> bool:
        """Return whether anybody enrolled here may enrol others."""
        return any(self.authority.values())

    def stands_without(self, number: str) -> bool:
        """Return whether a supervisor who can still come stays when this number goes."""
        if not self.authority.get(number):
            return self.has_supervisor
        return any(may and other != number and other not in self.gone for other, may in self.authority.items())

    def is_last_supervisor(self, number: str) -> bool:
        """Return whether the number has authority, and nobody else who can still come has."""
        return self.authority[number] and not self.stands_without(number)

    def allows(self, act: Act) -> bool:
        """Return whether the act is possible now and leaves a supervisor standing."""
        present = act.number in self.authority
        if act.action == "enrol_supervisor":
            keeps = not self.authority.get(act.number) or self.stands_without(act.number)
            return keeps if present else not self.is_full
        if act.action == "enrol":
            return not present and self.has_supervisor and not self.is_full
        waits = act.instead is not None and act.instead not in self.authority
        return present and self.stands_without(act.number) and not waits

    def do(self, act: Act) -> None:
        """Change what the reader holds by the act."""
        if act.action == "remove":
            del self.authority[act.number]
        else:
            self.authority[act.number] = act.action == "enrol_supervisor"


def in_safe_order(acts: list[Act], held: Held) -> Iterator[Act]:
    """Yield the acts that can be done, in order; what cannot be done without harm is left out.

    Supervisors come first, then enrolments, then hands enrolled again, removals last. Only where the reader is
    full do removals come before enrolments. A reader without any supervisor allows nothing else first.
    """
    waiting = sorted(acts, key=lambda act: (_rank(act, held), act.number))
    while waiting:
        chosen = next((act for act in waiting if held.allows(act)), None)
        todo = [chosen] if chosen else _make_room(waiting, held)
        if not todo:
            return
        for act in todo:
            held.do(act)
            waiting.remove(act)
            yield act


def _rank(act: Act, held: Held) -> int:
    if act.action == "enrol_supervisor":
        return 0 if act.number in held.authority else 1
    if act.action == "remove":
        return 4 if act.instead is None else 5
    return 2 if act.action == "enrol" else 3


def _make_room(waiting: list[Act], held: Held) -> list[Act]:
    """Return what frees a place where nothing else is possible: a number exchanged, or a dead one removed."""
    if not held.is_full:
        return []
    for act in waiting:
        if act.action != "remove" or act.number not in held.authority or held.is_last_supervisor(act.number):
            continue
        if act.instead is None:
            return [act]
        enrol = next((one for one in waiting if one.action in NEW_HANDS and one.number == act.instead), None)
        if enrol and held.fits_once_gone and (held.has_supervisor or enrol.action == "enrol_supervisor"):
            return [act, enrol]
    return []
