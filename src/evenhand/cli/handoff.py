"""Write the period's file for payroll."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import LINE, as_json, as_of, author, day_asked, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table
from evenhand.terms import cautions
from evenhand.terms.words import as_zoned_moment, called

if TYPE_CHECKING:
    from evenhand.jobs.handoff import HandedOff
    from evenhand.terms.closing import PersonChange

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
    else:
        _print_files(made)


def _print_files(made: HandedOff) -> None:
    for file in made.files:
        named = f"{file.payroll}, " if file.payroll else ""
        click.echo(f"{named}{made.first} to {made.last}: {file.total.rows} rows, {file.total.people} people")
        for one in file.total.columns:
            click.echo(f"  {one.header} {one.as_printed} as printed")
    if made.replaces:
        click.echo(f"  replaces {made.replaces}")
        _print_changes(made.changes)
    for earlier in made.adjusts:
        click.echo(f"  adjusts {earlier.first} to {earlier.last}: {earlier.reason} ({earlier.author})")
        _print_changes(earlier.changes)
    if made.despite:
        click.echo(f"  despite {len(made.despite)} open findings, listed in the note")
    for path in made.paths:
        click.echo(f"  {path}")
    click.echo(f"  computed from SHA-256 {made.digest}")
    click.echo(cautions.CALCULATION)


def _print_changes(people: Sequence[PersonChange]) -> None:
    from evenhand.terms.closing import change_in_short, changes_in_words

    for one in people:
        click.echo(f"    {called(one.name, one.person)}: {change_in_short(one)}")
        for line in changes_in_words(one):
            click.echo(f"      {line}")


@command.command()
@as_of
@as_json
@click.pass_context
def changes(ctx: click.Context, as_of: str | None, as_json: bool) -> None:
    """List the periods handed off, and what has changed in each since, by person and day."""
    from evenhand.jobs.closed import list_closed
    from evenhand.jobs.reckoning import reckon_period

    reckoning = reckon_period(workspace_asked(ctx), now_or(as_of))
    listed = list_closed(reckoning)
    if as_json:
        print_json(listed)
        return
    if not listed:
        click.echo("Nothing was handed off yet.")
    for one in listed:
        when = as_zoned_moment(one.made_at, reckoning.zone)
        click.echo(f"{one.first} to {one.last}: {one.file}, written {when} by {one.author or 'nobody named'}")
        if not one.is_detailed:
            click.echo("  an earlier version wrote it, so that it is not known line by line what it told")
        elif not one.changes:
            click.echo("  nothing has changed since" + (" that is not settled" if one.waiting else ""))
        _print_changes(one.changes)
        if one.waiting:
            click.echo("  settled, and carried by the next period's file:")
            _print_changes(one.waiting)


@command.command()
@click.option("--period", metavar="DATE", required=True, help="The pay period handed off that holds DATE.")
@click.option(
    "--way",
    type=click.Choice(["adjust", "replace", "elsewhere"]),
    help="By the next period's file, by one that replaces this period's, or outside of payroll's files.",
)
@click.option("--person", "people", multiple=True, metavar="PERSON", help="Only of this person; may be repeated.")
@click.option("--despite-findings", is_flag=True, help="Replace the file although findings are open.")
@author
@click.option(
    "--reason", required=True, type=LINE, metavar="TEXT", help="Why; kept with the decision, and told in the note."
)
@as_of
@as_json
@click.pass_context
def settle(
    ctx: click.Context,
    period: str,
    way: str | None,
    people: tuple[str, ...],
    despite_findings: bool,
    author: str | None,
    reason: str,
    as_of: str | None,
    as_json: bool,
) -> None:
    """Make good what changed in a period after its hand-off, in the way that the settings choose or --way says."""
    from evenhand.jobs.closed import Adjusted
    from evenhand.jobs.handoff import settle_closed
    from evenhand.jobs.reckoning import reckon_period

    workspace, now, day = workspace_asked(ctx), now_or(as_of), day_asked(period, "--period")
    assert day is not None
    made = settle_closed(
        workspace,
        reckon_period(workspace, now, day),
        day,
        way=way or "",
        people=people,
        despite=despite_findings,
        author=author or "",
        reason=reason,
        as_of=now,
    )
    if as_json:
        print_json(made)
    elif isinstance(made, Adjusted):
        where = (
            "the next period's file carries it" if made.way == "next_file" else "made good outside of payroll's files"
        )
        click.echo(f"{made.first} to {made.last}, {', '.join(made.people)}: settled by {made.author}, {where}.")
    else:
        _print_files(made)


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
