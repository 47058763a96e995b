"""Files that wait until a person has looked at them: those put on the page Files, and those of the watched folder.

What is put on the page lies in `waiting/` of the workspace, which its owner alone may read, each file in a folder of
its own whose name is drawn at random, so that no file's name can reach beyond it. It goes when it is taken or given up,
or after `KEPT_S`.
"""

from __future__ import annotations

import os
import re
import secrets
import shutil
import stat
import time
import unicodedata
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import replace
from pathlib import Path
from typing import BinaryIO

from evenhand.jobs import folder_state
from evenhand.jobs.incoming import read_incoming
from evenhand.jobs.seen import NotAsSeen
from evenhand.jobs.take import Answers, Receipt, Seen, look_at, take_file
from evenhand.jobs.workspace import Workspace
from evenhand.store.alone import alone
from evenhand.store.faults import refusing
from evenhand.store.owner_only import FOLDER
from evenhand.terms.disk_faults import why_of
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal, Unknown, WaitingFile

__all__ = [
    "KEPT_S",
    "LARGEST",
    "as_file_name",
    "find_waiting",
    "finish",
    "give_up",
    "list_waiting",
    "path_of",
    "receive",
    "sweep",
    "take_waiting",
]

KEPT_S = 7 * 24 * 3600
"""How long a file waits on the page before it is given up [s]."""
BROKEN_OFF_S = 3600
"""How old what is half written must be to be nobody's any longer [s]."""
LARGEST = 256 << 20
"""The largest file the page takes [bytes]; the command takes larger ones."""
LONGEST_NAME = 150
"""Bytes of a file's name that are kept: file systems end at 255."""
BLOCK = 1 << 20
KEY = re.compile("[0-9a-f]{16}")


def receive(workspace: Workspace, name: str, content: BinaryIO) -> WaitingFile:
    """Keep what a person put on the page, block by block, and return it; nothing is kept where that fails.

    Raises Refusal where it is empty, longer than `LARGEST`, or cannot be written.
    """
    workspace.store.refuse_looking()
    with refusing(str(workspace.waiting)):
        sweep(workspace)
        file, folder = as_file_name(name), _folder(workspace) / secrets.token_hex(8)
    try:
        folder.mkdir(mode=FOLDER)
        beside = folder / ".part"
        with open(beside, "xb", opener=_owner_only) as written:
            size = _copy(content, written, file)
            os.fsync(written.fileno())
        beside.rename(folder / file)
    except BaseException as fault:
        shutil.rmtree(folder, ignore_errors=True)
        if isinstance(fault, OSError):
            raise Refusal(
                told(
                    "{file} cannot be kept in {folder} ({why}); make room there, or let it be written.",
                    file=file,
                    folder=folder.parent,
                    why=why_of(fault),
                )
            ) from fault
        raise
    return WaitingFile(folder.name, file, size, _now())


def list_waiting(workspace: Workspace) -> list[WaitingFile]:
    """Return the files that wait, those that came last first."""
    dropped = [_seen(path) for path in _kept(workspace)]
    found = [*filter(None, dropped), *folder_state.look(workspace).waiting]
    return sorted(found, key=lambda one: (-one.since, one.file))


def path_of(workspace: Workspace, key: str) -> tuple[WaitingFile, Path]:
    """Return the file that waits under `key` and where it lies; raises Unknown where none does any longer.

    Raises Refusal where what lies there is no ordinary file, such as a link.
    """
    one, path = _find(workspace, key)
    if one.is_watched and not stat.S_ISREG(os.lstat(path).st_mode):
        raise Refusal(one.why)
    return one, path


def find_waiting(workspace: Workspace, key: str) -> WaitingFile:
    """Return what waits under `key`, whatever it is; raises Unknown where nothing does any longer."""
    return _find(workspace, key)[0]


def _find(workspace: Workspace, key: str) -> tuple[WaitingFile, Path]:
    if KEY.fullmatch(key):
        for path in _kept(workspace):
            if path.parent.name == key and (seen := _seen(path)):
                return seen, path
        for one in folder_state.look(workspace).waiting:
            if one.key == key and (found := folder_state.named(workspace, key)):
                return one, found
    raise Unknown(
        sentence("that file does not wait any longer: it was taken, given up or moved away; Files lists what waits.")
    )


