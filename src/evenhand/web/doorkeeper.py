"""Who may come in: the one-time address, sessions, and what each session's forms must carry."""

from __future__ import annotations

import secrets
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from math import inf
from urllib.parse import urlsplit

from evenhand.terms.languages import sentence

__all__ = [
    "COOKIE",
    "HOW_TO_GET_IN",
    "UNUSED_S",
    "VISIT_S",
    "Doorkeeper",
    "Leads",
    "Session",
    "Undo",
    "Visit",
    "is_loopback",
    "name_in",
]

COOKIE = "evenhand_session"
UNUSED_S = 15 * 60
VISIT_S = 12 * 3600
MOST_WRONG, WRONG_S = 5, 15 * 60
"""How many codes may be keyed wrong in how long [s], so that nobody pages through others' hours."""
MOST_SHOWN = 4
HEX, LETTERS = "0123456789abcdef", "ghjklmnpqrstvwxz"
"""The digits of a form's token, and what is written for them, so that none holds by chance a number or a word."""
FORGOTTEN_S = VISIT_S
"""For so long after its end a visit is still told that it is over, and not that it was never let in [s]."""
HOW_TO_GET_IN = sentence(
    "This browser has not been let in: run `evenhand serve` and open the address it prints. "
    "Each address works once; start the command again for another. A phone gets its own from the page of its round."
)


@dataclass(frozen=True)
class Visit:
    """What a phone is let in for: the page at `place` and nothing else, until `is_over` says so."""

    place: str
    is_over: Callable[[], bool]


@dataclass(frozen=True)
class Undo:
    """The form that takes back what was just done: where it is sent, and what it says besides who and why.

    `of` is the notice beside which it is offered, so that it is never offered beside another.
    """

    of: str
    action: str
    fields: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Leads:
    """Where what was just done goes on: addresses, each with what its link says; `of` is the notice they stand by."""

    of: str
    ways: tuple[tuple[str, str], ...]


@dataclass
class Session:
    """One browser that was let in; `author` and `notice` save it from typing and tell it what was done.

    `undo` takes that back, and is offered beside it, as is where it goes on, `leads`. `place` is the case that was left
    last for another page, to be come back to; empty for none. `form_token` signs the forms of one page; `draw_token`
    gives the next page another. `language` is the one that was chosen on a page, `own` that of whoever a phone was let
    in for; empty for none. `typed` is the reason that was typed in a form which was refused, behind the name of the
    form, so that it stands there again. `looked_at` keeps what took long to work out and is to be done as it was shown.
    """

    visit: Visit | None = None
    ends_at: float = inf
    form_token: str = ""
    author: str = ""
    language: str = ""
    own: str = ""
    notice: str = ""
    undo: Undo | None = None
    leads: Leads | None = None
    place: str = ""
    typed: tuple[str, str] = ("", "")
    wrong: list[float] = field(default_factory=list)
    looked_at: dict[str, object] = field(default_factory=dict, repr=False)
    _secret: bytes = field(default_factory=lambda: secrets.token_bytes(32), repr=False)

    def __post_init__(self) -> None:
        self.draw_token()

    def keep_shown(self, name: str, shown: object) -> None:
        """Keep what was shown under a name, and of all that was kept the last few."""
        self.looked_at.pop(name, None)
        self.looked_at[name] = shown
        while len(self.looked_at) > MOST_SHOWN:
            del self.looked_at[next(iter(self.looked_at))]

    def draw_token(self) -> None:
        """Write the secret that signs forms another way, so that no two pages hold the same.

        Pages are compressed, and from the lengths of many that show what an address says, a secret that is the same in
        all of them could be guessed letter by letter (Gluck, Harris and Prado 2013, BREACH; from memory).
        """
        mask = secrets.token_bytes(len(self._secret))
        self.form_token = (mask + _masked(self._secret, mask)).hex().translate(str.maketrans(HEX, LETTERS))

    def take_notice(self) -> str:
        """Return what was done, once."""
        notice, self.notice = self.notice, ""
        return notice

    def take_typed(self, form: str) -> str:
        """Return the reason that was typed in vain in the form of this name, once; nothing where none was."""
        if self.typed[0] != form:
            return ""
        (_, reason), self.typed = self.typed, ("", "")
        return reason

    def take_undo(self, notice: str) -> Undo | None:
        """Return what takes back what a notice tells of, once; None where that is something else."""
        undo, self.undo = self.undo, None
        return undo if undo is not None and undo.of == notice else None

    def take_leads(self, notice: str) -> tuple[tuple[str, str], ...]:
        """Return where what a notice tells of goes on, once; nothing where that is something else."""
        leads, self.leads = self.leads, None
        return leads.ways if leads is not None and leads.of == notice else ()

    def signs(self, token: str) -> bool:
        """Whether a form came from a page of this session."""
        try:
            given = bytes.fromhex(token.translate(str.maketrans(LETTERS, HEX)))
        except ValueError:
            return False
        size = len(self._secret)
        return len(given) == 2 * size and secrets.compare_digest(_masked(given[size:], given[:size]), self._secret)


