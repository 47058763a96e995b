"""How the command line prints: tables to read, JSON to pass on."""

from __future__ import annotations

import dataclasses
import json
import sys
from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from evenhand.terms.columns import Frame

if TYPE_CHECKING:
    from rich.console import Console

__all__ = ["print_json", "print_paragraph", "print_table", "shown"]

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
        table.add_row(*("" if value is None else shown(str(value)) for value in row))
    _console(err).print(table)


def print_paragraph(text: str, *, err: bool = False) -> None:
    """Print a sentence, indented, folded between words."""
    from rich.padding import Padding

    _console(err).print(Padding(shown(text), (0, 0, 0, 2)))


def _console(err: bool) -> Console:
    from rich.console import Console

    # What goes to a file or a pipe is not folded to a window it does not have.
    is_window = (sys.stderr if err else sys.stdout).isatty()
    return Console(highlight=False, markup=False, width=None if is_window else WIDE, stderr=err)


def shown(text: str) -> str:
    """Return a text with whatever a terminal would obey rather than print written as its escape."""
    return text if text.isprintable() else "".join(c if c.isprintable() else ascii(c)[1:-1] for c in text)


def print_json(value: Any) -> None:
    """Print records, frames and their mixtures as JSON; instants become UTC times, decimals keep their digits."""
    click.echo(json.dumps(_jsonable(value), indent=2, ensure_ascii=False))


def _jsonable(value: Any) -> Any:
    if isinstance(value, Frame):
        return [_jsonable(row) for row in value.iter_rows(named=True)]
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return _jsonable({field.name: getattr(value, field.name) for field in dataclasses.fields(value)})
    if isinstance(value, dict):
        return {str(key): _as_time(item) if key in INSTANTS else _jsonable(item) for key, item in value.items()}
    if isinstance(value, (list, tuple, set, frozenset)):
        return [_jsonable(item) for item in value]
    if isinstance(value, (date, datetime)):
        return value.isoformat()
    if isinstance(value, (Decimal, Path)):
        return str(value)
    return value


INSTANTS = frozenset({"at", "starts", "ends", "first_at", "last_at", "made_at", "taken_at", "starts_at", "ends_at"})


def _as_time(instant: Any) -> str | None:
    return None if instant is None else datetime.fromtimestamp(instant, UTC).isoformat().replace("+00:00", "Z")
