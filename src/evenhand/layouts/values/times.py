"""Times of day as people and programs write them.

Sources: ISO 8601-1:2019 (times, offsets, 24:00); ECMA-376 part 1, 18.17.4 (a time is its part of a day); that 12 AM
is midnight and 12 PM noon is how clocks of twelve hours show them (NIST, "Times of Day FAQs"); which offsets are in use
anywhere is told by the time zone database of the IANA.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal, NamedTuple

from evenhand.layouts.values.coded import Unfit
from evenhand.layouts.values.dates import NO_OFFSET
from evenhand.layouts.values.months import unaccented
from evenhand.terms.languages import sentence, told
from evenhand.terms.zones import DAY_S

__all__ = ["COARSE", "TimeOfDay", "TimeStyle", "is_exact", "parse_time", "time_style_of"]

HALF = (
    r"(?: ?(?P<half>[ap])(?:\. ?m\.?|m\.?|\.)?"
    r"| ?(?P<noon>noon|mittag|midi|mediodia|mezzogiorno|meio-dia)"
    r"| ?(?P<night>midnight|mitternacht|minuit|medianoche|mezzanotte|meia-noite))?"
)
UNIT = r"(?: ?(?:uhr|uur|hrs?|h)\.?)?"
OFFSET = r"(?: ?(?P<zulu>z|utc|gmt))?(?: ?(?P<sign>[+-])(?P<away>\d\d?)(?::?(?P<minutes>\d\d))?)?$"
CLOCK = re.compile(
    r"t?(?P<hour>\d\d?)(?:(?P<by>[:.]| ?[hu] ?)(?P<minute>\d\d)"
    r"(?:(?:(?P=by)|[:m])(?P<second>\d\d)(?:[.,]\d+)?)?(?:s|min)?"
    rf"|(?P<bare> ?h))?{UNIT}{HALF}{OFFSET}",
    re.ASCII,
)
DIGITS = re.compile(rf"t?(?P<digits>\d{{1,6}})(?:\.0+)?{UNIT}{HALF}{OFFSET}", re.ASCII)
DOTTED = re.compile(r"\d\d?\.\d\d(?!\d)", re.ASCII)
PART_OF_DAY = re.compile(r"0?[.,](\d+)$|0()$", re.ASCII)
ABBREVIATION = re.compile(r"\d ([A-Z]{3,4})$")
NO_TIME = sentence("this is no time of day; write it as 07:05 or 07:05:00")
SHORTENED = sentence("a sheet shortened this part of a day; export the time as 07:05:00")
SPAN = sentence(
    "this can be a time with an offset or a span of two times; write a span in two columns, an offset behind seconds"
)
# What follows UTC in use at any place since 2000, but for whole hours, in minutes.
ODD_OFFSETS = frozenset({-570, -270, -210, -150, 210, 270, 330, 345, 390, 510, 525, 570, 585, 630, 690, 765, 825})
OFFSETS = ODD_OFFSETS | frozenset(range(-12 * 60, 14 * 60 + 1, 60))
MOSTLY = 4  # times as many texts of four digits as of six, where these are mistakes
FEW_OFFSETS = 8  # of one file: those of some zones, in summer and in winter
MISTAKEN = 0.02  # of the texts with an offset, that may have one which is in use nowhere
QUARTER, ROUND_ROWS = 15, 2  # [min], and distinct moments from which on it is no accident that all are whole quarters
EXACT = 5  # decimals with which a part of a day tells the second: half of 0.00001 d is 0.43 s
COARSE = 16  # part of a day that any sheet writes whole with four decimals


class TimeOfDay(NamedTuple):
    """Seconds after midnight, the offset from UTC [s] or `NO_OFFSET`, and whether seconds are written at all."""

    second: int
    offset: int
    has_seconds: bool


@dataclass(frozen=True)
class TimeStyle:
    """How the times of a column are written, one decision over all of them.

    `form` is "clock" (07:05, 13h30, 13 h 30, 13u30), "dotted" (7.05), "four" (0705), "six" (070530), "part" (of a day,
    0.25) or "" where nothing tells. `are_short` says that a sheet took leading zeros away, `has_halves` that hours go
    to twelve with a mark for the half of the day, `is_exact` that parts of a day are written to the second,
    `has_offsets` that what looks like an offset from UTC is one: 22:00-06:00 can be a shift as well.
    """

    form: Literal["clock", "dotted", "four", "six", "part", ""]
    are_short: bool = False
    has_halves: bool = False
    is_exact: bool = True
    has_offsets: bool = True


def time_style_of(texts: Iterable[str], *, is_iso: bool = False, days: int = 1) -> TimeStyle:
    """Return how the distinct texts of a column of times are written, by most of them.

    Beside a time in UTC (07:30Z) what looks like an offset is one. `is_iso` says that each stands in one cell with a
    date whose year comes first, `days` on how many days they may stand.
    """
    filled = [unaccented(text) for text in texts if text]
    matches = [(_clock(text), DIGITS.match(text)) for text in filled]
    found = [match for each in matches if (match := each[0] or each[1])]
    in_utc = any(match["zulu"] and not match["sign"] for match in found)
    has_offsets = in_utc or _are_offsets([match for match in found if match["sign"]], is_iso, days)
    return replace(_form_of(filled, matches), has_offsets=has_offsets)


def _are_offsets(signed: Sequence[re.Match[str]], is_iso: bool, days: int) -> bool:
    """Return whether what looks like an offset is one, and no end of a span of two times.

    Most stand behind UTC, a plus or seconds; or behind a time with its date, where not all of them are quarter hours,
    and are a few that are in use somewhere.
    """
    if 2 * sum(map(_is_told, signed)) >= len(signed):
        return True
    in_use = [away for found in signed if (away := _away(found)) in OFFSETS]
    is_again = max(len(signed), days) >= ROUND_ROWS
    if is_again and all(int(found.groupdict().get("minute") or 0) % QUARTER == 0 for found in signed):
        return False  # nobody punches at quarter hours alone: these begin shifts, and what follows ends them
    return is_iso and len(signed) - len(in_use) <= MISTAKEN * len(signed) and len(set(in_use)) <= FEW_OFFSETS


def _is_told(found: re.Match[str]) -> bool:
    has_seconds = found.groupdict().get("second") or len(found.groupdict().get("digits") or "") == 6
    return bool(has_seconds or found["zulu"] or found["sign"] == "+")


def _away(found: re.Match[str]) -> int:
    """Return the offset from UTC [min]."""
    return (int(found["away"]) * 60 + int(found["minutes"] or 0)) * (-1 if found["sign"] == "-" else 1)


def _form_of(filled: Sequence[str], matches: Sequence[tuple[re.Match[str] | None, re.Match[str] | None]]) -> TimeStyle:
    """Return how texts without accents are written; `matches` are those of each as a clock's and as digits alone."""
    bare = [digits["digits"] for clock, digits in matches if digits and not clock]
    has_halves = 2 * sum(_has_half(found) for each in matches if (found := each[0] or each[1])) >= max(1, len(filled))
    parts = [found[1] or found[2] or "" for text in filled if (found := PART_OF_DAY.match(text))]
    dotted = [text for text in filled if DOTTED.match(text)]
    if 2 * len(parts) >= len(filled) and any(parts) and all(text[:2] in ("0.", "00") for text in dotted):
        # 0.25 is six o'clock as a part of a day, a quarter past midnight with a point between hour and minute.
        is_open = all(len(part) == 2 for part in parts)
        return TimeStyle("" if is_open else "part", is_exact=is_exact(parts, COARSE))
    if 2 * len(dotted) >= len(filled) and dotted:
        return TimeStyle("dotted", has_halves=has_halves)
    if 2 * len(bare) < len(filled) or not bare:
        return TimeStyle("clock", has_halves=has_halves)
    long, four = [text for text in bare if len(text) > 4], [text for text in bare if len(text) in (3, 4)]
    if not long and not four:
        return TimeStyle("" if not has_halves else "four", has_halves=has_halves)
    length = 6 if len(long) > len(four) else 4
    keeps_zeros = any(len(text) == length and text.startswith("0") for text in bare)
    if not keeps_zeros and len(long) <= len(four) < MOSTLY * len(long):
        return TimeStyle(
            "", has_halves=has_halves
        )  # 2006 is six past eight, or beside 13845 some seconds past midnight
    return TimeStyle("six" if length == 6 else "four", are_short=not keeps_zeros, has_halves=has_halves)


