"""How far the cells of an XLS workbook reach, told from its records before a library lays them out.

Source: [MS-CFB], sections 2.2 to 2.6 (the file as sectors, chained by a table); [MS-XLS], section 2.4 (records, of
which those that hold cells begin with a row and a column).
"""

from __future__ import annotations

import struct
from array import array
from collections.abc import Iterator

__all__ = ["BROKEN", "OLD_MARK", "counts_from_1904", "reaches"]

BROKEN = (struct.error, IndexError, ValueError, KeyError, StopIteration)
"""What a file that is not put together as it should be may raise."""

OLD_MARK = b"\xd0\xcf\x11\xe0"
END = 0xFFFFFFFA  # the first of the numbers that are no sectors
STREAMS = ("workbook", "book")
BEGIN, SIZES, FILE_END, DAYS_FROM = 0x0809, 0x0200, 0x000A, 0x0022
CELLS = {0x0006, 0x00D6, 0x00FD, 0x0201, 0x0203, 0x0204, 0x0205, 0x027E}
SEVERAL = {0x00BD, 0x00BE}  # several cells of a row: the last column stands at the end
LEAST, SMALL = 4096, 64  # [bytes]; a smaller stream lies in small sectors, inside the stream of the first entry


def reaches(content: bytes) -> Iterator[tuple[int, int, int]]:
    """Yield for each sheet the rows and columns up to its furthest cell, or its claim, and the number of its cells."""
    stream = _workbook_stream(content)
    at = rows = columns = cells = 0
    while at + 4 <= len(stream):
        kind, length = struct.unpack_from("<HH", stream, at)
        body = at + 4
        if kind == BEGIN:
            rows = columns = cells = 0
        elif kind == SIZES and length >= 12:
            _, claimed_rows, _, claimed_columns = struct.unpack_from("<IIHH", stream, body)
            rows, columns = max(rows, claimed_rows), max(columns, claimed_columns)
        elif kind in CELLS or kind in SEVERAL:
            row, column = struct.unpack_from("<HH", stream, body)
            if kind in SEVERAL:
                (column,) = struct.unpack_from("<H", stream, body + length - 2)
            rows, columns, cells = max(rows, row + 1), max(columns, column + 1), cells + 1
        elif kind == FILE_END:
            yield rows, columns, cells
        at = body + length


def counts_from_1904(content: bytes) -> bool:
    """Return whether the workbook counts its days from 1904, as the part that stands before its sheets says."""
    stream = _workbook_stream(content)
    at = 0
    while at + 4 <= len(stream):
        kind, length = struct.unpack_from("<HH", stream, at)
        if kind == DAYS_FROM:
            return bool(struct.unpack_from("<H", stream, at + 4)[0])
        if kind == FILE_END:
            return False
        at += 4 + length
    return False


def _workbook_stream(content: bytes) -> bytes:
    sector = 1 << struct.unpack_from("<H", content, 30)[0]
    table_sectors, first_directory = struct.unpack_from("<I", content, 44)[0], struct.unpack_from("<I", content, 48)[0]
    listed, further = list(struct.unpack_from("<109I", content, 76)), struct.unpack_from("<I", content, 68)[0]
    while further < END and len(listed) < table_sectors:
        numbers = struct.unpack_from(f"<{sector // 4}I", content, (further + 1) * sector)
        listed += numbers[:-1]
        further = numbers[-1]
    chain = array("I")
    for number in listed[:table_sectors]:
        if number < END:
            chain.frombytes(content[(number + 1) * sector : (number + 2) * sector])
    directory = _chained(content, chain, sector, first_directory)
    entries: dict[str, tuple[int, int]] = {}
    for at in range(0, len(directory) - 127, 128):
        named = directory[at : at + max(directory[at + 64] - 2, 0)].decode("utf-16-le", errors="replace")
        entries.setdefault(named.casefold(), struct.unpack_from("<II", directory, at + 116))
    first, size = next(entries[named] for named in STREAMS if named in entries)
    if size >= LEAST:
        return _chained(content, chain, sector, first)[:size]
    small = array("I", _chained(content, chain, sector, struct.unpack_from("<I", content, 60)[0]))
    held = _chained(content, chain, sector, struct.unpack_from("<I", directory, 116)[0])
    # Its first sector has no header before it.
    return _chained(bytes(SMALL) + held, small, SMALL, first)[:size]


def _chained(content: bytes, chain: array[int], sector: int, number: int) -> bytes:
    """Return the sectors from `number` on, in the order of the table; a chain that runs in a ring is a ValueError."""
    found: list[bytes] = []
    while number < END:
        if len(found) > len(content) // sector:
            raise ValueError("the sectors run in a ring")
        found.append(content[(number + 1) * sector : (number + 2) * sector])
        number = chain[number]
    return b"".join(found)
