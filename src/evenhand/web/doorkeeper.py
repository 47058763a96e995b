"""Who may come in: the one-time address, sessions, and what each session's forms must carry."""

from __future__ import annotations

import secrets
from dataclasses import dataclass, field
from urllib.parse import urlsplit

__all__ = ["COOKIE", "HOW_TO_GET_IN", "Doorkeeper", "Session", "is_loopback"]

COOKIE = "evenhand_session"
HOW_TO_GET_IN = (
    "This browser has not been let in: run `evenhand serve` and open the address it prints. "
    "Each address works once; start the command again for another."
)


@dataclass
class Session:
    """One browser that was let in; `author` and `notice` save it from typing and tell it what was done."""

    form_token: str = field(default_factory=lambda: secrets.token_urlsafe(32))
    author: str = ""
    notice: str = ""

    def take_notice(self) -> str:
        """Return what was done, once."""
        notice, self.notice = self.notice, ""
        return notice

    def signs(self, token: str) -> bool:
        """Whether a form came from a page of this session."""
        return secrets.compare_digest(token.encode(), self.form_token.encode())


class Doorkeeper:
    """Holds the unused invitations and the open sessions, in memory only: stopping the server closes them all."""

    def __init__(self) -> None:
        self._invitations: set[str] = set()
        self._sessions: dict[str, Session] = {}

    def invite(self) -> str:
        """Return a new secret that lets one browser in, once."""
        secret = secrets.token_urlsafe(32)
        self._invitations.add(secret)
        return secret

    def enter(self, secret: str) -> str | None:
        """Return a new session's cookie for an unused invitation, which is then used; otherwise None."""
        try:
            self._invitations.remove(secret)
        except KeyError:
            return None
        cookie = secrets.token_urlsafe(32)
        self._sessions[cookie] = Session()
        return cookie

    def session(self, cookie: str | None) -> Session | None:
        """Return the session that this cookie opens, if any."""
        return self._sessions.get(cookie or "")


def is_loopback(host: str) -> bool:
    """Whether a Host header names this machine itself, so that no other name can be pointed at the pages.

    Source: RFC 9110 section 7.2: Host is the name the browser believes it is talking to.
    """
    try:
        name = urlsplit(f"//{host}").hostname
    except ValueError:
        return False
    return name in ("127.0.0.1", "localhost", "::1")
