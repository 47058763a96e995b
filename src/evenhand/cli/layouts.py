"""List the layouts that are kept, look at one, see by which a file would be read, remove one."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import click

from evenhand.cli.asked import as_json, confirm_or_leave, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_paragraph, print_table, say
from evenhand.cli.speaking import word
from evenhand.terms.characters import escaped
from evenhand.terms.languages import sentence, told

__all__ = ["command"]


FORMS_IN_WORDS = (sentence("delimited"), sentence("fixed"), sentence("sheet"), sentence("json lines"))
"""The forms of files, in the words of their layouts."""


@click.group(invoke_without_command=True)
@as_json
@click.pass_context
def command(ctx: click.Context, as_json: bool) -> None:
    """List the kept layouts: what each reads, and which file was last read by it."""
    if ctx.invoked_subcommand is not None:
        return
    from evenhand.jobs.listing_layouts import list_layouts
    from evenhand.store.listing import files_in

    workspace = workspace_asked(ctx)
    kept = list_layouts(workspace)
    if as_json:
        print_json(kept)
        return
    if not kept:
        say("No layout is kept yet; `evenhand take FILE...` proposes one for each new kind of file.")
        return
    print_table(
        ("Layout", "Reads", "From", "Takes", "Last file", "Last taken"),
        (
            (
                one.layout,
                told("{table} of {reader}", table=word(one.table), reader=one.reader)
                if one.reader
                else word(one.table),
                word(one.form.replace("_", " ")),
                one.takes,
                one.last_file,
                one.last_taken_at and told("{day}", day=datetime.fromtimestamp(one.last_taken_at, UTC).date()),
            )
            for one in kept
        ),
        right=(3,),
    )
    drafts = files_in(workspace.layouts / "drafts", ".toml")
    if drafts:
        say(
            "{drafts:# draft|# drafts} in {parent}: used only where --layout names one.",
            lead="\n",
            drafts=len(drafts),
            parent=drafts[0].parent,
        )


@command.command()
@click.argument("name", metavar="LAYOUT")
@as_json
@click.pass_context
def show(ctx: click.Context, name: str, as_json: bool) -> None:
    """Show a kept LAYOUT as it is written."""
    from evenhand.jobs.listing_layouts import find_layout

    found = find_layout(workspace_asked(ctx), name)
    if as_json:
        print_json(found)
        return
    click.echo(f"# {found.path}")
    click.echo(found.text)


@command.command()
@click.argument("file", type=click.Path(path_type=Path))
@as_json
@click.pass_context
def fit(ctx: click.Context, file: Path, as_json: bool) -> None:
    """Say by which kept layout FILE would be read, and what speaks against it or is open."""
    from evenhand.jobs.listing_layouts import fit_layouts

    found = fit_layouts(workspace_asked(ctx), file, now_or(None).date())
    if as_json:
        print_json(found)
        return
    by = (
        told("by the kept layout {layout}", layout=found.layout)
        if found.layout
        else told("by none of the kept layouts, but by a new one")
    )
    say("{file} would be read as {table} {by}.", file=escaped(found.file), table=word(found.table), by=by)
    for says in found.says:
        print_paragraph(says)


@command.command()
@click.argument("name", metavar="LAYOUT")
@click.option("--yes", is_flag=True, help="Remove it without asking.")
@as_json
@click.pass_context
def remove(ctx: click.Context, name: str, yes: bool, as_json: bool) -> None:
    """Remove a kept LAYOUT: the next file of its kind is proposed anew, and what was read by it stays."""
    from evenhand.jobs.listing_layouts import find_layout, remove_layout

    workspace = workspace_asked(ctx)
    found = find_layout(workspace, name)
    if not yes:
        confirm_or_leave(
            ctx,
            told("Remove {layout}, by which {takes:# take|# takes} were read?", layout=found.layout, takes=found.takes),
        )
    remove_layout(workspace, name)
    if as_json:
        print_json(found)
        return
    say("{layout} is removed; what was read by it stays as it is.", layout=found.layout)
