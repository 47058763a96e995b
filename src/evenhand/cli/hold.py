"""Place and lift legal holds on somebody's time records."""

from __future__ import annotations

import click

from evenhand.cli.asked import LINE, as_json, as_of, author, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table, say
from evenhand.terms.languages import Moment, sentence, told

__all__ = ["command"]

reason = click.option(
    "--reason", type=LINE, required=True, help="The suit, charge or audit, or how it ended; kept with it."
)


@click.group()
def command() -> None:
    """Stop the disposal of somebody's time records while a suit, charge or audit is open."""


@command.command()
@click.argument("person")
@author
@reason
@as_of
@as_json
@click.pass_context
def place(ctx: click.Context, person: str, author: str | None, reason: str, as_of: str | None, as_json: bool) -> None:
    """Place a hold on the time records of PERSON for one matter: they are not erased before it is lifted."""
    _decide(ctx, person, author, reason, as_of, None, is_lifted=False, as_json=as_json)


@command.command()
@click.argument("person")
@click.option("--hold", type=click.IntRange(1, 2**53 - 1), metavar="N", help="Which, where several stand; list says.")
@author
@reason
@as_of
@as_json
@click.pass_context
def lift(
    ctx: click.Context,
    person: str,
    hold: int | None,
    author: str | None,
    reason: str,
    as_of: str | None,
    as_json: bool,
) -> None:
    """Lift a hold on the time records of PERSON; others that stand go on."""
    _decide(ctx, person, author, reason, as_of, hold, is_lifted=True, as_json=as_json)


@command.command("list")
@as_json
@click.pass_context
def list_them(ctx: click.Context, as_json: bool) -> None:
    """List the holds that stand, and those lifted."""
    from evenhand.jobs.holds import list_holds

    found = list_holds(workspace_asked(ctx))
    if as_json:
        print_json(found)
        return
    print_table(
        ("Hold", "Person", "Name", "For", "Stands", "By", "When", "Why"),
        (
            (
                one.hold,
                one.person,
                one.name,
                one.matter,
                told("lifted") if one.is_lifted else told("held"),
                one.author,
                told("{at:zoned}", at=Moment(one.made_at, "UTC")),
                one.reason if one.is_lifted else "",
            )
            for one in found
        ),
        right=(0,),
    )


def _decide(
    ctx: click.Context,
    person: str,
    author: str | None,
    reason: str,
    as_of: str | None,
    hold: int | None,
    *,
    is_lifted: bool,
    as_json: bool,
) -> None:
    from evenhand.jobs.holds import HOLDS_NO_HAND, decide_hold

    workspace, by = workspace_asked(ctx), author or ""
    made = decide_hold(workspace, person, is_lifted=is_lifted, author=by, reason=reason, as_of=now_or(as_of), hold=hold)
    if as_json:
        print_json(made)
        return
    done = (
        sentence("Hold {hold} lifted on the time records of {name} ({person}) by {author}: {reason}")
        if is_lifted
        else sentence("Hold {hold} placed on the time records of {name} ({person}) by {author}: {reason}")
    )
    say(done, hold=made.hold, name=made.name, person=made.person, author=made.author, reason=made.reason)
    if not is_lifted:
        say("{says}", says=HOLDS_NO_HAND)
