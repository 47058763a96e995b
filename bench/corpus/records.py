"""What a file of the corpus is: its bytes, what is true of it, and what the workplace knows already."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

__all__ = ["AnyOf", "Around", "CorpusFile", "Expects", "Row", "agrees"]

Expects = Literal["read", "either", "ask", "refuse"]
"""`read`: everything in it can be told, so that it is read at the first proposal. `either`: a careful reader may ask
first. `ask`: what it says cannot be known without asking (or it is refused). `refuse`: it is no table of ours, so that
it is refused or asked about, and not one row of it taken."""


@dataclass(frozen=True)
class AnyOf:
    """Values that are equally right, such as none and false for an empty cell beside crosses."""

    values: tuple[object, ...]


@dataclass(frozen=True)
class Row:
    """One line below the header.

    `good`: `values` are those of the declared columns, the others being empty. `bad`: it cannot be read and is refused;
    `fault` is the column that spoils it, if one does. `noise`: a total, a page's header, a foot; it is refused or
    passed over, and never a row.
    """

    line: int
    kind: Literal["good", "bad", "noise"]
    values: Mapping[str, object] = field(default_factory=dict)
    fault: str = ""


@dataclass(frozen=True)
class Around:
    """What the workspace knows before the file: its readers' and people's places, numbers enrolled, and the day.

    `orders` are the orders of dates that a person stated before, by the reader whose files they were.
    """

    today: date
    reader_zones: Mapping[str, str] = field(default_factory=dict)
    site_zones: Mapping[str, str] = field(default_factory=dict)
    person_zones: Mapping[str, str] = field(default_factory=dict)
    names: Mapping[str, str] = field(default_factory=dict)
    numbers: frozenset[str] = frozenset()
    orders: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class CorpusFile:
    """A file with its truth.

    `uses` gives for each of its columns, in order, the declared columns it holds (none: it belongs to nothing), and
    `headers` what stands above it. `about` is what may have to be asked; `dates`, `words`, `zeros`, `reader` and
    `zone` are the true answers. `dimensions` says how it was written.
    """

    number: int
    part: str
    name: str
    content: bytes
    table: str
    expects: Expects
    about: frozenset[str]
    rows: tuple[Row, ...]
    uses: tuple[tuple[str, ...], ...]
    headers: tuple[str, ...]
    around: Around
    dimensions: Mapping[str, str]
    dates: str = ""
    words: Mapping[str, str] = field(default_factory=dict)
    zeros: int = 0
    reader: str = ""
    zone: str = ""
    why: str = ""


def agrees(column: str, true: object, read: object) -> bool:
    """Return whether the value read is the true one; a name's parts may stand in any order, with a comma or without."""
    if isinstance(true, AnyOf):
        return any(agrees(column, one, read) for one in true.values)
    if isinstance(true, str) and isinstance(read, str):
        if column == "name":
            return sorted(true.replace(",", " ").split()) == sorted(read.replace(",", " ").split())
        return true.split() == read.split()
    if isinstance(true, float) and isinstance(read, float):
        return abs(true - read) < 1e-9
    return true == read
