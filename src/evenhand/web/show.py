"""Make a page of a template and what it shows, within the frame every page shares."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse

from evenhand.jobs.languages import say_in
from evenhand.terms import cautions
from evenhand.terms.languages import NAMES, Sentence, sentence
from evenhand.web import hubs, marks, words
from evenhand.web.commands import with_pages
from evenhand.web.speaking import choices_at, language_at_desk, says_in, speech_at

__all__ = ["MENU_PARTS", "MenuEntry", "menu_of", "show", "show_refusal"]


@dataclass(frozen=True)
class MenuEntry:
    """A place in the menu; entries stand in the order of `place`. One that is not listed is reached otherwise.

    The tens of a place say in which of MENU_PARTS it stands.
    """

    title: str
    address: str
    place: int
    is_listed: bool = True


TODAY = "/"
MENU_PARTS = {1: sentence("Every day"), 2: sentence("Hands and readers"), 3: sentence("Records and rules")}


def menu_of(entries: Iterable[MenuEntry]) -> list[tuple[str, list[MenuEntry]]]:
    """Return the menu part by part: what each is called, and the entries listed in it, in their order."""
    listed = sorted((entry for entry in entries if entry.is_listed), key=lambda entry: entry.place)
    return [(title, [entry for entry in listed if entry.place // 10 == part]) for part, title in MENU_PARTS.items()]


@lru_cache(maxsize=2 * len(NAMES))
def _templates(language: str, *, names_zones: bool) -> Environment:
    """Return the templates as they speak a language: a Sentence is told in it, wherever it stands."""
    speech = say_in(language, names_zones=names_zones)
    templates = Environment(
        loader=FileSystemLoader(Path(__file__).parent),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=lambda value: speech.written(value) if isinstance(value, Sentence) else value,
    )
    templates.filters.update(words.FILTERS | words.filters_in(speech))
    templates.globals.update(bar=marks.bar, sparkline=marks.sparkline, cautions=cautions, **hubs.links_in(speech))
    templates.globals.update(says_in(speech))
    return templates


def show(
    request: Request, template: str, *, status: int = 200, language: str | None = None, **shown: Any
) -> HTMLResponse:
    """Return the page made of `template`; the session signs its forms and tells what was just done.

    It speaks the language of whoever is at the desk, or the `language` that is given, and offers the others.
    """
    state = request.app.state
    language = language or language_at_desk(request)
    request.state.session.draw_token()
    _keep_place(request)
    speech = speech_at(request, language)
    html = (
        _templates(language, names_zones=speech.names_zones)
        .get_template(template)
        .render(
            workplace=state.reckonings.workplace,
            paper=state.reckonings.paper,
            menu=state.menu,
            here=request.scope["path"],
            session=request.state.session,
            choices=choices_at(request),
            **shown,
        )
    )
    return HTMLResponse(with_pages(html, speech), status)


def _keep_place(request: Request) -> None:
    """Keep which case of Today a page was opened from, until Today is seen again."""
    session, back = request.state.session, request.query_params.get("back", "")
    if request.scope["path"] == TODAY:
        session.place = ""
    elif back.startswith(f"{TODAY}?"):
        session.place = back


def show_refusal(request: Request, status: int, title: str, says: str) -> HTMLResponse:
    """Return a page that says why there is nothing else to see; it stands even where nobody was let in.

    It speaks its reader's language where both title and what it `says` can be said in it, and otherwise English as a
    whole.
    """
    language = language_at_desk(request, is_kept=False)  # a page that offers no language is no place to choose one
    if not all(say_in(language).can_say(text) for text in (title, says)):
        language = "en"
    inside = getattr(request.state, "session", None) is not None
    say = speech_at(request, language) if inside else say_in(language)
    if inside:
        request.state.session.draw_token()
    html = (
        _templates(language, names_zones=say.names_zones)
        .get_template("frames/trouble.html")
        .render(
            workplace=request.app.state.reckonings.workplace if inside else "",
            paper=request.app.state.reckonings.paper if inside else "",
            menu=request.app.state.menu if inside and request.state.session.visit is None else (),
            here=request.scope["path"],
            session=request.state.session if inside else None,
            title=say.said(title),
            sentence=_begun(say.said(says)),
            choices=(),
            came_from=_came_from(request) if inside else "",
        )
    )
    return HTMLResponse(with_pages(html, say), status)


def _came_from(request: Request) -> str:
    """Return the page of ours that led here, by what the browser says (RFC 9110 section 10.1.3); '' for none."""
    told, here = urlsplit(request.headers.get("referer", "")), request.url
    place = told.path + (f"?{told.query}" if told.query else "")
    is_ours = told.netloc == request.headers.get("host") and place.startswith("/") and not place.startswith("//")
    asked = here.path + (f"?{here.query}" if here.query else "")
    return place if is_ours and place != asked and not place.startswith("/enter/") else ""


def _begun(sentence: str) -> str:
    """Return a sentence with a capital; a file's name or a path, with which one begins, stays as it is written."""
    begins = sentence.split(" ", maxsplit=1)[0].rstrip(":,")
    return sentence[:1].upper() + sentence[1:] if begins.isalpha() else sentence
