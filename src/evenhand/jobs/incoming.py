"""The bytes of a file to take, refused early where it cannot be one."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from evenhand import layouts
from evenhand.layouts import Sketch, SourceFile
from evenhand.terms.characters import escaped, hidden_in
from evenhand.terms.disk_faults import why_of
from evenhand.terms.languages import of_file, told
from evenhand.terms.records import Refusal

__all__ = ["Incoming", "Opened", "read_incoming"]

LONGEST_LINE = 1 << 20  # [bytes]
LARGEST = 2_000_000_000  # [bytes]; one text buffer holds no more
LARGE = 64 << 20  # [bytes] from which on a file is looked into before it is read
PLACES, BLOCK = 24, 1 << 16  # where it is looked into, behind its beginning, and how far [bytes]
PIECE = 1 << 20
MANY = 1_000_000  # lines from which on they are held to
SHORTEST = 6  # characters on average, the line end included, beside blanks
WORKBOOK = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")
BLANK = b" \t\r\n\0\xef\xbb\xbf\xff\xfe"
KEPT = 64 << 20
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
    """Return the file at `path`; raises Refusal where it is missing, no file, empty, too large, or plainly no table.

    Lines are measured block by block, and a large file is looked at in some places first, so that a huge file that
    holds no rows is refused before it fills the memory.
    """
    shown = escaped(str(path))
    if hidden := hidden_in(path.name):
        raise Refusal(
            of_file(
                shown,
                told(
                    "the file's name holds a character that does not show ({hidden}); give it another name.",
                    hidden=hidden,
                ),
            )
        )
    try:
        if path.is_dir():
            raise Refusal(told("{shown} is a folder; name the files in it.", shown=shown))
        if path.exists() and not path.is_file():
            raise Refusal(told("{shown} is not an ordinary file; save what it gives as one.", shown=shown))
        size = path.stat().st_size
        if size > LARGEST:
            raise Refusal(
                told(
                    "{shown} holds {size:.1f} GiB, more than is taken at once; split it.",
                    shown=shown,
                    size=size / (1 << 30),
                )
            )
        if size > LARGE:
            _look_into(path, size)
        blocks = _blocks(path)
    except FileNotFoundError as fault:
        raise Refusal(told("{shown} does not exist; check its name and folder.", shown=shown)) from fault
    except OSError as fault:
        raise Refusal(
            told("{shown} cannot be read ({why}); check who may read it.", shown=shown, why=why_of(fault))
        ) from fault
    content = b"".join(blocks)
    blocks.clear()
    if not content[:PIECE].strip() and not content.strip():
        raise Refusal(told("{shown} is empty; export it again.", shown=shown))
    return Incoming(path.name, content, hashlib.sha256(content).hexdigest())


def _look_into(path: Path, size: int) -> None:
    """Refuse a large file where its beginning holds no table, or most lines from all over it are no rows of that."""
    with path.open("rb") as file:
        head = file.read(PIECE)
        if head.startswith(WORKBOOK):
            raise Refusal(
                told(
                    "{shown} is a workbook of {size:,} MiB; save the sheet that holds the rows as CSV.",
                    shown=escaped(str(path)),
                    size=size >> 20,
                )
            )
        parts = [head[: head.rfind(b"\n") + 1] or head]
        if b"\0" not in head and not head.lstrip().startswith((b"[", b"{")):
            for place in range(PIECE, size - BLOCK, (size - PIECE) // PLACES):
                file.seek(place)
                block = file.read(BLOCK)
                # From the first whole line to the last.
                parts.append(block[block.find(b"\n") + 1 : block.rfind(b"\n") + 1])
    looked_at = SourceFile(path.name, b"".join(parts))
    grid = looked_at.grid(layouts.sketch(looked_at).cuts[0].shape)
    if grid.rejects.height > len(grid.lines):
        raise Refusal(
            of_file(
                escaped(str(path)),
                told("most of its lines are no rows of the table that it begins with; export it again."),
            )
        )


def _blocks(path: Path) -> list[bytes]:
    shown = escaped(str(path))
    blocks: list[bytes] = []
    open_line = lines = filled = 0
    with path.open("rb") as file:
        while block := file.read(PIECE):
            # A workbook is packed, and an array of objects may stand on one line.
            has_lines = not (blocks[0] if blocks else block).lstrip(BLANK).startswith((*WORKBOOK, b"[", b"{"))
            blocks.append(block)
            lines += max(block.count(b"\n"), block.count(b"\r"))
            filled += len(block.translate(None, b" \t\r\0"))
            if lines > MANY and filled < lines * SHORTEST:
                raise Refusal(
                    told(
                        "{shown} has more than {lines:,} lines that are empty or nearly so, which makes no "
                        "table; export it again.",
                        shown=shown,
                        lines=lines,
                    )
                )
            ends = [place for mark in (b"\n", b"\r") if (place := block.find(mark)) >= 0]
            if has_lines and open_line + min(ends, default=len(block)) > LONGEST_LINE:
                raise Refusal(
                    told(
                        "{shown} has a line longer than 1 MiB, so it is no table; export it again, one row a line.",
                        shown=shown,
                    )
                )
            last = max(block.rfind(b"\n"), block.rfind(b"\r"))
            open_line = len(block) - last - 1 if ends else open_line + len(block)
    return blocks
