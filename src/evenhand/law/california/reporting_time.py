"""Somebody who reports for work and is given too little of it is paid for half the day, or for two hours.

Source: wage orders, sections 5(A) and 5(B), whose text was read second hand: on each workday on which an employee
reports and is furnished less than half the usual or scheduled day's work, half of it is paid, at least two hours and no
more than four; for a second report in a workday that is furnished less than two hours of work, two. What is paid beyond
the work done is not time worked. The exceptions of section 5(C), such as a power failure, and whether somebody left of
their own will, are for a person to judge.

Our readings: the scheduled day's work is that of all shifts scheduled to begin in the workday, the work furnished that
of all shifts begun in it, wherever it lies and by whichever schedule, and those begun by the end of its schedule; who
begins work from two hours before the scheduled start to the end has reported. A second report is a shift of its own, by
the workplace's `shift_gap_s`, or work begun within an hour of a scheduled start after a gap that is no meal.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import numpy as np

from evenhand.law.codes import IN, OFF
from evenhand.law.compiling import run_pass
from evenhand.law.jurisdiction import Pass
from evenhand.law.scheduled import HOUR_S, NEAR_S, scheduled_way
from evenhand.law.site import PlannedShifts, Site
from evenhand.law.spans import Column, Owed, Spans
from evenhand.law.worked_shifts import begun_shifts, paid_within
from evenhand.terms.languages import sentence
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation

__all__ = ["RULE", "reporting_s"]

NAME = "california.reporting_time"
CITES, CITES_SECOND = (Citation("IWC wage orders, section 5(A)"),), (Citation("IWC wage orders, section 5(B)"),)
NUMBERS = (
    dated(
        "least",
        sentence("The least that is paid for reporting to a scheduled shift"),
        "h",
        (date(2000, 1, 1), 2, "IWC wage orders, section 5(A)"),
    ),
    dated(
        "most",
        sentence("The most that is paid for reporting to a scheduled shift"),
        "h",
        (date(2000, 1, 1), 4, "IWC wage orders, section 5(A)"),
    ),
    dated(
        "second",
        sentence("The least that is paid for a second report in a workday"),
        "h",
        (date(2000, 1, 1), 2, "IWC wage orders, section 5(B)"),
    ),
)
SAYS = (
    sentence(
        "reported for a scheduled day of {scheduled_for} and worked {worked_for} in the workday, less than half: half "
        "the day is paid, at least {least_for} and at most {most_for}"
    ),
)
SAYS_SECOND = (
    sentence(
        "reported a second time in the workday, at {was}, and worked {worked_for}: {least_for} are paid, unless nobody "
        "asked for it"
    ),
)


def reporting_s(scheduled_s: Column, worked_s: Column, least_s: Column, most_s: Column) -> Column:
    """Return the seconds owed beyond those worked, for who reported for a day: none where half of it was worked."""
    half = np.minimum(np.maximum(scheduled_s // 2, least_s), most_s)
    owed: Column = np.where(2 * worked_s >= scheduled_s, 0, np.maximum(0, half - worked_s))
    return owed


def list_reported_days(
    first: Any,
    starts: Any,
    ends: Any,
    shift_first: Any,
    shift_at: Any,
    shift_s: Any,
    shift_open: Any,
    day_bounds: Any,
    shift: Any,
    day: Any,
    scheduled_s: Any,
    worked_s: Any,
) -> int:
    """Fill the workdays with scheduled shifts that somebody reported for and that leave nothing open; return how many.

    `first` counts scheduled shifts by person and `shift_first` the worked ones; `shift` is the one by which somebody
    reported, `worked_s` the work of all shifts begun in the workday or by the end of its schedule.
    """
    found, today, days = 0, 0, len(day_bounds) - 1
    for who in range(len(shift_first) - 1):
        k, m = first[who], shift_first[who]
        while k < first[who + 1] and m < shift_first[who + 1]:
            if starts[k] < day_bounds[0] or starts[k] >= day_bounds[days]:
                k += 1
                continue
            while starts[k] < day_bounds[today]:
                today -= 1
            while starts[k] >= day_bounds[today + 1]:
                today += 1
            since, until, planned = min(day_bounds[today], starts[k] - NEAR_S), day_bounds[today + 1], 0
            opens = starts[k] - NEAR_S
            while k < first[who + 1] and starts[k] < day_bounds[today + 1]:
                planned += ends[k] - starts[k]
                last, closes = starts[k], ends[k]
                until = max(until, closes)
                k += 1
            if k < first[who + 1]:  # what begins toward the next workday's schedule belongs to that
                until = max(min(until, starts[k] - NEAR_S), last + 1)
            while m < shift_first[who + 1] and shift_at[m] < since:
                m += 1
            reported, worked, is_open = -1, 0, False
            while m < shift_first[who + 1] and shift_at[m] < until:
                if reported < 0 and opens <= shift_at[m] and shift_at[m] < closes:
                    reported = m
                worked += shift_s[m]
                is_open = is_open or shift_open[m]
                m += 1
            if reported >= 0 and not is_open:
                shift[found], day[found], scheduled_s[found], worked_s[found] = reported, today, planned, worked
                found += 1
    return found


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with what is owed for days cut short and second reports; of days only schedules can tell."""
    owed = [_second_reports(spans, site)]
    if site.planned is not None:
        owed.insert(0, _short_days(spans, site, site.planned))
    return replace(spans, owed=(*spans.owed, *owed))


