"""Who may read what is stored: the owner alone, whatever the program's own mask would let others do.

A folder is 0700 and a file 0600, as POSIX.1-2017 defines file mode bits; systems without them are left as they are.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

__all__ = ["FILE", "FOLDER", "OTHERS", "close_to_others", "is_open_to_others", "make_file", "make_folder", "write_file"]

FILE, FOLDER = 0o600, 0o700
OTHERS = stat.S_IRWXG | stat.S_IRWXO


def make_file(path: Path) -> None:
    """Make an empty file for its owner alone, where there is none and one can be made."""
    with suppress(OSError):
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, FILE))


def make_folder(folder: Path) -> None:
    """Make a folder, with those above it that are missing, for its owner alone; one that is there stays as it is."""
    if not folder.parent.exists():
        make_folder(folder.parent)
    folder.mkdir(mode=FOLDER, exist_ok=True)


def write_file(path: Path, content: bytes) -> None:
    """Write what somebody asked for to where they named it, a file for its owner alone; a device or a pipe as well."""
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, FILE), "wb") as file:
        mode = os.fstat(file.fileno()).st_mode
        if os.name == "posix" and stat.S_ISREG(mode) and mode & OTHERS:
            os.fchmod(file.fileno(), stat.S_IMODE(mode) & ~OTHERS)
        file.write(content)


def is_open_to_others(path: Path) -> bool:
    """Whether others than its owner may read the file; never where the system has no such modes."""
    return os.name == "posix" and bool(path.stat().st_mode & OTHERS)


def close_to_others(paths: Iterable[Path]) -> tuple[list[Path], list[Path]]:
    """Let the owner alone read what others may; returns what could be read by others until now, and what still can.

    What is not there, and links, are left alone.
    """
    closed, open_still = [], []
    for path in paths if os.name == "posix" else ():
        try:
            mode = os.lstat(path).st_mode
        except OSError:
            continue
        if stat.S_ISLNK(mode) or not mode & OTHERS:
            continue
        try:
            path.chmod(stat.S_IMODE(mode) & ~OTHERS)
            closed.append(path)
        except OSError:  # it is somebody else's, or lies where nothing can be changed
            open_still.append(path)
    return closed, open_still
