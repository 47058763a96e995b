"""What Find shows: what was found, by kind, each with the address of its page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evenhand.jobs.find import Found, FoundOfKind, Search
from evenhand.terms.languages import sentence, told
from evenhand.web import hubs

__all__ = ["FindView", "address_of", "page"]


@dataclass(frozen=True)
class FindView:
    """What was asked for and what was found, each thing with where its page is; `tells` says how much in words."""

    asked: str
    tells: str
    kinds: Sequence[tuple[FoundOfKind, Sequence[tuple[Found, str]]]]


def page(searched: Search) -> FindView:
    """Return what the page shows of a search."""
    kinds = [(of, [(one, address_of(one)) for one in of.found]) for of in searched.kinds]
    wanted = sentence("{count:,} found for “{asked}”") if searched.count else sentence("Nothing found for “{asked}”")
    tells = told(wanted, count=searched.count, asked=searched.asked) if searched.asked else told("Find")
    return FindView(searched.asked, tells, kinds)


def address_of(one: Found) -> str:
    """Return where the page of something found is."""
    match one.kind:
        case "person":
            return hubs.day_of(one.key, one.day) if one.day else hubs.person(one.key)
        case "number":
            return hubs.number(one.key)
        case "reader":
            return hubs.reader(one.key)
        case "site":
            return hubs.site(one.key)
        case "stray":
            return hubs.stray(one.key)
        case "file":
            return f"/files/takes/{one.key}"
        case "round":
            return hubs.round_of(one.key)
    return f"/hours?week={one.key}"
