"""Show a person's pay for a week, line by line."""

from __future__ import annotations

from datetime import timedelta

import click

from evenhand.cli.asked import as_json, day_asked, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table, say
from evenhand.terms import cautions
from evenhand.terms.languages import told
from evenhand.terms.said import say_struck
from evenhand.terms.words import as_figures

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
        more = {"struck": struck, "in_two_workweeks": seen.week.in_two_workweeks, "asks": asks}
        print_json({**who, **paid, "faults": seen.pay.faults, **more, "open": seen.open})
        return
    who, totals = seen.week.person, seen.totals
    say(
        "{name} ({person}), workweek of {day:iso}",
        bold=True,
        name=who["name"],
        person=who["person"],
        day=seen.week.workweek,
    )
    rows: list[tuple[object, ...]] = [
        (
            told("{label:again}", label=line["label"]),
            None if line["seconds"] is None else as_figures(line["seconds"]),
            None if line["rate"] is None else line["rate"].normalize().quantize(line["rate"]),
            told("{amount:pay}", amount=line["amount"]),
            told("{cites:again}", cites=line["cites"]),
        )
        for line in seen.pay.lines.iter_rows(named=True)
    ]
    rows.append((told("All pay"), None, None, told("{amount:pay}", amount=seen.total), seen.total_says))
    print_table(("Line", "Time", "Rate", "Amount", "Rule"), rows, right=(1, 2, 3))
    rate = totals.get("regular_rate")
    if rate is not None:
        say("Regular rate {rate:.4f}, carried exactly; each line is rounded once.", lead="\n", rate=rate)
    for one in struck:
        say("{says}", says=say_struck(one))
    for says in seen.week.in_two_workweeks:
        say("{says:again}.", says=says)
    for says in asks:
        say("Asked: {says}.", says=says)
    for says in seen.open:
        say("Open: {says}.", says=says)
    say(cautions.CALCULATION)
