"""Serve the pages on this machine alone."""

from __future__ import annotations

import socket
from collections.abc import Callable
from datetime import datetime
from typing import Any

from evenhand.jobs.workspace import Workspace
from evenhand.terms.records import Refusal
from evenhand.web.app import create_app
from evenhand.web.doorkeeper import Doorkeeper

__all__ = ["PORT", "serve"]

PORT = 8765
HOST = "127.0.0.1"


def serve(
    workspace: Workspace,
    port: int = PORT,
    *,
    now: Callable[[], datetime] | None = None,
    announce: Callable[[str], None] | None = None,
) -> None:
    """Serve the pages until interrupted; `announce` gets the one-time address once the port is ours.

    Port 0 takes any free one. Raises Refusal where the port is taken.
    """
    import uvicorn

    listening = _listen(port)
    keeper = Doorkeeper()
    given: dict[str, Any] = {} if now is None else {"now": now}
    app = create_app(workspace, keeper=keeper, **given)
    (announce or _print)(f"http://{HOST}:{listening.getsockname()[1]}/enter/{keeper.invite()}")
    # Addresses and forms say who is meant, so no line is logged per request; faults still are.
    config = uvicorn.Config(app, log_level="warning", access_log=False, server_header=False, lifespan="off")
    with listening:
        uvicorn.Server(config).run(sockets=[listening])


def _print(address: str) -> None:
    print(f"Open {address} in a browser on this machine; it works once. Ctrl-C ends the pages.", flush=True)


def _listen(port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((HOST, port))
    except (OSError, OverflowError) as fault:
        listening.close()
        raise Refusal(
            f"port {port} on {HOST} cannot be used ({getattr(fault, 'strerror', None) or fault}); "
            f"give another with --port, or 0 for any free one."
        ) from fault
    return listening
