"""The text of a workbook's file that is in no cell: names, remarks, headers and footers, links, who wrote it.

Source: ECMA-376 part 1, 18.3 (worksheets), 18.4.8 (shared texts); part 2 (a package is a ZIP whose parts are XML);
OpenDocument 1.3 part 3, 14.1 (`office:annotation`).
"""

from __future__ import annotations

import html
import io
import re
import zipfile
from collections.abc import Iterator

__all__ = ["said_beside_cells"]

PACKED = b"PK"
LARGEST = 200_000_000  # bytes of a part, unpacked
LOOKS = ("xl/theme/", "xl/styles.xml")
"""Parts that say how cells look."""
SHARED, OPEN_CONTENT = OF_CELLS = ("xl/sharedStrings.xml", "content.xml")
"""Parts that hold the texts of cells, and others."""
CELLS = re.compile(r"<(?:\w+:)?sheetData\b.*?</(?:\w+:)?sheetData>", re.DOTALL)
FORMULA = re.compile(r"<(?:\w+:)?f\b[^>]*>([^<]*)<")
REMARK = re.compile(r"<office:annotation\b.*?</office:annotation>", re.DOTALL)
SHARED_TEXT = re.compile(r"<(?:\w+:)?si\b.*?</(?:\w+:)?si>", re.DOTALL)
TAG = re.compile(r"<[^>]*>")
VALUE = re.compile(r"""=\s*(?:"([^"]*)"|'([^']*)')""")
NO_WORD = re.compile(r"[{]?[0-9A-Fa-f.,:-]*[}]?")  # a number, a colour, an identifier of a program's
PRINTED = re.compile(rb"[\x20-\x7e\xa0-\xff]{3,}|(?:[\x20-\x7e\xa0-\xff]\x00){3,}")


def said_beside_cells(content: bytes, cells: frozenset[str]) -> Iterator[tuple[str, str]]:
    """Yield where, and what, a workbook's file says that is none of the texts of its `cells`."""
    if not content.startswith(PACKED):
        whole = "\n".join(cells)
        yield from (("file", text) for text in _printed(content) if text.strip() not in whole)
        return
    try:
        packed = zipfile.ZipFile(io.BytesIO(content))
        parts = [(one.filename, packed.read(one)) for one in packed.infolist() if one.file_size <= LARGEST]
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError):
        yield from (("file", text) for text in _printed(content))
        return
    for name, part in parts:
        known = {line for one in cells for line in (one, *one.splitlines())} if name in OF_CELLS else ()
        if not name.startswith(LOOKS):
            yield from ((name, text) for text in _of_part(name, part) if text.strip() and text not in known)


def _of_part(name: str, part: bytes) -> Iterator[str]:
    yield name.rpartition("/")[2]
    if not part.lstrip(b"\xef\xbb\xbf \r\n\t").startswith(b"<"):
        yield from _printed(part)
        return
    text = part.decode("utf-8", errors="replace")
    if name == SHARED:
        yield from (html.unescape(TAG.sub("", one)) for one in SHARED_TEXT.findall(text))
        return
    if name == OPEN_CONTENT:
        yield from (html.unescape(TAG.sub(" ", one)) for one in REMARK.findall(text))
        text = REMARK.sub("", text)
    for cells in CELLS.findall(text):
        yield from map(html.unescape, FORMULA.findall(cells))
    text = CELLS.sub("", text)
    for tag in TAG.findall(text):
        yield from (
            html.unescape(one or other) for one, other in VALUE.findall(tag) if not NO_WORD.fullmatch(one or other)
        )
    yield from map(html.unescape, TAG.split(text))


def _printed(content: bytes) -> Iterator[str]:
    """Yield the texts that stand in bytes which are no text, in one byte or two to a letter."""
    for one in PRINTED.finditer(content):
        yield one[0].replace(b"\x00", b"").decode("latin-1")
