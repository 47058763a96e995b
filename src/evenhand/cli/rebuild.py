"""Make the store anew from the files taken and what was decided."""

from __future__ import annotations

import click

from evenhand.cli.asked import as_json, author, now_or, workspace_asked
from evenhand.cli.printing import print_json
from evenhand.cli.take import taking
from evenhand.terms.words import counted

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
        folded = counted(rebuilt.takes, "take", "takes")
        if not rebuilt.differing:
            click.echo(f"{folded} folded anew: every row is as it was.")
        else:
            differ = counted(rebuilt.differing, "row differs", "rows differ")
            click.echo(f"{folded} folded anew: {differ}, of these first:")
        for one in rebuilt.first:
            said = ", ".join(f"{name} {value}" for name, value in one.row.items() if value is not None)
            click.echo(f"  {one.table}: {'anew' if one.is_new else 'stored'}: {said}")
        for notice in rebuilt.notices:
            click.echo(notice)
    if is_try and rebuilt.differing:
        ctx.exit(3)
