"""Put findings aside, with who decided and why, or open one again."""

from __future__ import annotations

import click

from evenhand.cli.asked import LINE, as_json, as_of, author, day_asked, now_or, workspace_asked
from evenhand.cli.printing import print_json, say
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = ["command"]


@click.command()
@click.argument("keys", metavar="KEY...", nargs=-1, required=True)
@author
@click.option(
    "--reason",
    required=True,
    type=LINE,
    metavar="TEXT",
    help="Why it may stand, or is opened again; kept with the decision.",
)
@click.option("--take-back", is_flag=True, help="Open one settled finding again.")
@click.option("--period", metavar="DATE", help="The pay period that holds DATE, instead of the last one closed.")
@as_of
@as_json
@click.pass_context
def command(
    ctx: click.Context,
    keys: tuple[str, ...],
    author: str | None,
    reason: str,
    take_back: bool,
    period: str | None,
    as_of: str | None,
    as_json: bool,
) -> None:
    """Settle the finding of each KEY, as `evenhand today` names them. They no longer keep the period from payroll."""
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.settling import open_again, settle
    from evenhand.jobs.today import listed

    workspace, now = workspace_asked(ctx), now_or(as_of)
    if take_back:
        if len(keys) > 1:
            raise Refusal(
                told("findings are opened again one by one; name one KEY with --take-back. Nothing was changed.")
            )
        opened = open_again(workspace, keys[0], author=author or "", reason=reason, as_of=now)
        if as_json:
            print_json(opened)
            return
        say("Opened again by {author}: {says}", author=author, says=opened.says or opened.key)
        return
    day = day_asked(period, "--period")
    reckoning = reckon_period(workspace, now, day)
    findings = settle(workspace, reckoning, keys, author=author or "", reason=reason, as_of=now, period_day=day)
    if as_json:
        print_json(listed(findings, reckoning.snapshot.names))
        return
    if len(findings) > 1:
        say(
            "{findings:# finding|# findings} settled by {author}; each is opened again by itself.",
            findings=len(findings),
            author=author,
        )
    for finding in findings:
        say("Settled by {author}: {says}", author=author, says=finding.says)
