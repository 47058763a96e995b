"""How the command line prints: sentences and tables to read, in the language that is spoken; JSON to pass on."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

import click

from evenhand.cli.speaking import speech, tell, word
from evenhand.terms.characters import escaped
from evenhand.terms.languages import Sentence, told

if TYPE_CHECKING:
    from rich.console import Console

    from evenhand.terms.columns import Frame

__all__ = ["notify", "print_json", "print_paragraph", "print_table", "say", "teller", "with_names"]

WIDE = 240


def say(pattern: str, /, *, err: bool = False, bold: bool = False, lead: str = "", **given: Any) -> None:
    """Print a sentence of the catalogue with what stands in it (`told`), or one made elsewhere, behind a `lead`."""
    text = lead + tell(pattern if isinstance(pattern, Sentence) else told(pattern, **given))
    click.echo(click.style(text, bold=True) if bold else text, err=err)


def teller() -> Callable[[str], None]:
    """Return what prints sentences in the language that is spoken now, from whichever thread it is called."""
    spoken = speech()  # no thread but this one knows what was asked for

    def print_told(text: str) -> None:
        click.echo(spoken.said(text).replace("\u00a0", " "))

    return print_told


def notify(pattern: str, /, **given: Any) -> None:
    """Print a sentence on standard error, as a refusal stands there."""
    text = pattern if isinstance(pattern, Sentence) else told(pattern, **given)
    click.echo(f"evenhand: {tell(text)}", err=True)


def print_table(
    headers: Sequence[str], rows: Iterable[Sequence[object]], *, right: Iterable[int] = (), err: bool = False
) -> None:
    """Print rows under headers of the catalogue; columns named in `right` are set flush right.

    A Sentence in a row is told in the language that is spoken, and a day is written as it does; all else stays.
    """
    from rich.table import Table

    table = Table(box=None, pad_edge=False, header_style="bold", padding=(0, 2, 0, 0), show_header=any(headers))
    flush_right = set(right)
    for position, header in enumerate(headers):
        table.add_column(tell(told(header)), justify="right" if position in flush_right else "left", overflow="fold")
    for row in rows:
        table.add_row(*("" if value is None else escaped(_cell(value)) for value in row))
    _console(err).print(table)


def _cell(value: object) -> str:
    if isinstance(value, date) and not isinstance(value, datetime):
        return speech().written(value, "iso")
    return tell(value) if isinstance(value, str) else str(value)


def print_paragraph(text: str, *, err: bool = False, title: bool = False) -> None:
    """Print a sentence folded between words, indented or as a title in bold."""
    from rich.padding import Padding

    _console(err).print(
        Padding(escaped(word(text)), (0, 0, 0, 0 if title else 2), expand=False), style="bold" if title else None
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
    from evenhand.terms.json_form import as_json_value

    click.echo(json.dumps(as_json_value(value), indent=2, ensure_ascii=False))
