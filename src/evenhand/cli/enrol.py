"""Plan an enrolment day, print it, change it while it runs, and prove it."""

from __future__ import annotations

import click

from evenhand.cli.asked import as_json, as_of, now_or, paper_asked, workspace_asked
from evenhand.cli.enrol_day import change, plan, told_zones
from evenhand.cli.enrol_readers import coverage, queue
from evenhand.cli.printing import print_json, print_table, say
from evenhand.cli.speaking import word
from evenhand.terms.languages import clock_told
from evenhand.terms.rounds import PROVED

__all__ = ["command"]


@click.group()
def command() -> None:
    """Plan an enrolment day, print it, change it while it runs, and prove that it worked."""


@command.command("list")
@as_json
@click.pass_context
def list_them(ctx: click.Context, as_json: bool) -> None:
    """List the rounds, latest first."""
    from evenhand.jobs.rounds import list_rounds

    rounds = list_rounds(workspace_asked(ctx))
    if as_json:
        print_json(rounds)
        return
    print_table(("Round", "Day", "Title", "Made by"), rounds.select("round", "day", "title", "author").iter_rows())


@command.command()
@click.argument("name", metavar="ROUND")
@as_of
@as_json
@click.pass_context
def show(ctx: click.Context, name: str, as_of: str | None, as_json: bool) -> None:
    """Show how ROUND stands: each item with what came of it, and what must wait, and why."""
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.round_sheets import heading_of
    from evenhand.jobs.rounds import judge_round, see_round
    from evenhand.jobs.taking_off import states_told

    workspace = workspace_asked(ctx)
    seen, judged = see_round(workspace, name), judge_round(workspace, name)
    states = states_told(reckon_period(workspace, now_or(as_of)), seen.states)
    if as_json:
        quality = judged.select("item", "advice", "leave_out", "expected", "says")
        print_json(states.join(quality, on="item", how="left", maintain_order="left"))
        return
    zones = heading_of(workspace, seen, None).zones
    print_table(
        ("Reader", "No.", "At", "Do", "Number", "Name", "Came of it", "Presentations", "By", "Waits"),
        (
            (
                row["reader"],
                row["position"],
                clock_told(row["starts_at"], zones[row["reader"]]) if row["starts_at"] else "",
                word(row["action"].replace("_", " ")),
                row["number"],
                row["name"],
                word((row["result"] or "").replace("_", " ")),
                row["presentations"],
                row["author"],
                row["waits"] or row["together"],
            )
            for row in states.iter_rows(named=True)
        ),
        right=(1, 7),
    )
    for line in told_zones(zones, states, workspace.settings.zone):
        say("{says}", says=line)
    named = {row["item"]: row for row in seen.states.iter_rows(named=True)}
    for row in judged.iter_rows(named=True):
        item = named[row["item"]]
        say("{reader}, {name}: {says}", reader=item["reader"], name=item["name"] or item["number"], says=row["says"])


@command.command("print")
@click.argument("name", metavar="ROUND")
@click.option("--address", metavar="URL", help="Where the pages are; the codes on the sheets open the round there.")
@click.option("--language", type=click.Choice(["en", "es"]), default="en", show_default=True, help="The supervisors'.")
@paper_asked
@click.pass_context
def print_it(ctx: click.Context, name: str, address: str | None, language: str, paper: str | None) -> None:
    """Write ROUND as PDF: a page a reader, tear-off slips, a wall card, a supervisor's card."""
    from evenhand.jobs.round_sheets import print_sheets

    for path in print_sheets(
        workspace_asked(ctx), name, address=address, as_of=now_or(None), language=language, paper=paper or ""
    ):
        click.echo(path)
    say("Sheets and slips show people's numbers: keep them with the supervisors, and give each slip to its owner.")


@command.command()
@click.argument("name", metavar="[ROUND]", required=False)
@as_json
@click.pass_context
def prove(ctx: click.Context, name: str | None, as_json: bool) -> None:
    """Say what the punches prove of ROUND, or of every round: an enrolment counts with the first accepted punch."""
    from evenhand.jobs.rounds import prove_now

    proof = prove_now(workspace_asked(ctx), name, as_of=now_or(None))
    if as_json:
        print_json(proof)
        return
    print_table(
        ("Reader", "Person", "Number", "What the punches say", "Keyed", "Score"),
        (
            (
                row["reader"],
                row["person"],
                row["number"],
                row["says"] or word(PROVED[row["kind"]]),
                row["other"],
                row["score"],
            )
            for row in proof.sort("reader", "kind", "number").iter_rows(named=True)
        ),
        right=(5,),
    )
    proved, unproved = ((proof["kind"] == kind).sum() for kind in ("proved", "unproved"))
    say("{proved} proved, {unproved} not proved yet.", lead="\n", proved=proved, unproved=unproved)


for _part in (plan, change, coverage, queue):
    command.add_command(_part)
