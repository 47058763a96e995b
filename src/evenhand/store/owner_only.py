"""Who may read what is stored: the owner alone, whatever the program's own mask would let others do.

A folder is 0700 and a file 0600, as POSIX.1-2017 defines file mode bits; systems without them are left as they are.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

__all__ = ["FILE", "FOLDER", "close_to_others", "make_file"]

FILE, FOLDER = 0o600, 0o700
OTHERS = stat.S_IRWXG | stat.S_IRWXO


def make_file(path: Path) -> None:
    """Make an empty file for its owner alone, where there is none and one can be made."""
    with suppress(OSError):
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, FILE))


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
