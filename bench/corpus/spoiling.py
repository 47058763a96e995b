"""Rows that cannot be read, and what stands about a table: titles, totals, pages' heads and feet, blank lines."""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from bench.corpus.writing import Cell, Field

__all__ = ["Line", "lines_of", "spoil"]

# A way to spoil a row changes its cells and returns the column at fault, '' for the row as a whole; none where the file
# has nothing to spoil so.


@dataclass
class Line:
    """One line of a file before it is written: `above` are titles and heads, `blank` holds nothing."""

    cells: list[Cell]
    kind: Literal["above", "header", "good", "bad", "noise", "blank"]
    values: Mapping[str, object] = field(default_factory=dict)
    fault: str = ""


def lines_of(fields: Sequence[Field], truth: Sequence[Mapping[str, object]]) -> list[Line]:
    """Return the rows of the file, as they are in order."""
    return [Line([one.cells[at] for one in fields], "good", values) for at, values in enumerate(truth)]


def spoil(rng: random.Random, lines: list[Line], fields: Sequence[Field], table: str, share: float) -> set[str]:
    """Make a share of the rows, and one at the least, unreadable; return in which ways."""
    used = set()
    for at in rng.sample(range(len(lines)), max(1, round(share * len(lines)))):
        ways = list(_WAYS)
        rng.shuffle(ways)
        for way in ways:
            fault = _WAYS[way](rng, lines[at].cells, fields, table)
            if fault is not None:
                lines[at].kind, lines[at].fault = "bad", fault
                used.add(way)
                break
    return used


def _place(fields: Sequence[Field], *uses: str) -> int | None:
    return next((at for at, one in enumerate(fields) if set(one.uses) & set(uses)), None)


_NEEDED = {
    "people": ("name",),
    "readers": ("zone",),
    "enrolments": ("number",),
    "punches": ("number", "at"),
    "schedules": ("person",),
    "consent": ("given_on",),
    "rates": ("amount",),
}
_DAYS = ("at", "hired_on", "enrolled_on", "starts_at", "given_on", "valid_from")


def _needed_is_missing(rng: random.Random, cells: list[Cell], fields: Sequence[Field], table: str) -> str | None:
    use = rng.choice(_NEEDED[table])
    places = [at for at, one in enumerate(fields) if use in one.uses]
    if len(places) != 1:
        return None
    cells[places[0]] = "" if isinstance(cells[places[0]], str) else None
    return use


def _letters_in_number(rng: random.Random, cells: list[Cell], fields: Sequence[Field], table: str) -> str | None:
    at = _place(fields, "number")
    if at is None:
        return None
    cells[at] = str(cells[at])[:-1] + rng.choice("OIl?")
    return "number"


def _no_such_day(rng: random.Random, cells: list[Cell], fields: Sequence[Field], table: str) -> str | None:
    at = _place(fields, *_DAYS)
    if at is None or not isinstance(fields[at].cells[0], str):
        return None
    cells[at] = rng.choice(("??", "n.n.", "31.02.2026 25:61", "---x", "99/99/9999"))
    return fields[at].uses[0]


def _unknown_reader(rng: random.Random, cells: list[Cell], fields: Sequence[Field], table: str) -> str | None:
    at = _place(fields, "reader")
    if at is None or table not in {"punches"}:
        return None
    cells[at] = rng.choice(("Nowhere", "TEST-XX", "Z99"))
    return "reader"


def _cut_short(rng: random.Random, cells: list[Cell], fields: Sequence[Field], table: str) -> str | None:
    last = max((at for at, one in enumerate(fields) if set(one.uses) & set(_NEEDED[table])), default=0)
    if last < 2:
        return None
    del cells[last:]
    return ""


_WAYS = {
    "a needed cell is empty": _needed_is_missing,
    "letters in a number": _letters_in_number,
    "no such day": _no_such_day,
    "a reader nobody has": _unknown_reader,
    "cut short": _cut_short,
}
