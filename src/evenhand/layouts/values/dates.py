"""Dates as people and programs write them.

Sources: ISO 8601-1:2019 (calendar dates); POSIX strptime, %y (69-99 are 1969-1999, 00-68 are 2000-2068, where nothing
tells that a date cannot lie in the future); ECMA-376
part 1, 18.17.4 (a serial number counts days from 1899-12-30).
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from evenhand.layouts.values.coded import Unfit
from evenhand.layouts.values.months import MONTHS, WEEKDAY_NAMES, unaccented
from evenhand.terms.languages import sentence, told
from evenhand.terms.zones import LAST_YEAR as UNKNOWN_YEAR

__all__ = [
    "EPOCH",
    "MIDNIGHT",
    "NO_OFFSET",
    "ORDERS",
    "ORDER_WORDS",
    "SERIALS",
    "SERIAL_EPOCH",
    "DateStyle",
    "Order",
    "orders_of",
    "parse_date",
    "style_of",
]

Order = Literal["dmy", "mdy", "ymd"]
ORDERS: tuple[Order, ...] = ("dmy", "mdy", "ymd")

EPOCH = date(1970, 1, 1).toordinal()
SERIAL_EPOCH = date(1899, 12, 30).toordinal()
NO_OFFSET = -(10**6)  # [s]; no offset was written

ORDER_WORDS = {
    "dmy": sentence("day-month-year"),
    "mdy": sentence("month-day-year"),
    "ymd": sentence("year-month-day"),
}

NUMERIC = re.compile(r"(\d{1,4})([-/.] ?| )(\d{1,2})\2(\d{1,4})\.?$", re.ASCII)
DIGITS = re.compile(r"(\d{5,8})(?:[.,]0+)?$", re.ASCII)
SERIAL_PART = re.compile(r"\d{5}[.,]\d*[1-9]\d*$", re.ASCII)
NAMED = re.compile(r"[\da-z][\da-z .,/'-]*$", re.ASCII)
MIDNIGHT = re.compile(r"(?:[T ]0?0:00(?::00(?:\.0+)?)?| 12:00(?::00)? ?AM)Z?$", re.ASCII)
YEAR_FIRST = re.compile(r"(?:19\d\d|20\d\d|2100)(?:0[1-9]|1[0-2])\d\d$", re.ASCII)
LEADING = re.compile(r"(?P<word>[a-z]+(?:-feira)?)[.,]{0,2} (?P<rest>.*\d.*)$", re.ASCII)
TRAILING = re.compile(r"(?P<rest>.*\d\.?),? \(?(?P<word>[a-z]+(?:-feira)?)\.?\)?$", re.ASCII)
TOKEN = re.compile(r"\d+|[a-z]+", re.ASCII)
WORD, NUMBER = re.compile(r"[a-z]+", re.ASCII), re.compile(r"\d+", re.ASCII)
FILLERS = frozenset(
    ["st", "nd", "rd", "th", "er", "o", "a", "de", "del", "of", "the", "den", "der", "le", "el", "do", "r"]
)
SERIALS = range(20_000, 60_000)  # 1954-10-03 to 2064-04-08: what is no day anybody means is no serial number
MONDAY = date(1970, 1, 5).toordinal() - EPOCH
LAST_YEAR = 2068
NO_DATE = told("this is no date; write it as 2026-11-01")


@dataclass(frozen=True)
class DateStyle:
    """What a column's texts of digits alone are: dates of `digits` digits, 5 for serial numbers; 0 where none are.

    `are_short` says that a sheet took the zero away with which some of them began. `last_year` is the last that a year
    of two digits may be.
    """

    digits: int = 0
    are_short: bool = False
    last_year: int = LAST_YEAR


def style_of(texts: Iterable[str], first_year: int = 1900, last_year: int = 0) -> DateStyle:
    """Return what the distinct texts of a column that are digits alone are: one decision, by most of the texts.

    `last_year` is the last that a year of two digits may be, 0 for what POSIX says.
    """
    return replace(_digits_of(texts, first_year), last_year=last_year or LAST_YEAR)


def _digits_of(texts: Iterable[str], first_year: int) -> DateStyle:
    filled = [text for text in texts if text]
    bare = [found[1] for text in filled if (found := DIGITS.match(text))]
    eight, seven, six, five = ([text for text in bare if len(text) == length] for length in (8, 7, 6, 5))
    if 2 * len(bare) < len(filled):
        return DateStyle(8 if eight else 0)
    if len(eight) + len(seven) > len(six) + len(five):
        year_first = sum(YEAR_FIRST.match(text) is not None for text in eight)
        return DateStyle(8, are_short=not _begin_with_zero(eight) and (not eight or 2 * year_first < len(eight)))
    are_short = not _begin_with_zero(six)
    of_six = sum(bool(_orders_of_six(text.zfill(6))) for text in (*six, *(five if are_short else ())))
    first = max(SERIALS.start, date(first_year, 1, 1).toordinal() - SERIAL_EPOCH)
    serials = sum(first <= int(text) < SERIALS.stop for text in five)
    if of_six == serials and not six:
        return DateStyle(0)
    return DateStyle(5) if serials > of_six else DateStyle(6, are_short)


def _begin_with_zero(texts: Iterable[str]) -> bool:
    return any(text.startswith("0") for text in texts)


def _orders_of_six(text: str) -> tuple[str, ...]:
    return tuple(order for order in ORDERS if _day_of(*_in_order(text[:2], text[2:4], text[4:], order)) is not None)


def orders_of(text: str, style: DateStyle) -> tuple[Order, ...]:
    """Return the orders among which the parts of a date may be meant, () where its form says it, or it is no date."""
    text = MIDNIGHT.sub("", text)
    if DIGITS.match(text):
        digits = _spread(text, style)
        return () if len(digits) < 6 or YEAR_FIRST.match(digits) else ORDERS if len(digits) == 6 else ORDERS[:2]
    numeric = NUMERIC.match(_without_weekday(unaccented(text))[0])
    if numeric is None or len(numeric[1]) > 2 or len(numeric[4]) not in (2, 4):
        return ()
    return ORDERS if len(numeric[1]) == len(numeric[4]) == 2 else ORDERS[:2]


def parse_date(text: str, order: str, first_year: int = 2000, style: DateStyle | None = None) -> int:
    """Return the days from 1970-01-01; numeric dates without a leading year are read in `order`.

    `style` is that of the text's column; without it the text is taken for a column of its own. Raises Unfit for what
    is no date, for a day of the week that is not the date's, and for a year before `first_year` or after those in which
    days are reckoned.
    """
    written = MIDNIGHT.sub("", text)
    weekday = None
    if SERIAL_PART.match(written):
        raise Unfit(sentence("a sheet shortened this number, or it is no date; export it as 2026-11-01 07:05"))
    style = style or style_of([written], first_year)
    if DIGITS.match(written):
        parts = _of_digits(written, order, style)
    else:
        parts, weekday = _of_words(unaccented(written), order, style.last_year)
    # of two digits nothing is known yet but that they end a year: the century is told from all dates of a column
    last_year = UNKNOWN_YEAR - 1 if str(parts[0]) in text else 2100
    if not first_year <= parts[0] <= last_year:
        raise Unfit(
            told(
                "the year {year} lies outside {first} to {last}; correct the date",
                year=parts[0],
                first=first_year,
                last=last_year,
            )
        )
    day = _day_of(*parts)
    if day is None:
        if order in ORDER_WORDS and orders_of(text, style):
            raise Unfit(told("there is no such day read as {order}; correct the date", order=told(ORDER_WORDS[order])))
        raise Unfit(told("there is no such day; correct the date"))
    if weekday is not None and (day - MONDAY) % 7 != weekday:
        raise Unfit(
            told("{day} is no such day of the week; correct the date", day=date.fromordinal(day + EPOCH).isoformat())
        )
    return day


def _of_digits(text: str, order: str, style: DateStyle) -> tuple[int, int, int]:
    """Return year, month and day of a text of digits alone; raises Unfit where the column's dates have other forms."""
    digits = _spread(text, style)
    if not digits:
        raise Unfit(told("so many digits are no date as the others of the column are written; write it as 2026-11-01"))
    if len(digits) == 5:
        day = date.fromordinal(SERIAL_EPOCH + int(digits))
        return day.year, day.month, day.day
    if len(digits) == 6:
        return _in_order(digits[:2], digits[2:4], digits[4:], order, style.last_year)
    if YEAR_FIRST.match(digits):
        return int(digits[:4]), int(digits[4:6]), int(digits[6:])
    return _in_order(digits[:2], digits[2:4], digits[4:], order, style.last_year)


