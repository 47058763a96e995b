"""What a workbook would cost a library that lays its cells out, and a refusal where that is more than a table needs.

Source: ECMA-376 part 1, 18.3.1.4 (a cell and its place), 18.4.8 (texts that cells share).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from posixpath import basename
from xml.parsers import expat
from zipfile import BadZipFile

import numpy as np
import numpy.typing as npt

from evenhand.layouts.forms import old_workbooks
from evenhand.layouts.forms.grid import MOST_COLUMNS
from evenhand.layouts.forms.open_documents import reaches
from evenhand.layouts.forms.packages import DAMAGED_PACKAGE, Package
from evenhand.terms.languages import of_file, told
from evenhand.terms.records import Refusal

__all__ = ["check_workbook"]

OPEN_DOCUMENT = "content.xml"  # all sheets of an ODS
LARGEST = 256 << 20  # [bytes] of the file
UNPACKED = 640 << 20  # [bytes] of all parts; a million rows of ten columns take 500 MB
MOST_PARTS = 2000
MOST_SHEETS = 200
MOST_CELLS = 12_000_000  # places in the rectangle around a sheet's cells, for each of which a library takes 32 bytes
SPARSE_CELLS = 2_000_000  # places in one that is mostly empty
ALL_TEXTS = 256 << 20  # [bytes] of the texts of a sheet's cells
SHARED_TEXTS = 160 << 20  # [bytes] of the table of texts that cells share
LONG = 1 << 16  # [bytes] after which text without a mark is let go

# How programs write a cell; another way is left to a parser.
USUAL = re.compile(rb'<c r="([A-Z]{1,3})([0-9]{1,7})"(?: [a-z]+="[A-Za-z0-9]*")*(/?)>')
CELL = re.compile(rb"<(?:[^\s<>/:\"'=]+:)?c(?=[\s/>])")
ITEM_END = re.compile(rb"</(?:[^\s<>/:\"'=]+:)?si\s*>")
VALUE = re.compile(rb"<(?:[^\s<>/:\"'=]+:)?v(?:\s[^<>]*)?>([^<]*)<")

Lengths = npt.NDArray[np.int64]


@dataclass
class _Extent:
    """The rectangle around a sheet's filled cells, by rows and columns from 1, and their number."""

    top: int = 1 << 40
    bottom: int = 0
    left: int = 1 << 40
    right: int = 0
    cells: int = 0

    def reach(self, row: int, column: int) -> None:
        """Widen the rectangle to a cell."""
        self.top, self.bottom = min(self.top, row), max(self.bottom, row)
        self.left, self.right = min(self.left, column), max(self.right, column)

    @property
    def columns(self) -> int:
        """Return the number of columns."""
        return self.right - self.left + 1 if self.right else 0

    @property
    def rows(self) -> int:
        """Return the number of rows."""
        return self.bottom - self.top + 1 if self.bottom else 0


def check_workbook(name: str, content: bytes) -> None:
    """Raise Refusal where content is no XLSX, ODS or XLS, or needs more room than a table of rows does."""
    if len(content) > LARGEST:
        raise Refusal(
            of_file(
                name, told("a workbook of {size:,} MiB is not opened; save the rows as CSV.", size=len(content) >> 20)
            )
        )
    if content.startswith(old_workbooks.OLD_MARK):
        _check_old(name, content)
        return
    package = Package(content)
    try:
        _check_parts(name, package)
        if OPEN_DOCUMENT in package.parts:
            for rows, columns, cells in reaches(package.pieces(OPEN_DOCUMENT)):
                _check_reach(name, rows, columns, cells)
            return
        shared = [part for part in package.parts if basename(part).lower() == "sharedstrings.xml"]
        shared += [
            package.part_of(each["Target"])
            for each in package.relations
            if each["Type"].endswith("sharedStrings") and basename(each["Target"]).lower() != "sharedstrings.xml"
        ]
        if len(shared) > 1:
            raise BadZipFile("texts are kept in two places")
        lengths = _shared_lengths(name, package, shared[0]) if shared else np.zeros(0, np.int64)
        for part in package.parts:
            if part not in shared:
                _check_part(name, package, part, lengths)
    except (*DAMAGED_PACKAGE, StopIteration) as error:
        raise Refusal(
            of_file(
                name, told("this is no workbook that can be opened, or it is damaged; save it again as XLSX or CSV.")
            )
        ) from error


def _check_old(name: str, content: bytes) -> None:
    try:
        for rows, columns, cells in old_workbooks.reaches(content):
            _check_reach(name, rows, columns, cells)
    except old_workbooks.BROKEN as error:
        raise Refusal(
            of_file(
                name, told("this is no workbook that can be opened, or it is damaged; save it again as XLSX or CSV.")
            )
        ) from error


def _check_parts(name: str, package: Package) -> None:
    unpacked = sum(part.file_size for part in package.parts.values())
    if unpacked > UNPACKED or len(package.parts) > MOST_PARTS:
        raise Refusal(
            of_file(
                name,
                told(
                    "unpacked, the workbook is {size:,} MiB in {parts:,} parts, more than a table of rows "
                    "needs; save the sheet that holds the rows as CSV.",
                    size=unpacked >> 20,
                    parts=len(package.parts),
                ),
            )
        )
    if OPEN_DOCUMENT not in package.parts and len(package.sheets) > MOST_SHEETS:
        raise Refusal(
            of_file(
                name,
                told(
                    "the workbook has {count:,} sheets; save the one that holds the rows by itself.",
                    count=len(package.sheets),
                ),
            )
        )


