"""In which language a page speaks: what was chosen on it, else the reader's own, else what their browser asks for."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from urllib.parse import urlencode

from markupsafe import Markup, escape
from starlette.requests import Request

from evenhand.jobs.languages import say_in
from evenhand.terms.languages import NAMES, DaySpan, Moment, Speech, language_among, pattern_of

__all__ = [
    "choices_at",
    "is_read_by",
    "language_at",
    "language_at_desk",
    "said_markup",
    "says_in",
    "speech_at",
    "speech_at_desk",
]

ANY = "any"
"""Chosen by whoever leaves: the next one's own language, or the browser's."""


def language_at(request: Request, *, own: str = "", chosen: str = "", is_kept: bool = True) -> str:
    """Return the language for whoever reads the answer to a request.

    It is the one that is `chosen`, in the address or by a button, and kept for the session until `any` is chosen, as
    whoever leaves a shared machine does; else the reader's `own`, where it is known; else the first that the browser
    accepts, else English. It is not kept where somebody else than whoever holds the phone reads (`is_kept` false).
    """
    session = getattr(request.state, "session", None)
    asked = chosen or request.query_params.get("speak", "")
    if asked in (*NAMES, ANY):
        request.state.chosen = asked.removeprefix(ANY)
        if session is not None and is_kept:
            session.language = request.state.chosen
    kept = getattr(request.state, "chosen", "")
    return (
        kept
        or own
        or getattr(request.state, "own", "")
        or language_among(request.headers.get("accept-language", ""))
        or "en"
    )


def is_read_by(request: Request, own: str) -> None:
    """Say whose page it is by the language that is their `own`: what is refused on it is told in that too.

    A phone that is let in for them keeps it for as long as it is in.
    """
    request.state.own = own
    session = getattr(request.state, "session", None)
    if session is not None and session.visit is not None:
        session.own = own


def language_at_desk(request: Request, *, is_kept: bool = True) -> str:
    """Return the language for whoever is at the desk: chosen on a page, or of the settings, or the browser's."""
    visit = getattr(getattr(request.state, "session", None), "visit", None)
    own = "" if visit is not None else request.app.state.reckonings.language
    return language_at(request, own=own, is_kept=is_kept)


def speech_at_desk(request: Request) -> Speech:
    """Return what says sentences to whoever is at the desk, for what is drawn before its page is made."""
    return speech_at(request, language_at_desk(request))


def speech_at(request: Request, language: str) -> Speech:
    """Return what says sentences in a language, with the zone of every time where the workplace has several."""
    return say_in(language, names_zones=request.app.state.reckonings.zones_meet)


def choices_at(request: Request) -> list[tuple[str, str, str]]:
    """Return each language, what it calls itself, and the address of this page in it; none where a form is answered."""
    if request.method != "GET":
        return []
    others = [(name, value) for name, value in request.query_params.multi_items() if name != "speak"]
    return [(code, called, "?" + urlencode([*others, ("speak", code)])) for code, called in NAMES.items()]


def says_in(speech: Speech) -> dict[str, Any]:
    """Return what templates say sentences of the catalogue with: `_` one, `_n` the one that fits a count.

    `days_of` and `moment_at` make of days and of an instant and its zone what stands in a sentence. `_of` says a word
    that means two things, as it is said of one of them.
    """

    def say(english: str, /, **given: Any) -> Markup:
        return said_markup(speech, english, given)

    def say_counted(one: str, many: str, count: int, /, **given: Any) -> Markup:
        return said_markup(speech, pattern_of(one, many, count), {"count": count, **given})

    def say_of(meant: str, english: str) -> Markup:
        return Markup(speech.meaning(meant, english))

    return {
        "_": say,
        "_n": say_counted,
        "_of": say_of,
        "language": speech.language,
        "days_of": DaySpan,
        "moment_at": Moment,
    }


def said_markup(speech: Speech, english: str, given: Mapping[str, Any]) -> Markup:
    """Return a sentence of the catalogue, which may hold markup, with what stands in it, which never is any."""
    other = speech.other(english)
    if not given:
        return Markup(other)  # the catalogue's own

    def write(value: Any, spec: str) -> str:
        return str(value) if hasattr(value, "__html__") else str(escape(speech.written(value, spec)))

    return Markup(speech.filled(other, given, write))
