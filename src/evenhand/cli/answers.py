"""What may be said of a file on the command line, alike wherever a file is read."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from evenhand.terms.sources import SOURCES

if TYPE_CHECKING:
    from evenhand.jobs.seen import Answers

__all__ = ["answers_of", "asks_about_a_file"]

OPTIONS = (
    click.option("--table", type=click.Choice(list(SOURCES)), help="What the file is, where it does not show it."),
    click.option(
        "--reader", metavar="NAME", help="The reader whose log or list the file is, where it does not say so."
    ),
    click.option(
        "--map", "maps", metavar="COLUMN=USE", multiple=True, help='Use a column of the file, "Pers.-Nr=person".'
    ),
    click.option("--ignore", "ignored", metavar="COLUMN", multiple=True, help="Do not use this column of the file."),
    click.option("--dates", type=click.Choice(["dmy", "mdy", "ymd"]), help="In which order dates are written."),
    click.option(
        "--zeros", type=click.IntRange(0, 32), metavar="DIGITS", help="Pad keyed numbers with zeros; 0 does not."
    ),
    click.option("--zone", metavar="ZONE", help="The time zone in which the file's times are written."),
    click.option("--layout", metavar="FILE", type=click.Path(path_type=Path), help="Read by this written layout."),
)


def asks_about_a_file(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command every option that says something of a file."""
    for option in reversed(OPTIONS):
        command = option(command)
    return command


def answers_of(
    *,
    table: str | None,
    reader: str | None,
    maps: tuple[str, ...],
    ignored: tuple[str, ...],
    dates: str | None,
    zeros: int | None,
    zone: str | None,
) -> Answers:
    """Return what was said of a file by its options."""
    from evenhand.jobs.seen import Answers

    uses = dict(map(_mapped, maps))
    return Answers(table or "", reader or "", zone or "", dates or "", zeros, uses, frozenset(ignored))


def _mapped(text: str) -> tuple[str, str]:
    """Return the column of the file and its use; a header may hold the sign itself."""
    column, sign, use = text.rpartition("=")
    if not (sign and column and use):
        raise click.UsageError(f'--map "{text}" is not COLUMN=USE; write it as "Pers.-Nr=person" or "3=person".')
    return column, use
