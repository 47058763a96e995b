"""Watch a folder and take what a confirmed layout fits."""

from __future__ import annotations

import signal
from dataclasses import replace
from pathlib import Path

import click

from evenhand.cli.asked import workspace_asked
from evenhand.cli.printing import say, teller
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = ["command"]


@click.command()
@click.argument("folder", required=False, type=click.Path(path_type=Path))
@click.pass_context
def command(ctx: click.Context, folder: Path | None) -> None:
    """Watch FOLDER, or the one that the settings name, and take by itself what a confirmed layout fits.

    Everything else waits there and is shown on Today and on Files. Ctrl-C ends it.
    """
    from threading import Event

    from evenhand.jobs.folder_intake import folder_of, watch
    from evenhand.terms.settings import Intake

    workspace = workspace_asked(ctx)

    def intake() -> Intake:
        settings: Intake = workspace.settings.intake
        return replace(settings, folder=str(folder.absolute())) if folder else settings

    if not intake().folder:
        raise Refusal(
            told(
                "no folder to watch: name one, or set folder under [intake] in {file}.",
                file=workspace.settings_file,
            )
        )
    place = folder_of(workspace, intake())
    if not place.is_dir():
        raise Refusal(told("{place} is no folder that is there; make it, or name another.", place=place))
    say("Watching {place}. Ctrl-C ends it.", place=place)
    # Whoever ends the machine's services sends this signal: it ends the watch as Ctrl-C does.
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    try:
        watch(workspace, intake, Event(), teller())
    except KeyboardInterrupt:
        say("No longer watching; what was not taken waits in the folder.")
    finally:
        workspace.close()
