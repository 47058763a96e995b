"""Take an invented workplace's files in and show what needs a person today."""

from __future__ import annotations

from pathlib import Path

import click

from evenhand.cli.asked import as_json
from evenhand.cli.printing import print_json, say
from evenhand.cli.speaking import name_zones
from evenhand.terms import cautions
from evenhand.terms.languages import told

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
    name_zones(shown.zones_meet)
    if as_json:
        given = {"workspace": shown.workspace, "as_of": shown.today.as_of, "handed_off": shown.handed_off}
        print_json({**given, "receipts": shown.receipts, "findings": shown.report})
        return
    say(
        "{name}, invented: {first:iso} to {last:iso}",
        bold=True,
        name=shown.invented.name,
        first=shown.invented.first,
        last=shown.invented.last,
    )
    click.echo()
    print_receipts(shown.receipts)
    click.echo()
    print_today(shown.today, most=8)
    say("Where to look next", bold=True)
    made = shown.handed_off
    [file] = made.files
    say("all findings     {report}", lead="  ", report=shown.report)
    say("for payroll      {csv}, {xlsx}", lead="  ", csv=file.csv, xlsx=file.xlsx)
    say(
        "{rows} rows, ordinary {hours} h,",
        lead="                   ",
        rows=file.total.rows,
        hours=file.total.printed_ordinary,
    )
    say(
        "overtime {hours} h, despite {count} open findings",
        lead="                   ",
        hours=file.total.printed_overtime,
        count=len(made.despite),
    )
    say("the note to it   {note}", lead="  ", note=made.note)
    closed = shown.closed
    say(
        "the week before  {name}, replaced by {other};",
        lead="  ",
        name=closed.first.csv.name,
        other=closed.replacing.csv.name,
    )
    say(
        "the file above carries {count} adjustments of it, as its note says",
        lead="                   ",
        count=len(made.adjusts),
    )
    say("what is true     {truth}", lead="  ", truth=shown.invented.truth)
    say(
        "the pages        evenhand --workspace {workspace} serve --as-of {time}",
        lead="  ",
        workspace=shown.workspace,
        time=shown.today.as_of.isoformat(),
    )
    say(
        "one day, why     evenhand --workspace {workspace} hours why {person} {day}",
        lead="  ",
        workspace=shown.workspace,
        person=shown.example[0],
        day=shown.example[1].isoformat(),
    )
    say("{caution} Everybody in this workplace is invented.", lead="\n", caution=told(cautions.CALCULATION))
