"""How instants, days, durations, counts, lists and values in TOML are written, everywhere."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from datetime import date, datetime, time, timedelta, tzinfo
from decimal import Decimal
from functools import lru_cache
from zoneinfo import ZoneInfo

__all__ = [
    "ISO_DAY",
    "MINUS",
    "ago",
    "as_change",
    "as_clock",
    "as_day",
    "as_day_of_year",
    "as_duration",
    "as_figures",
    "as_hours",
    "as_likelihood",
    "as_long_day",
    "as_moment",
    "as_pay",
    "as_short_day",
    "as_short_moment",
    "as_span_of_days",
    "as_toml",
    "as_zoned_moment",
    "called",
    "counted",
    "listed",
    "signed_figures",
    "with_days",
    "zone_letters",
]

MINUS = "\u2212"
ISO_DAY = re.compile(r"(?<![\w./-])\d{4}-\d\d-\d\d(?![\w/-]|\.\w)")
"""A day that stands by itself: neither within the name of a file nor of a round."""


# ---- instants and days


@lru_cache(maxsize=1 << 15)  # a correction leaves nearly all times that are told as they were
def as_clock(instant: int, zone: str, *, is_named: bool = False) -> str:
    """Return the time on the wall in `zone`: `06:53`, or `06:53:47` where there are seconds.

    On a day on which clocks are set forward or back it says by which it is told, `01:30 EST`; on any day where it
    `is_named`.
    """
    at = datetime.fromtimestamp(instant, ZoneInfo(zone))
    seconds = f":{at.second:02d}" if at.second else ""
    return f"{at.hour:02d}:{at.minute:02d}{seconds}{zone_letters(at, is_named=is_named)}"


def as_moment(instant: int | datetime, zone: str, *, is_named: bool = False) -> str:
    """Return day and time on the wall in `zone`, to the minute: `Wed 4 Mar 2026, 06:53`; letters as `as_clock`."""
    at = instant if isinstance(instant, datetime) else datetime.fromtimestamp(instant, ZoneInfo(zone))
    at = at.astimezone(ZoneInfo(zone))
    return f"{as_day(at.date())}, {at:%H:%M}{zone_letters(at, is_named=is_named)}"


def as_short_moment(instant: int, zone: str) -> str:
    """Return `Wed 4 Mar, 06:53`, for lines about punches; with the seconds where there are any."""
    day = datetime.fromtimestamp(instant, ZoneInfo(zone)).date()
    return f"{as_short_day(day)}, {as_clock(instant, zone)}"


def zone_letters(at: datetime, *, is_named: bool = False) -> str:
    """Return ` EST` or ` EDT`, or the offset where a zone has no letters, on a day whose offset changes; else `""`.

    Where it `is_named` they stand on any day.
    """
    return f" {at:%Z}" if is_named or _is_of_change(at.date(), at.tzinfo) else ""


@lru_cache(maxsize=4096)
def _is_of_change(day: date, zone: tzinfo | None) -> bool:
    """Whether a day begins and ends with different offsets; asked of the same few days for every time that is told."""
    midnight = datetime.combine(day, time(), zone)
    return midnight.utcoffset() != (midnight + timedelta(days=1)).utcoffset()


def as_zoned_moment(instant: int | datetime, zone: str) -> str:
    """Return `Wed 4 Mar 2026, 06:53 (America/Chicago)`, for where it would not be plain whose clock it is."""
    return f"{as_moment(instant, zone)} ({zone})"


def as_day(day: date) -> str:
    """Return `Wed 4 Mar 2026`."""
    return f"{as_short_day(day)} {day.year}"


def with_days(evidence: str) -> str:
    """Return what rooms tell as evidence, its days as sentences write them."""
    return ISO_DAY.sub(lambda found: as_day(date.fromisoformat(found[0])), evidence)


def as_short_day(day: date) -> str:
    """Return `Wed 4 Mar`, for where the year is known."""
    return f"{day:%a} {day.day} {day:%b}"


def as_day_of_year(day: date) -> str:
    """Return `4 March`, within a sentence whose year is known."""
    return f"{day.day} {day:%B}"


def as_long_day(day: date) -> str:
    """Return `Wednesday 4 March 2026`."""
    return f"{day:%A} {day.day} {day:%B %Y}"


def as_span_of_days(first: date, last: date) -> str:
    """Return `Sun 1 to Sat 14 Mar 2026`, naming month and year once where they agree."""
    if (first.year, first.month) == (last.year, last.month):
        return f"{first:%a} {first.day} to {as_day(last)}"
    return f"{as_short_day(first) if first.year == last.year else as_day(first)} to {as_day(last)}"


# ---- durations, given in seconds


def as_duration(seconds: int) -> str:
    """Return `8 h 05 min 12 s` with nothing rounded away; parts that are nought at either end are left out."""
    left = abs(seconds)
    parts = [(left // 3600, "h"), (left // 60 % 60, "min"), (left % 60, "s")]
    while len(parts) > 1 and parts[0][0] == 0:
        parts.pop(0)
    while len(parts) > 1 and parts[-1][0] == 0:
        parts.pop()
    first, *rest = parts
    written = [f"{first[0]:,} {first[1]}", *(f"{amount:02d} {unit}" for amount, unit in rest)]
    return " ".join(written) if seconds else "0 min"


def as_hours(seconds: int) -> str:
    """Return `8 h 05`, the nearest minute below; for tables where the exact seconds stand elsewhere."""
    minutes = abs(seconds) // 60
    return f"{MINUS if seconds < 0 else ''}{minutes // 60:,} h {minutes % 60:02d}"


def as_change(seconds: int) -> str:
    """Return `+ 7 min` or `\u2212 7 min`; `0 min` where nothing changed."""
    sign = "+ " if seconds > 0 else f"{MINUS} " if seconds < 0 else ""
    return sign + as_duration(seconds)


def as_figures(seconds: int) -> str:
    """Return hours and minutes for a table of figures: `8:05`, or `8:05:12` where there are seconds."""
    sign, left = (MINUS if seconds < 0 else ""), abs(seconds)
    tail = f":{left % 60:02d}" if left % 60 else ""
    return f"{sign}{left // 3600}:{left // 60 % 60:02d}{tail}"


def signed_figures(seconds: int) -> str:
    """Return a change for a table of figures, such as `+0:07`; nothing where nothing changed."""
    return "" if not seconds else ("+" if seconds > 0 else "") + as_figures(seconds)


def as_pay(amount: Decimal | None) -> str:
    """Return an amount of pay with its cents, such as `0.00`, or that it is not known."""
    return "not known" if amount is None else f"{amount:.2f}"


def ago(seconds: int) -> str:
    """Return how long ago, roughly: `3 h ago`, `12 days ago`; `in 5 h` where it lies ahead."""
    length = timedelta(seconds=abs(seconds))
    if length < timedelta(hours=1):
        rough = f"{length.seconds // 60} min"
    elif length < timedelta(days=2):
        rough = f"{int(length.total_seconds()) // 3600} h"
    else:
        rough = f"{length.days} days"
    return f"in {rough}" if seconds < 0 else f"{rough} ago"


# ---- counts, lists, names


def counted(count: int, one: str, many: str = "") -> str:
    """Return the count with its noun, such as `1 punch` or `3 punches`."""
    return f"{count:,} {one if count == 1 else many or one + 's'}"


def listed(things: Sequence[str], most: int = 6) -> str:
    """Return the things in a row, such as `a, b and c`, and how many more there are beyond `most`."""
    shown = list(things[:most])
    if len(things) > most:
        shown.append(f"{len(things) - most:,} more")
    return shown[0] if len(shown) == 1 else ", ".join(shown[:-1]) + " and " + shown[-1] if shown else "none"


def called(name: str | None, identifier: str) -> str:
    """Return the name with the identifier behind it, or the identifier where no name is known."""
    return f"{name} ({identifier})" if name else identifier


LIKELY = ((0.99, "certain"), (0.9, "very likely"), (0.7, "likely"), (0.0, "doubtful"))


def as_likelihood(likelihood: float) -> str:
    """Return a likelihood from 0 to 1 in a word (our own words; no source)."""
    return next(word for least, word in LIKELY if likelihood >= least)


# ---- in files


def as_toml(value: str | int | Sequence[str | int]) -> str:
    """Return a text, a whole number or a list of them as it stands in a TOML file.

    Source: TOML 1.0, https://toml.io/en/v1.0.0, basic strings.
    """
    # A JSON string is a TOML basic string, but for the one control character that JSON leaves as it is.
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


SPARED = 1.0
"""Refused presentations a month from which a new enrolment is said to spare any. Common practice, no source."""
SAVED = (0.4, 2.5)
"""What was truly saved, over what the level tells: of nine hands in ten it lies between these, chosen by workplaces of
`bench.adverse` that judge it no longer (seeds 1001 to 1010 and 7001 to 7003)."""
