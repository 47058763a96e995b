"""Put a finding aside, with who decided and why, or open it again."""

from __future__ import annotations

import click

from evenhand.cli.asked import as_json, as_of, author, now_or, workspace_asked
from evenhand.cli.printing import print_json

__all__ = ["command"]


@click.command()
@click.argument("key")
@author
@click.option("--reason", required=True, help="Why it may stand, or is opened again; kept with the decision.")
@click.option("--take-back", is_flag=True, help="Open a settled finding again.")
@as_of
@as_json
@click.pass_context
def command(
    ctx: click.Context,
    key: str,
    author: str | None,
    reason: str,
    take_back: bool,
    as_of: str | None,
    as_json: bool,
) -> None:
    """Settle the finding KEY, as `evenhand today` names it. It no longer keeps the period from payroll."""
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.settling import open_again, settle
    from evenhand.jobs.today import listed

    workspace, now = workspace_asked(ctx), now_or(as_of)
    if take_back:
        opened = open_again(workspace, key, author=author or "", reason=reason, as_of=now)
        if as_json:
            print_json(opened)
            return
        click.echo(f"Opened again by {author}: {opened.says or key}")
        return
    reckoning = reckon_period(workspace, now)
    finding = settle(workspace, reckoning, key, author=author or "", reason=reason, as_of=now)
    if as_json:
        print_json(listed([finding], reckoning.snapshot.names)[0])
        return
    click.echo(f"Settled by {author}: {finding.says}")
