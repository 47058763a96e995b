"""List the findings that were settled, with who decided and why."""

from __future__ import annotations

import click

from evenhand.cli.asked import as_json, workspace_asked
from evenhand.cli.printing import print_json, say
from evenhand.terms.languages import Moment, told

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
        state = told("settled") if one.is_settled else told("open again")
        says = [told("{title}.", title=one.title), *filter(None, [one.says])]
        say("{key}: {state}. {says:row}", key=one.key, state=state, says=says)
        for answer in one.answers:
            said = told("opened again") if answer.is_withdrawn else told("settled")
            say(
                "{said} by {author}, {at}: {reason}",
                lead="  ",
                said=said,
                author=answer.author,
                at=Moment(answer.made_at, zone),
                reason=answer.reason,
            )
    count = sum(one.is_settled for one in listed)
    say("{count:# finding is|# findings are} settled. `evenhand settle KEY --take-back` opens one again.", count=count)
