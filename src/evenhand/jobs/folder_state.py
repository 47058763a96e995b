"""What is known of the watched folder: which of its files wait and why, kept in the workspace beside the store.

Whoever watches writes it, and the pages read it; it is written in one step and by one at a time, so that a stop at any
moment leaves what was there before. What it forgets is only looked at again.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass, field, replace
from itertools import count
from pathlib import Path

from evenhand.jobs.workspace import Workspace
from evenhand.store.alone import alone
from evenhand.store.faults import refusing
from evenhand.store.owner_only import FOLDER
from evenhand.store.replacing import write_beside
from evenhand.terms.characters import escaped
from evenhand.terms.disk_faults import why_of
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal, WaitingFile, WatchedFolder

__all__ = ["TAKEN", "FileStanding", "Folder", "look", "move_to_taken", "named", "noting", "put_away", "read"]

STATE, LOCK = "watched.json", ".watched.lock"
TAKEN = "taken"
"""The folder within the watched one into which files are moved once they are taken."""


@dataclass(frozen=True)
class FileStanding:
    """How a file of the folder stands, which was of this `size` and `changed_ns` when it was looked at at `since`.

    `why` says what keeps it waiting; empty where it was taken and is left where it lies. `rests_on` names what was
    known then, so that it is looked at again when that is different.
    """

    size: int
    changed_ns: int
    since: int
    why: str
    rests_on: str = ""


@dataclass(frozen=True)
class Folder:
    """The folder that was watched last, and how each of its files stands, by name."""

    path: str = ""
    is_moved: bool = True
    problem: str = ""
    files: Mapping[str, FileStanding] = field(default_factory=dict)


def look(workspace: Workspace) -> WatchedFolder:
    """Return the watched folder with the files that wait in it and are still what they were."""
    folder = read(workspace)
    waiting = (
        WaitingFile(_key(name), escaped(name), one.size, one.since, one.why, is_watched=True)
        for name, one in sorted(folder.files.items())
        if one.why and _is_same(Path(folder.path) / name, one)
    )
    return WatchedFolder(folder.path, folder.problem, tuple(waiting))


def named(workspace: Workspace, key: str) -> Path | None:
    """Return where the file of this key lies in the folder, None where none of it waits."""
    folder = read(workspace)
    return next((Path(folder.path) / name for name, one in folder.files.items() if one.why and _key(name) == key), None)


def read(workspace: Workspace) -> Folder:
    """Return what is known of the folder; nothing where it was never watched or what was kept cannot be read."""
    with suppress(OSError, ValueError, TypeError, KeyError, AttributeError):
        kept = json.loads((workspace.waiting / STATE).read_bytes())
        files = {name: FileStanding(**one) for name, one in kept.pop("files").items()}
        return Folder(**kept, files=files)
    return Folder()


@contextmanager
def noting(workspace: Workspace) -> Iterator[list[Folder]]:
    """Yield a list of one, what is known of the folder; what it holds at the end is kept where it differs."""
    with refusing(str(workspace.waiting)), _held(workspace):
        before = read(workspace)
        held = [before]
        yield held
        if held[0] != before:
            place = workspace.waiting / STATE
            written = asdict(replace(held[0], files=dict(held[0].files)))
            write_beside(place, json.dumps(written).encode()).replace(place)


@contextmanager
def _held(workspace: Workspace) -> Iterator[None]:
    workspace.waiting.mkdir(mode=FOLDER, exist_ok=True)
    with alone(workspace.waiting / LOCK):
        yield


def put_away(workspace: Workspace, name: str) -> None:
    """Put a file of the folder away that was taken: into `taken/`, or noted as taken where it is to be left."""
    with noting(workspace) as held:
        folder = held[0]
        path, files = Path(folder.path) / name, dict(folder.files)
        if folder.is_moved:
            move_to_taken(path)
            files.pop(name, None)
        elif name in files:
            files[name] = replace(files[name], why="")
        held[0] = replace(folder, files=files)


def move_to_taken(path: Path) -> Path:
    """Move a file into `taken/` beside it, under its name or, where that is in use, the next free one; return where.

    Raises Refusal where it cannot be moved; it was taken all the same.
    """
    try:
        place = path.parent / TAKEN
        if place.is_symlink():
            raise Refusal(
                told(
                    "{file} was taken and is not moved, since {place} is a link; make it a folder.",
                    file=path.name,
                    place=place,
                )
            )
        place.mkdir(mode=FOLDER, exist_ok=True)
        to = next(place / name for name in _names(path) if not (place / name).exists())
        path.rename(to)
    except OSError as fault:
        raise Refusal(
            told(
                "{file} was taken and cannot be moved to {folder} ({why}); let evenhand write there, or "
                'set afterwards = "leave" under [intake].',
                file=path.name,
                folder=path.parent / TAKEN,
                why=why_of(fault),
            )
        ) from fault
    return to


def _names(path: Path) -> Iterator[str]:
    yield path.name
    yield from (f"{path.stem} ({place}){path.suffix}" for place in count(2))


def _key(name: str) -> str:
    return hashlib.sha256(name.encode(errors="surrogateescape")).hexdigest()[:16]


def _is_same(path: Path, one: FileStanding) -> bool:
    try:
        found = os.lstat(path)
    except (OSError, ValueError):
        return False
    return (found.st_size, found.st_mtime_ns) == (one.size, one.changed_ns)
