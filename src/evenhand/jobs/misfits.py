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
from evenhand.terms.languages import Moment, sentence, told
from evenhand.terms.open_punches import WAYS_IN_WORDS
from evenhand.terms.zones import DAY_S, civil_date

__all__ = ["misfits"]

MOST = 6  # sentences; of a stray's hundred punches the rest say the same
ASKED = {
    "missing_in": sentence(
        "The punch at {at:short} then ends something that nothing began: an out without an in before it."
    ),
    "missing_out": sentence(
        "The punch at {at:short} then begins something that nothing ends: an in without an out after it."
    ),
    "long_span": sentence("What begins at {at:short} then lasts unusually long without a punch."),
    "same_time": sentence("An in and an out then stand at the same instant, {at:short}, and neither counts."),
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
        return (*said[:MOST], told("And {count} more of these.", count=len(said) - MOST))
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
        yield told(
            "{day} lies before {name}'s first day of work, {first}.", day=day, name=who["name"], first=who["hired_on"]
        )
    if day > (who["left_on"] or date.max):
        yield told(
            "{day} lies after {name}'s last day of work, {last}.", day=day, name=who["name"], last=who["left_on"]
        )


def _beside(one: dict[str, Any], other: dict[str, Any], sites: dict[str, str], repeat_s: int) -> Iterator[str]:
    apart, zone = abs(one["at"] - other["at"]), one["zone"]
    at, there = (Moment(each["at"], zone) for each in (one, other))
    where, elsewhere = (sites.get(each["reader"] or "") for each in (one, other))
    if where and elsewhere and where != elsewhere and apart <= TRAVEL_S:
        yield told(
            "Two places at once: {reader} at {at:short} and {other}, at another site, at {there:short}.",
            reader=one["reader"],
            at=at,
            other=other["reader"],
            there=there,
        )
    elif one["reader"] and other["reader"] and one["reader"] != other["reader"] and apart == 0:
        yield told(
            "Two places at once: {reader} and {other}, both at {at:short}.",
            reader=one["reader"],
            other=other["reader"],
            at=at,
        )
    elif apart < repeat_s and (
        one["direction"] == other["direction"] or None in (one["direction"], other["direction"])
    ):
        yield told(
            "A second punch at {at:short} beside that at {there:short}: within {time:duration} they count as one.",
            at=at,
            there=there,
            time=repeat_s,
        )
    elif apart < repeat_s:
        yield told(
            "A second punch at {at:short}, {way}, beside that at {there:short}, {other}.",
            at=at,
            way=told(WAYS_IN_WORDS[one["direction"]]),
            there=there,
            other=told(WAYS_IN_WORDS[other["direction"]]),
        )


def _too_long(one: dict[str, Any], near: Frame, longest_s: int) -> Iterator[str]:
    earlier = near.filter(pl.col("at") < one["at"]).tail(1)
    if one["direction"] == "in" or earlier.is_empty():
        return
    last = earlier.row(0, named=True)
    if last["direction"] != "out" and one["at"] - last["at"] > longest_s:
        yield told(
            "The in at {at:short} lies {time:duration} before it, longer than the longest span of {longest:duration}: "
            "the two are not read as one stretch.",
            at=Moment(last["at"], one["zone"]),
            time=one["at"] - last["at"],
            longest=longest_s,
        )


def _newly_open(before: Reckoning, after: Reckoning, person: str) -> Iterator[str]:
    was, now = (reckoning.person_hours(person).questions.select("kind", "at") for reckoning in (before, after))
    of = after.snapshot
    for kind, at in now.join(was, on=["kind", "at"], how="anti", maintain_order="left").iter_rows():
        zone = of.rules_of(of.find_person(person)["site"]).zone
        yield told(ASKED[kind], at=Moment(at, zone))
