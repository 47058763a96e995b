"""From bytes to text: what is no text is refused, and the encoding is decided strictly.

Source: byte order marks, The Unicode Standard, section 23.8; leading bytes as each format's specification gives them.
"""

from __future__ import annotations

import codecs

from evenhand.layouts.forms.code_pages import CENTRAL, WESTERN, better_pages, code_page_of
from evenhand.terms.languages import in_a_row, of_file, told
from evenhand.terms.records import Refusal

__all__ = ["DAMAGED", "LONGEST_LINE", "MARKS", "WORKBOOK", "encoding_of", "is_workbook", "to_utf8"]

LONGEST_LINE = 1 << 20  # [bytes]
BLANK = b"\x00\t\r\n\x1a "
DAMAGED = "\ufffd"
CONTROLS = bytes({*range(32)} - {*b"\t\n\v\f\r\x1a"})
BINARY = told("this is a binary file, not a table; export the rows as CSV or XLSX.")

# The longer marks first: that of UTF-16 begins that of UTF-32.
MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
WORKBOOK = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")
NO_TEXT = (
    (b"%PDF", told("a PDF")),
    (b"\x89PNG", told("a picture")),
    (b"\xff\xd8\xff", told("a picture")),
    (b"GIF8", told("a picture")),
    (b"\x1f\x8b", told("a compressed file")),
    (b"PAR1", told("a Parquet file")),
    (b"SQLite format 3", told("a database")),
    (b"{\\rtf", told("a word processor's file")),
)


def is_workbook(content: bytes) -> bool:
    """Return whether the content begins as a spreadsheet program's workbook does."""
    return content.startswith(WORKBOOK)


def to_utf8(name: str, content: bytes, encoding: str = "") -> bytes:
    """Return the content as valid UTF-8 with every line end as one newline; lines in another encoding hold `DAMAGED`.

    Without a stated `encoding`: a byte order mark decides; else zeros between the letters tell UTF-16; else what
    decodes as UTF-8 is UTF-8; else the words tell the code page. Raises Refusal for an empty or binary file, an
    encoding that does not fit, and one that nothing tells.
    """
    for start, what in NO_TEXT:
        if content.startswith(start):
            raise Refusal(
                of_file(name, told("this is {what}, not a table; export the rows as CSV or XLSX.", what=what))
            )
    text = _recoded(name, content, encoding)
    if not (text[:4096].strip(BLANK) or text.strip(BLANK)):
        raise Refusal(of_file(name, told("the file is empty; export it again.")))
    if b"\0" in text and text.count(b"\0") * 20 > len(text):
        raise Refusal(of_file(name, BINARY))
    if b"\r" in text:
        text = text.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    return text.rstrip(b"\x1a") if text.endswith(b"\x1a") else text


def encoding_of(name: str, content: bytes, encoding: str = "") -> str:
    """Return the name of the encoding that `to_utf8` reads a text in; raises Refusal where it does."""
    encoding = _told(content, encoding)
    if encoding and codecs.lookup(encoding).name not in ("utf-8", "utf-8-sig"):
        return codecs.lookup(encoding).name
    content = content.removeprefix(codecs.BOM_UTF8)
    return "utf-8" if content.isascii() or _decodes(content) else _most_in(name, content, encoding)[0]


def _told(content: bytes, encoding: str) -> str:
    """Return the encoding that is stated, or that the first bytes tell; '' where neither does."""
    return encoding or next((named for mark, named in MARKS if content.startswith(mark)), "") or _wide(content)


def _recoded(name: str, content: bytes, encoding: str) -> bytes:
    encoding = _told(content, encoding)
    if encoding and codecs.lookup(encoding).name.startswith(("utf-16", "utf-32")):
        return _from_wide(content, encoding)
    if encoding and codecs.lookup(encoding).name not in ("utf-8", "utf-8-sig"):
        try:
            return content.decode(encoding).removeprefix("\ufeff").encode()
        except UnicodeError as error:
            before = content[: error.start].count(b"\n") if isinstance(error, UnicodeDecodeError) else 0
            raise Refusal(
                told(
                    "{name} line {line}: not {encoding}; state the file's encoding in the layout.",
                    name=name,
                    line=before + 1,
                    encoding=encoding,
                )
            ) from error
    content = content.removeprefix(codecs.BOM_UTF8)
    return content if content.isascii() or _decodes(content) else _mostly_one(name, content, encoding)


