"""How far the filled cells of an ODS workbook reach, whose cells and rows may be repeated any number of times.

Source: OpenDocument 1.3 part 3, 9.1.3 and 9.1.4 (rows and cells), 19.675 and 19.679 (how often they are repeated).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from xml.parsers import expat
from zipfile import BadZipFile

__all__ = ["reaches"]

ROW, CELLS = "table-row", ("table-cell", "covered-table-cell")
FILLED = frozenset(("value-type", "value", "string-value", "date-value", "time-value", "boolean-value", "formula"))


def reaches(pieces: Iterable[bytes]) -> Iterator[tuple[int, int, int]]:
    """Yield the rows and columns of the rectangle around each sheet's filled cells, and the number of those.

    `pieces` is the document's `content.xml`; raises BadZipFile where it is no XML, or declares entities.
    """
    found: list[tuple[int, int, int]] = []
    row = column = rows = 0
    top = left = 1 << 40
    bottom = right = cells = 0

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal row, column, rows, top, left, bottom, right, cells
        kind = tag.rpartition(":")[2]
        said = {name.rpartition(":")[2]: value for name, value in attributes.items()}
        if kind == "table":
            row, top, left, bottom, right, cells = 0, 1 << 40, 1 << 40, 0, 0, 0
        elif kind == ROW:
            row, rows, column = row + rows, int(said.get("number-rows-repeated", 1)), 0
        elif kind in CELLS:
            repeated = int(said.get("number-columns-repeated", 1))
            if not FILLED.isdisjoint(said):
                top, bottom = min(top, row + 1), max(bottom, row + rows)
                left, right = min(left, column + 1), max(right, column + repeated)
                cells += repeated * rows
            column += repeated

    def end(tag: str) -> None:
        nonlocal rows
        if tag.rpartition(":")[2] == "table":
            found.append((max(bottom - top + 1, 0), max(right - left + 1, 0), cells))
            rows = 0

    def refuse(*_: object) -> None:
        raise BadZipFile("the document declares entities")

    parser = expat.ParserCreate()
    parser.StartElementHandler, parser.EndElementHandler = start, end
    parser.StartDoctypeDeclHandler = refuse
    try:
        for piece in pieces:
            parser.Parse(piece)
            yield from found
            found.clear()
        parser.Parse(b"", True)
    except expat.ExpatError as error:
        raise BadZipFile(str(error)) from error
    yield from found
