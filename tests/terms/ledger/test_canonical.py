"""Rows are written as RFC 8785 writes them, and digests of many rows are the same whoever makes the columns."""

from __future__ import annotations

import hashlib
import json
import struct

import polars as pl
import pytest
import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from evenhand.terms.ledger.canonical import LARGEST_NUMBER, canonical, row_text
from evenhand.terms.ledger.whole import whole_digest

NAMES = st.text(st.characters(min_codepoint=97, max_codepoint=122), min_size=1, max_size=6)
TEXTS = st.text(st.characters(exclude_categories=["Cs"]))
ROWS = st.dictionaries(NAMES, st.one_of(st.integers(-LARGEST_NUMBER, LARGEST_NUMBER), TEXTS, st.none()))


@given(NAMES, TEXTS, ROWS)
def test_a_row_is_written_as_an_independent_library_writes_it(table: str, key: str, row: dict[str, int | str]) -> None:
    held = {name: value for name, value in row.items() if value is not None}
    assert row_text(table, key, row) == rfc8785.dumps([table, key, held])


def test_what_json_has_no_number_for_is_a_text() -> None:
    row = {"score": 0.1 + 0.2, "large": LARGEST_NUMBER + 1, "content": b"\x00\xff", "empty": None}
    content = hashlib.sha256(b"\x00\xff").hexdigest()
    assert json.loads(row_text("t", "[1]", row)) == [
        "t",
        "[1]",
        {"score": "0.30000000000000004", "large": str(LARGEST_NUMBER + 1), "content": content},
    ]
    assert row_text("t", "[1]", None) == b'["t","[1]",null]'


@pytest.mark.parametrize("value", [float("nan"), float("inf"), LARGEST_NUMBER + 1, "\ud800", {1: "a"}, b"bytes"])
def test_what_has_no_canonical_form_is_an_error(value: object) -> None:
    with pytest.raises(ValueError):
        canonical(value)  # type: ignore[arg-type]


def by_hand(columns: dict[str, list[object]]) -> str:
    """The bytes that the documentation describes, made with nothing but the standard library."""
    parts = []
    for name, values in sorted(columns.items()):
        held = [value for value in values if value is not None]
        if not held:
            continue
        first = held[0]
        letter = "t" if isinstance(first, str) else "f" if isinstance(first, float) else "i"
        parts.append(name.encode() + b"\0" + letter.encode() + bytes(value is not None for value in values))
        if letter == "t":
            texts = [("" if value is None else str(value)).encode() for value in values]
            parts.append(b"".join(struct.pack("<q", len(text)) for text in texts) + b"".join(texts))
        else:
            form = "<q" if letter == "i" else "<d"
            parts.append(b"".join(struct.pack(form, 0 if value is None else value) for value in values))
    return hashlib.sha256(b"".join(parts)).hexdigest()


def test_many_rows_have_the_digest_that_is_described() -> None:
    columns: dict[str, list[object]] = {
        "number": ["0041", None, "é", ""],
        "at": [1, -2, None, 1 << 60],
        "score": [0.5, None, -0.0, 1e-300],
        "never": [None, None, None, None],
    }
    types = {"number": pl.String, "at": pl.Int64, "score": pl.Float64, "never": pl.String}
    assert whole_digest(pl.DataFrame(columns, schema=types)) == by_hand(columns)


@given(st.lists(st.tuples(st.one_of(st.none(), TEXTS), st.integers(-9, 9)), min_size=2, max_size=9), st.data())
def test_other_rows_or_another_order_have_another_digest(
    rows: list[tuple[str | None, int]], data: st.DataObject
) -> None:
    def of(rows: list[tuple[str | None, int]]) -> str:
        return whole_digest(pl.DataFrame(rows, schema={"a": pl.String, "b": pl.Int64}, orient="row"))

    other = data.draw(st.permutations(rows))
    assert (of(rows) == of(other)) == (rows == other)
    assert of(rows) != of([*rows[:-1], (rows[-1][0], rows[-1][1] + 10)])
    assert of(rows) != of([*rows[:-1], (f"{rows[-1][0] or ''}x", rows[-1][1])])
