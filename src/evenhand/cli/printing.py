"""How the command line prints: tables to read, JSON to pass on."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import click

from evenhand.terms.characters import escaped
from evenhand.terms.json_form import as_json_value

if TYPE_CHECKING:
    from rich.console import Console

    from evenhand.terms.columns import Frame

__all__ = ["print_json", "print_paragraph", "print_table", "with_names"]

WIDE = 240


def print_table(
    headers: Sequence[str], rows: Iterable[Sequence[object]], *, right: Iterable[int] = (), err: bool = False
) -> None:
    """Print rows under headers; columns named in `right` are set flush right."""
    from rich.table import Table

    table = Table(box=None, pad_edge=False, header_style="bold", padding=(0, 2, 0, 0), show_header=any(headers))
    flush_right = set(right)
    for position, header in enumerate(headers):
        table.add_column(header, justify="right" if position in flush_right else "left", overflow="fold")
    for row in rows:
        table.add_row(*("" if value is None else escaped(str(value)) for value in row))
    _console(err).print(table)


def print_paragraph(text: str, *, err: bool = False, title: bool = False) -> None:
    """Print a sentence folded between words, indented or as a title in bold."""
    from rich.padding import Padding

    _console(err).print(
        Padding(escaped(text), (0, 0, 0, 0 if title else 2), expand=False), style="bold" if title else None
    )


def _console(err: bool) -> Console:
    from rich.console import Console

    # What goes to a file or a pipe is not folded to a window it does not have.
    is_window = (sys.stderr if err else sys.stdout).isatty()
    return Console(highlight=False, markup=False, width=None if is_window else WIDE, stderr=err)


def with_names(frame: Frame, names: Mapping[str, str], of: str = "person", called: str = "name") -> Frame:
    """Return a frame with the names of the people whose identifiers stand in its column `of`."""
    import polars as pl

    texts = frame[of].cast(pl.String)
    return frame.with_columns(texts.replace_strict(names, default=None, return_dtype=pl.String()).alias(called))


def print_json(value: Any) -> None:
    """Print records, frames and their mixtures as JSON; `evenhand schema --json COMMAND` prints its schema."""
    click.echo(json.dumps(as_json_value(value), indent=2, ensure_ascii=False))
