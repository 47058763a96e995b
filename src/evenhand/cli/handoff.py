"""Write the period's file for payroll."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import click

from evenhand.cli.asked import as_json, as_of, author, day_asked, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table
from evenhand.terms import cautions

__all__ = ["command"]


@click.group(invoke_without_command=True)
@click.option("--period", metavar="DATE", help="The pay period that holds DATE; otherwise the last one closed.")
@click.option("--despite-findings", is_flag=True, help="Write it although findings are open; the note then lists them.")
@author
@as_of
@as_json
@click.pass_context
def command(
    ctx: click.Context, period: str | None, despite_findings: bool, author: str | None, as_of: str | None, as_json: bool
) -> None:
    """Write what is owed for a closed pay period as payroll wants it, with a note of control totals and sources."""
    if ctx.invoked_subcommand:
        return
    from evenhand.jobs.handoff import hand_off
    from evenhand.jobs.reckoning import reckon_period

    workspace, now, day = workspace_asked(ctx), now_or(as_of), day_asked(period, "--period")
    made = hand_off(
        workspace,
        reckon_period(workspace, now, day),
        as_of=now,
        period_day=day,
        despite=despite_findings,
        author=author or "",
    )
    if as_json:
        print_json(made)
        return
    for file in made.files:
        named = f"{file.payroll}, " if file.payroll else ""
        click.echo(f"{named}{made.first} to {made.last}: {file.total.rows} rows, {file.total.people} people")
        for one in file.total.columns:
            click.echo(f"  {one.header} {one.as_printed} as printed")
    if made.despite:
        click.echo(f"  despite {len(made.despite)} open findings, listed in the note")
    for path in made.paths:
        click.echo(f"  {path}")
    click.echo(f"  computed from SHA-256 {made.digest}")
    click.echo(cautions.CALCULATION)


@command.command()
@click.argument("sample", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--definition", metavar="NAME", default="", help="Which payroll's definition, where there are several.")
@as_json
@click.pass_context
def check(ctx: click.Context, sample: Path, definition: str, as_json: bool) -> None:
    """Hold SAMPLE, a file that payroll's program takes, against payroll's import definition, column by column."""
    from evenhand.jobs.payroll_sample import check_sample_file
    from evenhand.jobs.reckoning import reckon_period

    reckoning = reckon_period(workspace_asked(ctx), now_or(None), history=timedelta(0))
    checked = check_sample_file(reckoning.snapshot, sample, definition)
    if as_json:
        print_json(checked)
    else:
        rows = ((one.place, one.asked, one.found, "differs" if one.differs else "") for one in checked.checks)
        print_table(("What", "Definition", "Sample", ""), rows)
        count = sum(one.differs for one in checked.checks)
        click.echo(f"{count} of {len(checked.checks)} differ." if count else "Nothing differs.")
    if checked.differs:
        ctx.exit(3)
