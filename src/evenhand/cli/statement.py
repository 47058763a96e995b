"""Print a person's statement of hours and pay."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import click

from evenhand.cli.asked import as_json, as_of, day_asked, now_or, paper_asked, workspace_asked
from evenhand.cli.printing import print_json, say
from evenhand.terms import cautions
from evenhand.terms.languages import DaySpan, told

__all__ = ["command"]


@click.command()
@click.argument("person")
@click.option("--period", metavar="DATE", help="The pay period that holds DATE; otherwise the last one closed.")
@click.option("--out", required=True, type=click.Path(path_type=Path, dir_okay=False), help="The PDF to write.")
@paper_asked
@as_of
@as_json
@click.pass_context
def command(
    ctx: click.Context,
    person: str,
    period: str | None,
    out: Path,
    paper: str | None,
    as_of: str | None,
    as_json: bool,
) -> None:
    """Write the statement of PERSON (an identifier, a number or a name) as PDF, each line numbered to be disputed."""
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.statement_files import print_statement

    day = day_asked(period, "--period")
    workspace, now = workspace_asked(ctx), now_or(as_of)
    reckoning = reckon_period(workspace, now, day, history=timedelta(0))
    made = print_statement(workspace, reckoning, out, person, day=day, as_of=now, paper=paper or "")
    if as_json:
        print_json(made)
        return
    signs = told(" Its code is {code}.", code=made["code"]) if made["code"] else ""
    say(
        "{out}: {name}, {days}.{signs} {caution}",
        out=out,
        name=made["name"],
        days=DaySpan(made["first"], made["last"]),
        signs=signs,
        caution=told(cautions.CALCULATION),
    )
