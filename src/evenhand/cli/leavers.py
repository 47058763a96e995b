"""List whose hand must be gone, and by when their records go; plan the round that takes them off."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import as_json, as_of, author, day_asked, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table, say
from evenhand.terms import cautions
from evenhand.terms.languages import Moment, told

if TYPE_CHECKING:
    from evenhand.jobs.leavers import HandHeld, Leaver

__all__ = ["command"]


@click.group(invoke_without_command=True)
@as_of
@as_json
@click.pass_context
def command(ctx: click.Context, as_of: str | None, as_json: bool) -> None:
    """List everybody who left, withdrew consent or is no longer on the roster: hands, proofs, and until when."""
    if ctx.invoked_subcommand:
        return
    from evenhand.jobs.leavers import WAY_STANDS, clocked_now, leavers_of

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
                told(WAY_STANDS[one.state]),
                ", ".join(f"{hand.reader} {hand.number}" for hand in one.hands if hand.state != "proved"),
                _first(one),
                one.keep_through,
                _erase_from(one),
            )
            for one in found
        ),
    )
    say("{people:# person|# people}. {caution}", lead="\n", people=len(found), caution=told(cautions.CALCULATION))


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
    say(
        "{name} ({person}): {why:again}, {day}; bound by {places:commas}.",
        name=one.name,
        person=one.person,
        why=one.why,
        day=one.purpose_ended,
        places=list(one.places),
    )
    for hand in one.hands:
        say(
            "{reader} {number}, held since {since}",
            lead="  ",
            reader=hand.reader,
            number=hand.number,
            since=told("{day:iso}", day=hand.since) if hand.since else told("a day not told"),
        )
        say(
            "gone by   {day}: {rule:again} {since:iso}, {law:again}",
            lead="    ",
            day=hand.destroy_by,
            rule=hand.rule,
            since=hand.started_on,
            law=hand.law,
        )
        _say_how(hand.reading, hand.chosen_from)
        say("removal   {removal}", lead="    ", removal=_removal(hand, clocked.of.zone))
    if one.keep_through:
        least = "" if one.is_proved else told("at least ")
        say(
            "Records stay {least}through {day}: {rule:again}, {law:again}",
            lead="  ",
            least=least,
            day=one.keep_through,
            rule=one.keep_rule,
            law=one.keep_law,
        )
        _say_how(one.keep_reading, one.keep_chosen_from)
    say("{says}", lead="  ", says=one.says)
    say(cautions.CALCULATION)


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
        say("Not in it: {who}", who=said)
    if made.name:
        say(
            "Round {name}: print it with `evenhand enrol print {name}`. What proves it is a list of each reader taken "
            "afterwards, not the tick on the sheet.",
            lead="\n",
            name=made.name,
        )


def _say_how(reading: str, chosen_from: str) -> None:
    if reading:
        say("read so   {reading:again}", lead="    ", reading=reading)
    if chosen_from:
        laws = [told("{law:again}", law=one) for one in chosen_from.split("; ")]
        say("others    {laws}", lead="    ", laws=laws)


def _erase_from(one: Leaver) -> date | str:
    """Return from when on everything may go; while a hand is not proved gone that day may move on with the proof."""
    if one.erase_from is None:
        return ""
    return one.erase_from if one.is_proved else told("not before {day:iso}", day=one.erase_from)


def _first(one: Leaver) -> date | None:
    return min((hand.destroy_by for hand in one.hands if hand.state != "proved"), default=None)


def _removal(hand: HandHeld, zone: str) -> str:
    parts = []
    if hand.round:
        parts.append(told("on round {round}", round=hand.round))
    if hand.said_at:
        parts.append(told("said done by {name} {at:zoned}", name=hand.said_by, at=Moment(hand.said_at, zone)))
    if hand.proved_on:
        parts.append(
            told("proved by take {take}, {file}, {day}", take=hand.proof, file=hand.proof_file, day=hand.proved_on)
        )
    elif hand.state == "unlisted":
        parts.append(told("no list of the reader was ever taken"))
    elif hand.state == "taken_over":
        parts.append(told("another is accepted under the number since, and no list tells whose hand it shows"))
    elif hand.is_overdue:
        parts.append(told("the reader's last list still shows it, OVERDUE"))
    else:
        parts.append(told("the reader's last list still shows it"))
    return told("{parts}", parts=parts)
