"""Whether 03/04/2026 is in March or in April: decided by all that a file shows, or left open, never guessed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

import numpy as np
import numpy.typing as npt

from evenhand.layouts.values.closeness import DENSE, YEARLY, is_denser, mean_step
from evenhand.layouts.values.coded import Unfit
from evenhand.layouts.values.dates import EPOCH, ORDERS, DateStyle, orders_of, parse_date, style_of
from evenhand.terms.languages import told

__all__ = ["DateOrder", "Dated", "Example", "day_of", "decide_order"]

TOLERATED = 0.05  # of the dates that tell, those that may tell otherwise: typing mistakes, each refused with its line
UNSURE = 0.2  # of the dates, that may be mistakes where all others speak for them
LONGEST_LOG = 1100  # [days]
SMALL = 5  # dates, from which on it is odd that one alone tells: of dates at large three in five do
FEWEST_STEPS = 4  # of a log from one day to another, by which its direction is told


@dataclass(frozen=True)
class Dated:
    """One column with dates: its distinct texts, in the order of the file.

    `latest` is the day, from 1970-01-01, after which none of them lies, None where any may;
    `last_year` is as in `style_of`. `is_close` says that they
    lie close together, as those of a log do; `rows` then are the texts row by row, as positions, and `clocks` whose
    log each row belongs to; both are empty where the rows stand in no order of time.
    """

    texts: Sequence[str]
    first_year: int = 2000
    latest: int | None = None
    last_year: int = 0
    is_close: bool = False
    rows: npt.NDArray[np.int32] = field(default_factory=lambda: np.zeros(0, np.int32))
    clocks: npt.NDArray[np.int32] = field(default_factory=lambda: np.zeros(0, np.int32))


@dataclass(frozen=True)
class Example:
    """A date as the file writes it, and what it would be in each order that is open."""

    text: str
    readings: Mapping[str, date]


@dataclass(frozen=True)
class DateOrder:
    """What is known of a file's date order.

    `how` is "needless" (no date of the file means two days: `order` is one that reads them all), "decided" (`order`,
    for the reason `because`), "open" (`choices`, the likeliest first, with `examples`) or "contradictory" (`against`
    are two texts that no one order fits). Where a single date of several tells, which can be a slip, it is open as
    well, and `against` is that date. `told_by` names what decided.
    """

    how: Literal["needless", "decided", "open", "contradictory"]
    order: str = ""
    because: str = ""
    told_by: Literal["", "layout", "calendar", "today", "log", "origin"] = ""
    choices: tuple[str, ...] = ()
    examples: tuple[Example, ...] = ()
    against: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Column:
    """A column's dates of which the order matters: day by order, None where a text is no day in that order."""

    of: Dated
    texts: list[str]
    at: list[int]
    days: dict[str, list[int | None]]


def decide_order(columns: Sequence[Dated], stated: str = "", custom: str = "", *, few: float = YEARLY) -> DateOrder:
    """Return the order of the dates of a file's columns.

    What decides, the strongest first: dates that are days in one order only; that none lies after its column's
    `latest` day; that a log runs one way and its dates lie close together; the order `stated` by other files of the
    same origin. `custom`, that of the language, and points between the parts only set which choice is named first.
    `few` is how far apart [days] two or three dates of a log lie at least, read in an order in which none is meant.
    """
    looked = [seen for seen in map(_look_at, columns) if seen.texts]
    texts = [text for column in looked for text in column.texts]
    days: dict[str, list[int | None]] = {
        order: [day for column in looked for day in column.days[order]] for order in ORDERS
    }
    possible: list[str] = [order for order in ORDERS if days[order].count(None) < _many(len(texts))]
    if texts and not possible:
        return DateOrder("contradictory", choices=ORDERS, against=_contradiction(texts, days))
    close = [column for column in looked if column.of.is_close]
    if len(possible) == 1:
        return _by_calendar(close, texts, days, possible[0], few, stated)
    if _are_alike(days, possible):
        return DateOrder("needless", possible[0] if texts else "")
    past = [order for order in possible if not _ahead(looked, order)]
    if len(past) == 1 and not _is_sparse(close, past[0], possible, few):
        ahead = next(found for order in possible if (found := _ahead(looked, order)))
        return DateOrder(
            "decided", past[0], told("otherwise {text} would lie in the future", text=repr(ahead)), "today"
        )
    left, because = _by_log(close, past if len(past) > 1 else possible, few)
    if len(left) == 1:
        return DateOrder("decided", left[0], because, "log")
    if stated in left:
        return DateOrder("decided", stated, told("other files of the same origin are written so"), "origin")
    custom = custom or ("dmy" if any("." in text for text in texts) else "")
    choices = tuple(sorted(left, key=lambda order: order != custom))
    return DateOrder("open", choices=choices, examples=_examples(texts, days, choices))


def _by_calendar(
    close: Sequence[_Column],
    texts: list[str],
    days: Mapping[str, list[int | None]],
    order: str,
    few: float,
    stated: str,
) -> DateOrder:
    """Return the only order in which the dates are days, if a few mistakes, or a single one, are not what tells it."""
    nearly = [each for each in ORDERS if days[each].count(None) <= UNSURE * len(texts)]
    if _is_sparse(close, order, nearly, few):
        return DateOrder("contradictory", choices=tuple(nearly), against=_contradiction(texts, days))
    telling, *more = (text for text, day in zip(texts, _others(days, [order]), strict=True) if day is None)
    if not more and len(texts) >= SMALL and order != stated and not _is_dense(close, order):
        others = [each for each in ORDERS if each != order and days[each].count(None) <= 1]
        return DateOrder("open", choices=(order, *others), against=(telling,))
    return DateOrder("decided", order, told("only so is {text} a day", text=repr(telling)), "calendar")


