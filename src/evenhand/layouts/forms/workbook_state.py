"""What a workbook says of itself beside its cells: the day from which it counts, and what of it is hidden.

Source: ECMA-376 part 1, 18.2.28 and 18.17.4.1 (`date1904`), 18.2.19 (the state of a sheet), 18.3.1.73 (hidden rows);
[MS-XLS], 2.4.77 (Date1904); OpenDocument 1.3 part 3, 9.4.2 (`table:null-date`).
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from evenhand.layouts.forms import old_workbooks
from evenhand.layouts.forms.packages import DAMAGED_PACKAGE, WORKBOOK, Package

__all__ = ["Hidden", "counts_from_1904", "find_hidden"]

FROM_1904 = re.compile(r"""<(?:\w+:)?workbookPr\b[^>]*\bdate1904\s*=\s*["'](?:1|true)["']""")
OTHER_DAY = re.compile(rb"""<table:null-date\b[^>]*date-value=["'](?!1899-12-30)""")
HIDDEN_ROW = re.compile(rb"""<(?:\w+:)?row\b[^>]*\shidden=["'](?:1|true)["']""")
LONGEST_TAG = 1 << 12  # [bytes]
CONTENT = "content.xml"


@dataclass(frozen=True)
class Hidden:
    """Whether a sheet is hidden, and how many of its rows are."""

    sheet: bool = False
    rows: int = 0


def counts_from_1904(content: bytes) -> bool:
    """Return whether a workbook counts its days from another day than most do, which is 1904-01-01."""
    try:
        if content.startswith(old_workbooks.OLD_MARK):
            return old_workbooks.counts_from_1904(content)
        package = Package(content)
        if CONTENT in package.parts:
            return OTHER_DAY.search(next(package.pieces(CONTENT), b"")) is not None
        return FROM_1904.search(package.text(WORKBOOK)) is not None
    except (*DAMAGED_PACKAGE, *old_workbooks.BROKEN):
        return False


def find_hidden(content: bytes, sheet: str) -> Hidden:
    """Return what of an XLSX workbook's sheet is hidden, of the first where it is ''; other kinds do not tell."""
    try:
        package = Package(content)
        name = sheet or next(iter(package.sheets))
        rows, rest = 0, b""
        for piece in package.pieces(package.sheets[name]):
            text = rest + piece
            rows += len(HIDDEN_ROW.findall(text))
            # What may be half a tag is looked at again with the next piece.
            last = text[max(text.rfind(b"<"), len(text) - LONGEST_TAG) :]
            rest = b"" if b">" in last else last
        return Hidden(package.states[name] in ("hidden", "veryHidden"), rows)
    except (*DAMAGED_PACKAGE, StopIteration):
        return Hidden()
