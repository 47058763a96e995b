"""The averages of Directive 2003/88/EC: working time a week, and of night workers in 24 hours.

Source: Directive 2003/88/EC, articles 6, 8 and 16; the divisor for nights (days less weekly rest days) is that of the
UK's Working Time Regulations 1998, regulation 6, from memory. Days of leave and sickness are to be left out or made
neutral (article 16(b)); punches do not show them, so the average here is of all weeks, which is too low, never too
high, for somebody who was away.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

from evenhand.terms.zones import WEEK_S, civil_date, day_start

__all__ = ["average_night_s", "average_week_s", "nights_too_long", "weeks_too_long"]

HOUR_S = 3600


def average_week_s(total_s: int, weeks: int) -> Fraction:
    """Return the average working time a week [s], exactly."""
    return Fraction(total_s, weeks)


def average_night_s(shift_s: Sequence[int], days: int) -> Fraction:
    """Return a night worker's average working time in 24 hours [s]: all of it over the days less rest days."""
    return Fraction(sum(shift_s), days)


def _worked(shifts: Sequence[Sequence[tuple[int, int]]], since: int, until: int) -> int:
    return sum(max(0, min(ends, until) - max(starts, since)) for shift in shifts for starts, ends in shift)


def weeks_too_long(shifts: Sequence[Sequence[tuple[int, int]]], limit: dict[str, int]) -> Iterator[dict[str, Any]]:
    """Yield the reference periods, one after the other and all of them over, whose average is too high.

    Where less than one period is known, what is known is held against the limit.
    """
    most, weeks = limit["average_week"] * HOUR_S, limit["reference_weeks"]
    since, last = shifts[0][0][0], shifts[-1][-1][1]
    while since < last:
        known = max(1, min(weeks, -(-(last - since) // WEEK_S)))
        until = since + known * WEEK_S
        average = average_week_s(_worked(shifts, since, until), known)
        if average > most:
            yield {
                "kind": "average_week",
                "starts": since,
                "ends": until,
                "found_s": int(average),
                "limit_s": most,
                "says": f"{float(average) / HOUR_S:.2f} h a week on average over {known} weeks so far; at most "
                f"{most // HOUR_S} over {weeks}, unless the person has opted out",
                "cites": "Directive 2003/88/EC, arts. 6 and 16",
            }
        since = until


def nights_too_long(
    shifts: Sequence[Sequence[tuple[int, int]]], limit: dict[str, int], zone: str
) -> Iterator[dict[str, Any]]:
    """Yield the weeks in which somebody who works nights has more than the average allows."""
    most = limit["night_average"] * HOUR_S
    weeks: dict[date, list[Sequence[tuple[int, int]]]] = {}
    for shift in shifts:
        day = civil_date(zone, shift[0][0])
        weeks.setdefault(day - timedelta(days=day.weekday()), []).append(shift)
    for monday, of_week in weeks.items():
        nights = [shift for shift in of_week if _in_the_night(shift, limit, zone) >= limit["night_worker"] * HOUR_S]
        average = average_night_s([ends - starts for shift in of_week for starts, ends in shift], 6)
        if 2 * len(nights) > len(of_week) and average > most:
            begins = day_start(zone, monday)
            yield {
                "kind": "night_average",
                "starts": begins,
                "ends": day_start(zone, monday + timedelta(days=7)),
                "found_s": int(average),
                "limit_s": most,
                "says": f"{float(average) / HOUR_S:.2f} h in 24 on average in the week of {monday}, of which "
                f"{len(nights)} nights; at most {most // HOUR_S} for night workers",
                "cites": "Directive 2003/88/EC, art. 8",
            }


def _in_the_night(shift: Sequence[tuple[int, int]], limit: dict[str, int], zone: str) -> int:
    """Return the seconds of a shift that lie in night time."""
    day = civil_date(zone, shift[0][0])
    total = 0
    for offset in (-1, 0, 1):
        opens = day_start(zone, day + timedelta(days=offset), limit["night_starts"] * 60)
        closes = day_start(zone, day + timedelta(days=offset + 1), limit["night_ends"] * 60)
        total += sum(max(0, min(ends, closes) - max(starts, opens)) for starts, ends in shift)
    return total
