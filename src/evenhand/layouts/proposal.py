"""What a file seems to be, column by column, and what has to be asked before a row of it is taken."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from evenhand.layouts.layout import Layout

__all__ = ["Answers", "Choice", "ColumnUse", "KnownCells", "Proposal", "Question"]


@dataclass(frozen=True)
class Answers:
    """What a person has said about a file; what is empty was not said.

    `zone` is the IANA zone in which the file's times are written, `dates` their order ("dmy", "mdy", "ymd"), `zeros`
    how many digits keyed numbers are padded to (0: leave them as they are). `maps` names for columns of the file, by
    header or position from 1, the declared column they are; `ignored` names those that are none.
    """

    table: str = ""
    reader: str = ""
    zone: str = ""
    dates: str = ""
    zeros: int | None = None
    maps: Mapping[str, str] = field(default_factory=dict)
    ignored: frozenset[str] = frozenset()


@dataclass(frozen=True)
class KnownCells:
    """What a workplace's store knows already, and what cells of a file may therefore be.

    `numbers` are those that people key, `people` their identifiers. `today` is the day on which the file is looked at;
    no log tells of a later one. `orders` gives, by origin (the name of a kept layout, or of a reader), the order of
    dates that was seen there before.
    """

    readers: Collection[str] = ()
    numbers: Collection[str] = ()
    people: Collection[str] = ()
    names: Collection[str] = ()
    sites: Collection[str] = ()
    today: date | None = None
    orders: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class ColumnUse:
    """One column of the file, what it is used as (nothing: `names` is empty), and some of its cells as written.

    `position` counts from 1; `likelihood`, from 0 to 1, says how likely this use is under all that the file shows.
    """

    position: int
    header: str
    names: tuple[str, ...]
    likelihood: float
    samples: tuple[str, ...]


@dataclass(frozen=True)
class Choice:
    """One possible answer: what is to be given (`dmy`), and what it would mean ("03/04/2026 is 3 April 2026")."""

    answer: str
    means: str


@dataclass(frozen=True)
class Question:
    """What the file does not decide; `subject` is the column it is about, if any."""

    about: Literal["table", "column", "dates", "reader", "zone", "zeros", "layout"]
    asks: str
    choices: tuple[Choice, ...]
    subject: str = ""


@dataclass(frozen=True)
class Proposal:
    """How a file would be read: `layout`, the use of each of its columns, and what stays open.

    Rows may be taken only once `questions` is empty. `kept` is the key of the kept layout that is used, '' where the
    layout is a fresh one or one that answers have changed. `offers` are columns that a kept layout leaves out and that
    seem to be declared ones.
    """

    layout: Layout
    uses: tuple[ColumnUse, ...]
    questions: tuple[Question, ...] = ()
    offers: tuple[ColumnUse, ...] = ()
    kept: str = ""
