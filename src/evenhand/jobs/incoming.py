"""The bytes of a file to take, refused early where it cannot be one."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from evenhand import layouts
from evenhand.layouts import Sketch, SourceFile
from evenhand.terms.records import Refusal

__all__ = ["Incoming", "Opened", "read_incoming"]

LONGEST_LINE = 1 << 20
LARGEST = 2 << 30
SHEET_MARK = b"PK\x03\x04"  # XLSX is a ZIP archive: it has no lines
KEPT = 16 << 20
"""Bytes of files that are kept between a first look and their turn; cut into cells they take several times that."""


@dataclass(frozen=True)
class Incoming:
    """A file's name, content and SHA-256."""

    name: str
    content: bytes
    sha256: str

    @cached_property
    def file(self) -> SourceFile:
        """Return the file as it is cut into cells, which it keeps."""
        return SourceFile(self.name, self.content)

    @cached_property
    def sketch(self) -> Sketch:
        """Return what the file looks like, whatever table it may hold; raises Refusal where it holds no rows."""
        return layouts.sketch(self.file)


class Opened:
    """Files that are looked at before it is their turn: each is read once, as long as those kept are small."""

    def __init__(self) -> None:
        self._kept: dict[Path, Incoming] = {}
        self._room = KEPT

    def look_at(self, path: Path) -> Incoming:
        """Return the file at `path`, see `read_incoming`; it is kept where there is room."""
        incoming = read_incoming(path)
        if path not in self._kept and len(incoming.content) <= self._room:
            self._room -= len(incoming.content)
            self._kept[path] = incoming
        return incoming

    def take(self, path: Path) -> Incoming:
        """Return the file at `path`, which is not kept any longer."""
        if path not in self._kept:
            return read_incoming(path)
        incoming = self._kept.pop(path)
        self._room += len(incoming.content)
        return incoming


def read_incoming(path: Path) -> Incoming:
    """Return the file at `path`; raises Refusal where it is missing, no file, empty, too large or not in lines.

    Lines are measured block by block, so that a huge file that is one line is refused after its first megabyte.
    """
    try:
        if path.is_dir():
            raise Refusal(f"{path} is a folder; name the files in it.")
        if path.exists() and not path.is_file():
            raise Refusal(f"{path} is not an ordinary file; save what it gives as one.")
        size = path.stat().st_size
        if size > LARGEST:
            raise Refusal(f"{path} holds {size / (1 << 30):.1f} GiB, more than the 2 GiB taken at once; split it.")
        blocks = _blocks(path)
    except FileNotFoundError as fault:
        raise Refusal(f"{path} does not exist; check its name and folder.") from fault
    except OSError as fault:
        raise Refusal(f"{path} cannot be read ({fault.strerror}); check who may read it.") from fault
    content = b"".join(blocks)
    if not content.strip():
        raise Refusal(f"{path} is empty; export it again.")
    return Incoming(path.name, content, hashlib.sha256(content).hexdigest())


def _blocks(path: Path) -> list[bytes]:
    blocks: list[bytes] = []
    open_line = 0
    with path.open("rb") as file:
        while block := file.read(LONGEST_LINE):
            is_sheet = (blocks[0] if blocks else block).startswith(SHEET_MARK)
            blocks.append(block)
            ends = [place for mark in (b"\n", b"\r") if (place := block.find(mark)) >= 0]
            if not is_sheet and open_line + min(ends, default=len(block)) > LONGEST_LINE:
                raise Refusal(
                    f"{path} has a line longer than 1 MiB, so it is no table; export it again, one row a line."
                )
            last = max(block.rfind(b"\n"), block.rfind(b"\r"))
            open_line = len(block) - last - 1 if ends else open_line + len(block)
    return blocks
