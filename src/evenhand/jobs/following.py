"""What of one reckoning still holds in the next, and how little has to be worked out again after a correction."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import dataclass, replace
from typing import Any

import polars as pl

from evenhand import reconcile
from evenhand.jobs.hours import WorkedHours, compute_hours
from evenhand.jobs.snapshot import Snapshot
from evenhand.terms.columns import Frame

__all__ = ["Touched", "attribution_after", "changed_between", "hours_after", "parts_kept", "touched_by"]

PUNCHES = frozenset({"recorded", "people", "readers", "corrections"})
RULES = frozenset({"settings", "own", "first", "last"})
HOURS = PUNCHES | RULES | {"schedules", "rates"}

RESTS_ON: Mapping[str, frozenset[str]] = {
    "attribution": PUNCHES,
    "hours": HOURS,
    "hours between": HOURS,
    "person hours": HOURS,
    "person week": HOURS,
    "pay between": HOURS | {"earnings"},
    "person pay": HOURS | {"earnings"},
    "rounding": HOURS,
    "standing": frozenset({"recorded", "people", "readers", "enrolments", "attributions", "settings", "day"}),
    "seen": frozenset({"recorded", "day"}),
    "proof": frozenset({"recorded", "people", "rounds", "round_items", "outcomes", "day"}),
}
"""The frames and settings each part rests on; a part that is not named is made anew in every reckoning."""


@dataclass(frozen=True)
class Touched:
    """What corrections made since touch: their punches and people, beside the parts that hold for all others."""

    punches: frozenset[int]
    people: frozenset[str]
    attribution: reconcile.Attribution
    hours: WorkedHours | None


def parts_kept(parts: Mapping[Hashable, Any], changed: frozenset[str]) -> dict[Hashable, Any]:
    """Return the parts that rest on nothing that has changed."""
    return {key: part for key, part in parts.items() if _name(key) in RESTS_ON and not RESTS_ON[_name(key)] & changed}


def touched_by(parts: Mapping[Hashable, Any], was: Snapshot, now: Snapshot, changed: frozenset[str]) -> Touched | None:
    """Return what the corrections made in between touch; None where more has changed than they."""
    if "attribution" not in parts or changed & HOURS != {"corrections"}:
        return None
    had, has = was.corrections, now.corrections
    made = has.filter(pl.col("correction") > (had["correction"].max() or 0))
    if has.height != had.height + made.height:
        return None
    people = set(made["person"].drop_nulls().to_list())
    punches = set(made["punch"].drop_nulls().to_list())
    by_hand = has.filter((-pl.col("correction")).is_in(list(punches)))["person"]
    given = has.filter(pl.col("punch").is_in(list(punches)))["person"]
    attribution: reconcile.Attribution = parts["attribution"]
    owners = attribution.owned.filter(pl.col("punch").is_in(list(punches)))["person"]
    everybody = people.union(by_hand.to_list(), given.to_list(), owners.to_list()) - {""}
    return Touched(frozenset(punches), frozenset(everybody), attribution, parts.get("hours"))


def attribution_after(touched: Touched, snapshot: Snapshot) -> reconcile.Attribution:
    """Return whose each punch is, the touched ones and those added by hand looked at again."""
    again = pl.col("punch").is_in(list(touched.punches))
    new = reconcile.attribute(snapshot.recorded.filter(again), snapshot.people, snapshot.readers, snapshot.corrections)
    owned = touched.attribution.owned.filter(pl.col("punch") >= 0, ~again)
    unowned = touched.attribution.unowned.filter(~again)
    return reconcile.Attribution(pl.concat([owned, new.owned]), pl.concat([unowned, new.unowned]))


def hours_after(touched: Touched, snapshot: Snapshot, attribution: reconcile.Attribution) -> WorkedHours:
    """Return everybody's hours, those of the touched people and of their punches' holders worked out again."""
    assert touched.hours is not None
    people = touched.people | _owners(attribution.owned, touched.punches)
    theirs = attribution.owned.filter(pl.col("person").is_in(list(people)))
    hours = touched.hours.without(people).joined(compute_hours(snapshot, theirs))
    return replace(hours, owned=attribution.owned)


def _owners(owned: Frame, punches: frozenset[int]) -> frozenset[str]:
    """A punch returned to whoever holds its number becomes somebody's whom no correction names."""
    return frozenset(owned.filter(pl.col("punch").is_in(list(punches)))["person"].to_list())


def changed_between(was: Snapshot, now: Snapshot) -> frozenset[str]:
    """Return the names of the frames and settings that differ; `attributions` are corrections of a kind."""
    changed = {name for name in Snapshot.__dataclass_fields__ if getattr(was, name) is not getattr(now, name)}
    for name in ("settings", "own", "first", "last"):
        if name in changed and getattr(was, name) == getattr(now, name):
            changed.discard(name)
    if "corrections" in changed and not _attributions(was.corrections).equals(_attributions(now.corrections)):
        changed.add("attributions")
    return frozenset(changed)


def _attributions(corrections: Frame) -> Frame:
    """Corrections that give a recorded punch to somebody or leave it out; what is added stands at no reader."""
    return corrections.filter(pl.col("action").is_in(["attribute", "leave_out"]))


def _name(key: Hashable) -> str:
    return str(key[0]) if isinstance(key, tuple) else str(key)
