"""The date order of a file: as its layout states, as all that the file shows decides, or as somebody has to say.

Dates that a spreadsheet turned are a matter of their own: there is no order in which they can be read.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np

from evenhand.layouts.layout import Layout
from evenhand.layouts.proposal import Choice, Question
from evenhand.layouts.reading import Cells
from evenhand.layouts.values.closeness import SPARSE, YEARLY
from evenhand.layouts.values.dates import EPOCH, ORDER_WORDS, style_of
from evenhand.layouts.values.no_end import is_no_end
from evenhand.layouts.values.order import Dated, DateOrder, day_of, decide_order
from evenhand.layouts.values.turned import Turned, find_turned
from evenhand.terms.columns import Column
from evenhand.terms.languages import Sentence, in_a_row, of_file, told
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES

__all__ = [
    "ask_order",
    "ask_turned",
    "first_year",
    "last_year",
    "order_of",
    "refuse_order",
    "refuse_turned",
    "turned_in",
    "with_years",
]

# How many days after today a date of a column may lie: clocks of other zones are a day ahead, people are listed some
# weeks before they begin, and shifts are planned for years at most. Other columns may hold any day.
AHEAD = {"at": 1, "given_on": 1, "enrolled_on": 1, "hired_on": 92, "starts_at": 1100, "ends_at": 1100}
MAY_LIE_AHEAD = frozenset({"starts_at", "ends_at"})
CLOSE_TOGETHER = frozenset({"at", "starts_at", "ends_at"})


def first_year(layout: Layout) -> int:
    """Return the first year that is believed: people were hired before 2000, but no reader's log begins there."""
    return 1900 if layout.table == "people" else 2000


def last_year(layout: Layout, column: Column) -> int:
    """Return the last year that two digits may be in a column, 0 where nothing tells."""
    return layout.last_year if column.name in AHEAD and column.name not in MAY_LIE_AHEAD else 0


def with_years(layout: Layout, cells: Cells, order: str, today: date | None) -> Layout:
    """Return the layout with the last year that two digits may be, where a date would lie too far ahead otherwise."""
    for column in _dated(layout, cells, today):
        if column.latest is not None and column.last_year > layout.last_year:
            style = style_of(column.texts, column.first_year)
            days = (day_of(text, order, column.first_year, style) for text in column.texts)
            # A layout that was kept last year goes on from there.
            if layout.last_year or any(day is not None and day > column.latest for day in days):
                layout = replace(layout, last_year=column.last_year)
    return layout


def order_of(
    layout: Layout, cells: Cells, *, today: date | None = None, stated: str = "", custom: str = ""
) -> DateOrder:
    """Return the order of the dates of a file that is read by `layout`.

    `today` is the day on which the file is looked at, `stated` the order in other files of the same origin, `custom`
    that of the language of its header; none of them is needed. What a layout states is doubted only where the file's
    own dates decide otherwise: then it is contradictory.
    """
    columns = _dated(layout, cells, today)
    # To doubt what a layout states takes less than to decide what nothing states.
    found = decide_order(columns, stated, custom, few=SPARSE if layout.date_order else YEARLY)
    if not layout.date_order:
        return found
    if found.told_by in ("calendar", "today", "log") and found.order != layout.date_order:
        return DateOrder("contradictory", layout.date_order, found.because, "layout", (found.order, layout.date_order))
    return DateOrder("decided", layout.date_order, told("the layout states it"), "layout")


def _dated(layout: Layout, cells: Cells, today: date | None) -> list[Dated]:
    """Return the columns of a file that hold dates."""
    earliest, columns = first_year(layout), []
    for column in SOURCES[layout.table].columns:
        last = today.toordinal() - EPOCH + AHEAD[column.name] if today and column.name in AHEAD else None
        years_to = last_year(layout, column)
        if last is not None and column.name not in MAY_LIE_AHEAD:
            years_to = max(years_to, date.fromordinal(last + EPOCH).year)
        if column.kind == "date" and column.name in cells.coded:
            texts = [text for text in dict.fromkeys(cells.coded[column.name].values) if not is_no_end(text)]
            columns.append(Dated(texts, earliest, last, years_to))
        elif column.name in cells.moments:
            dates = cells.moments[column.name].dates
            is_log = column.name == "at"
            clocks = cells.coded["reader"].codes if "reader" in cells.coded else np.zeros(dates.height, np.int32)
            columns.append(
                Dated(
                    dates.values,
                    earliest,
                    last,
                    years_to,
                    is_close=column.name in CLOSE_TOGETHER,
                    **({"rows": dates.codes, "clocks": clocks} if is_log else {}),
                )
            )
    return columns


