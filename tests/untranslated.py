"""Finds English left standing: what a page or a paper says alike in two languages, but for names and figures."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from html.parser import HTMLParser
from typing import TYPE_CHECKING

import httpx
import polars as pl

from evenhand.jobs.takes import list_takes

if TYPE_CHECKING:
    from evenhand.jobs.snapshot import Snapshot
    from evenhand.jobs.workspace import Workspace
    from tests.web.conftest import Served

__all__ = [
    "ENGLISH",
    "half_english",
    "language_of",
    "left_in_english",
    "names_at",
    "names_of",
    "said_on",
    "untranslated",
    "untranslated_lines",
]

SAID_BY = ("aria-label", "placeholder", "title", "alt")
WORD = re.compile(r"[^\W\d_]{3,}")
ENGLISH = re.compile(r"\b(?:the|of|and|with|from|which|that|this|have|are|was|were|been|not|by|for|to|at|is)\b", re.I)
"""Words without which hardly an English sentence is made, and which Spanish does not have."""
CITED = re.compile(r"\d+ (?:CFR|USC|ILCS)\b[\w ./()\-]*|\b(?:Labor|Tex\.|Ill\.) Code[^;,]*")
"""Laws are called in both languages as they call themselves."""
MADE_HERE = ("español", "en español")
"""What a page says of another language in that language."""
FILED = re.compile(r"--[a-z][a-z-]*|\S+\.(?:csv|xlsx|txt|toml|jsonl|json)\b")
UNITS = re.compile(r"\d\s?(?:h|min|s)\b")


class _Texts(HTMLParser):
    """Collects what a page says; what is in another language than the page's is none of it, nor are scripts."""

    def __init__(self) -> None:
        super().__init__()
        self.language, self.found, self._within = "", set[str](), list[tuple[str, bool]]()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        if tag == "html":
            self.language = said.get("lang") or ""
        apart = tag in ("script", "style", "code", "textarea") or said.get("lang", self.language) != self.language
        if tag not in ("meta", "link", "input", "br", "img", "rect", "path", "circle", "line", "use"):
            self._within.append((tag, apart))
        if not apart and not self._is_apart():
            self.found |= {text for name in SAID_BY if (text := said.get(name))}

    def handle_endtag(self, tag: str) -> None:
        while self._within and self._within.pop()[0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        if not self._is_apart():
            self.found.add(" ".join(data.split()))

    def _is_apart(self) -> bool:
        return any(apart for _, apart in self._within)


def _texts(html: str) -> _Texts:
    read = _Texts()
    read.feed(html)
    return read


def language_of(html: str) -> str:
    """Return the language that a page says it is in."""
    return _texts(html).language


def said_on(html: str) -> set[str]:
    """Return what a page says in its own language."""
    return _texts(html).found


def untranslated(english: str, other: str, known: Iterable[str] = ()) -> set[str]:
    """Return what two pages say alike that is no name (`known`), figure or identifier."""
    return set(_left(_texts(english).found & _texts(other).found, known))


def untranslated_lines(english: Iterable[str], other: Iterable[str], known: Iterable[str] = ()) -> set[str]:
    """Return the lines of two papers' pages that are alike and no name (`known`), figure or identifier."""
    both = [{line.strip() for page in pages for line in page.splitlines()} for pages in (english, other)]
    return set(_left(both[0] & both[1], known))


def half_english(lines: Iterable[str], known: Iterable[str] = ()) -> set[str]:
    """Return the lines of a text in another language that have English words in them, names and files aside."""
    names = list(known)
    return {line.strip() for line in lines if ENGLISH.search(_without(FILED.sub(" ", line), names))}


def _left(texts: Iterable[str], known: Iterable[str]) -> Iterator[str]:
    names = list(known)
    for text in texts:
        if WORD.search(UNITS.sub(" ", _without(text, names))):
            yield text


def left_in_english(served: Served, client: httpx.Client, address: str, known: Iterable[str] = ()) -> set[str]:
    """Return what a page says in English though Spanish was chosen: alike in both, or with English words within.

    The names at the workplace are left aside, and what is `known` beside them. The session speaks English afterwards.
    """
    asks = "&" if "?" in address else "?"
    english, spanish = (client.get(f"{address}{asks}speak={one}").text for one in ("en", "es"))
    client.get("/missing?speak=en")
    assert (language_of(english), language_of(spanish)) == ("en", "es"), address
    names = [*names_at(served), *known]
    halves = {text for text in _texts(spanish).found if ENGLISH.search(_without(text, names))}
    return untranslated(english, spanish, names) | halves


def names_at(served: Served) -> set[str]:
    """Return what is called alike in any language at a workplace: people, readers, sites, zones, files, laws."""
    return names_of(served.workspace, served.app.state.reckonings.current().snapshot)


def names_of(workspace: Workspace, snapshot: Snapshot) -> set[str]:
    """Return what is called alike in any language in a workspace."""
    found = {"evenhand", snapshot.settings.workplace, *snapshot.settings.sites}
    found |= {one.file for one in list_takes(workspace)}
    for frame in (snapshot.people, snapshot.readers, snapshot.enrolments):
        for name in frame.select(pl.col(pl.String, pl.Categorical)).columns:
            found |= set(frame[name].drop_nulls().cast(pl.String).unique())
    found |= {name for name in (*MADE_HERE, *snapshot.takes["file"].unique()) if name}
    return {one for one in found if WORD.search(one)}


def _without(text: str, names: Iterable[str]) -> str:
    for name in sorted(names, key=len, reverse=True):
        text = text.replace(name, " ")
    return CITED.sub(" ", text)
