"""Periods of several whole workweeks, counted without a gap from a day that the site names."""

from __future__ import annotations

from datetime import date

import numpy as np

from evenhand.law.site import Site
from evenhand.law.spans import Column

__all__ = ["periods_from"]


def periods_from(anchor: date, weeks: int, site: Site) -> tuple[Column, list[date]]:
    """Return the period of `weeks` workweeks in which each workweek lies, from 0, and the first known week of each.

    `anchor` is the first day of any one period, on which a workweek begins.
    """
    numbers = np.array([(week - anchor).days // (7 * weeks) for week in site.week_dates])
    firsts = {int(number): week for number, week in reversed(list(zip(numbers, site.week_dates, strict=True)))}
    return numbers - numbers[0], [firsts[number] for number in sorted(firsts)]
