"""The packed parts of an XLSX workbook, unpacked in pieces, and what the workbook would cost to open.

Neither the sizes that a package claims nor the places of its cells are believed: they are measured before a library
lays the cells out. Source: ECMA-376 part 1, 18.3.1.4 (cells), 18.4.8 (shared texts); part 2 (a package is a ZIP).
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from html import unescape
from io import BytesIO
from posixpath import basename
from zipfile import ZIP_DEFLATED, ZIP_STORED, BadZipFile, ZipFile, ZipInfo

__all__ = ["DAMAGED_PACKAGE", "WORKBOOK", "Package"]

DAMAGED_PACKAGE = (BadZipFile, KeyError, EOFError, NotImplementedError, ValueError, OSError, zlib.error)
"""What opening and reading the parts of a package may raise."""

MARK = b"PK\x03\x04"
PIECE = 1 << 20  # [bytes]
LOCAL_HEADER = 30  # [bytes], before the name and the extra field, whose lengths are its last two numbers
WORKBOOK, RELATIONS = "xl/workbook.xml", "xl/_rels/workbook.xml.rels"
ATTRIBUTE = re.compile(r"""([\w:]+)\s*=\s*["']([^"']*)["']""")


@dataclass
class Package:
    """A ZIP as its parts; raises one of `DAMAGED_PACKAGE`, from whatever is asked first, where it is none."""

    content: bytes = field(repr=False)

    @cached_property
    def parts(self) -> dict[str, ZipInfo]:
        """Return the parts by name."""
        with ZipFile(BytesIO(self.content)) as archive:
            listed = archive.infolist()
        parts = {part.filename: part for part in listed}
        if len(parts) < len(listed):
            raise BadZipFile("two parts have one name")
        return parts

    @cached_property
    def relations(self) -> list[dict[str, str]]:
        """Return the attributes of what the workbook is made of: `Id`, `Target`, `Type`."""
        return _elements(self.text(RELATIONS), "Relationship") if RELATIONS in self.parts else []

    @cached_property
    def sheets(self) -> dict[str, str]:
        """Return the part of each sheet, by the sheet's name, in their order."""
        targets = {each["Id"]: each["Target"] for each in self.relations}
        return {each["name"]: self.part_of(targets[each["id"]]) for each in _elements(self.text(WORKBOOK), "sheet")}

    @cached_property
    def states(self) -> dict[str, str]:
        """Return the state of each sheet, by the sheet's name: visible, hidden or veryHidden."""
        sheets = _elements(self.text(WORKBOOK), "sheet")
        return {each["name"]: each.get("state", "visible") for each in sheets}

    def part_of(self, target: str) -> str:
        """Return the name of the part that a relation points to; raises KeyError where it is none."""
        for name in (f"xl/{target}", target.lstrip("/")):
            if name in self.parts:
                return name
        return next(name for name in self.parts if basename(name) == basename(target))

    def text(self, part: str) -> str:
        """Return a small part, such as the list of sheets, as text."""
        return b"".join(self.pieces(part)).decode("utf-8-sig")

    def pieces(self, part: str) -> Iterator[bytes]:
        """Yield a part's content in pieces; raises BadZipFile as soon as it is longer than it says, or at its end."""
        listed = self.parts[part]
        begin = listed.header_offset
        header = self.content[begin : begin + LOCAL_HEADER]
        if not header.startswith(MARK) or listed.flag_bits & 1:
            raise BadZipFile("a part is not where it should be, or encrypted")
        begin += LOCAL_HEADER + int.from_bytes(header[26:28], "little") + int.from_bytes(header[28:30], "little")
        packed = memoryview(self.content)[begin : begin + listed.compress_size]
        left = listed.file_size
        for piece in _unpacked(packed, listed.compress_type):
            if (left := left - len(piece)) < 0:
                break
            yield piece
        if left:
            raise BadZipFile("a part is not as long as it says")


def _unpacked(packed: memoryview, method: int) -> Iterator[bytes]:
    if method == ZIP_STORED:
        yield from (bytes(packed[at : at + PIECE]) for at in range(0, len(packed), PIECE))
        return
    if method != ZIP_DEFLATED:
        raise NotImplementedError("a part is packed in a way that workbooks are not")
    unpacking = zlib.decompressobj(-zlib.MAX_WBITS)
    for at in range(0, len(packed), PIECE):
        rest: bytes | memoryview = packed[at : at + PIECE]
        while rest and not unpacking.eof:
            yield unpacking.decompress(rest, PIECE)
            rest = unpacking.unconsumed_tail
    while not unpacking.eof and (last := unpacking.decompress(b"", PIECE)):
        yield last


def _elements(text: str, tag: str) -> list[dict[str, str]]:
    """Return the attributes of each element, without the prefixes of their names."""
    found = re.findall(rf"<(?:\w+:)?{tag}\b([^>]*)>", text)
    return [{name.rpartition(":")[2]: unescape(value) for name, value in ATTRIBUTE.findall(each)} for each in found]
