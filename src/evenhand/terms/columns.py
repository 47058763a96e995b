"""Declared columns: the one way a frame is made, so that every frame says what its columns mean."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal

import polars as pl

__all__ = ["Column", "Frame", "Kind", "Table"]

Frame = pl.DataFrame

Kind = Literal["text", "date", "instant", "seconds", "count", "score", "yes_no", "money"]

# An instant is whole seconds since 1970-01-01T00:00:00Z: exact, sortable, and what the loops work on.
# Money is decimal and exact; it is rounded once, where the rule says.
DTYPES: dict[Kind, pl.DataType] = {
    "text": pl.String(),
    "date": pl.Date(),
    "instant": pl.Int64(),
    "seconds": pl.Int64(),
    "count": pl.Int64(),
    "score": pl.Float64(),
    "yes_no": pl.Boolean(),
    "money": pl.Decimal(18, 4),
}


@dataclass(frozen=True)
class Column:
    """One declared column.

    `required` means that a row without a value is refused. `allowed` lists the only values a text may take.
    `minimum` is the least amount it may hold.
    """

    name: str
    kind: Kind
    meaning: str
    required: bool = False
    unit: str = ""
    allowed: tuple[str, ...] = ()
    minimum: int | None = None


@dataclass(frozen=True)
class Table:
    """A named set of declared columns; `key` names the columns that identify a row."""

    name: str
    title: str
    columns: tuple[Column, ...]
    key: tuple[str, ...] = ()

    @property
    def names(self) -> list[str]:
        """Return the names of the columns, in order."""
        return [column.name for column in self.columns]

    @property
    def schema(self) -> dict[str, pl.DataType]:
        """Return the dtype of each column, in order."""
        return {column.name: DTYPES[column.kind] for column in self.columns}

    def column(self, name: str) -> Column:
        """Return the column called `name`; raises KeyError where the table has none."""
        for column in self.columns:
            if column.name == name:
                return column
        raise KeyError(f"{self.name} has no column {name}")

    def frame(self, columns: Mapping[str, Any]) -> Frame:
        """Return a frame of these columns, cast to the declared dtypes; columns not given are all null."""
        unknown = set(columns) - set(self.names)
        if unknown:
            raise KeyError(f"{self.name} has no column {', '.join(sorted(unknown))}")
        if not columns:
            return self.empty()
        given = pl.DataFrame(dict(columns))
        if given.schema == self.schema and given.columns == self.names:
            return given
        return given.select(
            (pl.col(name) if name in columns else pl.lit(None)).cast(dtype).alias(name)
            for name, dtype in self.schema.items()
        )

    def rows(self, rows: Iterable[Mapping[str, Any]]) -> Frame:
        """Return a frame from row mappings; names that are missing become null."""
        listed = list(rows)
        return pl.DataFrame({name: [row.get(name) for row in listed] for name in self.names}, schema=self.schema)

    def empty(self) -> Frame:
        """Return a frame of these columns without rows."""
        return self._empty

    @cached_property
    def _empty(self) -> Frame:
        return pl.DataFrame(schema=self.schema)

    def check(self, frame: Frame) -> Frame:
        """Return `frame` if it has exactly these columns and dtypes; raises TypeError where it has not."""
        if dict(frame.schema) != self.schema:
            raise TypeError(f"not a {self.name} frame: {dict(frame.schema)}")
        return frame
