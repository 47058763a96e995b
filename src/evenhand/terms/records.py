"""The records that pass between rooms: what is refused, found, cited and explained."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

__all__ = ["Citation", "Finding", "Refusal", "Stake", "Step", "Unknown", "WaitingFile", "WatchedFolder"]


class Refusal(Exception):  # noqa: N818  (a refusal is an answer to the user, not a fault of ours)
    """One clear sentence for the user: where, what was seen, what was expected, what to do.

    The doors print it and end with exit code 2; nothing has been written when it is raised.
    """


class Unknown(Refusal):
    """Somebody or something asked for is not there: no person, reader, round, stray or file of that name."""


@dataclass(frozen=True)
class Citation:
    """Where a rule or a number comes from. `where` may be 'common practice, no source'."""

    where: str
    title: str = ""
    since: date | None = None


@dataclass(frozen=True)
class Stake:
    """What is at stake while a finding stays open.

    `minutes` of pay in doubt, `people` who cannot clock or be paid, `deadline` by which it must be settled.
    """

    minutes: int = 0
    people: int = 0
    deadline: datetime | None = None
    law: str = ""


@dataclass(frozen=True)
class Finding:
    """Something that is wrong or doubtful, with its evidence, its stake and the next step.

    `code` is the check's name and `subject` what it is about, so that `key` names the same finding tomorrow.
    `blocks_pay` findings keep the period from being handed to payroll until settled.
    """

    code: str
    subject: str
    says: str
    evidence: tuple[str, ...]
    stake: Stake
    next_step: str
    person: str | None = None
    reader: str | None = None
    number: str | None = None
    day: date | None = None
    blocks_pay: bool = False
    details: dict[str, Any] = field(default_factory=dict, compare=False)

    @property
    def key(self) -> str:
        """Return the finding's stable name, e.g. `missing_punch/P014/2026-03-04`."""
        return f"{self.code}/{self.subject}" + (f"/{self.day.isoformat()}" if self.day else "")

    def concerns(self, person: str) -> bool:
        """Return whether it is about a person, alone or with others whose `hands` stand under each other's numbers."""
        return person == self.person or any(person in (one["hand"], one["holder"]) for one in self.hands)

    def is_under(self, number: str) -> bool:
        """Return whether it is about a number, alone or with others of such `hands`."""
        return number == self.number or any(number == one["number"] for one in self.hands)

    @property
    def hands(self) -> Sequence[Mapping[str, Any]]:
        """Return whose hands stand under whose numbers at a reader, with the punches there; none of most findings."""
        hands: Sequence[Mapping[str, Any]] = self.details.get("hands", ())
        return hands


@dataclass(frozen=True)
class Step:
    """What a rule did to a span of somebody's time, with the reason: a row of STEPS, for the few that are looked at.

    The span is half-open, `starts` to `ends` [s since 1970-01-01T00:00:00Z]. `seconds` are the paid seconds it added
    (+) or took (-), as many as the span has; 0 where time only changes class, from `from_class` to `to_class`, or
    where something is noted.
    `punches` are the stored punches it came from.
    """

    rule: str
    starts: int
    ends: int
    seconds: int
    says: str
    cites: str
    punches: tuple[int, ...]
    from_class: str | None = None
    to_class: str | None = None


@dataclass(frozen=True)
class WaitingFile:
    """A file that is kept waiting until a person has looked at it.

    `key` names it in addresses. `why` is the sentence that says what keeps it; empty where a person has put it on the
    page Files and is about to look. `is_watched` tells that it lies in the watched folder. `since` is when it came
    [s since 1970-01-01T00:00:00Z], `size` is in bytes.
    """

    key: str
    file: str
    size: int
    since: int
    why: str = ""
    is_watched: bool = False


@dataclass(frozen=True)
class WatchedFolder:
    """The folder in which files are taken by themselves, as it was when it was last looked into.

    `path` is empty where none was ever watched; `problem` is the sentence that says why it cannot be looked into, if
    it cannot.
    """

    path: str = ""
    problem: str = ""
    waiting: tuple[WaitingFile, ...] = ()
