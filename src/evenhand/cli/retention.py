"""Print what is kept, why, how long and by which law: the schedule that anybody may read."""

from __future__ import annotations

from pathlib import Path

import click

from evenhand.cli.asked import as_json, as_of, now_or, paper_asked, workspace_asked
from evenhand.cli.printing import print_json

__all__ = ["command"]


@click.group()
def command() -> None:
    """Print the public retention schedule."""


@command.command()
@click.option("--to", "place", metavar="FILE", type=click.Path(path_type=Path), help="Write it as PDF to FILE.")
@paper_asked
@as_of
@as_json
@click.pass_context
def schedule(ctx: click.Context, place: Path | None, paper: str | None, as_of: str | None, as_json: bool) -> None:
    """Print the retention schedule for the workplace's own places and settings, in its language."""
    from evenhand.jobs.schedule import schedule_of, schedule_text, write_schedule
    from evenhand.jobs.snapshot import take_snapshot

    now = now_or(as_of)
    of = take_snapshot(workspace_asked(ctx), now.date())
    made, language = schedule_of(of, as_of=now), of.settings.language or "en"
    if place is not None:
        write_schedule(made, place, paper=paper or of.paper, language=language)
    if as_json:
        print_json(made)
    else:
        click.echo(place if place is not None else schedule_text(made, language=language))
