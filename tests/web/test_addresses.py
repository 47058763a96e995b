"""Whatever a reader, person or file is called, its address leads to its page and to no other."""

from __future__ import annotations

from urllib.parse import unquote

import pytest
from fastapi.routing import APIRoute
from starlette.routing import Match

from evenhand.terms.rooms import rooms_of
from evenhand.web import pages
from evenhand.web.addresses import in_path

ROUTES: list[APIRoute] = [
    route for room in rooms_of(pages, ("MENU", "ROUTES")) for route in room.ROUTES.routes if isinstance(route, APIRoute)
]
PARTS = sorted({part for route in ROUTES for part in route.path.split("/") if part and "{" not in part})
NAMES = (
    "print/slips.pdf", "print", "new", ".", "..", "../../people", "a/b/c", "/", "%2e%2e", "%2F", "100 %", " ", "~2F",
    "2026-03-02", "A/2026-03-02", "A/statement.pdf", "A/confirm", "statement.pdf", "ä\u0308ß", "a?b#c", "a;b", "\\",
    *PARTS,
)  # fmt: skip


# Rounds are named by their day and a running number, strays by reader and number with a slash between: neither can be
# called like the page that stands beside it.
BESIDE = ("/rounds/worker.js", "/strays/above")


def answered_by(path: str, method: str) -> tuple[str, dict[str, object]]:
    """Return the route that the router takes, the first that fits, and what it reads from the address."""
    scope = {"type": "http", "path": path, "method": method, "headers": [], "root_path": ""}
    for route in ROUTES:
        fit, child = route.matches(scope)
        if fit is Match.FULL:
            return route.path, child["path_params"]
    return "nothing", {}


def test_no_route_takes_a_name_that_may_reach_into_another() -> None:
    open_ended = [route.path for route in ROUTES if ":path}" in route.path]
    assert open_ended == [], "write {person:name}, and in_path where the address is made"


@pytest.mark.parametrize("route", [one for one in ROUTES if ":name}" in one.path], ids=lambda one: one.path)
def test_every_name_leads_to_its_own_page(route: APIRoute) -> None:
    """No page stands where a name does: one such as `/readers/new` would hide the reader called `new`."""
    method = min(route.methods)
    for called in NAMES:
        path = route.path
        for param in route.param_convertors:
            path = path.replace(f"{{{param}:name}}", in_path(called)).replace(f"{{{param}:day}}", "2026-03-02")
            path = path.replace(f"{{{param}}}", "2026-03-09-1")
        answered, read = answered_by(unquote(path), method)
        if answered in BESIDE:
            continue
        assert answered == route.path, called
        names = [param for param in route.param_convertors if f"{{{param}:name}}" in route.path]
        assert [read[name] for name in names] == [called] * len(names)
