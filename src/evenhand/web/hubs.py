"""Where everything about a person, a reader, a number and the like stands, and links that lead there from any page."""

from __future__ import annotations

from datetime import date
from urllib.parse import urlencode

from markupsafe import Markup, escape

from evenhand.web.addresses import in_path

__all__ = [
    "LINKS",
    "day_of",
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


def to_person(of: str, name: object = None) -> Markup:
    """Return the link to a person: their name, or the identifier where none is given."""
    return _link(person(of), name or of)


def to_number(of: str | None) -> Markup:
    """Return the link to a number, in figures of one width; in words that there is none."""
    if not of:
        return Markup('<span class="quiet">none</span>')
    return Markup('<a class="number" href="{}">{}</a>').format(number(of), of)


def to_reader(of: str) -> Markup:
    """Return the link to a reader."""
    return _link(reader(of), of)


def to_readers(of: list[str] | tuple[str, ...]) -> Markup:
    """Return links to readers, one after another."""
    return Markup(", ").join(to_reader(one) for one in of)


def to_site(of: str | None) -> Markup:
    """Return the link to the people at a site; in words that there is none."""
    return _link(site(of), of) if of else Markup('<span class="quiet">none</span>')


def _link(address: str, text: object) -> Markup:
    return Markup('<a href="{}">{}</a>').format(address, escape(text))


LINKS = {made.__name__: made for made in (to_number, to_person, to_reader, to_readers, to_site)}
"""The links, by the names under which every template has them."""
