"""Every route is asked for nonsense in Spanish, and refuses in Spanish."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

import httpx
import pytest
from fastapi.routing import APIRoute

from evenhand.terms.rooms import rooms_of
from evenhand.web import pages
from tests.untranslated import ENGLISH, language_of, said_on
from tests.web.conftest import Served

ROUTES: list[APIRoute] = [
    route for room in rooms_of(pages, ("MENU", "ROUTES")) for route in room.ROUTES.routes if isinstance(route, APIRoute)
]
NONSENSE = ("zzz", "99999", "1800-01-01", "-1", "zzz/9")
"""What no person, reader, number, take, round, day or choice is called at the mill."""
KNOWN = {"person": "P2", "supervisor": "P1", "reader": "MILL-1", "number": "4102", "day": "2026-03-02", "take": "1"}


WRITTEN = re.compile(r"dice at |/\S+/")
"""What is said as it is written: the name of a place in an address, and folders."""


def addresses_of(route: APIRoute) -> Iterator[str]:
    """Yield the addresses of a route with nonsense in one place each, and what is there in the others."""
    named = list(route.param_convertors)
    asked = (one.alias for one in route.dependant.query_params)
    for place in (one for one in (*named, *asked) if one != "speak"):  # which language is read is no nonsense
        for nonsense in NONSENSE:
            path = route.path
            for name in named:
                told = nonsense if name == place else KNOWN.get(name, "1")
                for form in (f"{{{name}:name}}", f"{{{name}:day}}", f"{{{name}:int}}", f"{{{name}}}"):
                    path = path.replace(form, told.replace("/", "~2F"))
            yield path if place in named else f"{path}?{place}={nonsense}"


def in_english(html: str) -> set[str]:
    """Return what has English words within, but for names of an address, which are said as they are written."""
    return {text for text in said_on(html) if ENGLISH.search(WRITTEN.sub(" ", text))}


@pytest.fixture(scope="module")
def spanish(mill: Served) -> Iterator[httpx.Client]:
    with mill.enter() as client:
        client.headers["accept-language"] = "es"
        yield client


@pytest.mark.parametrize("route", [one for one in ROUTES if "GET" in one.methods], ids=lambda one: one.path)
def test_nonsense_in_an_address_is_refused_in_spanish(route: APIRoute, spanish: httpx.Client) -> None:
    for address in addresses_of(route):
        answer = spanish.get(address)
        assert answer.status_code != 500, address
        if "html" in answer.headers.get("content-type", ""):
            assert (address, language_of(answer.text)) == (address, "es")
            if answer.status_code >= 400:
                assert (address, in_english(answer.text)) == (address, set())


@pytest.mark.parametrize("route", [one for one in ROUTES if "POST" in one.methods], ids=lambda one: one.path)
def test_a_form_without_its_fields_is_refused_in_spanish(
    route: APIRoute, spanish: httpx.Client, form_token: Callable[[httpx.Client], str]
) -> None:
    for address in {route.path, *addresses_of(route)}:
        answer = spanish.post(address, data={"form_token": form_token(spanish)})
        assert answer.status_code != 500, address
        if "html" in answer.headers.get("content-type", ""):
            assert (address, language_of(answer.text), in_english(answer.text)) == (address, "es", set())
