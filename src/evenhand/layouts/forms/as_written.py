"""A text with some lines changed, as its file was written: in its encoding, with its mark, each line with its end.

Lines that stay keep their bytes, also those that are damaged. Source: byte order marks, The Unicode Standard, section
23.8.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Sequence
from dataclasses import dataclass

from evenhand.layouts.forms.encoding import DAMAGED, MARKS, encoding_of, to_utf8
from evenhand.terms.records import Refusal

__all__ = ["rewritten"]

ENDS = re.compile(r"\r\n|\r|\n")
LITTLE_OR_BIG = {codecs.BOM_UTF16_BE: "-be", codecs.BOM_UTF32_BE: "-be"}
CONTROL_Z = "\x1a"


@dataclass(frozen=True)
class _Written:
    """The lines of a file as bytes, each with its end; `mark` stands before the first, `behind` after the last."""

    encoding: str
    mark: bytes
    lines: Sequence[bytes]
    ends: Sequence[bytes]
    behind: bytes

    @property
    def usual_end(self) -> bytes:
        """Return what a line ends with where the file tells of no other."""
        return next((end for end in self.ends if end), "\n".encode(self.encoding))


def rewritten(name: str, content: bytes, encoding: str, before: Sequence[str], after: Sequence[str]) -> bytes:
    """Return a file whose lines were `before`, as they are read by `encoding` ('' where its bytes tell), as `after`.

    Where it would be read otherwise then, since what told its encoding is gone, it is UTF-8, which is told by itself.
    """
    written = _written(name, content, encoding)
    end = written.usual_end
    if _lines_of(name, content, encoding) == list(before):
        lines = [
            raw if was == now else _bytes(now, written.encoding)
            for raw, was, now in zip(written.lines, before, after, strict=True)
        ]
        ends = list(written.ends)
    else:  # a list of JSON objects becomes one object to a line
        lines = [_bytes(now, written.encoding) for now in after]
        ends = [end] * len(lines)
    if lines and not lines[-1]:  # else the row that ends the file would have no line any more
        ends[-1] = ends[-1] or end
    body = b"".join(line + end for line, end in zip(lines, ends, strict=True))
    left = written.mark + body + written.behind
    return left if _is_read_as(name, left, encoding, after) else _as_utf8(after, encoding)


def _written(name: str, content: bytes, encoding: str) -> _Written:
    codec = encoding_of(name, content, encoding)
    mark = next((mark for mark, named in MARKS if content.startswith(mark) and codec.startswith(named)), b"")
    if codec in ("utf-16", "utf-32"):
        codec += LITTLE_OR_BIG.get(mark, "-le")
    body = content[len(mark) :]
    if not codec.startswith(("utf-16", "utf-32")):
        return _parted(codec, mark, body.decode("latin-1"), "latin-1")
    return _parted(codec, mark, body.decode(codec, errors="replace"), codec)


def _parted(codec: str, mark: bytes, text: str, read_by: str) -> _Written:
    """Return the lines of a text, which is told by `read_by`: its bytes one by one, or the characters of a wide one."""
    behind = text[len(text.rstrip(CONTROL_Z)) :]
    text = text.removesuffix(behind) if behind else text
    lines, ends = ENDS.split(text), [*ENDS.findall(text), ""]
    if not lines[-1]:
        del lines[-1], ends[-1]
    return _Written(
        codec,
        mark,
        [one.encode(read_by) for one in lines],
        [one.encode(read_by) for one in ends],
        behind.encode(read_by),
    )


def _bytes(line: str, encoding: str) -> bytes:
    """Return a line in the encoding of the file; one that was damaged there stays in that which it was in."""
    try:
        return line.encode(encoding)
    except UnicodeEncodeError:
        return line.removeprefix(DAMAGED).encode()


def _is_read_as(name: str, content: bytes, encoding: str, lines: Sequence[str]) -> bool:
    try:
        return not any(lines) or _lines_of(name, content, encoding) == list(lines)
    except Refusal:
        return False


def _lines_of(name: str, content: bytes, encoding: str) -> list[str]:
    lines = to_utf8(name, content, encoding).decode().split("\n")
    return lines if lines[-1] else lines[:-1]


def _as_utf8(lines: Sequence[str], encoding: str) -> bytes:
    return "".join(f"{line}\n" for line in lines).encode(encoding or "utf-8", errors="replace")
