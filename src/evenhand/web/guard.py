"""Stand before every page: whose request is let through, which headers each answer carries, what a fault shows."""

from __future__ import annotations

import ipaddress
import logging
import secrets
from typing import Literal
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from evenhand.jobs import waiting
from evenhand.terms.fault_places import places_of
from evenhand.terms.languages import sentence, told
from evenhand.web.doorkeeper import COOKIE, HOW_TO_GET_IN, Doorkeeper, Session, is_loopback, name_in
from evenhand.web.show import show_refusal

__all__ = ["Guard"]

LOG = logging.getLogger("evenhand.web")
LARGEST_FORM = 64 * 1024
DROP = "/files"
OF_ROUND = 2
"""How many strokes the address of a round has; the addresses of its readers have more."""
SIGNED_AT = "/signoff/reader"
LARGEST_DROP = waiting.LARGEST + LARGEST_FORM
"""Files that are put on at once may be as large as one may be, with what the form itself needs."""
LARGEST_LIST = 16 * 1024 * 1024
LARGEST_POLICY = 8 * 1024 * 1024
"""What a form may be long that brings a policy: its letters, each of which may be sent in several."""
BRINGS_POLICY = "/consent/new-policy"
BRINGS_LIST = ("/missing/answers", "/hand-off/check", "/ledger/verified")
"""Pages that read one file of theirs: a list filled in, a file that was handed off, entries of the ledger."""
HELD_WORKERS = ("/rounds/worker.js", "/practice-worker.js")
ONLY_NEAR = sentence(
    "The whole workspace opens only in a browser on the machine that serves it; a phone gets an address of its own "
    "from the page of its round."
)
PHONE_NOT_IN = sentence(
    "This phone has not been let in. Ask at the desk for “Let a phone in”, on the page of the round. Open the "
    "address that it shows, or point the camera at its code. After that the code on the sheet opens the round here."
)
ONLY_THE_VISIT = sentence("This phone was let in for one page and sees nothing else; go back to it.")
VISIT_OVER = sentence(
    "What this phone was let in for is done, or it has been in for 12 hours. What it kept and has not sent stays on "
    "it: ask at the desk for another address, open it, and it is sent."
)

POLICY = (
    b"default-src 'none'; style-src 'self'; img-src 'self' data:; form-action 'self'; base-uri 'none'; "
    b"frame-ancestors 'none'"
)
# At the desk one script of our own, and no other file of ours, leads the key / to the search.
FIND_SCRIPT = "/static/find.js"
# The page held at a reader keeps what is tapped while there is no connection, which only a script can; so does the
# round to practise on.
HELD_POLICY = POLICY + b"; script-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'"
# So does the page that files are put on, to show how far they are; without its script it serves as well.
DROP_POLICY = POLICY + b"; script-src 'self'; connect-src 'self'"
HEADERS = (
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
)
# What pages tell of people is kept nowhere. Their style and scripts tell nothing: browsers keep them while unchanged.
UNKEPT = (b"cache-control", b"no-store")
KEPT = (b"cache-control", b"no-cache")


LIST_TOO_LARGE = told(
    "The file is larger than {size} MiB, so it was not read; see whether it is the one that is meant.",
    size=LARGEST_LIST >> 20,
)
TOO_LARGE = told(
    "The files are larger than {size} MiB together, so none was kept; put on fewer at once, "
    "or put them into a watched folder, which Settings can name.",
    size=waiting.LARGEST >> 20,
)


def _asked(request: Request) -> str:
    """Return the address that was asked for, as it came: the one that pages are found by, whatever Host says."""
    return quote(request.scope["path"], safe="/")


def _policy(path: str, origin: str) -> bytes:
    if path == DROP:
        return DROP_POLICY
    if path.startswith(("/rounds/", "/practice")):
        return HELD_POLICY
    if path == SIGNED_AT or path.startswith(("/static/", "/enter/")):
        return POLICY
    return POLICY + f"; script-src {origin}{FIND_SCRIPT}".encode()


