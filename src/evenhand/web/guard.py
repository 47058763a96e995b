"""Stand before every page: whose request is let through, which headers each answer carries, what a fault shows."""

from __future__ import annotations

import logging
import secrets

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from evenhand.web.doorkeeper import COOKIE, HOW_TO_GET_IN, Doorkeeper, is_loopback
from evenhand.web.show import show_trouble

__all__ = ["Guard"]

LOG = logging.getLogger("evenhand.web")
LARGEST_FORM = 64 * 1024

POLICY = (
    b"default-src 'none'; style-src 'self'; img-src 'self' data:; form-action 'self'; base-uri 'none'; "
    b"frame-ancestors 'none'"
)
# The page held at a reader keeps what is tapped while there is no connection, which only a script can.
HELD_POLICY = POLICY + b"; script-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'"
HEADERS = (
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"cache-control", b"no-store"),
)


class Guard:
    """ASGI middleware around the pages; `scope["state"]["session"]` is set for whoever was let in."""

    def __init__(self, app: ASGIApp, keeper: Doorkeeper) -> None:
        self.app, self.keeper = app, keeper

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer, or let the request through."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        started = False

        async def send_with_headers(message: Message) -> None:
            nonlocal started
            if message["type"] == "http.response.start":
                started = True
                policy = HELD_POLICY if scope["path"].startswith("/rounds/") else POLICY
                headers = [*message["headers"], (b"content-security-policy", policy), *HEADERS]
                message = {**message, "headers": headers}
            await send(message)

        request = Request(scope)
        answer = self._turned_away(request)
        if answer is not None:
            await answer(scope, receive, send_with_headers)
            return
        try:
            await self.app(scope, receive, send_with_headers)
        except Exception:  # the door: a fault of ours becomes a page and a line in the log
            reference = secrets.token_hex(4)
            LOG.exception("reference %s: %s %s", reference, request.method, request.url.path)
            if started:
                raise
            answer = show_trouble(
                request,
                500,
                "This page could not be made",
                f"Something went wrong inside evenhand. Nothing was changed. The window in which `evenhand serve` runs "
                f"says more, under reference {reference}.",
            )
            await answer(scope, receive, send_with_headers)

    def _turned_away(self, request: Request) -> Response | None:
        """Return the answer to a request that goes no further, or None."""
        if not is_loopback(request.headers.get("host", "")):
            return show_trouble(
                request,
                400,
                "Wrong address",
                "These pages answer only to 127.0.0.1; open the address that was printed.",
            )
        if request.url.path.startswith("/static/"):
            return None
        if request.url.path.startswith("/enter/"):
            return self._let_in(request)
        session = self.keeper.session(request.cookies.get(COOKIE))
        if session is None:
            return show_trouble(request, 403, "Not let in", HOW_TO_GET_IN)
        request.state.session = session
        if request.method in ("GET", "HEAD"):
            return None
        if request.headers.get("origin") != f"http://{request.headers['host']}":
            return show_trouble(
                request,
                403,
                "Not sent from these pages",
                "The form did not come from these pages, so nothing was changed.",
            )
        if not request.headers.get("content-length", "").isdigit():
            return show_trouble(request, 411, "Length missing", "The form did not say how long it is; send it again.")
        if int(request.headers["content-length"]) > LARGEST_FORM:
            return show_trouble(request, 413, "Too long", "The form is too long; shorten what was written.")
        return None

    def _let_in(self, request: Request) -> Response:
        cookie = self.keeper.enter(request.url.path.removeprefix("/enter/"))
        if cookie is None:
            return show_trouble(request, 403, "This address was used already", HOW_TO_GET_IN)
        answer = RedirectResponse("/", 303)
        answer.set_cookie(COOKIE, cookie, httponly=True, samesite="strict", path="/")
        return answer
