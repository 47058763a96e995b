"""What lies in a watched folder, but for what is not whole yet."""

from __future__ import annotations

import os
import stat
from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path

from evenhand.terms.characters import escaped
from evenhand.terms.disk_faults import why_of
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = ["Entry", "entries_of", "entry_at"]

PARTIAL = (".part", ".partial", ".tmp", ".temp", ".crdownload", ".download", ".filepart", ".swp", ".lock", "~")
"""How programs call a file that is not whole yet; so they do with a dot in front (common practice, no source)."""


@dataclass(frozen=True)
class Entry:
    """A file of the folder as it lies there now; `kind` is its type as stat has it."""

    path: Path
    size: int
    changed_ns: int
    inode: int
    kind: int

    @property
    def name(self) -> str:
        """Return its name."""
        return self.path.name

    @property
    def shown(self) -> str:
        """Return its name as it may be shown."""
        return escaped(self.name)


def entries_of(folder: Path) -> dict[Path, Entry]:
    """Return what lies in the folder, without folders and what is not whole.

    Raises Refusal where it cannot be looked into.
    """
    try:
        with os.scandir(folder) as found:
            paths = [Path(one.path) for one in found if not one.is_dir(follow_symlinks=False)]
    except FileNotFoundError as fault:
        raise Refusal(
            told("The watched folder {folder} is not there; put it back or name another under [intake].", folder=folder)
        ) from fault
    except NotADirectoryError as fault:
        raise Refusal(
            told("The watched folder {folder} is a file; name a folder under [intake].", folder=folder)
        ) from fault
    except OSError as fault:
        raise Refusal(
            told("The watched folder {folder} cannot be looked into ({why}).", folder=folder, why=why_of(fault))
        ) from fault
    names = {path.name for path in paths}
    return {path: entry for path in paths if not _is_partial(path.name, names) and (entry := entry_at(path))}


def entry_at(path: Path) -> Entry | None:
    """Return what lies there now, a link unfollowed; None where nothing does."""
    try:
        found = os.lstat(path)
    except OSError:  # it has just gone
        return None
    return Entry(path, found.st_size, found.st_mtime_ns, found.st_ino, stat.S_IFMT(found.st_mode))


def _is_partial(name: str, names: Collection[str]) -> bool:
    """Whether its name says that a file is not whole, or another beside it that it is open in an office program.

    Common practice, no source.
    """
    is_open = f"~${name}" in names or f".~lock.{name}#" in names
    return is_open or name.startswith((".", "~$")) or name.casefold().endswith(PARTIAL)
