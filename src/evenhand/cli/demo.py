"""Take an invented workplace's files in and show what needs a person today."""

from __future__ import annotations

from pathlib import Path

import click

from evenhand.cli.asked import as_json
from evenhand.cli.printing import print_json
from evenhand.terms import cautions

__all__ = ["command"]


@click.command()
@click.argument("directory", type=click.Path(path_type=Path), default=Path("demo"))
@click.option(
    "--seed", type=click.IntRange(min=0), default=1, show_default=True, help="The same seed makes the same workplace."
)
@as_json
def command(directory: Path, seed: int, as_json: bool) -> None:
    """Invent a workplace, take its files in, and leave a workspace in DIRECTORY (default: demo)."""
    from evenhand.cli.take import print_receipts, taking
    from evenhand.cli.today import print_today
    from evenhand.jobs.demo import demonstrate

    with taking() as progress:
        shown = demonstrate(directory, seed, progress=progress)
    if as_json:
        given = {"workspace": shown.workspace, "as_of": shown.today.as_of, "handed_off": shown.handed_off}
        print_json({**given, "receipts": shown.receipts, "findings": shown.report})
        return
    click.secho(f"{shown.invented.name}, invented: {shown.invented.first} to {shown.invented.last}\n", bold=True)
    print_receipts(shown.receipts)
    click.echo()
    print_today(shown.today, most=8)
    click.secho("Where to look next", bold=True)
    made = shown.handed_off
    [file] = made.files
    click.echo(f"  all findings     {shown.report}")
    click.echo(f"  for payroll      {file.csv}, {file.xlsx}")
    click.echo(f"                   {file.total.rows} rows, ordinary {file.total.printed_ordinary} h,")
    click.echo(
        f"                   overtime {file.total.printed_overtime} h, despite {len(made.despite)} open findings"
    )
    click.echo(f"  the note to it   {made.note}")
    closed = shown.closed
    click.echo(f"  the week before  {closed.first.csv.name}, replaced by {closed.replacing.csv.name};")
    click.echo(f"                   the file above carries {len(made.adjusts)} adjustments of it, as its note says")
    click.echo(f"  what is true     {shown.invented.truth}")
    click.echo(
        f"  the pages        evenhand --workspace {shown.workspace} serve --as-of {shown.today.as_of.isoformat()}"
    )
    click.echo(
        f"  one day, why     evenhand --workspace {shown.workspace} hours why {shown.example[0]} {shown.example[1]}"
    )
    click.echo(f"\n{cautions.CALCULATION} Everybody in this workplace is invented.")