def finish(workspace: Workspace, key: str, *, is_taken: bool) -> None:
    """Let go of a file that was taken or given up; one of the watched folder is put away as the settings say."""
    workspace.store.refuse_looking()
    one, path = path_of(workspace, key)
    if not one.is_watched:
        shutil.rmtree(path.parent, ignore_errors=True)
    elif is_taken:
        folder_state.put_away(workspace, path.name)
    else:
        raise Refusal(
            told(
                "{file} lies in the watched folder {folder}; take it away there, and it waits no longer.",
                file=one.file,
                folder=path.parent,
            )
        )


def take_waiting(
    workspace: Workspace, key: str, answers: Answers, is_as_seen: Callable[[Seen], bool], author: str = ""
) -> Receipt:
    """Take the file that waits under `key` by `answers`, and let it go; the receipt names the take that holds it.

    `author` is who takes it, '' where nobody said.
    Raises NotAsSeen where it is no longer what a person was shown, and Refusal where it cannot be taken.
    """
    with _deciding(workspace):
        _, path = path_of(workspace, key)
        incoming = read_incoming(path)
        seen = look_at(workspace, incoming, answers)
        if not is_as_seen(seen):
            raise NotAsSeen
        receipt = take_file(workspace, incoming, answers=answers, author=author)
        receipt = replace(receipt, take=receipt.take or seen.taken_before)
        try:
            finish(workspace, key, is_taken=True)
        except Refusal as refusal:
            return replace(receipt, notices=(*receipt.notices, str(refusal)))
        return receipt


def give_up(workspace: Workspace, key: str) -> None:
    """Let go of a file that is not to be taken; one that is being taken is waited for, and is there no longer then."""
    with _deciding(workspace):
        finish(workspace, key, is_taken=False)


@contextmanager
def _deciding(workspace: Workspace) -> Iterator[None]:
    """Let nobody else take or give up what waits, so that whoever comes second is told what became of it."""
    with refusing(str(workspace.waiting)), alone(_folder(workspace) / ".lock"):
        yield


def sweep(workspace: Workspace) -> None:
    """Give up what has waited for longer than `KEPT_S`, and what a broken-off transfer left behind."""
    place = workspace.waiting
    if not place.is_dir():
        return
    for entry in place.iterdir():
        with suppress(FileNotFoundError):  # another program sweeps as well
            age = _now() - entry.stat().st_mtime
            if KEY.fullmatch(entry.name) and age > KEPT_S:
                shutil.rmtree(entry, ignore_errors=True)
            elif entry.name.endswith(".part") and age > BROKEN_OFF_S:
                entry.unlink()


def as_file_name(name: str) -> str:
    """Return a name under which a file may be kept: its last part, without what folders or screens would obey.

    Control and direction-changing characters (Unicode category C) and the characters that some file systems forbid
    become `_`; a name of dots alone, or none, becomes `file`.
    """
    last = re.split(r"[/\\]", unicodedata.normalize("NFC", name))[-1]
    safe = "".join("_" if unicodedata.category(one)[0] == "C" or one in '<>:"|?*' else one for one in last)
    safe = safe.strip().lstrip(".").rstrip(". ")
    stem, dot, ending = safe.rpartition(".")
    if not dot or len(ending) > 10:
        stem, ending = safe, ""
    room = LONGEST_NAME - len(dot + ending)
    return (stem.encode()[:room].decode(errors="ignore") + dot * bool(ending) + ending) or "file"


def _now() -> int:
    return int(time.time())  # noqa: TID251  files are dated by the machine's clock, whatever day the pages look at


def _folder(workspace: Workspace) -> Path:
    workspace.waiting.mkdir(mode=FOLDER, exist_ok=True)
    return workspace.waiting


def _kept(workspace: Workspace) -> Iterator[Path]:
    if not workspace.waiting.is_dir():
        return
    for folder in workspace.waiting.iterdir():
        if KEY.fullmatch(folder.name) and folder.is_dir():
            yield from (path for path in folder.iterdir() if path.name != ".part")


def _seen(path: Path) -> WaitingFile | None:
    try:
        found = path.stat()
    except FileNotFoundError:  # somebody has just taken it
        return None
    return WaitingFile(path.parent.name, path.name, found.st_size, int(found.st_mtime))


def _copy(content: BinaryIO, written: BinaryIO, file: str) -> int:
    size = 0
    while block := content.read(BLOCK):
        size += len(block)
        if size > LARGEST:
            raise Refusal(
                told(
                    "{file} is larger than {size} MiB; put it into a watched folder, or split it.",
                    file=file,
                    size=LARGEST >> 20,
                )
            )
        written.write(block)
    if not size:
        raise Refusal(told("{file} is empty; export it again.", file=file))
    return size


def _owner_only(path: str, flags: int) -> int:
    return os.open(path, flags, 0o600)
