"""What is at stake in a case: the same hours once, in this period and in those that were handed off."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from functools import reduce

import polars as pl

from evenhand.checks.estimates import minutes_behind, within
from evenhand.checks.facts import Facts
from evenhand.terms.cases import CaseStake
from evenhand.terms.records import Finding

__all__ = ["stake_of"]

UNDER_NUMBERS = ("unattributed_punches", "shared_number", "attribution_overtaken")
ABSENCES = ("no_punches", "missing_punch", "long_span")
CLOSED = "closed_period_changed"


def stake_of(findings: Sequence[Finding], facts: Facts) -> CaseStake:
    """Return what is at stake in findings of one cause; punches under a number and the absence they explain count once.

    Rounding that does not average out looks back over weeks, and a site's includes its people's.
    """
    minutes = max(_sum(findings, UNDER_NUMBERS), _sum(findings, ABSENCES))
    others = [one for one in findings if one.code not in (*UNDER_NUMBERS, *ABSENCES, CLOSED)]
    per_kind: dict[str, list[Finding]] = {}
    for one in others:
        per_kind.setdefault(one.code, []).append(one)
    minutes += sum(_of_kind(theirs) for theirs in per_kind.values())
    deadlines = [one.stake.deadline for one in findings if one.stake.deadline is not None]
    changed = [Decimal(one.details["amount"]) for one in findings if one.code == CLOSED]
    return CaseStake(
        minutes=minutes,
        closed_minutes=_sum(findings, (CLOSED,)) + _behind_closed(findings, facts),
        amount=reduce(Decimal.__add__, changed) if any(changed) else None,
        people=_people(findings),
        deadline=min(deadlines, default=None),
        law=next((one.stake.law for one in findings if one.stake.law), ""),
    )


def _sum(findings: Sequence[Finding], codes: tuple[str, ...]) -> int:
    return sum(one.stake.minutes for one in findings if one.code in codes)


def _of_kind(alike: Sequence[Finding]) -> int:
    if alike[0].code == "rounding_not_neutral":
        return max(one.stake.minutes for one in alike)
    return sum(one.stake.minutes for one in alike)


def _people(findings: Sequence[Finding]) -> int:
    named = {person for one in findings for person in (one.person, *one.details.get("people", ())) if person}
    return max(len(named), *(one.stake.people for one in findings))


def _behind_closed(findings: Sequence[Finding], facts: Facts) -> int:
    """Return the minutes of pay behind punches under the same numbers in other periods that were handed off.

    Where the period looked at was handed off itself, its hours are those of the findings already.
    """
    shown = facts.period
    others = [span for span in facts.handed_off if span[1] < shown.first or shown.last < span[0]]
    strays = {(one.reader, one.number) for one in findings if one.code == "unattributed_punches"}
    if not strays or not others:
        return 0
    readers, numbers = zip(*sorted((reader or "", number or "") for reader, number in strays), strict=True)
    wanted = pl.select(reader=pl.Series(readers), number=pl.Series(numbers))
    theirs = facts.strays.join(wanted, on=["reader", "number"], how="semi")
    if theirs.is_empty():
        return 0
    closed = pl.concat([within(facts, theirs, first, last) for first, last in others])
    return int(minutes_behind(facts, closed, ["reader", "number"])["minutes"].sum())
