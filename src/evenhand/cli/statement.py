"""Print a person's statement of hours and pay."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import click

from evenhand.cli.asked import as_json, as_of, day_asked, now_or, workspace_asked
from evenhand.cli.printing import print_json
from evenhand.terms import cautions
from evenhand.terms.records import Refusal

__all__ = ["command"]


@click.command()
@click.argument("person")
@click.option("--period", metavar="DATE", help="The pay period that holds DATE; otherwise the last one closed.")
@click.option("--out", required=True, type=click.Path(path_type=Path, dir_okay=False), help="The PDF to write.")
@as_of
@as_json
@click.pass_context
def command(ctx: click.Context, person: str, period: str | None, out: Path, as_of: str | None, as_json: bool) -> None:
    """Write the statement of PERSON (an identifier, a number or a name) as PDF, each line numbered to be disputed."""
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.statement import statement, statement_pdf
    from evenhand.store.owner_only import write_file

    day = day_asked(period, "--period")
    reckoning = reckon_period(workspace_asked(ctx), now_or(as_of), day, history=timedelta(0))
    made = statement(reckoning, person, period_day=day)
    try:
        write_file(out, statement_pdf(made))
    except OSError as fault:
        raise Refusal(f"{out} cannot be written ({fault.strerror}); name a file in a folder of yours.") from fault
    if as_json:
        who = {name: made.content[name] for name in ("person", "name")}
        total = made.content["total"] and Decimal(made.content["total"])
        print_json({"file": out, **who, "first": made.first, "last": made.last, "total": total})
        return
    click.echo(f"{out}: {made.content['name']}, {made.content['period']}. {cautions.CALCULATION}")
