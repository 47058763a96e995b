"""The bytes of every file taken, kept whole under their digest, for their owner alone to read.

Files are put in place before the store names them. What a killed program left behind is swept by the next one, under
the lock that everybody holds who puts files beside the store.
"""

from __future__ import annotations

import gzip
import hashlib
import zlib
from collections.abc import Collection, Iterator
from contextlib import contextmanager
from pathlib import Path

from evenhand.store.alone import HeldElsewhere, alone
from evenhand.store.faults import refusing
from evenhand.store.owner_only import FOLDER
from evenhand.store.replacing import write_beside
from evenhand.terms.disk_faults import why_of
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = ["Sources"]

WAIT_S = 60.0
FAST = 1  # the level of compression: a log shrinks to a sixth in half a second for 50 MB


class Sources:
    """The sources in a folder, which is made when the first is kept."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    @contextmanager
    def held(self, wait_s: float = WAIT_S) -> Iterator[None]:
        """Keep every other program from putting files beside the store until the block ends.

        Raises Refusal where another one does so for longer than `wait_s` [s], or where the folder cannot be written.
        """
        try:
            with refusing(str(self.folder)):
                self.folder.mkdir(mode=FOLDER, exist_ok=True)
                with alone(self.folder / ".lock", wait_s=wait_s):
                    yield
        except HeldElsewhere as fault:
            raise Refusal(
                told(
                    "{folder} is in use by another program that takes files; let it end and try again.",
                    folder=self.folder,
                )
            ) from fault

    def put(self, sha256: str, content: bytes) -> bool:
        """Keep `content` under its digest, in place of what is damaged, and return whether nothing was there yet."""
        place = self._place(sha256)
        was_there = place.exists()
        if was_there and self.is_whole(sha256):
            return False
        try:
            write_beside(place, gzip.compress(content, FAST, mtime=0)).replace(place)
        except OSError as fault:
            raise Refusal(
                told(
                    "{folder} cannot be written ({strerror}); allow writing to it, or make room there.",
                    folder=self.folder,
                    strerror=why_of(fault),
                )
            ) from fault
        return not was_there

    def is_whole(self, sha256: str) -> bool:
        """Whether the content of this digest is kept and is what it was."""
        try:
            self.read(sha256, "")
        except Refusal:
            return False
        return True

    def count(self) -> int:
        """Return how many contents are kept."""
        return sum(1 for _ in self.folder.glob("*.gz"))

    def holds(self, sha256: str) -> bool:
        """Whether the content of this digest is kept."""
        return self._place(sha256).exists()

    def read(self, sha256: str, name: str) -> bytes:
        """Return the content; raises Refusal, naming the file `name`, where it is missing or damaged."""
        place = self._place(sha256)
        try:
            content = gzip.decompress(place.read_bytes())
        except FileNotFoundError as fault:
            raise Refusal(
                told(
                    "{place}, the source of {name}, is missing; put back a backup of it, or take the file again.",
                    place=place,
                    name=name,
                )
            ) from fault
        except (EOFError, OSError, zlib.error) as fault:
            raise Refusal(
                told(
                    "{place}, the source of {name}, cannot be read; put back a backup of it, or take the file again.",
                    place=place,
                    name=name,
                )
            ) from fault
        if hashlib.sha256(content).hexdigest() != sha256:
            raise Refusal(
                told(
                    "{place}, the source of {name}, has been changed; put back a backup of it, or take the file again.",
                    place=place,
                    name=name,
                )
            )
        return content

    def drop(self, sha256: str) -> None:
        """Forget a content that the store does not name."""
        self._place(sha256).unlink(missing_ok=True)

    def sweep(self, named: Collection[str]) -> None:
        """Forget every content whose digest is not `named`, and what was half written."""
        kept = {f"{sha256}.gz" for sha256 in named} | {".lock"}
        for entry in self.folder.iterdir():
            if entry.name not in kept:
                entry.unlink(missing_ok=True)

    def _place(self, sha256: str) -> Path:
        return self.folder / f"{sha256}.gz"
