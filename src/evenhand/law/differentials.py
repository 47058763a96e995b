"""Paid time inside the windows that the workplace pays a premium rate for: nights, weekends, public holidays.

Source: the workplace's own policy. Windows are civil times at the site, so on a night when clocks change a window has
an hour more or less. Whether a differential belongs to the regular rate is a matter of pay: it does (29 CFR 778.207).
Public holidays come from the open `holidays` library.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import numpy as np
import polars as pl

from evenhand.law.site import Site
from evenhand.law.spans import Column, Spans
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal
from evenhand.terms.settings import Differential
from evenhand.terms.zones import DAY_S, civil_date, offsets_of

__all__ = ["differential_columns", "public_holidays"]

SAYS = sentence("carries the differential {name}")
SAYS_HOLIDAY = sentence("carries the differential {name}: {holiday}")


def public_holidays(calendar: str, years: range) -> dict[date, str]:
    """Return the public holidays of a calendar such as US or US-CA; raises Refusal where it is not known."""
    import holidays

    country, _, subdivision = calendar.partition("-")
    try:
        listed = holidays.country_holidays(country, subdiv=subdivision or None, years=years, language="en_US")
    except NotImplementedError as fault:
        raise Refusal(
            told(
                "the holiday calendar {calendar} is not known; give a country, or a country and its part, by "
                "their ISO codes, such as US or US-CA.",
                calendar=repr(calendar),
            )
        ) from fault
    return dict(listed.items())


def differential_columns(spans: Spans, site: Site) -> dict[str, Any]:
    """Return the parts of paid time that lie in each of the policy's windows, as columns of DIFFERENTIALS."""
    paid, zone = spans.paid, site.rules.zone
    if not len(paid.punch) or not site.policy.differentials:
        return {}
    first = civil_date(zone, int(paid.starts.min())) - timedelta(days=1)
    last = civil_date(zone, int(paid.ends.max())) + timedelta(days=1)
    parts = [_within(one, first, last, spans, site) for one in site.policy.differentials]
    numbers = {name: np.concatenate([part[name] for part in parts]) for name in ("person", "week", "starts", "ends")}
    return numbers | {name: pl.concat([part[name] for part in parts]) for name in ("kind", "says", "cites")}


def _within(one: Differential, first: date, last: date, spans: Spans, site: Site) -> dict[str, Any]:
    days = [first + timedelta(days=k) for k in range((last - first).days + 1)]
    named = _holidays(site, first, last) if one.on_holidays else {}
    days = [day for day in days if day.weekday() in one.days or day in named]
    opens, closes = _window(one, days, site.rules.zone)
    paid = spans.paid
    low = np.searchsorted(closes, paid.starts, side="right")
    many = np.maximum(0, np.searchsorted(opens, paid.ends, side="left") - low)
    piece = np.repeat(np.arange(len(many)), many)
    window = np.arange(len(piece)) - np.repeat(np.cumsum(many) - many, many) + np.repeat(low, many)
    said = [
        SAYS_HOLIDAY.format(name=one.name, holiday=named[day]) if day in named else SAYS.format(name=one.name)
        for day in days
    ]
    return {
        "person": spans.person[paid.punch[piece]],
        "week": paid.week[piece],
        "starts": np.maximum(paid.starts[piece], opens[window]),
        "ends": np.minimum(paid.ends[piece], closes[window]),
        "kind": pl.repeat(one.name, len(piece), dtype=pl.String, eager=True),
        "says": pl.Series(said, dtype=pl.String).gather(window),
        "cites": pl.repeat("the workplace's policy", len(piece), dtype=pl.String, eager=True),
    }


def _window(one: Differential, days: list[date], zone: str) -> tuple[Column, Column]:
    midnights = np.array([(day - date(1970, 1, 1)).days for day in days], np.int64) * DAY_S
    length = DAY_S if one.ends_s <= one.starts_s else 0
    offsets = offsets_of(zone)
    opens, _, _ = offsets.from_local(midnights + one.starts_s)
    closes, _, _ = offsets.from_local(midnights + one.ends_s + length)
    return opens, closes


def _holidays(site: Site, first: date, last: date) -> dict[date, str]:
    calendar = site.rules.holidays
    if not calendar:
        raise Refusal(
            told(
                "{named}: a differential is paid on public holidays, and the site names no calendar; add "
                'holidays = "US" or the like to its table.',
                named=site.rules.named,
            )
        )
    return public_holidays(calendar, range(first.year, last.year + 1))
