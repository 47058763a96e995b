"""List the files taken, take one back, read one again."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from evenhand.cli.answers import answers_of, asks_about_a_file
from evenhand.cli.asked import LINE, as_json, author, confirm_or_leave, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table, say
from evenhand.cli.speaking import word
from evenhand.cli.takes_printing import print_foreseen
from evenhand.terms import cautions
from evenhand.terms.languages import told

if TYPE_CHECKING:
    from evenhand.jobs.takes import Foreseen, TakeListed

__all__ = ["command"]

reason = click.option("--reason", required=True, type=LINE, metavar="TEXT", help="Why; kept with the decision.")


@click.group(invoke_without_command=True)
@as_json
@click.pass_context
def command(ctx: click.Context, as_json: bool) -> None:
    """List the files taken so far; with a further word, take one back or read one again."""
    from evenhand.jobs.takes import list_takes

    if ctx.invoked_subcommand is not None:
        return
    takes = list_takes(workspace_asked(ctx))
    if as_json:
        print_json(takes)
        return
    if not takes:
        say("Nothing has been taken yet; `evenhand take FILE...` takes files in.")
        return
    print_table(
        ("Take", "File", "Is", "Read", "Taken", "Known", "Rejected", "No longer listed", "Stands"),
        (
            (
                one.take,
                one.file,
                word(one.table),
                one.read,
                one.taken,
                one.known,
                one.rejected,
                one.gone or None,
                _stands(one),
            )
            for one in takes
        ),
        right=(0, 3, 4, 5, 6, 7),
    )
    for one in takes:
        if one.fault:
            say("take {take}: nothing of it can be read any more: {fault}", take=one.take, fault=one.fault)
        if one.rejected_path:
            say(
                "take {take}: its rejected rows, each with its reason, stand in {rejected_path}",
                take=one.take,
                rejected_path=one.rejected_path,
            )


@command.command()
@click.argument("take", type=click.IntRange(1, 2**31 - 1), metavar="N")
@author
@reason
@click.option("--forget-layout", is_flag=True, help="Remove the kept layout too that no other take is read by.")
@click.option("--yes", is_flag=True, help="Take it back without asking.")
@as_json
@click.pass_context
def back(
    ctx: click.Context,
    take: int,
    author: str | None,
    reason: str,
    forget_layout: bool,
    yes: bool,
    as_json: bool,
) -> None:
    """Take back take N: the store becomes what it would be if the file had never been taken."""
    from evenhand.jobs import mended
    from evenhand.jobs.takes import check_signed, foresee_back, take_back

    author, reason = check_signed(author, reason)
    workspace, now = workspace_asked(ctx), now_or(None)
    foreseen = foresee_back(workspace, take, as_of=now)
    if not as_json:
        say("Taking back take {take}, {file}:", take=take, file=foreseen.file)
        print_foreseen(foreseen)
    if not yes:
        confirm_or_leave(ctx, "Take it back?")
    with _as_foreseen():
        stands = take_back(
            workspace,
            take,
            author=author,
            reason=reason,
            as_of=now,
            is_as_seen=None if yes else lambda found: found == foreseen,
        )
    gone = mended.forget_layout(workspace, stands) if forget_layout else ""
    left = mended.layout_left(workspace, stands)
    _tell_done(
        stands,
        foreseen,
        as_json,
        told(
            "Take {take} is taken back by {author}; `evenhand takes again {take} --author NAME --reason WHY` brings it "
            "back.",
            take=take,
            author=author,
        ),
        told(
            "The layout {layout} stays for later files of its kind; if it is wrong, `evenhand layouts remove "
            "{layout}`.",
            layout=left,
        )
        if left
        else "",
        told("The layout {layout} was removed.", layout=gone) if gone else "",
    )


@command.command()
@click.argument("take", type=click.IntRange(1, 2**31 - 1), metavar="N")
@asks_about_a_file
@click.option("--only-this", is_flag=True, help="Read later files of its kind as before.")
@author
@reason
@click.option("--yes", is_flag=True, help="Read it again without asking.")
@as_json
@click.pass_context
def again(
    ctx: click.Context,
    /,
    take: int,
    layout: Path | None,
    only_this: bool,
    author: str | None,
    reason: str,
    yes: bool,
    as_json: bool,
    **said: Any,
) -> None:
    """Read the file of take N again, in its place; without an answer or a layout, by what fits it best now.

    One that was taken back is brought back. Later files of its kind are then read so as well.
    """
    from evenhand.jobs.kept_layouts import read_layout
    from evenhand.jobs.mended import mend_kept, mend_left
    from evenhand.jobs.reading_again import layout_for
    from evenhand.jobs.retaking import ReadSoAlready
    from evenhand.jobs.takes import check_signed, foresee_again, list_takes, read_again
    from evenhand.terms.records import Refusal

    author, reason = check_signed(author, reason)
    workspace, now = workspace_asked(ctx), now_or(None)
    by = layout_for(workspace, take, answers_of(**said), read_layout(layout) if layout else None)
    try:
        foreseen = foresee_again(workspace, take, by, as_of=now)
    except ReadSoAlready as already:
        if only_this or not (left := mend_left(workspace, take, by)):
            raise
        raise Refusal(
            told(
                "take {take} is read by this very layout already; files of its kind were not yet, and are from now on, "
                "by {left}.",
                take=take,
                left=left,
            )
        ) from already
    if not as_json:
        say("Reading take {take}, {file}, by this layout:", take=take, file=foreseen.file)
        for line in by.to_toml().splitlines()[1:]:
            click.echo(f"  {line}".rstrip())
        print_foreseen(foreseen)
    if not yes:
        confirm_or_leave(ctx, "Read it again?")
    was = next(one for one in list_takes(workspace) if one.take == take)
    with _as_foreseen():
        stands = read_again(
            workspace,
            take,
            by,
            author=author,
            reason=reason,
            as_of=now,
            is_as_seen=None if yes else lambda found: found == foreseen,
        )
    mended = "" if only_this else mend_kept(workspace, was, by)
    _tell_done(
        stands,
        foreseen,
        as_json,
        told(
            "Take {take} is read again by {author}: {taken} rows taken, {known} known, {rejected} rejected.",
            take=take,
            author=author,
            taken=stands.taken,
            known=stands.known,
            rejected=stands.rejected,
        ),
        told("Files of its kind are read so from now on, by {layout}.", layout=mended) if mended else "",
    )


@contextmanager
def _as_foreseen() -> Iterator[None]:
    """Refuse what is no longer as it was shown: while the question waited, somebody else has changed the store."""
    from evenhand.jobs.takes import NotAsSeen
    from evenhand.terms.records import Refusal

    try:
        yield
    except NotAsSeen as fault:
        raise Refusal(
            told(
                "what this would do is no longer what was shown, since the workplace's records have changed meanwhile; "
                "nothing was changed, run it again."
            )
        ) from fault


def _stands(one: TakeListed) -> str:
    if one.is_back:
        return told("taken back")
    if not one.has_source:
        return told("without its source")
    return told("read again") if any(made.action == "again" for made in one.decided) else ""


def _tell_done(stands: TakeListed, foreseen: Foreseen, as_json: bool, *said: str) -> None:
    if as_json:
        print_json({"take": stands, "foreseen": foreseen})
        return
    say("{says:row}", says=[*filter(None, said), told(cautions.CALCULATION)])
