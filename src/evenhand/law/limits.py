"""Rules that change the class of time past a limit; each jurisdiction gives them its own numbers and citation.

Each second has one class and a limit counts only seconds still ordinary, so that no hour is counted toward two
limits: what lies past the daily limits is left out of the weekly count. For a daily and a longer limit together that
gives the larger of the two excesses, never their sum.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, ClassVar

import numpy as np

from evenhand.law.compiling import run_pass
from evenhand.law.jurisdiction import Effect, changed
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Column, Spans
from evenhand.terms.languages import sentence, told
from evenhand.terms.parameters import Parameter
from evenhand.terms.records import Citation, Refusal

__all__ = ["DailyLimit", "WeeklyLimit", "past_daily_limits", "past_limit", "reclassed"]

HOUR_S = 3600

CLASSES = (("ordinary", "overtime"), ("ordinary", "double"), ("overtime", "double"))


def class_past_limit(
    person: Any, punch: Any, period: Any, starts: Any, was_from: Any, limits_s: Any, overtime_from: Any
) -> None:
    """Fill the instant from which each piece's ordinary time lies past its period's limit."""
    worked, owner, current = 0, -1, -1
    for piece in range(len(punch)):
        if person[punch[piece]] != owner or period[piece] != current:
            owner, current = person[punch[piece]], period[piece]
            worked = 0
        left = max(0, limits_s[current] - worked)
        overtime_from[piece] = min(was_from[piece], starts[piece] + left)
        worked += was_from[piece] - starts[piece]


def past_limit(spans: Spans, site: Site, period: Column, limits_s: Column) -> Spans:
    """Return the spans with ordinary time past `limits_s` [s], by period, turned into overtime."""
    paid = spans.paid
    overtime_from = np.empty(len(paid.punch), np.int64)
    inputs = (spans.person, paid.punch, period, paid.starts, paid.overtime_from, limits_s)
    run_pass(class_past_limit, inputs, (overtime_from,), large=site.large)
    return replace(spans, paid=replace(paid, overtime_from=overtime_from))


def class_past_daily_limits(
    person: Any,
    punch: Any,
    day: Any,
    starts: Any,
    ends: Any,
    over_s: Any,
    double_s: Any,
    overtime_from: Any,
    double_from: Any,
) -> None:
    """Fill the instants from which each piece lies past its workday's limits."""
    worked, owner, current = 0, -1, -1
    for piece in range(len(punch)):
        if person[punch[piece]] != owner or day[piece] != current:
            owner, current = person[punch[piece]], day[piece]
            worked = 0
        overtime_from[piece] = min(ends[piece], starts[piece] + max(0, over_s[current] - worked))
        double_from[piece] = min(ends[piece], starts[piece] + max(0, double_s[current] - worked))
        worked += ends[piece] - starts[piece]


