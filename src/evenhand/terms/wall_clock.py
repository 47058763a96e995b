"""Times as somebody reads them off the clock on the wall: the instant each means, or why it means none."""

from __future__ import annotations

import re
from datetime import datetime, time
from zoneinfo import ZoneInfo

from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.terms.zones import check_reckoned, instants_at

__all__ = ["instant_shown", "read_time"]

TIMES = ("%H:%M", "%H:%M:%S", "%I:%M %p", "%I:%M:%S %p")
HALF_OF_DAY = re.compile(r"\s*([AP])\.?\s?M\.?$")


def read_time(written: str) -> time:
    """Return a time of day, such as 16:30, 16:30:05 or 4:30 p.m.; raises Refusal where it is none."""
    plain = HALF_OF_DAY.sub(r" \1M", written.strip().upper())
    for form in TIMES:
        try:
            return datetime.strptime(plain, form).time()
        except ValueError:
            continue
    raise Refusal(told('"{written}" is no time; write it as 16:30 or 4:30 PM.', written=written))


def instant_shown(zone: str, civil: datetime, which: str = "", *, ask: str) -> datetime:
    """Return the instant, on clocks in `zone`, at which they show a civil time (a datetime without a zone).

    `which` says whether the `first` or the `second` is meant where they showed it twice. Raises Refusal where they
    never showed it, and where they did twice and it is not said which: `ask` then says how to, and may name the
    {first} and the {second} with their offsets.
    """
    check_reckoned(civil.date())
    shown = [datetime.fromtimestamp(instant, ZoneInfo(zone)) for instant in instants_at(zone, civil)]
    clock, day = f"{civil:%H:%M:%S}" if civil.second else f"{civil:%H:%M}", civil.date()
    if not shown:
        raise Refusal(
            told(
                "clocks in {zone} skipped {time} on {day}; give a time that they showed.",
                zone=zone,
                time=clock,
                day=day,
            )
        )
    if len(shown) > 1 and which not in ("first", "second"):
        first, second = (at.isoformat("T", "minutes") for at in shown)
        raise Refusal(
            told(
                "clocks in {zone} showed {time} twice on {day}; {ask}.",
                zone=zone,
                time=clock,
                day=day,
                ask=told(ask, first=first, second=second),
            )
        )
    return shown[-1] if which == "second" else shown[0]
