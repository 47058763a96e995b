"""The layouts a workspace keeps: which of them fits a file, and where a new one goes."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from itertools import count
from pathlib import Path

from evenhand import layouts
from evenhand.layouts import Layout, SourceFile
from evenhand.terms.records import Refusal

__all__ = ["KeptLayouts"]


class KeptLayouts:
    """The layouts in a folder, read once, with those that are added."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._kept = {
            path: Layout.from_toml(path.read_text(encoding="utf-8"), str(path)) for path in folder.glob("*.toml")
        }

    def find(
        self, file: SourceFile, table: str | None, reader: str | None, known_readers: list[str]
    ) -> tuple[Layout, Path] | None:
        """Return the first layout that fits the file, with the path it is kept at, None where none does.

        Raises Refusal where it is one for a reader's own log and the file does not say which reader's it is.
        """
        for path, kept in sorted(self._kept.items()):
            if table not in (None, kept.table) or not layouts.matches(kept, file):
                continue
            if not kept.reader:
                return kept, path
            return replace(kept, reader=reader or _reader_of(file, kept, known_readers)), path
        return None

    def place_for(self, layout: Layout) -> Path:
        """Return where this very layout is kept, or else may be."""
        for path, kept in self._kept.items():
            if kept == layout:
                return path
        paths = (self.folder / f"{layout.table}-{place}.toml" for place in count(1))
        # another program may have kept one here since the folder was read
        return next(path for path in paths if path not in self._kept and not path.exists())

    def add(self, path: Path, layout: Layout) -> None:
        """Take note of a layout that is kept at `path` from now on."""
        self._kept[path] = layout


def _reader_of(file: SourceFile, kept: Layout, known_readers: list[str]) -> str:
    # Every reader's export may look like the one this layout was kept for: whose it is has to be seen anew.
    with suppress(Refusal):
        if seen := layouts.recognise(file, table=kept.table, known_readers=known_readers).reader:
            return seen
    raise Refusal(f"{file.name} does not say which reader it comes from; name the reader.")
