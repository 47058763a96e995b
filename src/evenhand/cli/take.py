"""Take files in: roster, readers, enrolment lists, punch logs, schedules, consent."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import as_json, workspace_asked
from evenhand.cli.printing import print_json, print_table
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES

if TYPE_CHECKING:
    from evenhand.jobs.take import Receipt, RefusedFile, Seen

__all__ = ["command", "print_receipts", "taking"]


@click.command()
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--table", type=click.Choice(list(SOURCES)), help="What the files are, where they do not show it.")
@click.option("--reader", metavar="NAME", help="The reader whose log or list the file is, where it does not say so.")
@click.option("--layout", metavar="FILE", type=click.Path(path_type=Path), help="Read by this written layout.")
@click.option("--yes", is_flag=True, help="Accept the proposed columns without asking.")
@as_json
@click.pass_context
def command(
    ctx: click.Context,
    files: tuple[Path, ...],
    table: str | None,
    reader: str | None,
    layout: Path | None,
    yes: bool,
    as_json: bool,
) -> None:
    """Take FILES in, in whatever layout they come: readers first, then people, then what refers to them.

    The columns of a new layout are proposed and confirmed once; the layout is kept with the workspace.
    """
    from evenhand.jobs.kept_layouts import read_layout
    from evenhand.jobs.take import Answers, RefusedFile, take_files

    workspace = workspace_asked(ctx)
    answers = Answers(table=table or "", reader=reader or "")
    with taking() as progress:
        receipts = take_files(
            workspace,
            files,
            answers=answers,
            layout=read_layout(layout) if layout else None,
            confirm=None if yes else _confirm,
            progress=progress,
        )
    if as_json:
        print_json(receipts)
    else:
        print_receipts(receipts)
    if any(isinstance(one, RefusedFile) or 0 < one.read == one.rejected for one in receipts):
        ctx.exit(2)


@contextmanager
def taking() -> Iterator[Callable[[str, float], None]]:
    """Yield a progress callback that draws a bar on standard error, while it is a terminal."""
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    bar = Progress(
        TextColumn("{task.description:<14}"),
        BarColumn(),
        TimeElapsedColumn(),
        console=Console(stderr=True),
        transient=True,
        disable=not sys.stderr.isatty(),
    )
    with bar:
        task = bar.add_task("reading", total=1.0)
        yield lambda stage, fraction: bar.update(task, description=stage, completed=fraction)


def print_receipts(receipts: Sequence[Receipt | RefusedFile]) -> None:
    """Print what became of each file: its counts, what to know about it, and where rejected rows stand."""
    from evenhand.jobs.take import Receipt, RefusedFile

    taken = [receipt for receipt in receipts if isinstance(receipt, Receipt)]
    if taken:
        print_table(
            ("File", "Is", "Read", "Taken", "Known", "Rejected", "No longer listed"),
            ((one.file, one.table, one.read, one.taken, one.known, one.rejected, one.gone or None) for one in taken),
            right=(2, 3, 4, 5, 6),
        )
    for one in taken:
        for notice in one.notices:
            click.echo(f"{one.file}: {notice}")
        if one.rejected_path and one.rejected < one.read:
            click.echo(f"{one.file}: {one.rejected} rows rejected, each with its reason in {one.rejected_path}")
        elif one.rejected_path:
            click.echo(
                f"evenhand: {one.file}: nothing of it could be taken; the reason of each of its {one.read} rows "
                f"stands in {one.rejected_path}.",
                err=True,
            )
    for file in receipts:
        if isinstance(file, RefusedFile):
            click.echo(f"evenhand: {file.reason}", err=True)


def _confirm(seen: Seen) -> bool:
    layout = seen.proposal.layout
    click.echo(f"\nThis looks like {layout.table}:", err=True)
    for line in layout.to_toml().splitlines():
        click.echo(f"  {line}", err=True)
    if not sys.stdin.isatty():
        raise Refusal(
            f"nobody is at the terminal to confirm these columns of {layout.table}; give --yes to accept them."
        )
    return click.confirm("Is that right?", default=True, err=True)
