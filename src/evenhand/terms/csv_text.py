"""Comma-separated text that a spreadsheet program opens as text and numbers, never as formulas.

Source: RFC 4180; OWASP, "CSV Injection" (which characters begin a formula, also behind a delimiter of another kind).
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

import polars as pl

from evenhand.terms.columns import Frame

__all__ = ["MARK", "as_csv", "as_harmless", "as_it_was", "frame_as_csv"]

MARK = "\ufeff"
"""What a file begins with, so that spreadsheet programs see that it is UTF-8."""

# A formula begins a cell, and a cell begins at the start of the text or, for whoever opens the file with another
# delimiter or mends its quotes, behind one. A plain number with its sign is a number in any program.
BEGINS = r"(?:^|[,;|\t\r\n\"])[ \t\r\n\xa0]*'*"
NUMBER = r"[-+](?:[0-9][0-9.,]*)?(?=$|[,;|\t\r\n\"])"
FORMULA = re.compile(rf"({BEGINS})(?!{NUMBER})([=+\-@\uff1d\uff0b\uff0d\uff20])")
BREAK = re.compile(r"'*[\t\r\n]")
HARMLESS = re.compile(rf"({BEGINS})'(?!{NUMBER})([=+\-@\uff1d\uff0b\uff0d\uff20])")


def as_harmless(text: str) -> str:
    """Return the text with an apostrophe before each character that could begin a formula; numbers stay as they are."""
    text = FORMULA.sub(r"\1'\2", text)
    return f"'{text}" if BREAK.match(text) else text


def as_it_was(text: str) -> str:
    """Return the text that `as_harmless` made harmless."""
    if text.startswith("'") and BREAK.match(text):
        text = text[1:]
    return HARMLESS.sub(r"\1\2", text)


def as_csv(header: Sequence[str], rows: Iterable[Sequence[Any]], *, delimiter: str = ",", end: str = "\r\n") -> str:
    """Return delimited text, quoted where needed and harmless in a spreadsheet; an empty `header` is not written.

    None is an empty cell, truth `true` or `false`; numbers, days and money are written as they print.
    """
    text = io.StringIO()
    writer = csv.writer(text, delimiter=delimiter, lineterminator=end)
    if header:
        writer.writerow([as_harmless(name) for name in header])
    writer.writerows([_cell(value) for value in row] for row in rows)
    return text.getvalue()


def frame_as_csv(frame: Frame, *, rows: int = 50_000) -> Iterator[str]:
    """Yield a frame as `as_csv` writes it, so many rows at once: a million of them are never one text in memory.

    Each text is made harmless once, however often it stands there.
    """
    harmless = frame.with_columns(
        frame[name].replace_strict(texts, texts.map_elements(as_harmless, return_dtype=pl.String))
        for name, dtype in frame.schema.items()
        if dtype == pl.String and not (texts := frame[name].drop_nulls().unique()).is_empty()
    )
    yield as_csv(frame.columns, ())
    for first in range(0, frame.height, rows):
        yield harmless.slice(first, rows).write_csv(include_header=False, line_terminator="\r\n")


def _cell(value: Any) -> Any:
    if isinstance(value, str):
        return as_harmless(value)
    return str(value).lower() if isinstance(value, bool) else value