def past_daily_limits(spans: Spans, site: Site, over_s: Column, double_s: Column | None = None) -> Spans:
    """Return the spans with time past `over_s` [s] a workday as overtime, and past `double_s` as double time."""
    paid = spans.paid
    overtime_from, double_from = np.empty(len(paid.punch), np.int64), np.empty(len(paid.punch), np.int64)
    never = np.full(len(over_s), np.iinfo(np.int64).max // 2)
    inputs = (
        spans.person,
        paid.punch,
        paid.day,
        paid.starts,
        paid.ends,
        over_s,
        never if double_s is None else double_s,
    )
    run_pass(class_past_daily_limits, inputs, (overtime_from, double_from), large=site.large)
    return replace(spans, paid=replace(paid, overtime_from=overtime_from, double_from=double_from))


def reclassed(before: Spans, after: Spans, says: str, **words: Column | str | int) -> Changes:
    """Return a row per stretch of a piece that changed its class; `words` hold a value a piece, or one for all."""
    was, now = before.paid, after.paid
    parts = (
        (now.overtime_from, np.minimum(was.overtime_from, now.double_from)),
        (now.double_from, was.overtime_from),
        (np.maximum(now.double_from, was.overtime_from), was.double_from),
    )
    rows = [np.flatnonzero(starts < ends) for starts, ends in parts]
    piece = np.concatenate(rows)
    reason = np.repeat(np.arange(3, dtype=np.int8), [len(kept) for kept in rows])
    starts = np.concatenate([part[0][kept] for part, kept in zip(parts, rows, strict=True)])
    ends = np.concatenate([part[1][kept] for part, kept in zip(parts, rows, strict=True)])
    order = np.lexsort((reason, piece))
    piece, starts, ends = piece[order], starts[order], ends[order]
    said = {word: value[piece] if isinstance(value, np.ndarray) else value for word, value in words.items()}
    return changed(
        now.punch[piece],
        starts,
        ends,
        tuple(
            says.replace("{class}", sentence("overtime") if to == "overtime" else sentence("double time"))
            for _, to in CLASSES
        ),
        {"was": starts, "now": ends, **said},
        to_next=True,
        reason=reason[order],
        classes=CLASSES,
    )


@dataclass(frozen=True)
class WeeklyLimit:
    """A rule: what is still ordinary past `limit` [h] in the workweek is overtime.

    Hours that are overtime already do not count toward the limit.
    """

    name: str
    cites: tuple[Citation, ...]
    limit: Parameter
    says: str = sentence("past {limit} ordinary hours in the workweek from {was} on: overtime until {now}")
    effect: ClassVar[Effect] = "classes"

    @property
    def numbers(self) -> tuple[Parameter, ...]:
        """Return the limit."""
        return (self.limit,)

    def apply(self, spans: Spans, site: Site) -> Spans:
        """Return the spans with ordinary time past the weekly limit as overtime."""
        return past_limit(spans, site, spans.paid.week, site.by_week(self.name, self.limit.name, HOUR_S))

    def changes(self, before: Spans, after: Spans, site: Site) -> Changes:
        """Return one row per stretch that became overtime."""
        limit = site.by_week(self.name, self.limit.name)[after.paid.week]
        return reclassed(before, after, self.says, limit=limit)


@dataclass(frozen=True)
class DailyLimit:
    """A rule: past `limit` [h] in a workday time is overtime, past `double` [h] double time.

    `longest` [h] is the longest day of an alternative or flexible schedule that a site may name as
    `alternative_day_s`, in place of the limit; where there is none, such a schedule is not known.
    """

    name: str
    cites: tuple[Citation, ...]
    limit: Parameter
    double: Parameter | None = None
    longest: Parameter | None = None
    says: str = sentence("past {limit} hours in the workday from {was} on: overtime until {now}")
    effect: ClassVar[Effect] = "classes"

    @property
    def numbers(self) -> tuple[Parameter, ...]:
        """Return the limits."""
        return tuple(number for number in (self.limit, self.double, self.longest) if number)

    def apply(self, spans: Spans, site: Site) -> Spans:
        """Return the spans with daily overtime and double time; raises Refusal for too long an alternative day."""
        over_s = site.by_day(self.name, self.limit.name, HOUR_S)
        if (alternative := site.rules.alternative_day_s) and self.longest:
            longest_s = int(site.by_day(self.name, self.longest.name, HOUR_S).min())
            if alternative < over_s.min() or alternative > longest_s:
                raise Refusal(
                    told(
                        "{named}: alternative_day_hours is {alternative:g}; such a schedule has days of more than "
                        "{over_s} and up to {longest_s} hours ({where}); correct it.",
                        named=site.rules.named,
                        alternative=alternative / HOUR_S,
                        over_s=over_s.min() // HOUR_S,
                        longest_s=longest_s // HOUR_S,
                        where=self.longest.values[-1][2].where,
                    )
                )
            over_s = np.full_like(over_s, alternative)
        double_s = site.by_day(self.name, self.double.name, HOUR_S) if self.double else None
        return past_daily_limits(spans, site, over_s, double_s)

    def changes(self, before: Spans, after: Spans, site: Site) -> Changes:
        """Return one row per stretch past a limit of its workday."""
        day, alternative = after.paid.day, site.rules.alternative_day_s
        words: dict[str, Column | str] = {"limit": site.by_day(self.name, self.limit.name)[day]}
        if alternative and self.longest:
            words["limit"] = f"{alternative / HOUR_S:g}"
        if self.double:
            words["twice"] = site.by_day(self.name, self.double.name)[day]
        return reclassed(before, after, self.says, **words)
