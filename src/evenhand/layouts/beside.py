"""What a workbook says where nothing is read: other sheets, hidden ones, remarks, links, headers, who wrote it."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from evenhand.layouts.forms.workbook_text import said_beside_cells
from evenhand.layouts.source_file import SourceFile
from evenhand.terms.records import Refusal

__all__ = ["said_beside"]


def said_beside(file: SourceFile, read: Collection[str]) -> Iterator[tuple[str, str]]:
    """Yield where, and what, a workbook says that is in no cell of the sheets `read`; nothing of any other file."""
    if not file.is_workbook:
        return
    cells: set[str] = set()
    for name in file.sheet_names:
        try:
            texts = {text for column in file.sheet(name) for text in column.unique().to_list() if text}
        except Refusal:  # a sheet of another kind; what it says stands in its part
            continue
        cells |= texts
        if name not in read:
            yield from ((f"sheet {name}", text) for text in (name, *sorted(texts)))
    yield from said_beside_cells(file.content, frozenset(cells | {*read}))
