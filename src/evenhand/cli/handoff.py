"""Write the period's file for payroll."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import LINE, as_json, as_of, author, day_asked, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table, say
from evenhand.terms import cautions
from evenhand.terms.languages import Moment, told
from evenhand.terms.words import called

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
        say(
            "{named}{first:iso} to {last:iso}: {rows:# row|# rows}, {people:# person|# people}",
            named=named,
            first=made.first,
            last=made.last,
            rows=file.total.rows,
            people=file.total.people,
        )
        for one in file.total.columns:
            say("{header} {figure} as printed", lead="  ", header=one.header, figure=one.as_printed)
    if made.replaces:
        say("replaces {file}", lead="  ", file=made.replaces)
        _print_changes(made.changes)
    for earlier in made.adjusts:
        say(
            "adjusts {first:iso} to {last:iso}: {reason} ({author})",
            lead="  ",
            first=earlier.first,
            last=earlier.last,
            reason=earlier.reason,
            author=earlier.author,
        )
        _print_changes(earlier.changes)
    if made.despite:
        say("despite {count:# open finding|# open findings}, listed in the note", lead="  ", count=len(made.despite))
    for path in made.paths:
        click.echo(f"  {path}")
    say("computed from SHA-256 {digest}", lead="  ", digest=made.digest)
    say(cautions.CALCULATION)


def _print_changes(people: Sequence[PersonChange]) -> None:
    from evenhand.terms.closing import change_in_short, changes_in_words

    for one in people:
        say("{who}: {change}", lead="    ", who=called(one.name, one.person), change=change_in_short(one))
        for line in changes_in_words(one):
            say("{line}", lead="      ", line=line)


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
        say("Nothing was handed off yet.")
    for one in listed:
        say(
            "{first:iso} to {last:iso}: {file}, written {at:zoned} by {author}",
            first=one.first,
            last=one.last,
            file=one.file,
            at=Moment(one.made_at, reckoning.zone),
            author=one.author or told("nobody named"),
        )
        if not one.is_detailed:
            say("an earlier version wrote it, so that it is not known line by line what it told", lead="  ")
        elif not one.changes:
            say(
                told("nothing has changed since that is not settled")
                if one.waiting
                else told("nothing has changed since"),
                lead="  ",
            )
        _print_changes(one.changes)
        if one.waiting:
            say("settled, and carried by the next period's file:", lead="  ")
            _print_changes(one.waiting)


@command.command()
@click.option("--period", metavar="DATE", required=True, help="The pay period handed off that holds DATE.")
@click.option(
    "--way",
    type=click.Choice(["adjust", "replace", "elsewhere"]),
    help="By the next period's file, by one that replaces this period's, or outside of payroll's files. Unsaid, a file "
    "replaces it until payroll's deadline, then the settings choose.",
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
    """Make good what changed in a period after its hand-off, in the way that --way says."""
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
            told("the next period's file carries it")
            if made.way == "next_file"
            else told("made good outside of payroll's files")
        )
        say(
            "{first:iso} to {last:iso}, {people:commas}: settled by {author}, {where}.",
            first=made.first,
            last=made.last,
            people=list(made.people),
            author=made.author,
            where=where,
        )
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
        rows = ((one.place, one.asked, one.found, told("differs") if one.differs else "") for one in checked.checks)
        print_table(("What", "Definition", "Sample", ""), rows)
        count = sum(one.differs for one in checked.checks)
        say(
            told("{count} of {all} differ.", count=count, all=len(checked.checks))
            if count
            else told("Nothing differs.")
        )
    if checked.differs:
        ctx.exit(3)