def _short_days(spans: Spans, site: Site, planned: PlannedShifts) -> Owed:
    begins = begun_shifts(spans)
    worked_s, is_open = paid_within(spans, begins)
    people = np.arange(int(spans.person[0]), int(spans.person[-1]) + 2)
    shift_first = np.searchsorted(spans.person[begins], people)
    filled = tuple(np.empty(len(begins), np.int64) for _ in range(4))
    plans = (planned.first[people[0] : people[-1] + 1], planned.starts, planned.ends)
    inputs = (*plans, shift_first, spans.at[begins], worked_s, is_open, site.day_bounds)
    count = run_pass(list_reported_days, inputs, filled, large=site.large)
    shift, day, scheduled, worked = (column[:count] for column in filled)
    least, most = (site.by_day(NAME, name, HOUR_S)[day] for name in ("least", "most"))
    seconds = reporting_s(scheduled, worked, least, most)
    short = np.flatnonzero(seconds)
    words = {"scheduled_for": scheduled, "worked_for": worked, "least_for": least, "most_for": most}
    said = {word: column[short] for word, column in words.items()}
    reason = np.zeros(len(short), np.int8)
    return Owed(CITES, "reporting", begins[shift[short]], day[short], seconds[short], SAYS, reason, said)


def _second_reports(spans: Spans, site: Site) -> Owed:
    longest_meal_s = int(site.by_day("california.split_shift", "longest_meal", 60).min())
    apart = np.diff(spans.at, prepend=spans.at[0])
    returns = np.zeros(len(spans.at), np.bool_)
    returns[1:] = (spans.gap[:-1] == OFF) & (np.diff(spans.person) == 0)
    returns &= (apart > longest_meal_s) & (scheduled_way(spans, site) == IN)
    returns[begun_shifts(spans)] = True
    begins = np.flatnonzero(returns)
    worked, is_open = paid_within(spans, begins)
    at, person = spans.at[begins], spans.person[begins]
    day = site.day_of(at)
    least = site.by_day(NAME, "second", HOUR_S)[day]
    again = np.zeros(len(begins), np.bool_)
    again[1:] = (np.diff(person) == 0) & (np.diff(day) == 0) & ~is_open[:-1]
    # What the workplace pays for the same shift as a call-back is not owed twice.
    called_back = np.zeros(len(spans.at), np.int64)
    for owed in spans.owed:
        if owed.kind == "call_back":
            called_back[owed.punch] = owed.seconds
    seconds = least - worked - called_back[begins]
    rows = np.flatnonzero(again & ~is_open & (seconds > 0))
    words = {"was": at[rows], "worked_for": worked[rows], "least_for": least[rows]}
    reason = np.zeros(len(rows), np.int8)
    return Owed(CITES_SECOND, "reporting", begins[rows], day[rows], seconds[rows], SAYS_SECOND, reason, words)


RULE = Pass(NAME, (*CITES, *CITES_SECOND), "owes", apply, numbers=NUMBERS)
