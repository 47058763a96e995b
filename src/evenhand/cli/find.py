"""Find people, numbers, readers, sites, strays, files, rounds and days by a few words."""

from __future__ import annotations

import click

from evenhand.cli.asked import LINE, as_json, as_of, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table, say
from evenhand.cli.speaking import word
from evenhand.terms.languages import told

__all__ = ["command"]


@click.command()
@click.argument("words", nargs=-1, required=True, type=LINE)
@as_of
@as_json
@click.pass_context
def command(ctx: click.Context, words: tuple[str, ...], as_of: str | None, as_json: bool) -> None:
    """Find what WORDS mean, the nearest first; exit code 1 where nothing is found.

    Names are found in any order, without accents, by a part and with a slip; every word has to be there.
    """
    from evenhand.jobs.find import find
    from evenhand.jobs.reckoning import reckon_period

    searched = find(reckon_period(workspace_asked(ctx), now_or(as_of)), " ".join(words))
    if as_json:
        print_json(searched)
    else:
        for of in searched.kinds:
            more = told(" (the nearest of {count})", count=of.count) if of.count > len(of.found) else ""
            say("{title}{more}", bold=True, title=word(of.title), more=more)
            print_table(("", "", ""), ((one.key, one.name, one.says) for one in of.found))
        if not searched.kinds:
            say(
                'Nothing is found for "{asked}"; every word has to be there, or be one slip away.', asked=searched.asked
            )
    if not searched.kinds:
        ctx.exit(1)
