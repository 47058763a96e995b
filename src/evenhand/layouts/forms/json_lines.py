"""JSON lines: one object to a line.

Source: RFC 8259 (JSON); one text to a line, as JSON Text Sequences without separators are commonly written.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any, NoReturn

import numpy as np
import polars as pl

from evenhand.layouts.forms.grid import WHOLE_ROW, Fault, Grid

__all__ = ["split_json_lines"]


def split_json_lines(lines: Sequence[str]) -> Grid:
    """Return the cells of the objects; every name that any of them has is a column."""
    rows: list[dict[str, Any]] = []
    places: list[int] = []
    faults: list[Fault] = []
    for line, text in enumerate(lines, start=1):
        if not text.strip():
            continue
        try:
            row = json.loads(text, parse_float=str, parse_int=str, parse_constant=_refuse_constant)
        except (ValueError, RecursionError):
            row = None
        if isinstance(row, dict):
            rows.append(row)
            places.append(line)
        else:
            faults.append(Fault(line, WHOLE_ROW, text, "the line is no JSON object; correct or export it again"))
    names = list(dict.fromkeys(name for row in rows for name in row))
    columns = tuple(pl.Series([_cell(row.get(name)) for row in rows], dtype=pl.String) for name in names)
    return Grid(tuple(names), columns, np.array(places, dtype=np.int64), tuple(faults))


def _cell(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        # Half a surrogate pair can be written in JSON, but is no character.
        return value.encode("utf-8", errors="replace").decode("utf-8")
    return json.dumps(value)


def _refuse_constant(name: str) -> NoReturn:
    raise ValueError(name)