def turned_in(layout: Layout, cells: Cells, order: str, today: date | None = None) -> Turned | None:
    """Return dates of a file that a spreadsheet seems to have turned; `order` is that of its other dates.

    Where all dates look as certain as each other, a layout that states their order says that they stand as meant.
    """
    for column in _dated(layout, cells, today):
        found = find_turned(
            column.texts,
            order,
            column.first_year,
            column.latest,
            is_close=column.is_close,
            is_log=len(column.rows) > 0,
        )
        if found and (found.beside or layout.date_order != _as_stated(found)):
            return found
    return None


def ask_turned(name: str, found: Turned) -> Question:
    """Return the question whether dates that all look certain are meant as they stand."""
    asks = of_file(
        name,
        told(
            "{texts:listed} stand in it as {days:listed}, one day of each month, and would be {meant:listed} if a "
            "spreadsheet had turned day and month around. If it has, export the file again as text and take that, "
            "without opening it in a spreadsheet; are the dates as they stand?",
            texts=list(found.texts),
            days=[_in_words(day) for day in found.days],
            meant=[_in_words(day) for day in found.meant],
        ),
    )
    means = told("they are as they stand: {text} is {day}", text=found.texts[0], day=_in_words(found.days[0]))
    return Question("dates", asks, (Choice(_as_stated(found), means),))


def refuse_turned(name: str, found: Turned | None) -> None:
    """Raise Refusal where a spreadsheet seems to have turned dates of the file."""
    if found is None:
        return
    if not found.beside:
        raise Refusal(
            told(
                '{asks} If so, state it in the layout (date_order = "{order}").',
                asks=ask_turned(name, found).asks,
                order=_as_stated(found),
            )
        )
    raise Refusal(
        of_file(
            name,
            told(
                "{text} and {other} stand in one column, where every date up to the twelfth of a month "
                "is written the one way and every later one the other: a spreadsheet has turned day and "
                "month around in what it took for dates ({day} for {meant}). Export the file again as "
                "text and take that, without opening it in a spreadsheet.",
                text=repr(found.texts[0]),
                other=repr(found.beside),
                day=_in_words(found.days[0]),
                meant=_in_words(found.meant[0]),
            ),
        )
    )


def _as_stated(found: Turned) -> str:
    """Return the order by which a layout says that dates that look certain are as they stand."""
    return "ymd" if all(text[:4].isdigit() for text in found.texts) else "dmy"


def ask_order(name: str, found: DateOrder) -> Question | None:
    """Return what has to be asked about the dates of the file `name`, None where nothing is open."""
    if found.how not in ("open", "contradictory"):
        return None
    return Question(
        "dates", _sentence(name, found), tuple(Choice(order, _meant(found, order)) for order in found.choices)
    )


def refuse_order(name: str, found: DateOrder) -> None:
    """Raise Refusal where a file cannot be read because the order of its dates is open or contradictory."""
    if found.how in ("open", "contradictory") and found.told_by != "layout":
        orders = in_a_row("{one} or {other}", [f'"{order}"' for order in found.choices])
        asks = _sentence(name, found)
        raise Refusal(told("{asks} State the order in the layout (date_order = {orders}).", asks=asks, orders=orders))


def _sentence(name: str, found: DateOrder) -> str:
    if found.told_by == "layout":
        return of_file(
            name,
            told(
                "the layout states {order} for its dates, but they seem to be {other}, because "
                "{because}; which is meant?",
                order=told(ORDER_WORDS[found.order]),
                other=told(ORDER_WORDS[found.choices[0]]),
                because=found.because,
            ),
        )
    if found.how == "open" and found.against:
        return of_file(
            name,
            told(
                "only {text} tells that dates are {order}, and it can be a slip; which is meant?",
                text=repr(found.against[0]),
                order=told(ORDER_WORDS[found.choices[0]]),
            ),
        )
    if found.against:
        first, second = found.against
        return of_file(
            name,
            told(
                "{first} and {second} put day and month in different order; which is meant?",
                first=repr(first),
                second=repr(second),
            ),
        )
    texts = [repr(example.text) for example in found.examples]
    *some, last = [told(ORDER_WORDS[order]) for order in found.choices]
    return of_file(
        name,
        told(
            "{texts:listed} can be {some} or {last}, and nothing in the file decides it.",
            texts=texts,
            some=in_a_row("{one}, {other}", some),
            last=last,
        ),
    )


def _meant(found: DateOrder, order: str) -> str:
    """Return what the examples mean in an order, such as "03/04/2026 is 3 April 2026"."""
    said = [
        told(
            "{text} is {day}",
            text=example.text,
            day=_in_words(example.readings[order]) if order in example.readings else told("no day"),
        )
        for example in found.examples
    ]
    return in_a_row("{one}, {other}", said) if said else told(ORDER_WORDS[order])


def _in_words(day: date) -> Sentence:
    """Return a day with its month written out, which can be read in one way only: 3 April 2026."""
    return told("{day:written}", day=day)
