"""Dates and times of day as people and programs write them.

Sources: ISO 8601-1:2019 (calendar dates, times, offsets); POSIX strptime, %y (69-99 are 1969-1999, 00-68 are
2000-2068); ECMA-376 part 1, 18.17.4 (a serial number counts days from 1899-12-30).
"""

from __future__ import annotations

import re
from datetime import date
from typing import Literal

from evenhand.layouts.values.coded import Unfit

__all__ = ["EPOCH", "NO_OFFSET", "Order", "parse_date", "parse_time", "read_numeric"]

Order = Literal["dmy", "mdy", "ymd"]

EPOCH = date(1970, 1, 1).toordinal()
SERIAL_EPOCH = date(1899, 12, 30).toordinal()
NO_OFFSET = -(10**6)  # [s]; no offset was written

ORDER_WORDS = {"dmy": "day-month-year", "mdy": "month-day-year", "ymd": "year-month-day"}

# English, Spanish, German, French; accents are taken off before they are looked up.
MONTHS = {
    word: month
    for month, words in enumerate(
        (
            "january jan enero ene januar jaenner janner janvier janv",
            "february feb febrero februar fevrier fevr fev",
            "march mar marzo maerz marz mrz mars",
            "april apr abril abr avril avr",
            "may mayo mai",
            "june jun junio juni juin",
            "july jul julio juli juillet juil",
            "august aug agosto ago aout aou",
            "september sep sept septiembre setiembre set septembre",
            "october oct octubre oktober okt octobre",
            "november nov noviembre novembre",
            "december dec diciembre dic dezember dez decembre",
        ),
        start=1,
    )
    for word in words.split()
}
WEEKDAYS = re.compile(
    r"^(?:mon(?:day)?|tue(?:s(?:day)?)?|wed(?:nesday)?|thu(?:rs?(?:day)?)?|fri(?:day)?|sat(?:urday)?|sun(?:day)?"
    r"|lun(?:es)?|mar(?:tes)?|mie(?:rcoles)?|jue(?:ves)?|vie(?:rnes)?|sab(?:ado)?|dom(?:ingo)?"
    r"|mo(?:ntag)?|di(?:enstag)?|mi(?:ttwoch)?|do(?:nnerstag)?|fr(?:eitag)?|sa(?:mstag)?|so(?:nntag)?|sonnabend"
    r"|lun(?:di)?|mar(?:di)?|mer(?:credi)?|jeu(?:di)?|ven(?:dredi)?|sam(?:edi)?|dim(?:anche)?)\.?,? +(?=\w)",
)
NUMERIC = re.compile(r"(\d{1,4})([-/. ])(\d{1,2})\2(\d{1,4})\.?$", re.ASCII)
COMPACT = re.compile(r"(\d{4})(\d\d)(\d\d)$", re.ASCII)
SERIAL = re.compile(r"\d{5}(?:[.,]0+)?$", re.ASCII)
DAY_FIRST = re.compile(
    r"(\d{1,2})(?:st|nd|rd|th|er|º|\.)?[-/ ]*(?:de |of )?([a-z]+)\.?[-/, ]*(?:de |del )?(\d{4}|\d\d)$"
)
MONTH_FIRST = re.compile(r"([a-z]+)\.?[-/ ]*(\d{1,2})(?:st|nd|rd|th)?,?[-/ ]+(\d{4}|\d\d)$")
MIDNIGHT = re.compile(r"[T ]0?0:00(?::00(?:\.0+)?)?$")
TIME = re.compile(
    r"T?(\d{1,2})(?:[:hH.](\d\d)(?:[:.m](\d\d)(?:[.,](\d+))?)?| ?([hH]))?(?: ?uhr| ?hrs?| ?h)?"
    r"\s*(?:([ap])\.?\s?m\.?)?\s*(?:(Z|UTC|GMT)|([+-])(\d\d)(?::?(\d\d))?)?$",
    re.IGNORECASE | re.ASCII,
)
COMPACT_TIME = re.compile(r"T?(\d\d)(\d\d)(\d\d)?(?:(Z)|([+-])(\d\d)(?::?(\d\d))?)?$", re.ASCII)
PLAIN = str.maketrans("áàâäãåéèêëíìîïóòôöõúùûüñç", "aaaaaaeeeeiiiiooooouuuunc")


