"""Put the pages together: find them, guard them, and say in one sentence why one cannot be shown."""

from __future__ import annotations

import re
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager, suppress
from datetime import UTC, date, datetime
from pathlib import Path
from urllib.parse import urlsplit

from anyio.to_thread import current_default_thread_limiter
from fastapi import Depends, FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.requests import ClientDisconnect
from starlette.responses import Response
from starlette.staticfiles import StaticFiles

from evenhand.jobs.workspace import Workspace
from evenhand.terms.languages import said_of, sentence, told
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.rooms import rooms_of
from evenhand.terms.zones import check_reckoned
from evenhand.web import pages
from evenhand.web.desk import Reckonings
from evenhand.web.doorkeeper import Doorkeeper
from evenhand.web.forms import IncompleteForm, check_signature
from evenhand.web.guard import Guard
from evenhand.web.show import menu_of, show_refusal

__all__ = ["create_app", "machine_time"]


def machine_time() -> datetime:
    """Return the time on the machine's clock."""
    return datetime.now(UTC).replace(microsecond=0)  # noqa: TID251  the pages' clock


AT_ONCE = 4
"""Requests worked on at once. More would only hold each other up, since all work in one interpreter; whoever waits in
their place starts later, and from what is newest then."""

WRITTEN_AS_A_DAY = re.compile(r"\d{4}-\d\d-\d\d")
A_DAY = sentence('The address says {name} "{written}", which is not a date such as 2026-03-04.')
AS_WRITTEN = sentence('The address says {name} "{written}", which is not written as the page\'s links write it.')
QUICKLY = 2
"""How hard pages are pressed together (RFC 1952): a tenth of their length remains, and no page waits for more."""


@asynccontextmanager
async def _some_at_once(_: FastAPI) -> AsyncIterator[None]:
    current_default_thread_limiter().total_tokens = AT_ONCE
    yield


def create_app(
    workspace: Workspace,
    *,
    now: Callable[[], datetime] | None = None,
    clock: Callable[[], datetime] | None = None,
    keeper: Doorkeeper | None = None,
    address: str | None = None,
) -> FastAPI:
    """Return the pages over a workspace as an ASGI app; `keeper` tells who may come in.

    `now` is the aware time as of which they show everything, the machine's where none is given; `clock` is the
    machine's, where it may be another.

    `address` is where other machines reach them over TLS, such as https://desk.example.org:8765; None keeps them here.
    """
    keeper = keeper or Doorkeeper()
    app = FastAPI(
        openapi_url=None,
        dependencies=[Depends(check_signature), Depends(check_days)],
        redirect_slashes=False,
        lifespan=_some_at_once,
    )
    rooms = rooms_of(pages, ("MENU", "ROUTES"))
    app.state.reckonings = Reckonings(workspace, now or machine_time, clock)
    app.state.keeper, app.state.address = keeper, address
    app.state.menu = menu_of(room.MENU for room in rooms)
    for room in rooms:
        app.include_router(room.ROUTES)
    app.mount("/static", StaticFiles(directory=Path(__file__).parent / "static"))
    app.add_exception_handler(Refusal, _refused)
    app.add_exception_handler(HTTPException, _not_there)
    app.add_exception_handler(RequestValidationError, _misread)
    app.add_exception_handler(ClientDisconnect, _gone)
    app.add_middleware(GZipMiddleware, minimum_size=2000, compresslevel=QUICKLY)
    app.add_middleware(Guard, keeper=keeper, host=urlsplit(address).hostname if address else None)
    return app


async def check_days(request: Request) -> None:
    """Refuse an address that names a day too far away to be reckoned, wherever it stands in it.

    What is searched for is no day, however it is written, nor is a number of eight digits.
    """
    asked = (value for name, value in request.query_params.multi_items() if name != "q")
    for said in (*request.path_params.values(), *asked):
        if WRITTEN_AS_A_DAY.fullmatch(str(said)):
            with suppress(ValueError):
                check_reckoned(date.fromisoformat(str(said)))


def _refused(request: Request, refusal: Exception) -> Response:
    """What is not there is 404, a form that is not whole 400, what a job will not do 409."""
    said = said_of(refusal)
    if isinstance(refusal, IncompleteForm):
        only_looks = request.method == "GET"
        title = sentence("Not understood") if only_looks else sentence("Nothing was changed")
        return show_refusal(request, 400, title, said)
    if isinstance(refusal, Unknown):
        return show_refusal(request, 404, sentence("Nothing to show"), said)
    return show_refusal(request, 409, sentence("This cannot be done"), said)


def _not_there(request: Request, fault: Exception) -> Response:
    status = fault.status_code if isinstance(fault, HTTPException) else 404
    if status == 405:
        return show_refusal(
            request,
            405,
            sentence("Not done here"),
            sentence("This page takes no forms; go back and use the one you saw."),
        )
    if status == 400:
        return show_refusal(
            request,
            400,
            sentence("Not understood"),
            sentence("The form came in pieces that do not fit; send it again."),
        )
    return show_refusal(
        request,
        status,
        sentence("No such page"),
        sentence("There is no page at this address; the menu lists them all."),
    )


def _gone(request: Request, fault: Exception) -> Response:
    """Answer nobody: whoever sent the form broke off, and nothing of it was kept."""
    return Response(status_code=400)


def _misread(request: Request, fault: Exception) -> Response:
    seen = fault.errors()[0] if isinstance(fault, RequestValidationError) else {"loc": ("",), "input": ""}
    expected = A_DAY if "date" in str(seen.get("type")) else AS_WRITTEN
    return show_refusal(
        request, 400, sentence("Not understood"), told(expected, name=seen["loc"][-1], written=seen["input"])
    )
