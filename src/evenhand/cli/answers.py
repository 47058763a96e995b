"""What may be said of a file on the command line, alike wherever a file is read."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from evenhand.cli.asked import LINE
from evenhand.terms.languages import told
from evenhand.terms.sources import SOURCES

if TYPE_CHECKING:
    from evenhand.jobs.seen import Answers

__all__ = ["answers_of", "asks_about_a_file"]

OPTIONS = (
    click.option("--table", type=click.Choice(list(SOURCES)), help="What the file is, where it does not show it."),
    click.option(
        "--reader",
        metavar="NAME",
        type=LINE,
        help="The reader whose log or list the file is, where it does not say so.",
    ),
    click.option(
        "--map", "maps", metavar="COLUMN=USE", multiple=True, help='Use a column of the file, "Pers.-Nr=person".'
    ),
    click.option("--ignore", "ignored", metavar="COLUMN", multiple=True, help="Do not use this column of the file."),
    click.option("--dates", type=click.Choice(["dmy", "mdy", "ymd"]), help="In which order dates are written."),
    click.option(
        "--zeros", type=click.IntRange(0, 32), metavar="DIGITS", help="Pad keyed numbers with zeros; 0 does not."
    ),
    click.option("--zone", metavar="ZONE", help="The time zone of the file's times; none: of the reader's clock."),
    click.option(
        "--word", "words", metavar="WORD=MEANING", multiple=True, help='What a word of the file stands for, "WEJ=in".'
    ),
    click.option(
        "--roster",
        type=click.Choice(["whole", "part"]),
        help="Whether a list of people is the whole roster, which whoever it leaves out is on no longer.",
    ),
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
    words: tuple[str, ...] = (),
    roster: str | None = None,
) -> Answers:
    """Return what was said of a file by its options."""
    from evenhand.jobs.seen import Answers

    uses = dict(_parted("--map", "COLUMN=USE", "Pers.-Nr=person", text) for text in maps)
    meant = dict(_parted("--word", "WORD=MEANING", "WEJ=in", text) for text in words)
    plain = (table or "", reader or "", zone or "", dates or "")
    return Answers(*plain, zeros, uses, frozenset(ignored), words=meant, roster=roster or "")


def _parted(option: str, form: str, example: str, text: str) -> tuple[str, str]:
    """Return what stands before and behind the last sign of equality; a header or a word may hold one itself."""
    named, sign, said = text.rpartition("=")
    if not (sign and named and said):
        raise click.UsageError(
            told(
                '{option} "{text}" is not {form}; write it as "{example}".',
                option=option,
                text=text,
                form=form,
                example=example,
            )
        )
    return named, said
