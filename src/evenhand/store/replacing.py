"""Write a file whole or not at all."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from evenhand.store.owner_only import FILE

__all__ = ["place_of_half", "replace_file", "sweep_abandoned", "sweep_halves", "sync_folder", "write_beside"]


def replace_file(path: Path, content: bytes) -> None:
    """Write `content` to `path` in one step: a reader sees the old file or the new one, never half of one."""
    write_beside(path, content).replace(path)


def write_beside(path: Path, content: bytes) -> Path:
    """Write `content` to disk beside `path` and return where; the caller puts it in place or removes it.

    Its owner alone may read it, now and in its place.
    """
    beside = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with os.fdopen(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, FILE), "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    return beside


def sweep_halves(folder: Path) -> None:
    """Remove what was written beside a file in `folder` by a program that was killed before it was put in place."""
    for half in folder.glob(".*.part"):
        half.unlink(missing_ok=True)


def sweep_abandoned(folder: Path) -> None:
    """Remove what `write_beside` left in `folder` for programs that run no longer; what cannot be removed stays."""
    for half in folder.glob(".*.part"):
        writer = half.name.removesuffix(".part").rpartition(".")[2]
        if writer.isdecimal() and not _is_running(int(writer)):
            with suppress(OSError):
                half.unlink(missing_ok=True)


def _is_running(process: int) -> bool:
    try:
        os.kill(process, 0)  # asks, and ends nothing: POSIX.1-2017, kill
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):  # somebody else's, or no number that a program can have
        return True
    return True


def place_of_half(half: Path) -> Path:
    """Return where what was written beside by `write_beside` belongs."""
    return half.with_name(half.name.removeprefix(".").removesuffix(".part").rpartition(".")[0])


def sync_folder(folder: Path) -> None:
    """Have the disk hold the names in `folder`, and not only the files."""
    held = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(held)
    finally:
        os.close(held)
