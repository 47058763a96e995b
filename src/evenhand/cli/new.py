"""Make a workspace for a workplace of your own."""

from __future__ import annotations

from pathlib import Path

import click

from evenhand.cli.asked import LINE

__all__ = ["command"]


@click.command()
@click.argument("directory", type=click.Path(path_type=Path))
@click.option("--workplace", metavar="NAME", type=LINE, help="The workplace's name, as files should show it.")
@click.option("--zone", metavar="ZONE", help="Its time zone by IANA name, such as America/Chicago; else the readers'.")
def command(directory: Path, workplace: str | None, zone: str | None) -> None:
    """Make a workspace in DIRECTORY: settings, store, and folders for layouts, refused rows and payroll's files."""
    from evenhand.jobs.workspace import create_workspace

    workspace = create_workspace(directory, workplace=workplace or directory.resolve().name, zone=zone)
    click.echo(f"{workspace.directory} is ready; its settings are in {workspace.directory / 'evenhand.toml'}.")
    click.echo(f"Next: evenhand --workspace {directory} take READERS ROSTER ENROLMENTS PUNCHES...")
