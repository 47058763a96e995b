"""How values are written: civil times, dates in three orders, and lines of delimited and fixed-width text."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime, timedelta
from typing import Any

import numpy as np
import polars as pl

from evenhand.terms.csv_text import as_csv
from evenhand.terms.zones import offsets_of

__all__ = ["civil_times", "delimited", "fixed_width", "in_order"]

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_ORDERS = {"iso": "%Y-%m-%d", "us": "%m/%d/%Y", "dots": "%d.%m.%Y"}


def civil_times(instants: pl.Series, zone: str) -> list[datetime]:
    """Return each instant on the wall of `zone`, without an offset."""
    local = offsets_of(zone).to_local(instants.to_numpy().astype(np.int64))
    return [(_EPOCH + timedelta(seconds=value)).replace(tzinfo=None) for value in local.tolist()]


def in_order(day: date | None, order: str) -> str:
    """Return the date year first (`iso`), month first (`us`) or day first with dots (`dots`); empty for none."""
    return "" if day is None else day.strftime(_ORDERS[order])


def delimited(header: Sequence[str], rows: Iterable[Sequence[Any]], delimiter: str = ",") -> str:
    """Return delimited text with CRLF line ends, quoted where needed.

    Source: RFC 4180, sections 2.1 to 2.7, with other delimiters.
    """
    return as_csv(header, rows, delimiter=delimiter)


def fixed_width(columns: Sequence[tuple[str, int]], rows: Iterable[Sequence[str]]) -> str:
    """Return a heading line and rows in columns of fixed width, two spaces apart."""

    def line(values: Sequence[str]) -> str:
        return "  ".join(value.ljust(width) for value, (_, width) in zip(values, columns, strict=True)).rstrip()

    return "\n".join([line([title for title, _ in columns]), *map(line, rows), ""])
