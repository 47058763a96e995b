"""Strike hours of pay that the record presumes to be owed, enter owed ones, or let the record count again."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import LINE, as_json, author, confirm_or_leave, day_asked, now_or, workspace_asked
from evenhand.cli.correct import print_changes
from evenhand.cli.printing import print_json, say
from evenhand.terms import cautions
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.terms.said import premium_in_words

if TYPE_CHECKING:
    from evenhand.jobs.premiums import PremiumPreview

__all__ = ["command"]


@click.command()
@click.argument("action", type=click.Choice(["strike", "owe", "presume"]))
@click.argument("person")
@click.option("--day", required=True, metavar="DATE", help="The day on which the workday begins.")
@click.option(
    "--kind",
    required=True,
    type=click.Choice(["meal", "rest", "split-shift", "reporting", "call-back"]),
    help="What the hours are owed for.",
)
@click.option("--hours", metavar="HOURS", help="How many are owed, such as 1; with owe.")
@click.option("--reason", required=True, type=LINE, metavar="TEXT", help="Why; kept with the decision.")
@author
@click.option("--yes", is_flag=True, help="Decide without asking.")
@as_json
@click.pass_context
def command(
    ctx: click.Context,
    action: str,
    person: str,
    day: str,
    kind: str,
    hours: str | None,
    reason: str,
    author: str | None,
    yes: bool,
    as_json: bool,
) -> None:
    """Decide about PERSON's hours of pay beside time worked: strike, owe, or presume them from the record again."""
    from evenhand.jobs.premiums import PremiumRequest, decide_premium, preview_premium
    from evenhand.jobs.reckoning import reckon_day

    workspace, now = workspace_asked(ctx), now_or(None)
    workday = day_asked(day, "--day")
    assert workday is not None  # the option is required
    reckoning = reckon_day(workspace, now, workday)
    asked = PremiumRequest(action, person, workday, kind.replace("-", "_"), author or "", reason, _hours(hours))
    seen = preview_premium(reckoning, asked, as_of=now)
    if not as_json:
        _print_foreseen(seen)
    if not yes:
        confirm_or_leave(ctx, "Decide so?")
    made = decide_premium(workspace, reckoning, asked, as_of=now)
    if as_json:
        print_json({"decision": made.number, "foreseen": made.foreseen})
        return
    say(
        "Decision {number} made by {author}. {caution}",
        number=made.number,
        author=author,
        caution=told(cautions.CALCULATION),
    )


def _hours(text: str | None) -> Decimal | None:
    try:
        return None if text is None else Decimal(text)
    except InvalidOperation as fault:
        raise Refusal(told('--hours "{text}" is no number; write it as 1 or 1.5.', text=text)) from fault


def _print_foreseen(seen: PremiumPreview) -> None:
    say(
        "{name}, {day:iso}: {before:f} to {after:f} h owed for {what}",
        name=seen.name,
        day=seen.workday,
        before=seen.hours_before.normalize(),
        after=seen.hours_after.normalize(),
        what=premium_in_words(seen.kind),
    )
    print_changes(seen.changes)
    for says in seen.undoes:
        say("{says}", says=says)