def is_exact(decimals: Iterable[str], steps: int) -> bool:
    """Return whether parts of a day tell the second: with decimals enough, or all of them whole steps of the day."""
    written = [text.rstrip("0") for text in decimals]
    return any(len(text) >= EXACT for text in written) or all(
        (Fraction(int(text or "0"), 10 ** len(text)) * steps).denominator == 1 for text in written
    )


def _clock(text: str) -> re.Match[str] | None:
    found = CLOCK.match(text)
    return found if found and (found["minute"] or found["bare"]) else None


def _has_half(found: re.Match[str]) -> bool:
    return bool(found["half"] or found["noon"] or found["night"])


def parse_time(text: str, style: TimeStyle | None = None) -> TimeOfDay:
    """Return the time of day that a text says, as the column's `style` is; alone it is a column of its own.

    Fractions of a second are dropped; 24:00 is the end of the day. Raises Unfit for what is no time of day.
    """
    plain = unaccented(text)
    style = style or time_style_of([text])
    if not text:
        raise Unfit(sentence("no time of day is written; add it, or map the column that holds it"))
    if style.form == "part" and PART_OF_DAY.match(plain):
        if not style.is_exact:
            raise Unfit(SHORTENED)
        return TimeOfDay(round(float(plain.replace(",", ".")) * DAY_S), NO_OFFSET, has_seconds=True)
    if found := _clock(plain):
        if found["by"] == "." and style.form != "dotted":
            raise Unfit(sentence("the column's other times have no point between hour and minute; write it as 07:05"))
        hour, minute, second = found["hour"], found["minute"] or "0", found["second"]
    elif found := DIGITS.match(plain):
        hour, minute, second = _of_digits(found, style)
    elif abbreviation := ABBREVIATION.search(text):
        raise Unfit(
            told(
                "the zone {zone} has no one meaning; write an offset, such as -06:00, or none",
                zone=repr(abbreviation[1]),
            )
        )
    else:
        raise Unfit(NO_TIME)
    if found["sign"] and not style.has_offsets:
        raise Unfit(SPAN)
    seconds = _seconds(int(hour), int(minute), int(second or 0), found, style)
    return TimeOfDay(seconds, _offset(found), second is not None)


