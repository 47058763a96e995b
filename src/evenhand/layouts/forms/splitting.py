"""Delimited text to cells: lines without quotes are split at once, the others go through the csv module."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.layouts.forms.encoding import LONGEST_LINE
from evenhand.layouts.forms.grid import TOTAL_LINE, Fault, Grid, Lines
from evenhand.layouts.forms.quoting import read_quoted
from evenhand.layouts.values.words import is_total
from evenhand.terms.records import Refusal

__all__ = ["lines_of", "split"]

OPEN_QUOTE = "a quote opens here and does not close as it should; close it, or double the quotes inside the field"


def lines_of(name: str, text: str) -> pl.Series:
    """Return the lines of `text`, without a last empty one; raises Refusal for one longer than 1 MiB."""
    lines = pl.Series([text]).str.split("\n").explode()
    longest = lines.str.len_bytes().arg_max()
    if longest is not None and len(lines[longest].encode()) > LONGEST_LINE:
        raise Refusal(f"{name} line {longest + 1}: the line is longer than 1 MiB; this is no table of rows.")
    return lines[:-1] if lines[-1] == "" else lines


def split(lines: pl.Series, delimiter: str, header: int, width: int) -> Grid:
    """Return the cells of the lines after line `header` (0: the file has none; then it has `width` columns).

    Blank lines are not rows. Empty cells beyond the last column are let pass; any other number of columns is a fault.
    """
    headers: tuple[str, ...] = ()
    begin = header
    if header:
        words = read_quoted(lines[header - 1 : header + 9].to_list(), [0], delimiter, 0)[0]
        headers = tuple(" ".join(cell.split()) for cell in words.cells or lines[header - 1].split(delimiter))
        begin = header - 1 + words.taken
        while len(headers) > 1 and not headers[-1]:
            headers = headers[:-1]
        width = len(headers)
    body = lines[begin:]
    first = begin + 1
    preamble = int((lines[: header - 1].str.strip_chars() != "").sum()) if header > 1 else 0

    parts = body.str.splitn(delimiter, width + 1).struct.unnest()
    kept = parts.get_column(f"field_{width - 1}").is_not_null()
    over = parts.get_column(f"field_{width}")
    if over.null_count() < over.len():
        kept = kept & (over.is_null() | (over.str.strip_chars(delimiter + " \t") == ""))
    has_quote = body.str.contains('"', literal=True)
    kept = kept & ~has_quote
    if delimiter in " \t,;|" and width > 1:
        kept = kept & ~_blank(parts.get_column("field_0"), body, delimiter)
    fast = tuple(parts.get_column(f"field_{at}") for at in range(width))
    if kept.all():
        return Grid(headers, fast, np.arange(first, first + body.len(), dtype=np.int64), (), preamble)
    plain = kept.to_numpy()
    rows, lines_at, faults, covered = _others(body, plain, has_quote.to_numpy(), delimiter, width)
    plain = plain & ~covered
    chosen = pl.Series(plain)
    columns = tuple(column.filter(chosen) for column in fast)
    where = np.concatenate([np.flatnonzero(plain), np.array(lines_at, dtype=np.int64)])
    if rows:
        order = np.argsort(where, kind="stable")
        extra = [pl.Series([row[at] for row in rows], dtype=pl.String) for at in range(width)]
        columns = tuple(pl.concat([a, b]).gather(order) for a, b in zip(columns, extra, strict=True))
        where = where[order]
    placed = tuple(Fault(fault.line + first, fault.column, fault.seen, fault.reason) for fault in faults)
    return Grid(headers, columns, where + first, placed, preamble)


def _blank(leading: pl.Series, body: pl.Series, delimiter: str) -> pl.Series:
    """Return which lines hold nothing but delimiters and spaces; looks closely only where the first cell is empty."""
    candidates = (leading.str.strip_chars() == "").fill_null(value=False)
    if not candidates.any():
        return candidates
    return candidates & (body.str.strip_chars(delimiter + " \t") == "")


def _others(
    body: pl.Series, plain: npt.NDArray[np.bool_], has_quote: npt.NDArray[np.bool_], delimiter: str, width: int
) -> tuple[list[list[str]], list[int], list[Fault], npt.NDArray[np.bool_]]:
    """Return rows read by the csv module with their places, the faults, and the lines inside rows over several."""
    covered = np.zeros(len(plain), dtype=np.bool_)
    rows: list[list[str]] = []
    places: list[int] = []
    faults: list[Fault] = []
    starts: Lines = np.flatnonzero(has_quote)
    if len(starts):
        texts = body.to_list()
        for quoted in read_quoted(texts, starts.tolist(), delimiter, width):
            covered[quoted.start : quoted.start + quoted.taken] = True
            cells = quoted.cells
            if cells is not None and not any(cell.strip() for cell in cells[width:]) and len(cells) >= width:
                if any(cell.strip() for cell in cells):
                    rows.append(cells[:width])
                    places.append(quoted.start)
                continue
            reason = OPEN_QUOTE if cells is None else _count_reason(cells, width, last=False)
            faults.append(Fault(quoted.start, "whole row", texts[quoted.start][:60], reason))
    left = np.flatnonzero(~plain & ~covered)
    for place, text in zip(left.tolist(), body.gather(left).to_list(), strict=True):
        if text.strip(delimiter + " \t"):
            reason = _count_reason(text.split(delimiter), width, last=place == len(plain) - 1)
            faults.append(Fault(place, "whole row", text[:60], reason))
    return rows, places, faults, covered


def _count_reason(cells: list[str], width: int, *, last: bool) -> str:
    if is_total(next((cell for cell in cells if cell.strip()), "")):
        return TOTAL_LINE
    seen = len(cells)
    cut = "; the file may be cut short here, so export it again" if last and seen < width else ""
    return f"the row has {seen} columns where {width} belong{cut or '; correct the row'}"
