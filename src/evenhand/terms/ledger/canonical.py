"""Canonical JSON, so that what is digested today is digested alike by anybody, years later.

Numbers are whole and below 2^53, since others read JSON's numbers as doubles; money, badge numbers and anything with a
fraction are texts.

Source: RFC 8785, JSON Canonicalization Scheme, sections 3.2 and appendix D
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from typing import TypeAlias

import rfc8785

__all__ = ["LARGEST_NUMBER", "Plain", "Stored", "canonical", "digest", "row_text", "row_writer", "text_of"]

Plain: TypeAlias = "bool | int | str | Sequence[Plain] | Mapping[str, Plain] | None"
"""What an entry may hold."""
Stored = int | float | str | bytes | None
"""What a stored row may hold."""

LARGEST_NUMBER = 2**53 - 1

text_of = json.encoder.encode_basestring
"""Returns a text as JSON's, with the standard library's escapes, which are those of section 3.2.2.2."""


def canonical(value: Plain) -> bytes:
    """Return the canonical JSON of a value; raises ValueError where it holds what RFC 8785 has no form for."""
    return rfc8785.dumps(value)


def digest(content: bytes) -> str:
    """Return the SHA-256 of some bytes in hexadecimal digits. Source: FIPS 180-4."""
    return hashlib.sha256(content).hexdigest()


def row_text(table: str, key: str, row: Mapping[str, Stored] | None) -> bytes:
    """Return the canonical JSON `[table, key, row]` of a stored row, None for one that is there no longer.

    What a row leaves empty is left out, so that a column that a later version adds changes nothing. A number with a
    fraction is its shortest text, bytes are their SHA-256.
    """
    if row is None:
        return f"[{text_of(table)},{text_of(key)},null]".encode()
    return row_writer(table, tuple(row))(key, list(row.values()))


@cache
def row_writer(table: str, columns: tuple[str, ...]) -> Callable[[str, Sequence[Stored]], bytes]:
    """Return what writes as `row_text` does the rows of a table whose values stand in the order of `columns`.

    Names of columns are ASCII, for which the order of code points is that of RFC 8785. So a million rows take seconds.
    """
    order = sorted(range(len(columns)), key=columns.__getitem__)
    members = [(place, f",{text_of(columns[place])}:") for place in order]
    before, largest = f"[{text_of(table)},", LARGEST_NUMBER

    def write(key: str, values: Sequence[Stored]) -> bytes:
        parts = [before, text_of(key), ",{"]
        for place, name in members:
            if (value := values[place]) is None:
                continue
            if type(value) is str:
                parts += name, text_of(value)
            elif type(value) is int and -largest <= value <= largest:
                parts += name, str(value)
            else:
                parts += name, _other(value)
        if len(parts) > 3:
            parts[3] = parts[3][1:]  # the comma before the first member
        parts.append("}]")
        return "".join(parts).encode()

    return write


def _other(value: Stored) -> str:
    """Return what has no number of JSON's as a text; a whole number too large for one stands as its digits."""
    if isinstance(value, bytes | bytearray | memoryview):
        return f'"{digest(bytes(value))}"'
    return text_of(repr(value))
