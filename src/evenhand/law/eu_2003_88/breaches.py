"""Hold worked time against the limits of Directive 2003/88/EC: rests, breaks, the average week, night work.

Source: Directive 2003/88/EC, articles 3 to 6, 8 and 16 (second hand). Rest is a difference of instants, so it is
counted in elapsed time. Limits are minimum requirements: derogations (articles 17 to 22), opt-outs, leave and national
law decide whether a breach is one. Nothing here changes paid seconds.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Any
from zoneinfo import ZoneInfo

from evenhand.law.eu_2003_88 import averages
from evenhand.law.eu_2003_88.limits import NUMBERS
from evenhand.law.jurisdiction import Limits
from evenhand.terms.columns import Frame
from evenhand.terms.parameters import Parameter
from evenhand.terms.tables import BREACHES
from evenhand.terms.words import as_duration, as_moment
from evenhand.terms.zones import DAY_S, civil_date

__all__ = ["LIMITS", "find_breaches", "longest_rest", "shifts_of"]

HOUR_S = 3600

Shift = list[tuple[int, int]]
"""The worked spans of one shift, in order."""


def find_breaches(classed: Frame, zone: str, numbers: Mapping[str, Parameter]) -> Frame:
    """Return where the spans in `classed` (CLASSED) do not keep to the limits (BREACHES), by person and time.

    `zone` is where the night is; days are those of the spans themselves. `numbers` are the limits by name.
    """
    rows: list[dict[str, Any]] = []
    for (person,), spans in classed.sort("person", "starts").partition_by("person", as_dict=True).items():
        shifts = shifts_of(spans)
        limit = {name: number.on(civil_date(zone, shifts[0][0][0])) for name, number in numbers.items()}
        found = [
            *_daily_rests(shifts, limit, zone),
            *_breaks(shifts, limit, zone),
            *_weekly_rests(shifts, limit, zone),
            *averages.weeks_too_long(shifts, limit),
            *averages.nights_too_long(shifts, limit, zone),
        ]
        rows += [row | {"person": person} for row in found]
    return BREACHES.rows(rows).sort("person", "starts", "kind")


LIMITS = Limits("eu_2003_88.limits", NUMBERS, find_breaches)


def shifts_of(spans: Frame) -> list[Shift]:
    """Return the worked spans of one person by shift; spans that touch are one."""
    shifts: dict[int, Shift] = {}
    for number, starts, ends in spans.select("shift", "starts", "ends").iter_rows():
        shift = shifts.setdefault(number, [])
        if shift and shift[-1][1] == starts:
            shift[-1] = (shift[-1][0], ends)
        else:
            shift.append((starts, ends))
    return [shifts[number] for number in sorted(shifts)]


def longest_rest(busy: Sequence[tuple[int, int]], since: int, until: int) -> int:
    """Return the longest time [s] between `since` and `until` in which none of the spans lies."""
    longest, free_from = 0, since
    for starts, ends in busy:
        longest = max(longest, min(starts, until) - free_from)
        free_from = max(free_from, ends)
    return max(longest, until - free_from, 0)


def _daily_rests(shifts: list[Shift], limit: dict[str, int], zone: str) -> Iterator[dict[str, Any]]:
    least = limit["daily_rest"] * HOUR_S
    for before, after in pairwise(shifts):
        rest = after[0][0] - before[-1][1]
        if rest < least:
            yield {
                "kind": "daily_rest",
                "starts": before[-1][1],
                "ends": after[0][0],
                "found_s": rest,
                "limit_s": least,
                "says": f"{as_duration(rest)} of rest from {as_moment(before[-1][1], zone)}, "
                f"{as_duration(least - rest)} short",
                "cites": "Directive 2003/88/EC, art. 3",
            }


def _breaks(shifts: list[Shift], limit: dict[str, int], zone: str) -> Iterator[dict[str, Any]]:
    longest = limit["break_after"] * HOUR_S
    for shift in shifts:
        if len(shift) == 1 and shift[0][1] - shift[0][0] > longest:
            starts, ends = shift[0]
            yield {
                "kind": "break",
                "starts": starts,
                "ends": ends,
                "found_s": 0,
                "limit_s": longest,
                "says": f"{as_duration(ends - starts)} of work from {as_moment(starts, zone)} with no break recorded",
                "cites": "Directive 2003/88/EC, art. 4",
            }


def _weekly_rests(shifts: list[Shift], limit: dict[str, int], zone: str) -> Iterator[dict[str, Any]]:
    """Yield each week from the first shift's day on, in a row, without enough uninterrupted rest."""
    least = limit["weekly_rest"] * HOUR_S
    busy = [(shift[0][0], shift[-1][1]) for shift in shifts]
    since = datetime.fromtimestamp(busy[0][0], ZoneInfo(zone)).replace(hour=0, minute=0, second=0)
    while since.timestamp() < busy[-1][1]:
        until = since + timedelta(days=7)
        low, high = int(since.timestamp()), int(until.timestamp())
        rest = longest_rest([span for span in busy if span[1] > low and span[0] < high], low, high)
        # Rest goes on after the last span that is known, so a week that has not passed cannot fail.
        if rest < least and busy[-1][1] >= high - DAY_S:
            yield {
                "kind": "weekly_rest",
                "starts": low,
                "ends": high,
                "found_s": rest,
                "limit_s": least,
                "says": f"{as_duration(rest)} is the longest rest in the seven days from {as_moment(low, zone)}; "
                f"{as_duration(least)} are due",
                "cites": "Directive 2003/88/EC, art. 5",
            }
        since = until
