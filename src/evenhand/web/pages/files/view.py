"""What Files shows: what waits, how fresh each reader's punches are, and what was taken."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from evenhand.jobs.freshness import DAYS, ReaderFreshness
from evenhand.jobs.takes import TakeListed
from evenhand.terms.languages import told
from evenhand.terms.records import WaitingFile, WatchedFolder
from evenhand.web.listing import Listed, ListQuery, list_rows

__all__ = ["FilesView", "FreshLine", "sized", "stands", "view"]

OLD_S = 36 * 3600
"""From when on a reader's last punch is set off: a night and a day without one (common practice, no source)."""


@dataclass(frozen=True)
class FreshLine:
    """One reader: how old its last punch is [s], and in words what its days are drawn from."""

    reader: ReaderFreshness
    age_s: int | None
    is_old: bool
    says: str


@dataclass(frozen=True)
class FilesView:
    """The whole of Files."""

    waiting: Sequence[WaitingFile]
    dropped: int
    watched: WatchedFolder
    fresh: Sequence[FreshLine]
    listed: Listed[TakeListed]
    taken: int
    back: int


def view(
    takes: Sequence[TakeListed],
    waiting: Sequence[WaitingFile],
    watched: WatchedFolder,
    fresh: Sequence[ReaderFreshness],
    as_of: int,
    asked: ListQuery,
) -> FilesView:
    """Return what Files shows of the takes asked for; the last taken first unless asked otherwise."""
    listed = list_rows(
        takes,
        asked,
        {
            "taken": lambda take: take.take,
            "file": lambda take: take.file.casefold(),
            "table": lambda take: take.table,
            "read": lambda take: take.read,
            "rejected": lambda take: take.rejected,
        },
        lambda take: f"{take.take} {take.file} {take.table}",
        "taken",
    )
    return FilesView(
        waiting=waiting,
        dropped=sum(not one.is_watched for one in waiting),
        watched=watched,
        fresh=[_fresh(one, as_of) for one in fresh],
        listed=listed,
        taken=len(takes),
        back=sum(take.is_back for take in takes),
    )


def stands(take: TakeListed) -> str:
    """Return in a word how a take stands: empty where it stands as it was taken."""
    if take.is_back:
        return told("taken back")
    return told("read again") if any(one.action == "again" for one in take.decided) else ""


def sized(size: int) -> str:
    """Return a file's size as people say it: `812 bytes`, `14 kB`, `3.2 MB` (powers of ten, as SI has them)."""
    if size < 1000:
        return told("{count:# byte|# bytes}", count=size)
    return f"{size / 1000:.0f} kB" if size < 1_000_000 else f"{size / 1_000_000:.1f} MB"


def _fresh(one: ReaderFreshness, as_of: int) -> FreshLine:
    age = None if one.last_at is None else as_of - one.last_at
    first: date = one.last_day - timedelta(days=DAYS - 1)
    return FreshLine(
        one,
        age,
        age is None or age > OLD_S,
        told(
            "Presentations a day from {first:short} to {last:short}: {least} to {most}, {newest} on the last",
            first=first,
            last=one.last_day,
            least=min(one.per_day),
            most=max(one.per_day),
            newest=one.per_day[-1],
        ),
    )
