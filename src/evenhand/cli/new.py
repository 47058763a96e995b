"""Make a workspace for a workplace of your own."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urlsplit

import click

from evenhand.cli.asked import LINE
from evenhand.cli.printing import say
from evenhand.terms.languages import told
from evenhand.terms.lines import as_line
from evenhand.terms.records import Refusal

__all__ = ["command"]


def _address(store: str | None) -> str:
    """Return the address of a PostgreSQL store as the settings keep it; raises Refusal where it is none."""
    if store is None:
        return ""
    form = told("write it as postgresql://ACCOUNT@HOST/DATABASE")
    try:
        parts = urlsplit(store)
        is_whole = parts.scheme in ("postgresql", "postgres") and len(parts.path) > 1
        password = parts.password
    except ValueError as fault:
        raise Refusal(told("--store is no address of a database; {form}.", form=form)) from fault
    if password is not None or "password=" in parts.query:
        raise Refusal(
            told(
                "--store holds a password, which other users of this machine can see and the settings would keep; "
                "leave it out and put it into ~/.pgpass (PostgreSQL's own password file) or the variable PGPASSWORD."
            )
        )
    if not is_whole:
        raise Refusal(told('--store "{store}" is no address of a PostgreSQL database; {form}.', store=store, form=form))
    return store


@click.command()
@click.argument("directory", type=click.Path(path_type=Path))
@click.option("--workplace", metavar="NAME", type=LINE, help="The workplace's name, as files should show it.")
@click.option("--zone", metavar="ZONE", help="Its time zone by IANA name, such as America/Chicago; else the readers'.")
@click.option(
    "--store",
    metavar="ADDRESS",
    help="A PostgreSQL database in place of a file, such as postgresql://clock@db.example.org/mill; its password comes "
    "from ~/.pgpass or PGPASSWORD.",
)
def command(directory: Path, workplace: str | None, zone: str | None, store: str | None) -> None:
    """Make a workspace in DIRECTORY: settings, store, and folders for layouts, refused rows and payroll's files."""
    from evenhand.jobs.workspace import create_workspace

    named = workplace or as_line(directory.resolve().name, told("the folder's name"))
    workspace = create_workspace(directory, workplace=named, zone=zone, store=_address(store))
    say(
        "{directory} is ready; its settings are in {settings}.",
        directory=workspace.directory,
        settings=workspace.directory / "evenhand.toml",
    )
    say("Next: evenhand --workspace {directory} take READERS ROSTER ENROLMENTS PUNCHES...", directory=directory)