def _spread(text: str, style: DateStyle) -> str:
    """Return the digits of a text, with a zero that a sheet took away, '' where the column holds no such dates."""
    found = DIGITS.match(text)
    digits = found[1] if found else ""
    if len(digits) == 8 or len(digits) == style.digits:
        return digits
    if style.are_short and len(digits) + 1 == style.digits:
        return f"0{digits}"
    return ""


def _of_words(text: str, order: str, last_year: int) -> tuple[tuple[int, int, int], int | None]:
    """Return year, month and day of a text in small letters, and its day of the week, where it says one."""
    bare, weekday = _without_weekday(text)
    if numeric := NUMERIC.match(bare):
        first, _, second, third = numeric.groups()
        if len(first) == 4 and len(third) <= 2:
            return (int(first), int(second), int(third)), weekday
        if len(first) > 2 or len(third) not in (2, 4):
            raise Unfit(NO_DATE)
        return _in_order(first, second, third, order, last_year), weekday
    # "mar" is March as well as a Tuesday.
    if parts := _named(text, order, last_year):
        return parts, None
    if bare != text and (parts := _named(bare, order, last_year)):
        return parts, weekday
    unknown = [word for word in WORD.findall(bare) if word not in MONTHS and word not in FILLERS]
    if unknown and len(NUMBER.findall(bare)) == 2:
        raise Unfit(told("{month} is no month that is known; write the date as 2026-11-01", month=repr(unknown[0])))
    raise Unfit(NO_DATE)


