"""Programs forked from this one that are stopped at a step: before a statement, a commit, a file's change."""

from __future__ import annotations

import mmap
import os
import signal
import struct
import sys
import time
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import sqlalchemy as sa
from sqlalchemy.engine.default import DefaultDialect

__all__ = ["PHASES", "Step", "Steps", "ended", "forked", "phase_of", "steps_begun"]

PHASES = ("before", "within", "after")
CHANGING = ("INSERT", "UPDATE", "DELETE", "COPY", "TRUNCATE", "VACUUM")
OPENED = (".sqlite", ".lock")  # by whatever opens a workspace
FILE_EVENTS = ("os.rename", "os.remove", "os.mkdir", "os.rmdir")


@dataclass(frozen=True)
class Step:
    """What a command does next (reads, changes, commits, committed, undone, file, ends), and when [s]."""

    kind: str
    after_s: float


def forked(work: Callable[[], int]) -> int:
    """Begin some work in a program of its own and return its number."""
    sys.stdout.flush()
    child = os.fork()
    if child:
        return child
    try:
        code = work()
    except BaseException:  # noqa: BLE001  nothing of this program may go on in the other
        traceback.print_exc()
        code = 99
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(code)


def ended(child: int) -> int:
    """Wait for a program and return its exit code, -9 where it was killed."""
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


class Steps:
    """Counts the steps of the command that this program is to run, keeps them, and stops it before the one named."""

    def __init__(self, mark: mmap.mmap, stop_at: int | None, folder: Path) -> None:
        self.mark, self.stop_at, self.folder = mark, stop_at, str(folder)
        self.kept: list[Step] = []
        self.began = time.perf_counter()

    def __call__(self, kind: str) -> None:
        if len(self.kept) == self.stop_at:
            os.kill(os.getpid(), signal.SIGKILL)
        self.kept.append(Step(kind, time.perf_counter() - self.began))
        self.mark[:8] = struct.pack("q", len(self.kept))

    def watch(self) -> None:
        """Have every statement, commit and file of this program counted."""
        real = DefaultDialect.do_commit

        def committing(dialect: Any, connection: Any) -> None:
            self("commits")
            real(dialect, connection)
            self("committed")

        undo = DefaultDialect.do_rollback

        def undoing(dialect: Any, connection: Any) -> None:
            undo(dialect, connection)
            self("undone")

        DefaultDialect.do_commit = committing  # type: ignore[method-assign]
        DefaultDialect.do_rollback = undoing  # type: ignore[method-assign]
        sa.event.listen(
            sa.Engine,
            "before_cursor_execute",
            lambda _conn, _cursor, statement, *_: self(
                "changes" if statement.lstrip().upper().startswith(CHANGING) else "reads"
            ),
        )
        sys.addaudithook(self._on_file)

    def _on_file(self, event: str, given: tuple[Any, ...]) -> None:
        is_change = event in FILE_EVENTS or (
            event == "open" and isinstance(given[2], int) and given[2] & (os.O_WRONLY | os.O_RDWR | os.O_CREAT) != 0
        )
        name = str(given[0])
        if is_change and name.startswith(self.folder) and not name.endswith(OPENED):
            self("file")


def phase_of(steps: list[Step], done: int) -> str:
    """Return in which phase a command is once so many of its steps were begun.

    Writing lasts from the first change that is not undone, as that of a look beforehand is, to the last commit of any.
    """
    kinds = [step.kind for step in steps]
    ends = ("committed", "undone")
    parts = [max((at + 1 for at in range(end) if kinds[at] in ends), default=0) for end in range(len(kinds))]
    writing = [at for at, kind in enumerate(kinds) if kind == "committed" and "changes" in kinds[parts[at] : at]]
    first = next(at for at in range(parts[writing[0]], len(kinds)) if kinds[at] in ("changes", "file"))
    return PHASES[0] if done <= first else PHASES[1] if done < writing[-1] else PHASES[2]


def steps_begun(mark: mmap.mmap) -> int:
    """Return how many steps a program began that counts them in shared memory."""
    return int(struct.unpack("q", mark[:8])[0])
