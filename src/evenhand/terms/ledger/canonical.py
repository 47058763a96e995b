"""Canonical JSON, so that what is digested today is digested alike by anybody, years later.

Numbers are whole and below 2^53, since others read JSON's numbers as doubles; money, badge numbers and anything with a
fraction are texts.

Source: RFC 8785, JSON Canonicalization Scheme, sections 3.2 and appendix D
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from typing import TypeAlias

import rfc8785

__all__ = ["LARGEST_NUMBER", "Plain", "Stored", "canonical", "digest", "row_text"]

Plain: TypeAlias = "bool | int | str | Sequence[Plain] | Mapping[str, Plain] | None"
"""What an entry may hold."""
Stored = int | float | str | bytes | None
"""What a stored row may hold."""

LARGEST_NUMBER = 2**53 - 1

_encode = json.JSONEncoder(ensure_ascii=False, check_circular=False, sort_keys=True, separators=(",", ":")).encode


def canonical(value: Plain) -> bytes:
    """Return the canonical JSON of a value; raises ValueError where it holds what RFC 8785 has no form for."""
    return rfc8785.dumps(value)


def digest(content: bytes) -> str:
    """Return the SHA-256 of some bytes in hexadecimal digits. Source: FIPS 180-4."""
    return hashlib.sha256(content).hexdigest()


def row_text(table: str, key: str, row: Mapping[str, Stored] | None) -> bytes:
    """Return the canonical JSON `[table, key, row]` of a stored row, None for one that is there no longer.

    What a row leaves empty is left out, so that a column that a later version adds changes nothing. A number with a
    fraction is its shortest text, bytes are their SHA-256. Names of columns are ASCII, for which the standard
    library's order and escapes are those of RFC 8785; a million rows take seconds this way.
    """
    plain = None if row is None else {name: _plain(value) for name, value in row.items() if value is not None}
    return _encode([table, key, plain]).encode()


def _plain(value: Stored) -> int | str:
    if type(value) is int:
        return value if -LARGEST_NUMBER <= value <= LARGEST_NUMBER else str(value)
    if isinstance(value, str):
        return value
    if isinstance(value, float):
        return repr(value)
    return digest(bytes(value))  # type: ignore[arg-type]