def _without_weekday(text: str) -> tuple[str, int | None]:
    """Return the text without the day of the week before or behind it, and that day, where it is known for sure."""
    for pattern in (LEADING, TRAILING):
        if (found := pattern.match(text)) and found["word"] in WEEKDAY_NAMES:
            return found["rest"], WEEKDAY_NAMES[found["word"]]
    return text, None


def _named(text: str, order: str, last_year: int) -> tuple[int, int, int] | None:
    """Return year, month and day of a text in small letters that names its month, None where it is none."""
    if not NAMED.match(text):
        return None
    tokens = [token for token in TOKEN.findall(text) if token not in FILLERS]
    if len(tokens) != 3:
        return None
    match [token if token.isdigit() else MONTHS.get(token, 0) for token in tokens]:
        case [str(first), int(month), str(last)] if month:
            is_year_first = len(first) == 4 or (len(last) == 2 and len(first) == 2 and order == "ymd")
            year, day = (first, last) if is_year_first else (last, first)
        case [int(month), str(day), str(year)] if month:
            pass
        case _:
            return None
    if len(day) > 2 or len(year) not in (2, 4):
        return None
    return _whole_year(year, last_year), month, int(day)


def _in_order(first: str, second: str, third: str, order: str, last_year: int = LAST_YEAR) -> tuple[int, int, int]:
    """Return year, month and day of three parts, of which the last may be a year of four digits."""
    if order == "ymd":
        if len(third) == 4:
            raise Unfit(sentence("the year stands last here and first in the file's other dates; correct the date"))
        return _whole_year(first.zfill(2), last_year), int(second), int(third)
    year = _whole_year(third, last_year)
    return (year, int(first), int(second)) if order == "mdy" else (year, int(second), int(first))


def _whole_year(text: str, last_year: int) -> int:
    """Return a year, that of two digits as the one of the hundred years up to the last."""
    year = int(text)
    return year if len(text) == 4 else last_year - (last_year - year) % 100


def _day_of(year: int, month: int, day: int) -> int | None:
    try:
        return date(year, month, day).toordinal() - EPOCH
    except ValueError:
        return None
