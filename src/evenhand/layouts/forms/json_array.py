"""A JSON text that is not one object to a line: an array of objects, or an object that holds one, as lines.

Source: RFC 8259, sections 2 to 5 (arrays and objects, and the blanks that may stand between their parts).
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

from evenhand.terms.languages import of_file, told
from evenhand.terms.records import Refusal

__all__ = ["lines_of_objects"]

LARGEST = 128 << 20  # characters
BLANK = re.compile(r"[ \t\r\n]*")
BETWEEN = re.compile(r"[ \t\r\n]*,?[ \t\r\n]*")
READ = json.JSONDecoder(parse_int=str, parse_float=str)  # a number of a million digits is not worked out


class _NoArray(Exception):  # noqa: N818  (a signal to this module, never seen outside)
    pass


def lines_of_objects(name: str, text: str) -> list[str] | None:
    """Return the text's lines with each object whole on the line on which it begins; the other lines are empty.

    Where objects share a line, each has a line of its own, in their order. None where the text holds no array of
    objects and no objects one behind the other. What follows the first place that is no JSON stands on its line as it
    is. Raises Refusal where the text is larger than can be read so, or holds several arrays of objects.
    """
    begin = BLANK.match(text, 1 if text.startswith("\ufeff") else 0).end()  # type: ignore[union-attr]
    if text[begin : begin + 1] not in ("[", "{"):
        return None
    try:
        is_array = text[begin] == "["
        found = list(_elements(text, begin + 1)) if is_array else _object_or_row(name, text, begin)
    except (_NoArray, RecursionError):
        return None
    if not any(piece.startswith("{") for _, piece in found):
        return None
    if len(text) > LARGEST:
        raise Refusal(
            of_file(
                name,
                told("a JSON array of {size:,} MiB is too large; export one object to a line.", size=len(text) >> 20),
            )
        )
    return _placed(text, found)


def _object_or_row(name: str, text: str, begin: int) -> list[tuple[int, str]]:
    """Return the rows of the one array of objects that an object holds, or the objects that follow each other."""
    arrays = []
    at = BLANK.match(text, begin + 1).end()  # type: ignore[union-attr]
    while text[at : at + 1] == '"':
        key, at = _value(text, at)
        at = BLANK.match(text, at).end()  # type: ignore[union-attr]
        if text[at : at + 1] != ":":
            raise _NoArray
        at = BLANK.match(text, at + 1).end()  # type: ignore[union-attr]
        value, end = _value(text, at)
        if isinstance(value, list) and value and all(isinstance(each, dict) for each in value):
            arrays.append((str(key), at))
        at = BETWEEN.match(text, end).end()  # type: ignore[union-attr]
    behind = BLANK.match(text, at + 1).end()  # type: ignore[union-attr]
    if behind < len(text) or not arrays:
        return list(_elements(text, begin))
    if len(arrays) > 1:
        named = ", ".join(key for key, _ in arrays)
        raise Refusal(
            of_file(
                name,
                told("the object holds several lists of objects ({named}); save the one that is meant.", named=named),
            )
        )
    return list(_elements(text, arrays[0][1] + 1))


def _value(text: str, at: int) -> tuple[Any, int]:
    try:
        return READ.raw_decode(text, at)
    except ValueError as error:
        raise _NoArray from error


def _elements(text: str, at: int) -> Iterator[tuple[int, str]]:
    """Yield where each element begins and its text; at a place that is no JSON, the line from there on."""
    while (at := BETWEEN.match(text, at).end()) < len(text) and text[at] not in "]}":  # type: ignore[union-attr]
        try:
            _, end = READ.raw_decode(text, at)
        except ValueError:
            line = text[at:].partition("\n")[0]
            yield at, line
            return
        yield at, text[at:end]
        at = end


def _placed(text: str, found: list[tuple[int, str]]) -> list[str]:
    lines: list[str] = []
    line, seen = 0, 0
    numbers = []
    for at, _ in found:
        line += text.count("\n", seen, at)
        seen = at
        numbers.append(line)
    pieces = [piece.replace("\n", " ").replace("\r", " ") for _, piece in found]
    if len(set(numbers)) < len(numbers):
        return pieces
    for number, piece in zip(numbers, pieces, strict=True):
        lines += [""] * (number - len(lines))
        lines.append(piece)
    return lines
