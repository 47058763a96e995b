"""Write a file whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

__all__ = ["replace_file", "sweep_halves", "write_beside"]


def replace_file(path: Path, content: bytes, *, mode: int = 0o666) -> None:
    """Write `content` to `path` in one step: a reader sees the old file or the new one, never half of one.

    `mode` is as in `write_beside`.
    """
    write_beside(path, content, mode=mode).replace(path)


def write_beside(path: Path, content: bytes, *, mode: int = 0o666) -> Path:
    """Write `content` to disk beside `path` and return where; the caller puts it in place or removes it.

    `mode` is who may read it, as far as the program's own mask lets them.
    """
    beside = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with os.fdopen(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, mode), "wb") as file:
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
