"""Where everything about a person, a reader, a number and the like stands, and links that lead there from any page."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from urllib.parse import unquote, urlencode

from markupsafe import Markup, escape

from evenhand.terms.languages import Speech, sentence
from evenhand.web.addresses import in_path

__all__ = [
    "among",
    "case_from",
    "day_of",
    "links_in",
    "number",
    "person",
    "reader",
    "round_of",
    "site",
    "stray",
    "to_number",
    "to_person",
    "to_reader",
    "to_readers",
    "to_site",
]

NONE = sentence("none")


def person(person: str) -> str:
    """Return the address of everything about a person."""
    return f"/people/{in_path(person)}"


def day_of(person: str, day: date) -> str:
    """Return the address of a person's day."""
    return f"/hours/{in_path(person)}/{day.isoformat()}"


def number(number: str) -> str:
    """Return the address of everything about a number."""
    return f"/numbers/{in_path(number)}"


def reader(reader: str) -> str:
    """Return the address of everything about a reader."""
    return f"/readers/{in_path(reader)}"


def site(site: str) -> str:
    """Return the address of the people at a site."""
    return "/people?" + urlencode({"q": site})


def stray(stray: str) -> str:
    """Return the address of a stray, which is called `<reader>/<number>`."""
    return f"/strays/{in_path(stray)}"


def round_of(round_: str) -> str:
    """Return the address of a round."""
    return f"/rounds/{in_path(round_)}"


HUBS = ("/people/", "/readers/", "/numbers/")


def among(place: str) -> str:
    """Return the address of the hub at a place; '' where it is none of a person, a reader or a number."""
    kind = next((one for one in HUBS if place.startswith(one)), "")
    return f"{kind}{in_path(unquote(place.removeprefix(kind)))}" if kind else ""


def case_from(case: str, hub: str) -> str:
    """Return where a case stands open on Today, with the way back to the hub that it was opened from."""
    return "/?" + urlencode({"open": case, "hub": hub}) + "#at"


def to_person(of: str, name: object = None) -> Markup:
    """Return the link to a person: their name, or the identifier where none is given."""
    return _link(person(of), name or of)


def to_number(of: str | None, none: str = NONE) -> Markup:
    """Return the link to a number, in figures of one width; in words that there is none."""
    if not of:
        return Markup('<span class="quiet">{}</span>').format(none)
    return Markup('<a class="number" href="{}">{}</a>').format(number(of), of)


def to_reader(of: str) -> Markup:
    """Return the link to a reader."""
    return _link(reader(of), of)


def to_readers(of: list[str] | tuple[str, ...]) -> Markup:
    """Return links to readers, one after another."""
    return Markup(", ").join(to_reader(one) for one in of)


def to_site(of: str | None, none: str = NONE) -> Markup:
    """Return the link to the people at a site; in words that there is none."""
    return _link(site(of), of) if of else Markup('<span class="quiet">{}</span>').format(none)


def _link(address: str, text: object) -> Markup:
    return Markup('<a href="{}">{}</a>').format(address, escape(text))


def links_in(speech: Speech) -> dict[str, Callable[..., str]]:
    """Return the links, by the names under which every template has them, as they are said in a language."""
    none = speech(NONE)
    return {
        "case_from": case_from,
        "to_number": lambda of: to_number(of, none),
        "to_person": to_person,
        "to_reader": to_reader,
        "to_readers": to_readers,
        "to_site": lambda of: to_site(of, none),
    }