def _look_at(column: Dated) -> _Column:
    style = style_of(column.texts, column.first_year, column.last_year)
    seen = _Column(column, [], [], {order: [] for order in ORDERS})
    for at, text in enumerate(column.texts):
        orders = orders_of(text, style)
        read = {order: day_of(text, order, column.first_year, style) if order in orders else None for order in ORDERS}
        if any(day is not None for day in read.values()):
            seen.texts.append(text)
            seen.at.append(at)
            for order, day in read.items():
                seen.days[order].append(day)
    return seen


def day_of(text: str, order: str, first_year: int, style: DateStyle) -> int | None:
    """Return the day of a text, from 1970-01-01, None where it is none."""
    try:
        return parse_date(text, order, first_year, style)
    except Unfit:
        return None


def _many(dates: int) -> float:
    """Return how many of so many dates are more than mistakes."""
    return max(1.0, TOLERATED * dates)


def _are_alike(days: Mapping[str, list[int | None]], orders: Sequence[str]) -> bool:
    return all(days[order] == days[orders[0]] for order in orders[1:])


def _others(days: Mapping[str, list[int | None]], possible: Sequence[str]) -> list[int | None]:
    """Return the days read in the likeliest order that is not possible."""
    others = [order for order in ORDERS if order not in possible]
    return min((days[order] for order in others), key=lambda of_order: of_order.count(None))


def _contradiction(texts: list[str], days: Mapping[str, list[int | None]]) -> tuple[str, ...]:
    """Return two dates that no one of the likeliest orders fits."""
    likeliest = sorted(ORDERS, key=lambda order: days[order].count(None))[:2]
    failing = [texts[days[order].index(None)] for order in likeliest[::-1] if None in days[order]]
    return tuple(dict.fromkeys([*failing, *texts]))[:2]


def _ahead(columns: Sequence[_Column], order: str) -> str:
    """Return a date that lies in the future, read so, '' where none does but for a few mistakes."""
    ahead = [
        text
        for column in columns
        for text, day in zip(column.texts, column.days[order], strict=True)
        if day is not None and column.of.latest is not None and day > column.of.latest
    ]
    return ahead[0] if len(ahead) >= _many(sum(len(column.texts) for column in columns)) else ""


def _by_log(columns: Sequence[_Column], orders: Sequence[str], few: float) -> tuple[list[str], str]:
    """Return the orders in which the dates of a log can be meant, and why, where only one is left."""
    dense = [order for order in orders if not _is_sparse(columns, order, orders, few)]
    if not dense:
        return list(orders), ""
    running = [order for order in orders if any(_runs_one_way(column, order) for column in columns)]
    if len(running) == 1:
        steps = {order: min(mean_step(column.days[order])[0] for column in columns) for order in dense}
        if running[0] not in dense or steps[running[0]] > 1.5 * min(steps.values()):
            return list(orders), ""
        return running, told("only so does the log run in order of time")
    return dense, told("only so do the dates lie close together")


def _is_sparse(columns: Sequence[_Column], order: str, orders: Sequence[str], few: float) -> bool:
    """Return whether a log's dates, read so, lie far apart, and close together in another of the orders."""
    return any(
        is_denser(column.days[other], column.days[order], few=few)
        for column in columns
        for other in orders
        if other != order
    )


def _is_dense(columns: Sequence[_Column], order: str) -> bool:
    """Return whether a log's dates, read so, lie as close as they do where it is in use."""
    return any(mean_step(column.days[order])[0] <= DENSE for column in columns)


def _runs_one_way(column: _Column, order: str) -> bool:
    """Return whether each clock's days run one way, over a plausible span; few may stand out of order."""
    rows = column.of.rows
    if not len(rows):
        return False
    day = np.full(len(column.of.texts), -1, np.int64)
    day[column.at] = [-1 if found is None else found for found in column.days[order]]
    sound = np.flatnonzero(day[rows] >= 0)
    sequence = sound[np.argsort(column.of.clocks[sound], kind="stable")]
    days, same = day[rows[sequence]], np.diff(column.of.clocks[sequence]) == 0
    # What is sorted as text runs one way in the order in which it is written, whenever it happened.
    rank = np.argsort(np.argsort(np.array(column.of.texts, dtype=np.str_)))[rows[sequence]]
    if len(days) < 3 or days.max() - days.min() > LONGEST_LOG or _is_one_way(np.diff(rank)[same], 0.0):
        return False
    steps = np.diff(days)[same]
    return int((steps != 0).sum()) >= FEWEST_STEPS and _is_one_way(steps, 0.02)


def _is_one_way(steps: npt.NDArray[np.int64], mistakes: float) -> bool:
    forward, backward = int((steps > 0).sum()), int((steps < 0).sum())
    return min(forward, backward) <= mistakes * (forward + backward)


def _examples(texts: list[str], days: Mapping[str, list[int | None]], choices: Sequence[str]) -> tuple[Example, ...]:
    """Return two dates that are another day in each order, where there are such."""
    most = max(len({days[order][at] for order in choices}) for at in range(len(texts)))
    differing = [at for at in range(len(texts)) if len({days[order][at] for order in choices}) == most]
    return tuple(
        Example(
            texts[at],
            {order: date.fromordinal(day + EPOCH) for order in choices if (day := days[order][at]) is not None},
        )
        for at in differing[:2]
    )
