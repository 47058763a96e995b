"""Whether a store can be trusted: the database's own check of itself, and what it holds against what takes say.

A damaged file may still answer; what it then leaves out would be missing from somebody's pay.
"""

from __future__ import annotations

import fcntl
import os
import weakref
from contextlib import suppress
from pathlib import Path

import sqlalchemy as sa

from evenhand.store.tables import STORED
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal

__all__ = ["HeldOpen", "check_database", "check_takes", "check_told", "is_without_takes"]

REBUILD = sentence("`evenhand rebuild` makes them anew from the files taken")
LOST = {
    "handoff": sentence(
        "{where} is damaged: of hand-off {number} it does not hold both its record and what payroll was told; put "
        "back a backup of it, nothing was changed."
    ),
    "adjustment": sentence(
        "{where} is damaged: of adjustment {number} it does not hold both its record and what payroll was told; put "
        "back a backup of it, nothing was changed."
    ),
}


def check_database(conn: sa.Connection, where: str) -> None:
    """Raise Refusal where SQLite finds its own file damaged; a server checks its pages by itself.

    Source: https://www.sqlite.org/pragma.html#pragma_quick_check
    """
    if conn.dialect.name != "sqlite":
        return
    said = conn.exec_driver_sql("PRAGMA quick_check(1)").scalar()
    if said != "ok":
        first = str(said).splitlines()[-1]
        raise Refusal(
            told(
                "{where} is damaged ({first}); put back a backup of it, nothing was changed.", where=where, first=first
            )
        )


def check_takes(conn: sa.Connection, where: str) -> None:
    """Raise Refusal where the punches stored are not as many as the takes say that they brought."""
    takes, punches, parts = (STORED[name].c for name in ("takes", "punches", "punch_parts"))
    rows: dict[int, int] = dict(
        iter(conn.execute(sa.select(punches["take"], sa.func.count()).group_by(punches["take"])))
    )
    held: dict[int, int] = dict(
        iter(conn.execute(sa.select(parts["take"], sa.func.sum(parts.height)).group_by(parts["take"])))
    )
    said = sa.select(takes["take"], takes.file, takes.taken).where(takes.table == "punches").order_by(takes["take"])
    for take, file, taken in conn.execute(said):
        found = rows.pop(take, 0), int(held.pop(take, 0))
        if found != (taken, taken):
            raise Refusal(
                told(
                    "{where} holds {rows} punches of take {take}, {file}, in rows and {columns} in columns, and the "
                    "take brought {taken}; {rebuild}, or put back a backup.",
                    where=where,
                    rows=found[0],
                    take=take,
                    file=file,
                    columns=found[1],
                    taken=taken,
                    rebuild=told(REBUILD),
                )
            )
    if rows or held:
        raise Refusal(
            told(
                "{where} holds punches of takes that it does not name; {rebuild}, or put back a backup.",
                where=where,
                rebuild=told(REBUILD),
            )
        )


def check_told(conn: sa.Connection, where: str) -> None:
    """Raise Refusal where it is not kept what a file or an adjustment told payroll, or what is kept names neither.

    What was told would else stand as owed again, and be paid twice.
    """
    for of, lost_of in LOST.items():
        named, kept = STORED[f"{of}s"].c, STORED[f"{of}_lines"].c
        all_of = set(conn.scalars(sa.select(named[of])))
        detailed = sa.select(named[of]).where(named.is_detailed == 1) if of == "handoff" else sa.select(named[of])
        held = set(conn.scalars(sa.select(kept[of])))
        lost = sorted((set(conn.scalars(detailed)) - held) | (held - all_of))
        if lost:
            raise Refusal(told(lost_of, where=where, number=lost[0]))


def is_without_takes(conn: sa.Connection) -> bool:
    """Whether nothing was ever taken into this store."""
    return conn.scalar(sa.select(STORED["takes"].c["take"]).limit(1)) is None


class HeldOpen:
    """Tells other programs that the SQLite file at `path` is open, until it is released or forgotten.

    `is_left_over` tells that nobody else has it open, and that whoever had it last was stopped before closing it.
    """

    def __init__(self, path: Path) -> None:
        self._folder = os.open(path.absolute().parent, os.O_RDONLY | os.O_CLOEXEC)
        self.release = weakref.finalize(self, os.close, self._folder)
        log = path.with_name(f"{path.name}-wal")
        try:
            fcntl.flock(self._folder, fcntl.LOCK_EX | fcntl.LOCK_NB)
            self.is_left_over = log.exists() and log.stat().st_size > 0
        except OSError:  # somebody else has it open, or the disk knows no such locks
            self.is_left_over = False

    def let_in(self) -> None:
        """Let other programs open the file too, now that it has been looked at."""
        with suppress(OSError):
            fcntl.flock(self._folder, fcntl.LOCK_SH)
