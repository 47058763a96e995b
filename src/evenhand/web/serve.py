"""Serve the pages on this machine, and to phones only where a certificate speaks for it."""

from __future__ import annotations

import socket
import threading
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime

from evenhand.jobs.folder_intake import WatchedElsewhere, watch
from evenhand.jobs.warm import warm
from evenhand.jobs.workspace import Workspace
from evenhand.terms.disk_faults import why_of
from evenhand.terms.fault_places import place_of
from evenhand.terms.languages import said_of, told
from evenhand.terms.records import Refusal
from evenhand.web.allocation import return_large_blocks
from evenhand.web.app import create_app, machine_time
from evenhand.web.certificate import Certified
from evenhand.web.desk import Desk, Reckonings
from evenhand.web.doorkeeper import Doorkeeper

__all__ = ["PORT", "serve"]

PORT = 8765
HOST = "127.0.0.1"
EVERYWHERE = "0.0.0.0"
ENDS_S = 10.0
"""How long a file that is being taken may still take when the pages end; then the store is as it was before it [s]."""


def serve(
    workspace: Workspace,
    port: int = PORT,
    *,
    beyond: Certified | None = None,
    now: Callable[[], datetime] | None = None,
    tell: Callable[[str], None] = print,
    announce: Callable[[str], None] | None = None,
) -> None:
    """Serve the pages until interrupted; `tell` gets sentences, the first with the one-time address.

    `announce` gets that address alone, once the port is ours, in place of the sentence.
    Without `beyond` on loopback alone and plain; with it on every network of this machine, over TLS and nothing else.
    Port 0 takes any free one. Raises Refusal where the port is taken.
    """
    import uvicorn

    return_large_blocks()
    listening = _listen(EVERYWHERE if beyond else HOST, port)
    port = listening.getsockname()[1]
    keeper = Doorkeeper()
    address = f"https://{beyond.host}:{port}" if beyond else None
    app = create_app(workspace, keeper=keeper, address=address, now=now, clock=machine_time)
    enter = f"{address or f'http://{HOST}:{port}'}/enter/{keeper.invite()}"
    if announce:
        announce(enter)
    else:
        tell(told("Open {address} in a browser on this machine; it works once. Ctrl-C ends the pages.", address=enter))
    # Addresses and forms say who is meant, so no line is logged per request; faults still are. No header may say that
    # a request came from elsewhere than it did, or another way.
    config = uvicorn.Config(
        app,
        log_level="warning",
        access_log=False,
        server_header=False,
        proxy_headers=False,
        ssl_certfile=beyond.certificate if beyond else None,
        ssl_keyfile=beyond.key if beyond else None,
    )
    threading.Thread(target=_warm, args=(app.state.reckonings,), daemon=True).start()
    stop = threading.Event()
    watching = threading.Thread(target=_watch, args=(workspace, stop, tell), daemon=True)
    watching.start()
    with listening:
        try:
            uvicorn.Server(config).run(sockets=[listening])
        finally:
            stop.set()
            watching.join(timeout=ENDS_S)


def _watch(workspace: Workspace, stop: threading.Event, tell: Callable[[str], None] = print) -> None:
    """Watch the folder that the settings name, if any; where `evenhand watch` does so already, it goes on doing it.

    Where the pages only look, as of another time, nothing is taken.
    """
    if workspace.store.only_looks:
        return
    try:
        watch(workspace, lambda: workspace.settings.intake, stop, tell)
    except WatchedElsewhere:
        pass
    except Refusal as refusal:
        tell(said_of(refusal))
    except Exception as fault:  # noqa: BLE001  the door of this thread
        tell(
            told(
                "The folder is watched no longer: this is a fault in evenhand ({place}). The pages go on.",
                place=place_of(fault),
            )
        )


def _warm(reckonings: Reckonings) -> None:
    """Import, compile and work out what the first page shows, so that whoever opens it does not wait for that.

    What cannot be shown, and any fault of ours, is told by the page that is asked for, not here.
    """
    with suppress(Exception):
        warm()
        _ = Desk(reckonings).today


def _listen(host: str, port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((host, port))
        listening.listen(128)  # whoever is quick to open the address waits for the first page, and is not turned away
    except (OSError, OverflowError) as fault:
        listening.close()
        raise Refusal(
            told(
                "port {port} on {host} cannot be used ({why}); give another with --port, or 0 for any free one.",
                port=port,
                host=host,
                why=why_of(fault) if isinstance(fault, OSError) else fault,
            )
        ) from fault
    return listening
