"""The files taken so far: list them, take one back, read one again; what that would do is foreseen first."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path

from evenhand.jobs.incoming import Incoming
from evenhand.jobs.workspace import Workspace
from evenhand.layouts import Layout

__all__ = [
    "Decided",
    "Foreseen",
    "Hanging",
    "PeriodTouched",
    "TableChange",
    "TakeListed",
    "WeekChange",
    "foresee_again",
    "foresee_back",
    "list_takes",
    "read_again",
    "source_of",
    "take_back",
]


@dataclass(frozen=True)
class Decided:
    """What somebody decided about a take: that it is taken `back`, or read `again` by another layout (TOML)."""

    action: str
    layout: str
    author: str
    reason: str
    made_at: int


@dataclass(frozen=True)
class TakeListed:
    """A file taken, as it stands now: by which layout it is read, and what became of its rows.

    One that `is_back` is taken back: its counts are 0. One without a source was taken before sources were kept, so
    that it can neither be taken back nor read again. `layout` is the name of the kept layout it was first read by,
    `layout_text` the TOML of the one it is read by now.
    """

    take: int
    file: str
    table: str
    taken_at: int
    read: int
    taken: int
    known: int
    rejected: int
    gone: int
    layout: str
    layout_text: str
    is_back: bool
    has_source: bool
    rejected_path: Path | None
    decided: tuple[Decided, ...]


@dataclass(frozen=True)
class TableChange:
    """What becomes of the rows of one keyed table, each named as people name it ("P2031 Ada Quill", "GATE/1041")."""

    table: str
    new: tuple[str, ...]
    changed: tuple[str, ...]
    gone: tuple[str, ...]


@dataclass(frozen=True)
class WeekChange:
    """A person's workweek whose paid seconds or pay change; pay is None where it is not known."""

    person: str
    name: str
    workweek: date
    paid_before_s: int
    paid_after_s: int
    pay_before: Decimal | None
    pay_after: Decimal | None


@dataclass(frozen=True)
class PeriodTouched:
    """A period that was handed off already and of which weeks change, with the file that payroll has."""

    first_day: date
    last_day: date
    file: str
    made_at: int
    people: tuple[str, ...]


@dataclass(frozen=True)
class Hanging:
    """A correction whose punch would no longer be there; it counts again as soon as the same presentation is back."""

    correction: int
    action: str
    person: str
    author: str
    reason: str
    reader: str
    number: str
    at: int


@dataclass(frozen=True)
class Foreseen:
    """What taking a file back, or reading it again, does to everything that follows from it.

    `moved` counts punches that keep their take and line and change what they say. `others` are the takes that are
    read anew with it, since they overlap it or were placed in time by it.
    """

    take: int
    file: str
    tables: tuple[TableChange, ...]
    punches_gone: int
    punches_new: int
    punches_moved: int
    weeks: tuple[WeekChange, ...]
    periods: tuple[PeriodTouched, ...]
    hanging: tuple[Hanging, ...]
    others: tuple[int, ...]
    notices: tuple[str, ...] = ()


def list_takes(workspace: Workspace) -> list[TakeListed]:
    """Return every file taken, in order."""
    raise NotImplementedError


def source_of(workspace: Workspace, take: int) -> Incoming:
    """Return the file as it was taken; raises Refusal where no take has this number or its source is not kept."""
    raise NotImplementedError


def foresee_back(workspace: Workspace, take: int, *, as_of: datetime) -> Foreseen:
    """Return what `take_back` would do, writing nothing; raises Refusal where it cannot be done."""
    raise NotImplementedError


def take_back(workspace: Workspace, take: int, *, author: str, reason: str, as_of: datetime) -> TakeListed:
    """Make the store the one that never saw this take, and return the take as it then stands."""
    raise NotImplementedError


def foresee_again(workspace: Workspace, take: int, layout: Layout, *, as_of: datetime) -> Foreseen:
    """Return what `read_again` would do, writing nothing; raises Refusal where it cannot be done."""
    raise NotImplementedError


def read_again(
    workspace: Workspace, take: int, layout: Layout, *, author: str, reason: str, as_of: datetime
) -> TakeListed:
    """Make the store the one in which this take was read by `layout` in its place; brings back one taken back."""
    raise NotImplementedError
