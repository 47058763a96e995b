"""The columns that the rules hand on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import numpy.typing as npt

from evenhand.terms.records import Citation

__all__ = ["Changes", "Column", "Owed", "Pieces", "Spans"]

Column = npt.NDArray[Any]


def _none() -> Column:
    return np.zeros(0, np.int64)


@dataclass(frozen=True)
class Pieces:
    """Time cut at workweeks, and at workdays where the law has them, by person and time.

    A piece is ordinary up to `overtime_from`, overtime up to `double_from` and double time up to `ends`. `punch` is
    the punch it follows, `week` counts `Site.week_dates`, `day` counts `Site.day_dates` where it was cut at
    workdays; the rest are instants. Shape (n pieces,).
    """

    punch: Column = field(default_factory=_none)
    week: Column = field(default_factory=_none)
    day: Column = field(default_factory=_none)
    starts: Column = field(default_factory=_none)
    ends: Column = field(default_factory=_none)
    overtime_from: Column = field(default_factory=_none)
    double_from: Column = field(default_factory=_none)


@dataclass(frozen=True)
class Changes:
    """What one rule did, a row for each span it changed.

    `punch` is the punch it shows at, and `to_next` says that the one after it has to do with it as well; `rows` are
    the places of two punches among the rows handed in, where the rule knows better. `starts` and `ends` are instants,
    `sign` is 1 where the rule pays the span, -1 where it no longer does, 0 where paid time stays as long as it was.
    `says` holds the rule's sentences and `reason` which of them; `words` fills it, a column or a single value a word.
    `classes` are the classes before and after, for each reason, where time changes its class.
    """

    punch: Column
    starts: Column
    ends: Column
    sign: Column
    says: tuple[str, ...]
    reason: Column
    words: Mapping[str, Any]
    to_next: bool = False
    rows: tuple[Column, Column] | None = None
    classes: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Owed:
    """Pay owed beside time worked, under one citation: for each row the punch it shows at, the workday, the seconds.

    `says` holds the rule's sentences and `reason` which of them; `words` fills it, a column a word.
    """

    cites: tuple[Citation, ...]
    kind: str
    punch: Column
    day: Column
    seconds: Column
    says: tuple[str, ...]
    reason: Column
    words: dict[str, Column]


@dataclass(frozen=True)
class Spans:
    """Whole people's punches by person and time, and what the rules made of them.

    `person`, `at`, `mark`, `zone` are codes and instants of the punches that count, shape (n punches,); `row` is each
    punch's place among the rows handed in, and `into` each row's punch. `reading`, `gap`, `asks` and `shift` come
    from pairing: which way each punch went, what the time to the next one is, what it leaves open. `paired` is `gap` as
    pairing left it, from which recorded time is told whatever later rules pay. `local` is each punch's civil time [s],
    once a rule has asked for it. `pay_at` is the instant that counts for
    pay. `owed` is what the rules found to be owed beside time worked.
    """

    person: Column
    at: Column
    mark: Column
    zone: Column
    row: Column = field(default_factory=_none)
    into: Column = field(default_factory=_none)
    reading: Column = field(default_factory=_none)
    gap: Column = field(default_factory=_none)
    paired: Column = field(default_factory=_none)
    asks: Column = field(default_factory=_none)
    shift: Column = field(default_factory=_none)
    local: Column = field(default_factory=_none)
    pay_at: Column = field(default_factory=_none)
    recorded: Pieces = field(default_factory=Pieces)
    paid: Pieces = field(default_factory=Pieces)
    owed: tuple[Owed, ...] = ()