def _of_digits(found: re.Match[str], style: TimeStyle) -> tuple[str, str, str | None]:
    """Return hour, minute and second, None where no seconds are written, of a text of digits alone."""
    digits = found["digits"]
    if _has_half(found) and len(digits) <= 2:
        return digits, "0", None
    length = {"four": 4, "six": 6}.get(style.form, 0)
    if len(digits) > length or (len(digits) < length and not (style.are_short or (_has_half(found) and length == 4))):
        raise Unfit(
            sentence("so many digits are no time of day as the column's other times are written; write it as 07:05")
        )
    digits = digits.zfill(length)
    return digits[:2], digits[2:4], digits[4:] or None


def _seconds(hour: int, minute: int, second: int, found: re.Match[str], style: TimeStyle) -> int:
    if _has_half(found):
        if not 1 <= hour <= 12 or ((found["noon"] or found["night"]) and (hour, minute, second) != (12, 0, 0)):
            raise Unfit(sentence("an hour before AM or PM goes from 1 to 12; correct the time"))
        hour = hour % 12 + (12 if found["half"] == "p" or found["noon"] else 0)
    elif style.has_halves and 1 <= hour <= 12:
        raise Unfit(sentence("AM or PM is missing, which the column's other times have; add it"))
    if minute > 59 or second > 59 or hour > 24 or (hour == 24 and (minute or second)):
        raise Unfit(sentence("there is no such time of day; correct it"))
    return hour * 3600 + minute * 60 + second


def _offset(found: re.Match[str]) -> int:
    if not found["sign"]:
        return 0 if found["zulu"] else NO_OFFSET
    if len(found["away"]) == 1 and not found["zulu"]:
        raise Unfit(NO_TIME)
    minutes = _away(found)
    if abs(minutes) > 14 * 60 or int(found["minutes"] or 0) > 59:
        raise Unfit(sentence("there is no such offset from UTC; correct it"))
    return minutes * 60
