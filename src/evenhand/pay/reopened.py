"""Weeks that a payment for a longer time reopens: the overtime on each week's share, and nothing else.

Source: 29 CFR 778.209 and 778.119-120: pay without it, then go back over the weeks that earned it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from evenhand.pay.due import week_due
from evenhand.pay.entries import Earned, Entry, earned_entry
from evenhand.pay.lines import Line
from evenhand.pay.regular_rate import money
from evenhand.pay.stretches import WeekTime
from evenhand.terms.pay_law import PayLaw

__all__ = ["reopened_lines"]


def reopened_lines(
    one: Earned,
    past: Mapping[date, tuple[WeekTime, Sequence[Entry]]],
    earlier: Sequence[Earned],
    law: PayLaw,
) -> Iterator[Line]:
    """Yield a line for each past week that owes overtime on its share of `one`.

    `past` holds the weeks before the payment with their own entries; `earlier` are payments for a longer time that
    have reopened them already. What a week owes is the difference with and without the share, so that credits
    beyond the earlier overtime are used up first.
    """
    for workweek, (week, own) in past.items():
        seconds = sum(week.beyond.values())
        if not seconds:
            continue
        shares = [earned_entry(other, law, other.share(workweek)) for other in earlier]
        before = [*own, *(share for share in shares if share.earning.in_rate)]
        after = [*before, earned_entry(one, law, one.share(workweek))]
        if any(entry.flat for entry in after) and not week.straight_s:
            continue
        owed = week_due(week, after).owed - week_due(week, before).owed
        if owed > 0:
            label = f"overtime on {one.label}, week of {workweek}"
            yield Line("reopened", label, money(owed), law.source_of("reopened"), seconds, None, workweek)
