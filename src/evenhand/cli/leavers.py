"""List whose hand must be gone, and by when their records go; plan the round that takes them off."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import as_json, as_of, author, day_asked, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table
from evenhand.terms import cautions
from evenhand.terms.words import as_day, as_zoned_moment, counted

if TYPE_CHECKING:
    from evenhand.jobs.leavers import HandHeld, Leaver

__all__ = ["command"]

STATES = {
    "to_remove": "to be removed",
    "to_prove": "removal to be proved",
    "on_hold": "legal hold",
    "no_law": "no law on file",
    "kept": "records kept",
    "may_go": "may be erased",
}


@click.group(invoke_without_command=True)
@as_of
@as_json
@click.pass_context
def command(ctx: click.Context, as_of: str | None, as_json: bool) -> None:
    """List everybody who left, withdrew consent or is no longer on the roster: hands, proofs, and until when."""
    if ctx.invoked_subcommand:
        return
    from evenhand.jobs.leavers import clocked_now, leavers_of

    found = leavers_of(clocked_now(workspace_asked(ctx), now_or(as_of)))
    if as_json:
        print_json(found)
        return
    print_table(
        ("Person", "Name", "Ended", "Stands", "Hands to be gone", "By", "Records through", "Erase from"),
        (
            (
                one.person,
                one.name,
                one.purpose_ended,
                STATES[one.state],
                ", ".join(f"{hand.reader} {hand.number}" for hand in one.hands if hand.state != "proved"),
                _first(one),
                one.keep_through,
                _erase_from(one),
            )
            for one in found
        ),
    )
    click.echo(f"\n{counted(len(found), 'person', 'people')}. {cautions.CALCULATION}")


@command.command()
@click.argument("person")
@as_of
@as_json
@click.pass_context
def show(ctx: click.Context, person: str, as_of: str | None, as_json: bool) -> None:
    """Show the whole way of PERSON: last day, removal from each reader and its proof, records kept, erasure."""
    from evenhand.jobs.leavers import clocked_now, leaver_of

    clocked = clocked_now(workspace_asked(ctx), now_or(as_of))
    one = leaver_of(clocked, person)
    if as_json:
        print_json(one)
        return
    click.echo(f"{one.name} ({one.person}): {one.why}, {as_day(one.purpose_ended)}; bound by {', '.join(one.places)}.")
    for hand in one.hands:
        click.echo(f"  {hand.reader} {hand.number}, held since {hand.since or 'a day not told'}")
        click.echo(f"    gone by   {as_day(hand.destroy_by)}: {hand.rule} {hand.started_on}, {hand.law}")
        for label, said in (("read so", hand.reading), ("others", hand.chosen_from)):
            if said:
                click.echo(f"    {label:<9} {said}")
        click.echo(f"    removal   {_removal(hand, clocked.of.zone)}")
    if one.keep_through:
        least = "" if one.is_proved else "at least "
        click.echo(f"  Records stay {least}through {as_day(one.keep_through)}: {one.keep_rule}, {one.keep_law}")
        for label, said in (("read so", one.keep_reading), ("others", one.keep_chosen_from)):
            if said:
                click.echo(f"    {label:<9} {said}")
    click.echo(f"  {one.says}")
    click.echo(cautions.CALCULATION)


@command.command("round")
@click.option("--day", metavar="DATE", help="The day it is for; today where none is given.")
@click.option("--dry-run", is_flag=True, help="Show the round without keeping it.")
@author
@as_of
@as_json
@click.pass_context
def plan_round(
    ctx: click.Context, day: str | None, dry_run: bool, author: str | None, as_of: str | None, as_json: bool
) -> None:
    """Plan a round that takes every hand due off its reader; no reader is left with fewer than two supervisors."""
    from evenhand.jobs.removal_rounds import plan_removals

    workspace, now = workspace_asked(ctx), now_or(as_of)
    wanted: date = day_asked(day, "--day") or now.date()
    made = plan_removals(workspace, wanted, author=author or "", as_of=now, keep=not dry_run)
    if as_json:
        print_json(made)
        return
    rows = made.items.select("reader", "position", "number", "person", "name").iter_rows()
    print_table(("Reader", "", "Number", "Person", "Name"), rows)
    for said in made.left_out:
        click.echo(f"Not in it: {said}")
    if made.name:
        click.echo(
            f"\nRound {made.name}: print it with `evenhand enrol print {made.name}`. What proves it is a list of each "
            "reader taken afterwards, not the tick on the sheet."
        )


def _erase_from(one: Leaver) -> str:
    """Return from when on everything may go; while a hand is not proved gone that day may move on with the proof."""
    if one.erase_from is None:
        return ""
    return f"{one.erase_from}" if one.is_proved else f"not before {one.erase_from}"


def _first(one: Leaver) -> date | None:
    return min((hand.destroy_by for hand in one.hands if hand.state != "proved"), default=None)


def _removal(hand: HandHeld, zone: str) -> str:
    parts = []
    if hand.round:
        parts.append(f"on round {hand.round}")
    if hand.said_at:
        parts.append(f"said done by {hand.said_by} {as_zoned_moment(hand.said_at, zone)}")
    if hand.proved_on:
        parts.append(f"proved by take {hand.proof}, {hand.proof_file}, {as_day(hand.proved_on)}")
    elif hand.state == "unlisted":
        parts.append("no list of the reader was ever taken")
    elif hand.state == "taken_over":
        parts.append("another is accepted under the number since, and no list tells whose hand it shows")
    else:
        parts.append("the reader's last list still shows it" + (", OVERDUE" if hand.is_overdue else ""))
    return "; ".join(parts)
