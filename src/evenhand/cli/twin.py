"""Write an invented workplace's files, with the truth beside them."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

import click

from evenhand.cli.asked import as_json
from evenhand.cli.printing import print_json, say

__all__ = ["command"]


@click.command()
@click.argument("directory", type=click.Path(path_type=Path))
@click.option(
    "--seed", type=click.IntRange(min=0), default=1, show_default=True, help="The same seed makes the same workplace."
)
@click.option(
    "--first",
    type=click.DateTime(["%Y-%m-%d"]),
    default="2026-10-04",
    show_default=True,
    help="The first day; the default six weeks lie around a clock change.",
)
@click.option("--weeks", type=click.IntRange(2, 104), default=6, show_default=True)
@click.option("--people", type=click.IntRange(100, 20_000), default=300, show_default=True)
@click.option("--readers", type=click.IntRange(8, 200), default=8, show_default=True)
@as_json
def command(directory: Path, seed: int, first: datetime, weeks: int, people: int, readers: int, as_json: bool) -> None:
    """Write an invented workplace's ordinary files into DIRECTORY/files, and what is true into DIRECTORY/truth."""
    from evenhand.jobs.invent import invent

    day: date = first.date()
    made = invent(directory, seed, first=day, weeks=weeks, people=people, readers=readers)
    if as_json:
        print_json(made)
        return
    say(
        "{name} is invented: {count} files in {directory}, the truth in {truth}.",
        name=made.name,
        count=len(made.files),
        directory=directory / "files",
        truth=made.truth,
    )