def _wide(content: bytes) -> str:
    """Return which UTF-16 a text without a mark is in, '' where it is none: digits and delimiters have a zero byte."""
    head = content[: 1 << 16]
    if b"\0" not in head:
        return ""
    first, second = head[0::2], head[1::2]
    for zeros, others, encoding in ((second, first, "utf-16-le"), (first, second, "utf-16-be")):
        if zeros.count(0) * 3 > len(zeros) and others.count(0) * 100 < len(others):
            return encoding
    return ""


def _from_wide(content: bytes, encoding: str) -> bytes:
    """Return the text of UTF-16 or UTF-32; a last character that is cut short, or half a pair, is `DAMAGED`."""
    return content.decode(encoding, errors="replace").removeprefix("\ufeff").encode()


def _mostly_one(name: str, content: bytes, encoding: str) -> bytes:
    """Return what is not UTF-8 as a whole, in the encoding of most of its lines that tell."""
    head = content[: 1 << 16]
    if len(head) - len(head.translate(None, CONTROLS)) > len(head) // 50:
        raise Refusal(of_file(name, BINARY))
    page, lines, is_utf8 = _most_in(name, content, encoding)
    if page == "utf-8":
        return content.decode("utf-8", errors="replace").encode()
    for at, is_other in is_utf8.items():
        try:
            text = lines[at].decode(page)
        except UnicodeDecodeError as error:
            raise Refusal(
                told(
                    "{name} line {line}: neither UTF-8 nor {page}; state the file's encoding in the layout.",
                    name=name,
                    line=at + 1,
                    page=page.title(),
                )
            ) from error
        lines[at] = (DAMAGED + text if is_other else text).encode()
    return b"\n".join(lines)


def _most_in(name: str, content: bytes, encoding: str) -> tuple[str, list[bytes], dict[int, bool]]:
    """Return the encoding of most lines that tell, all lines, and for those that tell whether they are UTF-8."""
    lines = content.replace(b"\r\n", b"\n").replace(b"\r", b"\n").split(b"\n")
    is_utf8 = {at: _decodes(line) for at, line in enumerate(lines) if not line.isascii()}
    fits = sum(is_utf8.values())
    if encoding or fits > len(is_utf8) - fits:
        return "utf-8", lines, is_utf8
    return _page(name, b"\n".join(lines[at] for at, fits in is_utf8.items() if not fits)), lines, is_utf8


def _page(name: str, content: bytes) -> str:
    page, open_word = code_page_of(content)
    better, shown = better_pages(content, page)
    if len(better) == 1:
        return better[0]
    if better:
        raise Refusal(
            of_file(
                name,
                told(
                    "{text} reads better in another code page; save the file as UTF-8, or put the right one "
                    "as encoding into its layout: {pages}.",
                    text=repr(shown),
                    pages=in_a_row("{one} or {other}", better),
                ),
            )
        )
    if shown:
        raise Refusal(
            of_file(
                name,
                told(
                    "{text} has signs amid its letters, so the file is in a code page that is not known "
                    "here; save it as UTF-8, or put its code page as encoding into its layout.",
                    text=repr(shown),
                ),
            )
        )
    if not page:
        other = open_word.encode("cp1252", errors="replace").decode("cp1250", errors="replace")
        raise Refusal(
            of_file(
                name,
                told(
                    "{word} may be meant, or {other}, for the file is not UTF-8 and does not tell its code "
                    "page; save it as UTF-8, or put {western} or {central} as encoding into its layout.",
                    word=repr(open_word),
                    other=repr(other),
                    western=WESTERN,
                    central=CENTRAL,
                ),
            )
        )
    return page


def _decodes(line: bytes) -> bool:
    try:
        line.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True
