"""Write a file whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

__all__ = ["replace_file", "write_beside"]


def replace_file(path: Path, content: bytes) -> None:
    """Write `content` to `path` in one step: a reader sees the old file or the new one, never half of one."""
    write_beside(path, content).replace(path)


def write_beside(path: Path, content: bytes) -> Path:
    """Write `content` to disk beside `path` and return where; the caller puts it in place or removes it."""
    beside = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with beside.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    return beside
