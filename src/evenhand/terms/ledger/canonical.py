"""Canonical JSON, so that what is digested today is digested alike by anybody, years later.

Numbers are whole and below 2^53, since others read JSON's numbers as doubles; money, badge numbers and anything with a
fraction are texts.

Source: RFC 8785, JSON Canonicalization Scheme, sections 3.2 and appendix D
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping, Sequence
from typing import TypeAlias

import rfc8785

__all__ = ["LARGEST_NUMBER", "Plain", "Stored", "canonical", "digest", "row_text", "row_writer"]

Plain: TypeAlias = "bool | int | str | Sequence[Plain] | Mapping[str, Plain] | None"
"""What an entry may hold."""
Stored = int | float | str | bytes | None
"""What a stored row may hold."""

LARGEST_NUMBER = 2**53 - 1

_text = json.encoder.encode_basestring


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
        return f"[{_text(table)},{_text(key)},null]".encode()
    return row_writer(table, list(row))(key, list(row.values()))


def row_writer(table: str, columns: Sequence[str]) -> Callable[[str, Sequence[Stored]], bytes]:
    """Return what writes as `row_text` does the rows of a table whose values stand in the order of `columns`.

    Names of columns are ASCII, for which the order of code points is that of RFC 8785, and the standard library's
    escapes in texts are those of section 3.2.2.2. So a million rows take seconds.
    """
    order = sorted(range(len(columns)), key=columns.__getitem__)
    members = [(place, f"{_text(columns[place])}:") for place in order]
    before = f"[{_text(table)},"

    def write(key: str, values: Sequence[Stored]) -> bytes:
        held = [
            name + (_text(value) if type(value) is str else _number(value) if type(value) is int else _other(value))
            for place, name in members
            if (value := values[place]) is not None
        ]
        return f"{before}{_text(key)},{{{','.join(held)}}}]".encode()

    return write


def _number(value: int) -> str:
    return str(value) if -LARGEST_NUMBER <= value <= LARGEST_NUMBER else f'"{value}"'


def _other(value: Stored) -> str:
    """Return what has no number of JSON's as a text."""
    if isinstance(value, bytes | bytearray | memoryview):
        return f'"{digest(bytes(value))}"'
    return _text(repr(value))
