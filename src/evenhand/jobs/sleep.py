"""What of sleep that is left out does not fit its rule: said before the correction is made.

Source: 29 CFR 785.21 (on duty for less than 24 hours, sleep is work) and 785.22 (24 hours or more: no more than 8 hours
are left out, and unless 5 hours can be slept, all of it is work).
"""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.jobs.reckoning import Reckoning
from evenhand.terms.languages import told

__all__ = ["sleep_misfits"]

TOUR_S, MOST_S, LEAST_S = 24 * 3600, 8 * 3600, 5 * 3600


def sleep_misfits(after: Reckoning, person: str, at: int) -> Iterator[str]:
    """Yield what does not fit the sleep that begins or ends at instant `at`, as the corrected punches have it."""
    hours = after.person_hours(person)
    shifts = hours.classed.select("punch_in", "shift").unique("punch_in")
    spans = hours.recorded_spans.join(shifts, on="punch_in").sort("starts")
    before, later = spans.filter(pl.col("ends") <= at), spans.filter(pl.col("starts") >= at)
    is_between = before.height and later.height and at in (before["ends"][-1], later["starts"][0])
    slept = int(later["starts"][0]) - int(before["ends"][-1]) if is_between else TOUR_S
    if slept >= TOUR_S:
        yield told("Sleep lies between an out where it begins and an in where it ends: add the other one too.")
        return
    # A gap as long as sleep ends a shift for the other rules; the tour is what lies on both its sides.
    begins = before.filter(pl.col("shift") == before["shift"][-1])["starts"][0]
    ends = later.filter(pl.col("shift") == later["shift"][0])["ends"][-1]
    if ends - begins < TOUR_S:
        yield told(
            "The tour lasts {tour:duration}: on duty for less than 24 hours all sleep is work (29 CFR 785.21).",
            tour=int(ends) - int(begins),
        )
    if slept > MOST_S:
        yield told(
            "{slept:duration} of sleep: no more than 8 hours of a tour are left out (29 CFR 785.22(a)).", slept=slept
        )
    if slept < LEAST_S:
        yield told(
            "{slept:duration} of sleep: without 5 hours of it all of the time is work (29 CFR 785.22(b)).", slept=slept
        )
