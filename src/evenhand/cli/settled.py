"""List the findings that were settled, with who decided and why."""

from __future__ import annotations

import click

from evenhand.cli.asked import as_json, workspace_asked
from evenhand.cli.printing import print_json
from evenhand.terms.words import as_moment

__all__ = ["command"]


@click.command()
@as_json
@click.pass_context
def command(ctx: click.Context, as_json: bool) -> None:
    """List the findings that are settled, and those that were opened again, with every answer given.

    `evenhand settle KEY --take-back` opens one again.
    """
    from evenhand.jobs.settling import list_settled

    listed, zone = list_settled(workspace_asked(ctx))
    if as_json:
        print_json(listed)
        return
    for one in listed:
        state = "settled" if one.is_settled else "open again"
        click.echo(f"{one.key}: {state}. {one.title}. {one.says or ''}".rstrip())
        for answer in one.answers:
            said = "opened again" if answer.is_withdrawn else "settled"
            click.echo(f"  {said} by {answer.author}, {as_moment(answer.made_at, zone)}: {answer.reason}")
    count = sum(one.is_settled for one in listed)
    click.echo(f"{count} findings are settled. `evenhand settle KEY --take-back` opens one again.")
