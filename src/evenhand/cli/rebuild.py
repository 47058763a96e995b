"""Make the store anew from the files taken and what was decided."""

from __future__ import annotations

import click

from evenhand.cli.asked import as_json, author, now_or, workspace_asked
from evenhand.cli.printing import print_json, say
from evenhand.cli.take import taking
from evenhand.terms.languages import told

__all__ = ["command"]


@click.command()
@click.option("--try", "is_try", is_flag=True, help="Only compare, and leave the store as it is.")
@author
@as_json
@click.pass_context
def command(ctx: click.Context, is_try: bool, author: str | None, as_json: bool) -> None:
    """Make the store anew from the files taken, what was decided about them, and what the settings said.

    The last resort where the store is doubted. What people decided is kept as it is. With --try, exit code 3 says that
    rows differ.
    """
    from evenhand.jobs.rebuild import rebuild

    with taking() as progress:
        rebuilt = rebuild(workspace_asked(ctx), is_try, author=author or "", as_of=now_or(None), progress=progress)
    if as_json:
        print_json(rebuilt)
    else:
        if not rebuilt.differing:
            say("{takes:# take|# takes} folded anew: every row is as it was.", takes=rebuilt.takes)
        else:
            say(
                "{takes:# take|# takes} folded anew: {rows:# row differs|# rows differ}, of these first:",
                takes=rebuilt.takes,
                rows=rebuilt.differing,
            )
        for one in rebuilt.first:
            said = ", ".join(f"{name} {value}" for name, value in one.row.items() if value is not None)
            say(
                "{table}: {which}: {row}",
                lead="  ",
                table=one.table,
                which=(told("anew") if one.is_new else told("stored")),
                row=said,
            )
        for notice in rebuilt.notices:
            say("{says}", says=notice)
    if is_try and rebuilt.differing:
        ctx.exit(3)
