"""From bytes to text: what is no text is refused, and the encoding is decided strictly.

Source: byte order marks, The Unicode Standard, section 23.8; leading bytes as each format's specification gives them.
"""

from __future__ import annotations

import codecs

from evenhand.terms.records import Refusal

__all__ = ["DAMAGED", "LONGEST_LINE", "WORKBOOK", "is_workbook", "to_utf8"]

LONGEST_LINE = 1 << 20  # [bytes]
BLANK = b"\x00\t\r\n\x1a "
LARGEST = 2_000_000_000  # [bytes]; one text buffer holds no more
DAMAGED = "\ufffd"

WORKBOOK = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")
NO_TEXT = (
    (b"%PDF", "a PDF"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
    (b"\x1f\x8b", "a compressed file"),
    (b"PAR1", "a Parquet file"),
    (b"SQLite format 3", "a database"),
    (b"{\\rtf", "a word processor's file"),
)


def is_workbook(content: bytes) -> bool:
    """Return whether the content begins as a spreadsheet program's workbook does."""
    return content.startswith(WORKBOOK)


def to_utf8(name: str, content: bytes, encoding: str = "") -> bytes:
    """Return the content as valid UTF-8 with every line end as one newline; lines in another encoding hold `DAMAGED`.

    Without a stated `encoding`: a byte order mark decides; else what decodes as UTF-8 is UTF-8; else Windows-1252.
    Raises Refusal for an empty or binary file, and an encoding that does not fit.
    """
    if len(content) > LARGEST:
        raise Refusal(f"{name}: the file is larger than {LARGEST:,} bytes; hand it over in parts.")
    for start, what in NO_TEXT:
        if content.startswith(start):
            raise Refusal(f"{name}: this is {what}, not a table; export the rows as CSV or XLSX.")
    text = _recoded(name, content, encoding)
    if not (text[:4096].strip(BLANK) or text.strip(BLANK)):
        raise Refusal(f"{name}: the file is empty; export it again.")
    if b"\0" in text and text.count(b"\0") * 20 > len(text):
        raise Refusal(f"{name}: this is a binary file or UTF-16 without its mark; save it as CSV in UTF-8.")
    if b"\r" in text:
        text = text.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    return text.rstrip(b"\x1a") if text.endswith(b"\x1a") else text


def _recoded(name: str, content: bytes, encoding: str) -> bytes:
    if not encoding and content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        encoding = "utf-16"
    if encoding and codecs.lookup(encoding).name != "utf-8":
        try:
            return content.decode(encoding).removeprefix("\ufeff").encode()
        except UnicodeError as error:
            before = content[: error.start].count(b"\n") if isinstance(error, UnicodeDecodeError) else 0
            raise Refusal(
                f"{name} line {before + 1}: not {encoding}; state the file's encoding in the layout."
            ) from error
    if content.startswith(codecs.BOM_UTF8):
        content = content.removeprefix(codecs.BOM_UTF8)
    return content if content.isascii() or _decodes(content) else _mostly_one(name, content, encoding)


def _mostly_one(name: str, content: bytes, encoding: str) -> bytes:
    """Return what is not UTF-8 as a whole, in the encoding of most of its lines that tell."""
    lines = content.split(b"\n")
    is_utf8 = {at: _decodes(line) for at, line in enumerate(lines) if not line.isascii()}
    fits = sum(is_utf8.values())
    if encoding or fits > len(is_utf8) - fits:
        return content.decode("utf-8", errors="replace").encode()
    for at, line in enumerate(lines):
        try:
            text = line.decode("windows-1252")
        except UnicodeDecodeError as error:
            raise Refusal(
                f"{name} line {at + 1}: neither UTF-8 nor Windows-1252; state the file's encoding in the layout."
            ) from error
        lines[at] = (DAMAGED + text if is_utf8.get(at) else text).encode()
    return b"\n".join(lines)


def _decodes(line: bytes) -> bool:
    try:
        line.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True
