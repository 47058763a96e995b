"""How the command line prints: sentences and tables to read, in the language that is spoken; JSON to pass on."""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date, datetime
from textwrap import fill
from typing import TYPE_CHECKING, Any

import click

from evenhand.cli.speaking import speech, tell, word
from evenhand.terms.characters import escaped
from evenhand.terms.languages import Sentence, told

if TYPE_CHECKING:
    from rich.console import Console

    from evenhand.terms.columns import Frame

__all__ = [
    "folded",
    "notify",
    "print_beside",
    "print_json",
    "print_paragraph",
    "print_table",
    "say",
    "teller",
    "with_names",
]

WIDE = 240
LEAST_WRAPPED = 16
"""How narrow a column may be made whose cells are longer, which are then told over several lines."""
BETWEEN = 2
NAMING = ("", "Name", "File")
"""What stands beside what a row is about where each is told by itself."""
TYPED = re.compile(r"`[^`\n]+`")
HELD = "\x1f"
"""Stands for a space at which a command is not to be folded."""


def say(pattern: str, /, *, err: bool = False, bold: bool = False, lead: str = "", **given: Any) -> None:
    """Print a sentence of the catalogue with what stands in it (`told`), or one made elsewhere, behind a `lead`."""
    text = lead + tell(pattern if isinstance(pattern, Sentence) else told(pattern, **given))
    text = folded(text, err=err)
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
    click.echo(folded(f"evenhand: {tell(text)}", err=True), err=True)


def print_table(
    headers: Sequence[str], rows: Iterable[Sequence[object]], *, right: Iterable[int] = (), err: bool = False
) -> None:
    """Print rows under headers of the catalogue; columns named in `right` are set flush right.

    A Sentence in a row is told in the language that is spoken, and a day is written as it does; all else stays. In a
    window that is too narrow for the columns side by side each row is told by itself, over as few lines as it takes.
    """
    named = [tell(told(header)) for header in headers]
    cells = [["" if value is None else escaped(_cell(value)) for value in row] for row in rows]
    from rich.cells import cell_len
    from rich.table import Table

    console, flush_right = _console(err), set(right)
    widths = [max(map(cell_len, column)) for column in zip(named, *cells, strict=True)]
    if sum(min(width, LEAST_WRAPPED) + BETWEEN for width in widths) > console.width:
        naming = {place for place, header in enumerate(headers) if header in NAMING}
        _print_rows(console, named, cells, naming)
        return
    table = Table(box=None, pad_edge=False, header_style="bold", padding=(0, BETWEEN, 0, 0), show_header=any(named))
    for position, (header, width) in enumerate(zip(named, widths, strict=True)):
        table.add_column(
            header,
            justify="right" if position in flush_right else "left",
            overflow="fold",
            min_width=min(width, LEAST_WRAPPED),
        )
    for row in cells:
        table.add_row(*row)
    console.print(table)


def _print_rows(console: Console, headers: Sequence[str], cells: Iterable[Sequence[str]], naming: set[int]) -> None:
    """Print each row by itself: what it is about, then what else it says, each behind its header."""
    for row in cells:
        said = [place for place, cell in enumerate(row) if cell.strip()]
        about = said[:2] if said[1:2] and said[1] in naming else said[:1]
        console.print("  ".join(row[place] for place in about), style="bold")
        rest = " · ".join(
            f"{headers[place]}: {row[place]}" if headers[place] else row[place] for place in said[len(about) :]
        )
        if rest:
            console.print(_fold(f"  {rest}", console.width, hanging=0), soft_wrap=True)


def _cell(value: object) -> str:
    if isinstance(value, date) and not isinstance(value, datetime):
        return speech().written(value, "iso")
    return tell(value) if isinstance(value, str) else str(value)


def print_beside(lead: str, text: str) -> None:
    """Print a text beside what leads to it, folded there where the window ends."""
    fits = _console(err=False).width - len(lead)
    if _is_window(err=False) and len(text) > fits > LEAST_WRAPPED:
        text = fill(text, fits).replace("\n", "\n" + " " * len(lead))
    click.echo(lead + text)


def print_paragraph(text: str, *, err: bool = False, title: bool = False) -> None:
    """Print a sentence folded between words, indented or as a title in bold."""
    from rich.padding import Padding

    _console(err).print(
        Padding(escaped(word(text)), (0, 0, 0, 0 if title else 2), expand=False), style="bold" if title else None
    )


def _console(err: bool) -> Console:
    from rich.console import Console

    # What goes to a file or a pipe is not folded to a window it does not have.
    return Console(highlight=False, markup=False, width=None if _is_window(err) else WIDE, stderr=err)


def _is_window(err: bool) -> bool:
    return (sys.stderr if err else sys.stdout).isatty()


def folded(text: str, *, err: bool) -> str:
    """Return a text as a window shows it whole: folded between words, but not within a command to be typed."""
    if not _is_window(err):
        return text
    width = _console(err).width
    held = TYPED.sub(lambda found: found[0].replace(" ", HELD), text)
    return "\n".join(_fold(line, width) for line in held.split("\n")).replace(HELD, " ")


def _fold(line: str, width: int, hanging: int = 2) -> str:
    indent = line[: len(line) - len(line.lstrip(" "))]
    return fill(
        line.strip(" "),
        max(width, 2 * len(indent) + LEAST_WRAPPED),
        initial_indent=indent,
        subsequent_indent=f"{indent}{' ' * hanging}" if indent else "",
        break_long_words=False,
        break_on_hyphens=False,
    )


def with_names(frame: Frame, names: Mapping[str, str], of: str = "person", called: str = "name") -> Frame:
    """Return a frame with the names of the people whose identifiers stand in its column `of`."""
    import polars as pl

    texts = frame[of].cast(pl.String)
    return frame.with_columns(texts.replace_strict(names, default=None, return_dtype=pl.String()).alias(called))


def print_json(value: Any) -> None:
    """Print records, frames and their mixtures as JSON; `evenhand schema --json COMMAND` prints its schema."""
    from evenhand.terms.json_form import as_json_value

    click.echo(json.dumps(as_json_value(value), indent=2, ensure_ascii=False))
