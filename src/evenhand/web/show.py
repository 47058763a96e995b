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

from evenhand.terms import cautions
from evenhand.web import hubs, marks, words
from evenhand.web.commands import with_pages

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


MENU_PARTS = {1: "Every day", 2: "Hands and readers", 3: "Records and rules"}


def menu_of(entries: Iterable[MenuEntry]) -> list[tuple[str, list[MenuEntry]]]:
    """Return the menu part by part: what each is called, and the entries listed in it, in their order."""
    listed = sorted((entry for entry in entries if entry.is_listed), key=lambda entry: entry.place)
    return [(title, [entry for entry in listed if entry.place // 10 == part]) for part, title in MENU_PARTS.items()]


@lru_cache(maxsize=1)
def _templates() -> Environment:
    templates = Environment(
        loader=FileSystemLoader(Path(__file__).parent),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    templates.filters.update(words.FILTERS)
    templates.globals.update(bar=marks.bar, sparkline=marks.sparkline, cautions=cautions, **hubs.LINKS)
    return templates


def show(request: Request, template: str, *, status: int = 200, **shown: Any) -> HTMLResponse:
    """Return the page made of `template`; the session signs its forms and tells what was just done."""
    state = request.app.state
    request.state.session.draw_token()
    html = (
        _templates()
        .get_template(template)
        .render(
            workplace=state.reckonings.workplace,
            menu=state.menu,
            here=request.scope["path"],
            session=request.state.session,
            **shown,
        )
    )
    return HTMLResponse(with_pages(html), status)


def show_refusal(request: Request, status: int, title: str, sentence: str) -> HTMLResponse:
    """Return a page that says why there is nothing else to see; it stands even where nobody was let in."""
    inside = getattr(request.state, "session", None) is not None
    if inside:
        request.state.session.draw_token()
    html = (
        _templates()
        .get_template("frames/trouble.html")
        .render(
            workplace=request.app.state.reckonings.workplace if inside else "",
            menu=request.app.state.menu if inside and request.state.session.visit is None else (),
            here=request.scope["path"],
            session=request.state.session if inside else None,
            title=title,
            sentence=sentence,
            came_from=_came_from(request) if inside else "",
        )
    )
    return HTMLResponse(with_pages(html), status)


def _came_from(request: Request) -> str:
    """Return the page of ours that led here, by what the browser says (RFC 9110 section 10.1.3); '' for none."""
    told, here = urlsplit(request.headers.get("referer", "")), request.url
    place = told.path + (f"?{told.query}" if told.query else "")
    is_ours = told.netloc == request.headers.get("host") and place.startswith("/") and not place.startswith("//")
    asked = here.path + (f"?{here.query}" if here.query else "")
    return place if is_ours and place != asked and not place.startswith("/enter/") else ""
