"""The digest of many rows at once, column by column, whatever library writes the columns.

Bytes, in order: for each column that holds anything, by name: its name in UTF-8, a zero byte, a letter for its type, a
byte for each row (1 where it holds a value, else 0), and its values. Whole numbers (`i`) are 8 bytes, numbers with a
fraction (`f`) the 8 bytes of IEEE 754, both with the lowest byte first and 0 where there is no value; of texts (`t`)
come their lengths in bytes, as whole numbers, then all of them in UTF-8, one behind another.
"""

from __future__ import annotations

import hashlib

import polars as pl

from evenhand.terms.columns import Frame

__all__ = ["whole_digest"]


def whole_digest(rows: Frame) -> str:
    """Return the SHA-256, in hexadecimal digits, of rows as they are ordered; of whole numbers, floats and texts."""
    hashed = hashlib.sha256()
    for column in sorted(rows.get_columns(), key=lambda one: one.name):
        if column.null_count() == column.len():
            continue
        letter, parts = _bytes_of(column)
        hashed.update(column.name.encode() + b"\0" + letter)
        hashed.update(column.is_not_null().cast(pl.UInt8).to_numpy().tobytes())
        for part in parts:
            hashed.update(part)
    return hashed.hexdigest()


def _bytes_of(column: pl.Series) -> tuple[bytes, tuple[bytes, ...]]:
    if column.dtype == pl.String:
        texts = column.fill_null("")
        lengths = texts.str.len_bytes().cast(pl.Int64).to_numpy().astype("<i8").tobytes()
        return b"t", (lengths, texts.str.join("").item().encode())
    if column.dtype == pl.Float64:
        return b"f", (column.fill_null(0.0).to_numpy().astype("<f8").tobytes(),)
    if column.dtype == pl.Int64:
        return b"i", (column.fill_null(0).to_numpy().astype("<i8").tobytes(),)
    raise TypeError(f"{column.name} is {column.dtype}, which has no bytes of its own")