class Guard:
    """ASGI middleware around the pages; `scope["state"]["session"]` is set for whoever was let in.

    `host` is the one name under which other machines reach the pages, over TLS; without it none does, and none is used.
    """

    def __init__(self, app: ASGIApp, keeper: Doorkeeper, host: str | None = None) -> None:
        self.app, self.keeper, self.host = app, keeper, host
        self.scheme = "https" if host else "http"

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer, or let the request through."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        started, request = False, Request(scope)

        async def send_with_headers(message: Message) -> None:
            nonlocal started
            if message["type"] == "http.response.start":
                started = True
                kept = KEPT if scope["path"].startswith("/static/") else UNKEPT
                policy = (b"content-security-policy", _policy(scope["path"], self._origin(request)))
                headers = [*message["headers"], policy, kept, *HEADERS]
                message = {**message, "headers": headers}
            await send(message)

        try:
            answer = self._at_the_door(request) or await self._inside(request)
            await (answer or self.app)(scope, receive, send_with_headers)
        except Exception as fault:  # the door: a fault of ours becomes a page and a line in the log
            reference = secrets.token_hex(4)
            # Neither the address nor what a fault says: both may hold what is known of people.
            where = getattr(scope.get("route"), "path", "no page")
            LOG.error(  # noqa: TRY400  its text is what must not be told
                "reference %s: %s %s: %s", reference, request.method, where, "; then ".join(places_of(fault))
            )
            if started:
                raise
            answer = show_refusal(
                request,
                500,
                sentence("This page could not be made"),
                told(
                    "Something went wrong inside evenhand. Nothing was changed. The window in which `evenhand serve` "
                    "runs says more, under reference {reference}.",
                    reference=reference,
                ),
            )
            await answer(scope, receive, send_with_headers)

    def _origin(self, request: Request) -> str:
        """Return the origin of these pages as the browser asked for them; none of ours where the name is not ours."""
        host = request.headers.get("host", "")
        return f"{self.scheme}://{host}" if self._is_ours(host) else "https://none.invalid"

    def _is_ours(self, host: str) -> bool:
        return is_loopback(host) or (self.host is not None and name_in(host) == self.host)

    def _at_the_door(self, request: Request) -> Response | None:
        """Return the answer to a request that needs no session or comes to the wrong place, or None."""
        if not self._is_ours(request.headers.get("host", "")):
            return show_refusal(
                request,
                400,
                sentence("Wrong address"),
                sentence(
                    "These pages answer only to the name they are served under; open the address that was printed."
                ),
            )
        if request.scope["path"].startswith("/enter/"):
            return self._let_in(request)
        return None

    async def _inside(self, request: Request) -> Response | None:
        """Return the answer to a request that this session may not make, or None."""
        if request.scope["path"].startswith("/static/"):
            return None
        session = self.keeper.session(request.cookies.get(COOKIE))
        if session is None:
            place = request.scope["path"]
            at_reader = place.startswith("/rounds/") and place.count("/") > OF_ROUND
            at_round = place.startswith("/rounds/") and self.host is not None and not self._is_near(request)
            is_phone = at_reader or at_round  # a printed code leads to a reader, wherever it is read
            return show_refusal(request, 403, sentence("Not let in"), PHONE_NOT_IN if is_phone else HOW_TO_GET_IN)
        # also for whoever is told that this is not for them
        request.state.chosen, request.state.own = session.language, session.own
        strayed = self._strayed(request, session)
        if strayed is not None:
            return strayed
        if session.visit is not None and await run_in_threadpool(lambda: self.keeper.has_ended(session)):
            return show_refusal(request, 403, sentence("This phone's time here is over"), VISIT_OVER)
        request.state.session = session
        return None if request.method in ("GET", "HEAD") else self._unsent(request)

    def _strayed(self, request: Request, session: Session) -> Response | None:
        if session.visit is None:
            return None if self._is_near(request) else show_refusal(request, 403, sentence("Not from here"), ONLY_NEAR)
        if _asked(request) in (session.visit.place, *HELD_WORKERS):
            return None
        return show_refusal(request, 403, sentence("Not for this phone"), ONLY_THE_VISIT)

    def _is_near(self, request: Request) -> bool:
        """Whether a request comes from this machine: from loopback, or from the very address it was sent to."""
        if self.host is None:
            return True
        client, server = request.scope.get("client"), request.scope.get("server")
        if not client or not server:
            return False
        return bool(client[0] == server[0] or ipaddress.ip_address(client[0]).is_loopback)

    def _unsent(self, request: Request) -> Response | None:
        """Return the answer to a form that no page of ours can have sent, or None."""
        if request.headers.get("origin") != f"{self.scheme}://{request.headers['host']}":
            return show_refusal(
                request,
                403,
                sentence("Not sent from these pages"),
                sentence("The form did not come from these pages, so nothing was changed."),
            )
        if not request.headers.get("content-length", "").isdigit():
            return show_refusal(
                request,
                411,
                sentence("Length missing"),
                sentence("The form did not say how long it is; send it again."),
            )
        length, place = int(request.headers["content-length"]), request.scope["path"]
        if place == DROP:
            return show_refusal(request, 413, sentence("Too large"), TOO_LARGE) if length > LARGEST_DROP else None
        if place in BRINGS_LIST:
            too_large = length > LARGEST_LIST + LARGEST_FORM
            return show_refusal(request, 413, sentence("Too large"), LIST_TOO_LARGE) if too_large else None
        if length > (LARGEST_POLICY if place == BRINGS_POLICY else LARGEST_FORM):
            return show_refusal(
                request, 413, sentence("Too long"), sentence("The form is too long; shorten what was written.")
            )
        return None

    def _let_in(self, request: Request) -> Response:
        if request.method != "GET":
            return show_refusal(
                request, 405, sentence("Not done here"), sentence("An address that lets in is opened, nothing else.")
            )
        cookie = self.keeper.enter(request.scope["path"].removeprefix("/enter/"), is_near=self._is_near(request))
        session = self.keeper.session(cookie)
        if cookie is None or session is None:
            return show_refusal(request, 403, sentence("This address opens nothing"), HOW_TO_GET_IN)
        answer = RedirectResponse(session.visit.place if session.visit else "/", 303)
        # A phone comes back by the code on its sheet, from whatever reads codes there; forms are signed all the same.
        same: Literal["lax", "strict"] = "lax" if session.visit else "strict"
        answer.set_cookie(COOKIE, cookie, httponly=True, samesite=same, path="/", secure=self.host is not None)
        return answer
