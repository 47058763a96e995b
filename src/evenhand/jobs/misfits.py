"""What of a decision about punches does not fit: said before it is made, and never in the way of it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

import polars as pl

from evenhand import reconcile
from evenhand.jobs.reckoning import Reckoning
from evenhand.linkage import TRAVEL_S
from evenhand.terms.columns import Frame
from evenhand.terms.words import as_day, as_duration, as_short_moment
from evenhand.terms.zones import DAY_S, civil_date

__all__ = ["misfits"]

MOST = 6  # sentences; of a stray's hundred punches the rest say the same
ASKED = {
    "missing_in": "The punch at {at} then ends something that nothing began: an out without an in before it.",
    "missing_out": "The punch at {at} then begins something that nothing ends: an in without an out after it.",
    "long_span": "What begins at {at} then lasts unusually long without a punch.",
    "same_time": "An in and an out then stand at the same instant, {at}, and neither counts.",
}


def misfits(before: Reckoning, after: Reckoning, person: str) -> tuple[str, ...]:
    """Return a sentence for each thing that does not fit among the punches that `person` gains.

    Two places at one instant; a second punch beside a first; a shift outside employment; further from the punch before
    it than the longest span; and what the punches then leave open.
    """
    was, now = (_theirs(reckoning, person) for reckoning in (before, after))
    gained = now.join(was, on=["punch", "direction"], how="anti", nulls_equal=True, maintain_order="left")
    said = list(dict.fromkeys([*_of_gained(after, person, now, gained), *_newly_open(before, after, person)]))
    if len(said) > MOST:
        return (*said[:MOST], f"And {len(said) - MOST} more of these.")
    return tuple(said)


def _theirs(reckoning: Reckoning, person: str) -> Frame:
    return reckoning.attribution.attributed.filter(pl.col("person") == person).sort("at", "punch")


def _of_gained(after: Reckoning, person: str, theirs: Frame, gained: Frame) -> Iterator[str]:
    if gained.is_empty():
        return
    of = after.snapshot
    sites = dict(of.readers.select("reader", "site").iter_rows())
    who = of.people.filter(pl.col("person") == person).row(0, named=True)
    begins = dict(reconcile.shifts_begin(theirs, ["person"], of.settings.policy).select("punch", "begins").iter_rows())
    for one in gained.iter_rows(named=True):
        near = theirs.filter((pl.col("at") - one["at"]).abs() <= DAY_S, pl.col("punch") != one["punch"])
        yield from _employment(one, who, begins[one["punch"]])
        for other in near.iter_rows(named=True):
            yield from _beside(one, other, sites, of.settings.policy.repeat_gap_s)
        yield from _too_long(one, near, of.settings.policy.longest_span_s)


def _employment(one: dict[str, Any], who: dict[str, Any], begins: int) -> Iterator[str]:
    day = civil_date(one["zone"], begins)
    if day < (who["hired_on"] or date.min):
        yield f"{as_day(day)} lies before {who['name']}'s first day of work, {as_day(who['hired_on'])}."
    if day > (who["left_on"] or date.max):
        yield f"{as_day(day)} lies after {who['name']}'s last day of work, {as_day(who['left_on'])}."


def _beside(one: dict[str, Any], other: dict[str, Any], sites: dict[str, str], repeat_s: int) -> Iterator[str]:
    apart, zone = abs(one["at"] - other["at"]), one["zone"]
    at, there = (as_short_moment(each["at"], zone) for each in (one, other))
    where, elsewhere = (sites.get(each["reader"] or "") for each in (one, other))
    if where and elsewhere and where != elsewhere and apart <= TRAVEL_S:
        yield f"Two places at once: {one['reader']} at {at} and {other['reader']}, at another site, at {there}."
    elif one["reader"] and other["reader"] and one["reader"] != other["reader"] and apart == 0:
        yield f"Two places at once: {one['reader']} and {other['reader']}, both at {at}."
    elif apart < repeat_s and (
        one["direction"] == other["direction"] or None in (one["direction"], other["direction"])
    ):
        yield f"A second punch at {at} beside that at {there}: within {as_duration(repeat_s)} they count as one."
    elif apart < repeat_s:
        yield f"A second punch at {at}, {one['direction']}, beside that at {there}, {other['direction']}."


def _too_long(one: dict[str, Any], near: Frame, longest_s: int) -> Iterator[str]:
    earlier = near.filter(pl.col("at") < one["at"]).tail(1)
    if one["direction"] == "in" or earlier.is_empty():
        return
    last = earlier.row(0, named=True)
    if last["direction"] != "out" and one["at"] - last["at"] > longest_s:
        yield (
            f"The in at {as_short_moment(last['at'], one['zone'])} lies {as_duration(one['at'] - last['at'])} before "
            f"it, longer than the longest span of {as_duration(longest_s)}: the two are not read as one stretch."
        )


def _newly_open(before: Reckoning, after: Reckoning, person: str) -> Iterator[str]:
    was, now = (reckoning.person_hours(person).questions.select("kind", "at") for reckoning in (before, after))
    of = after.snapshot
    for kind, at in now.join(was, on=["kind", "at"], how="anti", maintain_order="left").iter_rows():
        zone = of.rules_of(of.find_person(person)["site"]).zone
        yield ASKED[kind].format(at=as_short_moment(at, zone))
