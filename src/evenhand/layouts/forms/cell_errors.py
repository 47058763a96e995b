"""The cells of an XLSX sheet that hold a spreadsheet error, which the library that reads the others leaves empty.

Source: ECMA-376 part 1, 18.3.1.4 (a cell of type `e` holds an error), 18.2.19 and 12.2 (a sheet's part in the package).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from evenhand.layouts.forms.packages import DAMAGED_PACKAGE, Package

__all__ = ["find_errors"]

ATTRIBUTE = re.compile(rb"""([\w:]+)=["']([^"']*)["']""")
CELL = re.compile(rb"<(?:\w+:)?c\b([^>]*?)(?:/>|>(.*?)</(?:\w+:)?c>)", re.DOTALL)
FILLED = re.compile(rb"<(?:\w+:)?(?:v>[^<]|is\b)")
PLACE = re.compile(rb"([A-Z]+)([0-9]+)")
IS_ERROR = re.compile(rb"""\st=["']e["']""")
OPEN = 1 << 20  # [bytes] that a cell may be long


def find_errors(content: bytes, sheet: str) -> list[tuple[int, int]] | None:
    """Return row and column, from 0, of each error on a sheet, the first where it is ''; columns from its first filled.

    None where the workbook is not XLSX, so that an error cannot be told from an empty cell.
    """
    try:
        package = Package(content)
        part = package.sheets[sheet] if sheet else next(iter(package.sheets.values()))
        if not any(IS_ERROR.search(piece) for piece in _whole_cells(package, part)):
            return []
        return _errors(_whole_cells(package, part))
    except (*DAMAGED_PACKAGE, StopIteration):
        return None


def _errors(pieces: Iterator[bytes]) -> list[tuple[int, int]]:
    leftmost, errors = 1 << 30, []
    for piece in pieces:
        for found in CELL.finditer(piece):
            if not FILLED.search(found[2] or b""):
                continue
            said = dict(ATTRIBUTE.findall(found[1]))
            if place := PLACE.fullmatch(said.get(b"r", b"")):
                column = 0
                for letter in place[1]:
                    column = column * 26 + letter - ord("A") + 1
                leftmost = min(leftmost, column)
                if said.get(b"t") == b"e":
                    errors.append((int(place[2]) - 1, column))
    return [(row, column - leftmost) for row, column in errors]


def _whole_cells(package: Package, part: str) -> Iterator[bytes]:
    """Yield a sheet in pieces that end where a cell ends."""
    rest = b""
    for piece in package.pieces(part):
        text = rest + piece
        end = text.rfind(b"c>") + 2
        if end > 1:
            yield text[:end]
            text = text[end:]
        rest = text[-OPEN:]
    yield rest