def _masked(secret: bytes, mask: bytes) -> bytes:
    return bytes(one ^ other for one, other in zip(secret, mask, strict=True))


class Doorkeeper:
    """Holds the unused invitations and the sessions, in memory only: stopping the server closes them all.

    `clock` tells seconds that nobody can set back or forth: neither the machine's date, nor what `--as-of` sets.
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._invitations: dict[str, tuple[Visit | None, float]] = {}
        self._sessions: dict[str, Session] = {}

    def invite(self, visit: Visit | None = None) -> str:
        """Return a new secret that lets one browser in, once; for a visit, unless it stays unused for UNUSED_S."""
        self._let_go()
        secret = secrets.token_urlsafe(32)
        self._invitations[secret] = (visit, self._clock() + UNUSED_S if visit else inf)
        return secret

    def enter(self, secret: str, *, is_near: bool = True) -> str | None:
        """Return a new session's cookie for an unused invitation, which is then used; otherwise None.

        Only a visit may begin on another machine (`is_near` false): the whole workspace is for this one.
        """
        visit, expires_at = self._invitations.get(secret, (None, -inf))
        if self._clock() >= expires_at or (visit is None and not is_near):
            return None
        del self._invitations[secret]
        cookie = secrets.token_urlsafe(32)
        self._sessions[cookie] = Session(visit, self._clock() + VISIT_S if visit else inf)
        return cookie

    def session(self, cookie: str | None) -> Session | None:
        """Return the session that this cookie opened, if any."""
        return self._sessions.get(cookie or "")

    def _let_go(self) -> None:
        """Forget invitations that nobody can use any longer, and visits that have lasted their time."""
        now = self._clock()
        self._invitations = {secret: one for secret, one in self._invitations.items() if now < one[1]}
        self._sessions = {cookie: one for cookie, one in self._sessions.items() if now < one.ends_at + FORGOTTEN_S}

    def may_try(self, session: Session) -> bool:
        """Whether a session may key another code: it has keyed fewer than MOST_WRONG wrong ones in the last WRONG_S."""
        now = self._clock()
        session.wrong = [at for at in session.wrong if now - at < WRONG_S]
        return len(session.wrong) < MOST_WRONG

    def tried_wrong(self, session: Session) -> None:
        """Remember that a session keyed a code that is none."""
        session.wrong.append(self._clock())

    def has_ended(self, session: Session) -> bool:
        """Whether a visit is over or has lasted VISIT_S; a session that is no visit lasts as long as the server."""
        return self._clock() >= session.ends_at or (session.visit is not None and session.visit.is_over())


def name_in(host: str) -> str | None:
    """Return the name in a Host header, in small letters and without the port; None where there is none.

    Source: RFC 9110 section 7.2: Host is the name the browser believes it is talking to.
    """
    try:
        return urlsplit(f"//{host}").hostname
    except ValueError:
        return None


def is_loopback(host: str) -> bool:
    """Whether a Host header names this machine itself, so that no other name can be pointed at the pages."""
    return name_in(host) in ("127.0.0.1", "localhost", "::1")