def _check_part(name: str, package: Package, part: str, lengths: Lengths) -> None:
    """Refuse a part whose cells are too many or too far apart, whatever it is called: any may be named as a sheet."""
    extent = _extent(package, part)
    _check_reach(name, extent.rows, extent.columns, extent.cells)
    longest = int(lengths.max(initial=0))
    if longest * extent.cells > ALL_TEXTS and (total := _texts(package, part, lengths)) > ALL_TEXTS:
        raise Refusal(
            of_file(
                name, told("the texts of a sheet's cells take {size:,} MiB; save the rows as CSV.", size=total >> 20)
            )
        )


def _check_reach(name: str, rows: int, columns: int, cells: int) -> None:
    if rows * columns > (MOST_CELLS if cells * 8 > rows * columns else SPARSE_CELLS):
        raise Refusal(
            of_file(
                name,
                told(
                    "a sheet's cells reach over {rows:,} rows and {columns:,} columns, which makes {cells:,} "
                    "cells; delete what stands far from the table, or save the rows as CSV.",
                    rows=rows,
                    columns=columns,
                    cells=rows * columns,
                ),
            )
        )
    if columns > MOST_COLUMNS:
        raise Refusal(
            of_file(name, told("a sheet has {columns:,} columns; leave the columns of the table.", columns=columns))
        )


def _shared_lengths(name: str, package: Package, part: str) -> Lengths:
    """Return the bytes of each text that cells share, its marks included."""
    if (size := package.parts[part].file_size) > SHARED_TEXTS:
        raise Refusal(
            of_file(name, told("the workbook's texts take {size:,} MiB; save the rows as CSV.", size=size >> 20))
        )
    ends = [0]
    read, rest = 0, b""
    for piece in package.pieces(part):
        text = rest + piece
        begin = read - len(rest)
        ends += [begin + found.end() for found in ITEM_END.finditer(text)]
        read += len(piece)
        rest = text[max(ends[-1] - begin, len(text) - 64, 0) :]
    return np.diff(np.array(ends, np.int64)).astype(np.int64)


def _extent(package: Package, part: str) -> _Extent:
    extent, rest = _Extent(), b""
    for piece in package.pieces(part):
        text = rest + piece
        end = max(text.rfind(b"<"), len(text) - LONG)
        text, rest = text[:end], text[end:]
        cells = USUAL.findall(text)
        if len(cells) != len(CELL.findall(text)):
            return _parsed_extent(package, part)
        filled = [(letters, row) for letters, row, is_empty in cells if not is_empty]
        if filled:
            extent.cells += len(filled)
            rows = [int(row) for row in {row for _, row in filled}]
            columns = [_column(letters) for letters in {letters for letters, _ in filled}]
            extent.reach(min(rows), min(columns))
            extent.reach(max(rows), max(columns))
        if extent.columns > MOST_COLUMNS or extent.cells > MOST_CELLS:
            return extent  # refused as it is
    return _parsed_extent(package, part) if CELL.search(rest) else extent


def _column(letters: bytes) -> int:
    column = 0
    for letter in letters.upper():
        column = column * 26 + letter - ord("A") + 1
    return column


def _parsed_extent(package: Package, part: str) -> _Extent:
    """Return the same from an XML parser: a cell may leave its place out, and then follows the one before."""
    extent = _Extent()
    row = column = 0

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal row, column
        kind, place = tag.rpartition(":")[2], attributes.get("r", "").strip()
        if kind == "row":
            row, column = (int(place[:9]) if place.isdecimal() else row + 1), 0
        elif kind == "c":
            letters = place.rstrip("0123456789")
            column = _column(letters.encode()[:6]) if letters else column + 1
            row = int(place[len(letters) :][:9] or row)
        elif kind in ("v", "is"):
            extent.cells += 1
            extent.reach(row, column)

    def refuse(*_: object) -> None:
        raise BadZipFile("a sheet declares entities")

    parser = expat.ParserCreate()
    parser.StartElementHandler = start
    parser.StartDoctypeDeclHandler = refuse
    try:
        for piece in package.pieces(part):
            parser.Parse(piece)
        parser.Parse(b"", True)
    except expat.ExpatError as error:
        if part.endswith(".xml"):
            raise BadZipFile(str(error)) from error
        return _Extent()  # a picture or the like, in which some bytes look like a cell
    return extent


def _texts(package: Package, part: str, lengths: Lengths) -> int:
    """Return the bytes of a sheet's texts at most: every number may name a shared one."""
    total, rest = package.parts[part].file_size, b""
    longest = int(lengths.max(initial=0))
    for piece in package.pieces(part):
        text = rest + piece
        end = max(text.rfind(b"<"), len(text) - LONG)
        end = max(text.rfind(b"<", 0, end), 0)  # a value stands between two marks
        text, rest = text[: end + 1], text[end:]
        values = VALUE.findall(text)
        total += longest * sum(b"&" in value for value in values)
        named = np.array([int(value) for value in values if value.isdigit() and len(value) < 10], np.int64)
        total += int(lengths[named[named < len(lengths)]].sum())
    return total
