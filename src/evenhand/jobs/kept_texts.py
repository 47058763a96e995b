"""What rows of kept sources say beside what is read of them: whose a rejected row is, and who is named by a part."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import polars as pl

from evenhand import layouts
from evenhand.layouts import WHOLE_LINE, Layout, Redaction, SourceFile
from evenhand.store.part_names import NamingText, PartNames
from evenhand.terms.records import Refusal

__all__ = ["KeptText", "blanking", "rows_naming", "texts_in"]

WHOSE = ("person", "number", "name")
"""The declared columns that say whose a row is."""
FREE = ("address", "place", "label")
"""Those that are read and hold what somebody wrote."""


@dataclass(frozen=True)
class KeptText:
    """A text in a kept source that may name somebody, with the layout that cuts its line, and where it stands there.

    `left` is what stands there once the person is blanked.
    """

    text: NamingText
    layout: Layout
    line: int
    position: int
    left: str


def rows_naming(file: SourceFile, layout: Layout, lines: Collection[int], pattern: re.Pattern[str]) -> frozenset[int]:
    """Return those of `lines`, on which rows begin that could not be read, whose row is of the person it finds.

    A row is theirs where one of its cells that say whose it is has the pattern; where none of its cells can be told
    from the others, wherever it stands.
    """
    if not lines:
        return frozenset()
    try:
        cells, places = _Cells(file, layout, lines), _places(file, layout, WHOSE)
    except Refusal:
        return frozenset(lines)
    theirs = set()
    for line in lines:
        said = cells.of(line)
        if said is not None and all(at < len(said) for at in places):
            said = [said[at] for at in places]
        if said is None or any(pattern.search(one) for one in said):
            theirs.add(line)
    return frozenset(theirs)


def texts_in(file: SourceFile, take: int, ways: Sequence[Layout], parts: PartNames) -> list[KeptText]:
    """Return the texts of a kept source that have a part of the name, in cells that are not read, or in other lines."""
    found: dict[tuple[int, int], KeptText] = {}
    pattern = parts.faintly.pattern
    for layout in ways if pattern else ():
        try:
            lines = layouts.lines_with(file, layout, pattern)
            for line, position, column, says in _texts_of(file, layout, lines, parts) if lines else ():
                is_faint = not parts.names(says)
                left = (parts.faintly if position != WHOLE_LINE else parts).blanked(says)
                text = NamingText(f"takes/{take}/{line}", column, says, parts.is_likely(says), is_faint)
                found.setdefault((line, position), KeptText(text, layout, line, position, left))
        except Refusal:  # another layout reads it
            continue
    return [found[place] for place in sorted(found)]


def blanking(texts: Iterable[KeptText]) -> list[tuple[Layout, Redaction]]:
    """Return what takes the parts of the name out of these texts; nothing moves."""
    by_layout: dict[str, tuple[Layout, dict[int, dict[int, str]]]] = {}
    for one in texts:
        _, said = by_layout.setdefault(one.layout.to_toml(), (one.layout, {}))
        said.setdefault(one.line, {})[one.position] = one.left
    return [(layout, Redaction(texts=said)) for layout, said in by_layout.values()]


def _texts_of(
    file: SourceFile, layout: Layout, lines: Collection[int], parts: PartNames
) -> Iterator[tuple[int, int, str, str]]:
    """Yield line, position from 0, header and text of whatever has a part of the name and is free text.

    That is what is not read, what is and was written freely, and the name beside a number that a reader holds and
    nobody has, since nothing else tells whose that is.
    """
    cells = _Cells(file, layout, lines)
    read = _places(file, layout, [one for one in layout.columns if one not in FREE])
    listed = _places(file, layout, ("name",)) if layout.table == "enrolments" else set()
    numbers = _places(file, layout, ("number",))
    others = {one.lstrip("0") for one in parts.numbers.others}
    for line in lines:
        said = cells.cut(line)
        if said is None:
            whole = cells.whole(line)
            if layout.form == "sheet":
                yield from (
                    (line, at, "line", one)
                    for at, one in enumerate(whole)
                    if parts.names(one) and _keeps_headers(layout, one, parts.blanked(one))
                )
            elif parts.names(whole[0]) and _keeps_headers(layout, whole[0], parts.blanked(whole[0])):
                yield line, WHOLE_LINE, "line", whole[0]
            continue
        is_another = any(said[at].strip().lstrip("0") in others for at in numbers)
        for at, one in enumerate(said):
            if at not in read:
                may_name = parts.names(one) or (parts.faintly.names(one) and cells.is_text(at))
            else:
                may_name = at in listed and not is_another and parts.names(one)
            if may_name:
                yield line, at, cells.named(at), one


def _keeps_headers(layout: Layout, text: str, left: str) -> bool:
    """Whether a line still says by which headers columns are read: `Day` is a name too, and stays what it is there."""
    headers = (one for sources in layout.columns.values() for one in sources if isinstance(one, str))
    return all(one in left for one in headers if one in text)


def _places(file: SourceFile, layout: Layout, columns: Sequence[str]) -> set[int]:
    grid = file.grid(layout)
    return {grid.position_of(file.name, one) for name in columns for one in layout.columns.get(name, ())}


class _Cells:
    """The cells of some lines of a file."""

    def __init__(self, file: SourceFile, layout: Layout, lines: Collection[int]) -> None:
        self.file, self.layout, self.grid = file, layout, file.grid(layout)
        rows = np.flatnonzero(np.isin(self.grid.lines, list(lines)))
        self._texts: dict[int, bool] = {}
        self._rows = {int(self.grid.lines[row]): int(row) for row in rows}

    def named(self, position: int) -> str:
        return self.grid.named(position)

    def is_text(self, position: int) -> bool:
        """Whether a column mostly says something in words, and not in numbers alone."""
        if position not in self._texts:
            filled = pl.Series(self.grid.columns[position]).drop_nulls()
            filled = filled.filter(filled.str.strip_chars() != "")
            self._texts[position] = 2 * int(filled.str.contains(r"\p{L}").sum()) >= filled.len()
        return self._texts[position]

    def cut(self, line: int) -> list[str] | None:
        """Return the cells of the row that begins on a line; None where none does that can be cut into cells."""
        if line not in self._rows:
            return None
        return [column[self._rows[line]] or "" for column in self.grid.columns]

    def whole(self, line: int) -> list[str]:
        """Return what stands on a line: its text, or the cells of a sheet's row."""
        if self.layout.form == "sheet":
            return [column[line - 1] or "" for column in self.file.sheet(self.layout.sheet)]
        return [self.file.lines(self.layout.encoding)[line - 1]]

    def of(self, line: int) -> list[str] | None:
        """Return the cells of the row that begins on a line, parted as far as can be; None where they cannot be."""
        cells = self.cut(line)
        if cells is None and self.layout.form == "sheet":
            return self.whole(line)
        if cells is None and self.layout.form == "delimited":
            return self.whole(line)[0].split(self.layout.delimiter)
        return cells
