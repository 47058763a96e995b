"""The layouts a workspace keeps: which of them fits a file, and where a new one goes."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from evenhand import layouts
from evenhand.jobs.incoming import Incoming
from evenhand.layouts import Layout
from evenhand.terms.records import Refusal

__all__ = ["find_layout", "place_for"]


def find_layout(
    folder: Path, incoming: Incoming, table: str | None, reader: str | None, known_readers: list[str]
) -> tuple[Layout, Path | None]:
    """Return a kept layout that fits, with the path it is kept at, or a proposed one."""
    for path in sorted(folder.glob("*.toml")):
        kept = Layout.from_toml(path.read_text(encoding="utf-8"), str(path))
        if table not in (None, kept.table) or not layouts.matches(kept, incoming.name, incoming.content):
            continue
        if not kept.reader:
            return kept, path
        return replace(kept, reader=reader or _reader_of(incoming, kept, known_readers)), path
    return _propose(incoming, table, reader, known_readers), None


def _reader_of(incoming: Incoming, kept: Layout, known_readers: list[str]) -> str:
    # Every reader's export may look like the one this layout was kept for: whose it is has to be seen anew.
    with suppress(Refusal):
        if seen := _propose(incoming, kept.table, None, known_readers).reader:
            return seen
    raise Refusal(f"{incoming.name} does not say which reader it comes from; name the reader.")


def _propose(incoming: Incoming, table: str | None, reader: str | None, known_readers: list[str]) -> Layout:
    return layouts.propose(incoming.name, incoming.content, table=table, reader=reader, known_readers=known_readers)


def place_for(folder: Path, layout: Layout) -> Path:
    """Return where in `folder` this very layout is kept, or else may be."""
    text = layout.to_toml()
    taken = set()
    for path in folder.glob(f"{layout.table}-*.toml"):
        if path.read_text(encoding="utf-8") == text:
            return path
        taken.add(path.name)
    return next(
        folder / name
        for name in (f"{layout.table}-{place}.toml" for place in range(1, len(taken) + 2))
        if name not in taken
    )
