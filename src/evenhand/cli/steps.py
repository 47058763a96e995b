"""Write the workplace's own steps at its kinds of reader, list and show them, print them for the wall."""

from __future__ import annotations

from pathlib import Path

import click

from evenhand.cli.asked import LINE, author, now_or, paper_asked, text_of, workspace_asked
from evenhand.cli.printing import print_table, say
from evenhand.terms.languages import Moment, told

__all__ = ["command"]


@click.group()
def command() -> None:
    """Write how things are done at each kind of reader, in your own words; none come with evenhand."""


@command.command()
def example() -> None:
    """Print a form to fill in: the five headings, and nothing under them."""
    from evenhand.jobs.own_steps import form_to_fill_in

    click.echo(form_to_fill_in())


@command.command("list")
@click.pass_context
def list_them(ctx: click.Context) -> None:
    """List the kinds of reader that steps are written for, each as it is now."""
    from evenhand.jobs.own_steps import own_steps_now

    now = own_steps_now(workspace_asked(ctx))
    if not now:
        say("No steps are written yet; `evenhand steps example` prints a form to fill in.")
        return
    print_table(
        ("Kind", "Version", "Readers", "Languages", "By", "At", "Why"),
        (
            (
                kind,
                one.number,
                ", ".join(one.steps.readers),
                ", ".join(one.steps.words),
                one.author,
                told("{at:zoned}", at=Moment(one.made_at, "UTC")),
                one.reason,
            )
            for kind, one in now.items()
        ),
        right=(1,),
    )


@command.command()
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@author
@click.option("--reason", required=True, type=LINE, help="Why they are as they are from now on.")
@click.pass_context
def add(ctx: click.Context, file: Path, author: str | None, reason: str) -> None:
    """Keep FILE, which `steps example` shows the form of, as the last version of its kind; earlier ones stay."""
    from evenhand.jobs.own_steps import add_own_steps

    workspace, text = workspace_asked(ctx), text_of(file, "own steps")
    kept = add_own_steps(workspace, text, file=file.name, author=author or "", reason=reason, as_of=now_or(None))
    where = ", ".join(kept.steps.readers) or told("no reader yet")
    say(
        "{kind}, version {number}, for {where}. The round shows it at each turn.",
        kind=kept.steps.kind,
        number=kept.number,
        where=where,
    )


@command.command()
@click.argument("kind")
@click.pass_context
def show(ctx: click.Context, kind: str) -> None:
    """Print the steps at readers of KIND, as the file they were written in."""
    from evenhand.jobs.own_steps import steps_of

    click.echo(steps_of(workspace_asked(ctx), kind).text)


@command.command("print")
@click.argument("kind")
@click.option("--out", required=True, type=click.Path(path_type=Path, dir_okay=False), help="Where the PDF is written.")
@paper_asked
@click.pass_context
def print_it(ctx: click.Context, kind: str, out: Path, paper: str | None) -> None:
    """Write the steps at readers of KIND as PDF for the wall beside them, a page a language."""
    from evenhand.jobs.own_steps import print_own_steps, steps_of
    from evenhand.jobs.workspace import paper_of

    workspace = workspace_asked(ctx)
    print_own_steps(steps_of(workspace, kind).steps, out, paper=paper or paper_of(workspace))
    click.echo(out)