def parse_date(text: str, order: str, first_year: int = 2000) -> int:
    """Return the days from 1970-01-01; numeric dates without a leading year are read in `order`.

    Raises Unfit for what is no date, and for a year before `first_year` or after 2100.
    """
    text = MIDNIGHT.sub("", text)
    if numeric := NUMERIC.match(text) or NUMERIC.match(WEEKDAYS.sub("", text.lower().translate(PLAIN))):
        year, month, day = read_numeric(numeric, order)
    elif compact := COMPACT.match(text):
        year, month, day = (int(part) for part in compact.groups())
    elif SERIAL.match(text):
        serial = date.fromordinal(SERIAL_EPOCH + int(text[:5]))
        year, month, day = serial.year, serial.month, serial.day
    else:
        year, month, day = _named(text)
    if not first_year <= year <= 2100:
        raise Unfit(f"the year {year} lies outside {first_year} to 2100; correct the date")
    try:
        return date(year, month, day).toordinal() - EPOCH
    except ValueError:
        asked = f" read as {ORDER_WORDS[order]}" if order in ORDER_WORDS and numeric else ""
        raise Unfit(f"there is no such day{asked}; correct the date") from None


def read_numeric(numeric: re.Match[str], order: str) -> tuple[int, int, int]:
    """Return year, month and day of a match of NUMERIC; raises Unfit where the parts are no date's."""
    first, _, second, third = numeric.groups()
    if len(first) == 4 and len(third) <= 2:
        return int(first), int(second), int(third)
    if len(first) > 2 or len(third) not in (2, 4):
        raise Unfit("this is no date; write it as 2026-11-01")
    if order == "ymd" and len(first) == 2 and len(third) == 2:
        return _century(first), int(second), int(third)
    year = _century(third) if len(third) == 2 else int(third)
    if order == "mdy":
        return year, int(first), int(second)
    return year, int(second), int(first)


def _named(text: str) -> tuple[int, int, int]:
    """Return year, month and day of a date that names its month."""
    plain = text.lower().translate(PLAIN)
    for words in (plain, WEEKDAYS.sub("", plain)):  # "mar" is March as well as a Tuesday
        if found := DAY_FIRST.match(words):
            day, name, year = found.groups()
        elif found := MONTH_FIRST.match(words):
            name, day, year = found.groups()
        else:
            continue
        if name in MONTHS:
            return _century(year) if len(year) == 2 else int(year), MONTHS[name], int(day)
        raise Unfit(f"{name!r} is no month that is known; write the date as 2026-11-01")
    raise Unfit("this is no date; write it as 2026-11-01")


def _century(two_digits: str) -> int:
    year = int(two_digits)
    return year + (2000 if year <= 68 else 1900)


def parse_time(text: str) -> tuple[int, int]:
    """Return the seconds after midnight and the offset from UTC [s], `NO_OFFSET` where none is written.

    Fractions of a second are dropped; 24:00 is the end of the day. Raises Unfit for what is no time of day.
    """
    if found := TIME.match(text):
        hour, minute, second, _, bare, half, zulu, sign, hours, minutes = found.groups()
        if minute is None and not half and not bare:
            raise Unfit("this is no time of day; write it as 07:05 or 07:05:00")
    elif found := COMPACT_TIME.match(text):
        hour, minute, second, zulu, sign, hours, minutes = found.groups()
        half = None
    elif not text:
        raise Unfit("the time of day is missing; add it, or map the column that holds it")
    elif re.search(r"\d [A-Z]{3,4}$", text):
        raise Unfit(
            f"the zone {text.rsplit(maxsplit=1)[-1]!r} has no one meaning; write an offset, such as -06:00, or none"
        )
    else:
        raise Unfit("this is no time of day; write it as 07:05 or 07:05:00")
    return _seconds(int(hour), int(minute or 0), int(second or 0), (half or "").lower()), _offset(
        zulu, sign, hours, minutes
    )


def _seconds(hour: int, minute: int, second: int, half: str) -> int:
    if half:
        if not 1 <= hour <= 12:
            raise Unfit("an hour before AM or PM goes from 1 to 12; correct the time")
        hour = hour % 12 + (12 if half == "p" else 0)
    if minute > 59 or second > 59 or hour > 24 or (hour == 24 and (minute or second)):
        raise Unfit("there is no such time of day; correct it")
    return hour * 3600 + minute * 60 + second


def _offset(zulu: str | None, sign: str | None, hours: str | None, minutes: str | None) -> int:
    if zulu:
        return 0
    if not sign:
        return NO_OFFSET
    seconds = int(hours or 0) * 3600 + int(minutes or 0) * 60
    if seconds > 15 * 3600 or int(minutes or 0) > 59:
        raise Unfit("there is no such offset from UTC; correct it")
    return -seconds if sign == "-" else seconds
