"""Show the pages in a browser on this machine, and a round to a phone."""

from __future__ import annotations

from pathlib import Path

import click

from evenhand.cli.asked import as_of, now_or, workspace_asked
from evenhand.cli.printing import teller

__all__ = ["command"]


@click.command()
@click.option("--port", type=click.IntRange(0, 65535), help="The port; 0 takes any free one.")
@click.option("--host", metavar="NAME", help="Let phones reach rounds too, under this name; needs the next two.")
@click.option(
    "--certificate", metavar="CERT.pem", type=Path, help="The certificate that holds the name, with its chain."
)
@click.option("--key", metavar="KEY.pem", type=Path, help="The certificate's private key.")
@as_of
@click.pass_context
def command(
    ctx: click.Context,
    port: int | None,
    host: str | None,
    certificate: Path | None,
    key: Path | None,
    as_of: str | None,
) -> None:
    """Serve the pages on this machine only, at an address that lets one browser in, once.

    With a name and its certificate, phones reach single rounds at single readers too, over TLS.
    """
    from evenhand.web.certificate import certified
    from evenhand.web.serve import PORT, serve

    beyond = certified(host, certificate, key)
    workspace = workspace_asked(ctx)
    fixed = now_or(as_of) if as_of else None  # and then the workspace only looks, unless it is invented
    serve(workspace, PORT if port is None else port, beyond=beyond, now=lambda: fixed or now_or(None), tell=teller())
