"""Read what an entry of the ledger seals: rows as the database has them, and all rows of a take at once."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator, Mapping, Sequence
from functools import cache
from typing import Any

import polars as pl
import sqlalchemy as sa

from evenhand.store.driver import run
from evenhand.store.ledger_tables import OF_TAKES, columns_of
from evenhand.store.tables import STORED
from evenhand.store.whole_columns import read_columns
from evenhand.store.written import Whole
from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.ledger.canonical import Stored
from evenhand.terms.ledger.whole import whole_digest

__all__ = ["as_row", "every_row", "key_text", "read_rows", "read_takes", "take_text", "whole_of"]

AT_ONCE = 200


def key_text(key: Sequence[int | str]) -> str:
    """Return by what the ledger names a row: its key, as a JSON list."""
    if len(key) == 1 and isinstance(key[0], int):
        return f"[{key[0]}]"  # as it would be written, in less time
    return json.dumps(key, ensure_ascii=False, separators=(",", ":"))


def take_text(take: int) -> str:
    """Return by what the ledger names all rows of a table that belong to a take."""
    return f'{{"take":{take}}}'


def whole_of(rows: Frame) -> Whole:
    """Return how many rows a take has in one table, and their digest; in the order of OF_TAKES, without the take."""
    return rows.height, whole_digest(rows.with_columns(pl.selectors.integer().cast(pl.Int64)))


def as_row(whole: Whole | None) -> Mapping[str, Stored] | None:
    """Return what is sealed in place of a row for all rows of a take; None where there are none."""
    return {"count": whole[0], "sha256": whole[1]} if whole and whole[0] else None


def read_rows(
    conn: sa.Connection, table: str, keys: Collection[tuple[int | str, ...]]
) -> Iterator[tuple[tuple[int | str, ...], dict[str, Stored]]]:
    """Yield the rows of these keys, each with its key; what is not there is left out.

    They are read as the database has them, and not as a version of the program declares them.
    """
    names = _key_of(table)
    one = " AND ".join([f'"{name}" = ?' for name in names])
    listed = list(keys)
    for start in range(0, len(listed), AT_ONCE):
        part = listed[start : start + AT_ONCE]
        given = [value for key in part for value in key]
        found = run(conn, f'SELECT * FROM "{table}" WHERE {" OR ".join([one] * len(part))}', given)
        columns = [column[0] for column in found.description]
        places = [columns.index(name) for name in names]
        for row in found:
            yield tuple(row[place] for place in places), dict(zip(columns, row, strict=True))


def every_row(conn: sa.Connection, table: str) -> tuple[tuple[str, ...], Iterator[tuple[str, tuple[Stored, ...]]]]:
    """Return the columns of a table as the database has it, and its rows, each by what the ledger names it."""
    found = run(conn, f'SELECT * FROM "{table}"')
    columns = tuple(column[0] for column in found.description)
    [first, *others] = [columns.index(name) for name in _key_of(table)]
    if others:
        return columns, ((key_text([row[first], *(row[place] for place in others)]), row) for row in found)
    return columns, ((f"[{key}]" if type(key := row[first]) is int else key_text([key]), row) for row in found)


def read_takes(conn: sa.Connection, table: str, takes: Collection[int] | None = None) -> dict[int, Frame]:
    """Return the rows of a table of OF_TAKES by take, of these takes or of all, in their order and without the take."""
    stored, order = STORED[table].c, OF_TAKES[table]
    named = list(dict.fromkeys(["take", *columns_of(table), *order]))
    declared = Table(table, table, tuple(Column(name, _kind(stored[name].type), name) for name in named))
    query = sa.select(*(stored[name] for name in named))
    if takes is not None:
        query = query.where(stored["take"].in_(list(takes)))
    rows = read_columns(conn, declared, query).sort("take", *order)
    parts = rows.partition_by("take", as_dict=True, maintain_order=True)
    return {int(take): part.select(columns_of(table)) for (take,), part in parts.items()}


@cache
def _key_of(table: str) -> tuple[str, ...]:
    return tuple(column.name for column in STORED[table].primary_key.columns)


def _kind(of: sa.types.TypeEngine[Any]) -> Any:
    if isinstance(of, sa.Text):
        return "text"
    return "score" if isinstance(of, sa.Float) else "count"
