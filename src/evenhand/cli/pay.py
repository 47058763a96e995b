"""Show a person's pay for a week, line by line."""

from __future__ import annotations

from datetime import timedelta

import click

from evenhand.cli.asked import as_json, day_asked, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table
from evenhand.terms import cautions
from evenhand.terms.said import say_struck
from evenhand.terms.words import as_figures, as_pay

__all__ = ["command"]


@click.command()
@click.argument("person")
@click.argument("week")
@as_json
@click.pass_context
def command(ctx: click.Context, person: str, week: str, as_json: bool) -> None:
    """Show the pay of PERSON (an identifier, a number or a name) for the workweek that holds WEEK, a date."""
    from evenhand.jobs.local_wages import ask_local_wage
    from evenhand.jobs.premiums import struck_between
    from evenhand.jobs.reckoning import reckon_day

    day = day_asked(week, "WEEK")
    assert day is not None
    reckoning = reckon_day(workspace_asked(ctx), now_or(None), day)
    seen = reckoning.person_pay(person, day)
    first, last = seen.week.workweek, seen.week.workweek + timedelta(days=6)
    struck = struck_between(reckoning.snapshot, str(seen.week.person["person"]), first, last)
    asks = ask_local_wage(reckoning.snapshot, seen)
    if as_json:
        who = {name: seen.week.person[name] for name in ("person", "name")}
        paid = {"workweek": first, "total": seen.total, "lines": seen.pay.lines, "week": seen.totals or None}
        told = {"struck": struck, "in_two_workweeks": seen.week.in_two_workweeks, "asks": asks}
        print_json({**who, **paid, "faults": seen.pay.faults, **told, "open": seen.open})
        return
    who, totals = seen.week.person, seen.totals
    click.secho(f"{who['name']} ({who['person']}), workweek of {seen.week.workweek}", bold=True)
    rows = [
        (
            line["label"],
            None if line["seconds"] is None else as_figures(line["seconds"]),
            None if line["rate"] is None else line["rate"].normalize().quantize(line["rate"]),
            as_pay(line["amount"]),
            line["cites"],
        )
        for line in seen.pay.lines.iter_rows(named=True)
    ]
    rows.append(("All pay", None, None, as_pay(seen.total), seen.total_says))
    print_table(("Line", "Time", "Rate", "Amount", "Rule"), rows, right=(1, 2, 3))
    rate = totals.get("regular_rate")
    if rate is not None:
        click.echo(f"\nRegular rate {rate:.4f}, carried exactly; each line is rounded once.")
    for one in struck:
        click.echo(say_struck(one))
    for says in seen.week.in_two_workweeks:
        click.echo(f"{says}.")
    for says in asks:
        click.echo(f"Asked: {says}.")
    for says in seen.open:
        click.echo(f"Open: {says}.")
    click.echo(cautions.CALCULATION)
