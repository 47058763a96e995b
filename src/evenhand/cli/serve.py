"""Show the pages in a browser on this machine."""

from __future__ import annotations

import click

from evenhand.cli.asked import as_of, now_or, workspace_asked

__all__ = ["command"]


@click.command()
@click.option("--port", type=click.IntRange(0, 65535), help="The port; 0 takes any free one.")
@as_of
@click.pass_context
def command(ctx: click.Context, port: int | None, as_of: str | None) -> None:
    """Serve the pages on this machine only, at an address that lets one browser in, once."""
    from evenhand.web.serve import PORT, serve

    workspace = workspace_asked(ctx)
    fixed = now_or(as_of) if as_of else None
    serve(workspace, PORT if port is None else port, now=lambda: fixed or now_or(None))
