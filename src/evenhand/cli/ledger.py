"""Prove that nothing was altered, show what was done when and by whom, and write proofs for others."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import LINE, as_json, day_asked, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table, say, with_names
from evenhand.cli.speaking import word
from evenhand.terms.disk_faults import why_of
from evenhand.terms.languages import Moment, told
from evenhand.terms.records import Refusal

if TYPE_CHECKING:
    from evenhand.store.ledger_entries import LedgerEntry

__all__ = ["command"]

FIRST_SHOWN = 20
out = click.option(
    "--out", type=click.Path(path_type=Path, dir_okay=False), required=True, metavar="FILE", help="Where to write it."
)
number = click.IntRange(0, 2**53 - 1)


@click.group(invoke_without_command=True)
@click.option("--kind", type=LINE, default="", metavar="KIND", help="Only entries of this kind, such as correction.")
@click.option("--by", type=LINE, default="", metavar="NAME", help="Only what this person did.")
@click.option("--before", type=number, metavar="N", help="Only entries earlier than entry N.")
@click.option("--most", type=click.IntRange(1, 100_000), default=50, show_default=True, help="How many to list.")
@as_json
@click.pass_context
def command(ctx: click.Context, kind: str, by: str, before: int | None, most: int, as_json: bool) -> None:
    """List what was done when and by whom, newest first; with a further word, prove it."""
    from evenhand.jobs.ledger import entries

    if ctx.invoked_subcommand is not None:
        return
    workspace = workspace_asked(ctx)
    listed = entries(workspace, kind=kind, by=by, before=before, most=most)
    if as_json:
        print_json(listed)
        return
    print_table(
        ("Entry", "When", "What", "Who", "Rows"),
        (
            (
                one.entry,
                _when(one, workspace.settings.zone),
                word(one.kind),
                _who(one.who),
                ", ".join(f"{table} {count}" for table, count in one.rows.items()),
            )
            for one in listed
        ),
        right=(0,),
    )


@command.command()
@click.option(
    "--person", type=LINE, default="", metavar="PERSON", help="Only of this person: name, identifier, number."
)
@click.option("--by", type=LINE, default="", metavar="NAME", help="Only what this person decided.")
@click.option("--kind", type=LINE, default="", metavar="KIND", help="Only of this kind, such as correction.")
@click.option("--day", metavar="DATE", help="Only what was decided on this day, or is about it.")
@click.option("--most", type=click.IntRange(1, 100_000), default=50, show_default=True, help="How many to list.")
@as_json
@click.pass_context
def decisions(ctx: click.Context, person: str, by: str, kind: str, day: str | None, most: int, as_json: bool) -> None:
    """List every decision, newest first: of whom, by whom, why, and whether it stands."""
    from evenhand.jobs.decision_log import LogAsked, decision_told, narrowed
    from evenhand.jobs.reckoning import reckon_period

    reckoning = reckon_period(workspace_asked(ctx), now_or(None))
    log = narrowed(reckoning, LogAsked(person, by, kind, day_asked(day, "--day"))).head(most)
    if as_json:
        print_json(with_names(log, reckoning.snapshot.names))
        return
    print_table(
        ("What", "Number", "Made", "Of whom", "By", "Decided", "Why", "Stands"),
        (
            (
                word(one["kind"]),
                one["number"],
                told("{at}", at=Moment(one["made_at"], reckoning.zone)),
                one["person"],
                one["author"],
                one["says"] and decision_told(one["table"], one["says"]),
                one["reason"],
                None if one["stands"] is None else told("yes") if one["stands"] else told("no"),
            )
            for one in log.iter_rows(named=True)
        ),
    )


@command.command()
@click.argument("entry", type=number)
@as_json
@click.pass_context
def show(ctx: click.Context, entry: int, as_json: bool) -> None:
    """Show an entry: what was done, and the very text that is hashed."""
    from evenhand.jobs.ledger import entry_and_text

    workspace = workspace_asked(ctx)
    one, content = entry_and_text(workspace, entry)
    if as_json:
        print_json(one)
        return
    say("Entry {entry}: {kind}", bold=True, entry=one.entry, kind=word(one.kind))
    say("{when}, {who}", when=_when(one, workspace.settings.zone), who=_who(one.who) or told("nobody is named"))
    for table, count in one.rows.items():
        say("{table}: {rows:# row|# rows} sealed", lead="  ", table=table, rows=count)
    click.echo(content)


@command.command()
@as_json
@click.pass_context
def head(ctx: click.Context, as_json: bool) -> None:
    """Print how many entries there are and the root over them, to be kept outside."""
    from evenhand.jobs.ledger import head_now

    shown = head_now(workspace_asked(ctx))
    if as_json:
        print_json(shown)
    else:
        click.echo(shown.text)


@command.command()
@click.option("--head", "held", metavar="SIZE:ROOT", help="A head held outside, as a note has it.")
@click.option(
    "--file",
    "files",
    multiple=True,
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    metavar="FILE",
    help="A file that was handed to payroll; may be given more than once.",
)
@as_json
@click.pass_context
def verify(ctx: click.Context, held: str | None, files: tuple[Path, ...], as_json: bool) -> None:
    """Prove that nothing that the ledger seals was altered, removed or put in between.

    Exit code 2 says that something was; the first entry that is concerned is named first.
    """
    from evenhand.jobs.ledger import verify as prove

    if held is not None and not held.strip():
        raise Refusal(
            told("--head is empty, so that nothing would be held against it; give SIZE:ROOT, or leave it out.")
        )
    proved = prove(workspace_asked(ctx), held or "", {str(file): _content(file) for file in files})
    if as_json:
        print_json(proved)
    else:
        for fault in proved.faults[:FIRST_SHOWN]:
            say("{says}", says=fault.says)
        if len(proved.faults) > FIRST_SHOWN:
            say("And {count} more; --json prints all of them.", count=len(proved.faults) - FIRST_SHOWN)
        if proved.is_whole:
            for file, of in proved.files.items():
                since = (
                    told(", as the erasure of entry {erasure} left it", erasure=of.erasure)
                    if of.erasure is not None
                    else ""
                )
                say("{file} is the file that entry {entry} handed off{since}.", file=file, entry=of.entry, since=since)
            if proved.held:
                say("{says}", says=proved.held)
            say("Nothing was altered. The head is {text}", text=proved.head.text)
            if proved.on_times:
                say("{says}", says=proved.on_times)
        else:
            say("{count:# thing is|# things are} not as the ledger says.", count=len(proved.faults))
    if not proved.is_whole:
        ctx.exit(2)


@command.command()
@click.argument("entry", type=number)
@out
@as_json
@click.pass_context
def proof(ctx: click.Context, entry: int, out: Path, as_json: bool) -> None:
    """Write what proves to whoever holds the head that an entry is in the ledger."""
    from evenhand.jobs.ledger import proof_of, write_proof

    write_proof(out, proof_of(workspace_asked(ctx), entry))
    _print_written(out, as_json=as_json)


@command.command()
@click.argument("size", type=number)
@out
@as_json
@click.pass_context
def consistency(ctx: click.Context, size: int, out: Path, as_json: bool) -> None:
    """Write what proves that the ledger goes on from its first SIZE entries, altering none of them."""
    from evenhand.jobs.ledger import proof_since, write_proof

    write_proof(out, proof_since(workspace_asked(ctx), size))
    _print_written(out, as_json=as_json)


def _print_written(out: Path, *, as_json: bool) -> None:
    if as_json:
        print_json([out])
    else:
        say("{out} is written; the script in docs/ledger.md checks it without evenhand.", out=out)


def _content(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError as fault:
        raise Refusal(
            told(
                "{file} cannot be read ({strerror}); name a file that was handed off.",
                file=file,
                strerror=why_of(fault),
            )
        ) from fault


def _when(one: LedgerEntry, zone: str) -> str:
    at = Moment(one.at, zone or "UTC")
    return told("{at}, before the entry ahead of it", at=at) if one.goes_back else told("{at}", at=at)


def _who(names: tuple[str | None, ...]) -> str:
    return told("{names:commas}", names=[told("a name that was erased") if name is None else name for name in names])
