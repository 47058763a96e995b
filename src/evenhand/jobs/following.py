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

__all__ = [
    "ATTRIBUTION",
    "Since",
    "attribution_after",
    "changed_between",
    "hours_after",
    "parts_kept",
    "since",
    "still_due",
    "touched_people",
]

HELD = ("roster_told", "rosters_taken", "gone_people")
"""What tells, beside the roster of now, who held which number when."""
ATTRIBUTION = frozenset({"recorded", "people", *HELD, "readers", "corrections", "settings"})
PRESENTED = frozenset({"recorded", "people", *HELD, "readers", "settings", "takes", "day"})
CONSENTS = frozenset({"consent", "consent_takes", "consent_policies", "consent_decisions", "earlier_last_days"})
RULES = frozenset({"settings", "own", "first", "last"})
HOURS = ATTRIBUTION | RULES | {"schedules", "rates", "premium_decisions"}

RESTS_ON: Mapping[str, frozenset[str]] = {
    "holders": frozenset({"recorded", "people", *HELD, "readers", "settings"}),
    "attribution": ATTRIBUTION,
    "hourly rates": frozenset({"rates", "people"}),
    "presentations": PRESENTED,
    "charts": PRESENTED,
    "watch": PRESENTED | {"as_of"},
    "hours": HOURS,
    "hours between": HOURS,
    "weeks between": HOURS,
    "person hours": HOURS,
    "person week": HOURS,
    "pay between": HOURS | {"earnings"},
    "person pay": HOURS | {"earnings"},
    "owed lines": HOURS | {"earnings"},
    "signed lines": HOURS,
    "standing sign-offs": frozenset({"signoffs"}),
    "moved days": HOURS,
    "proposals": HOURS,
    "rounding": HOURS,
    "strays": ATTRIBUTION | {"enrolments", "schedules", "rejected_attributions", "settings", "day"},
    "overtaken attributions": ATTRIBUTION,
    "decision log": frozenset({"recorded", "people", "readers", "settings", "corrections", "premium_decisions"})
    | {"rejected_attributions", "settled", "handoffs", "adjustments", "take_decisions", "consent_policies"}
    | {"consent_decisions", "signoffs", "disputes", "dispute_answers", "holds", "erasures", "rounds", "round_items"}
    | {"outcomes", "settings_noticed", "suggestions", "suggestion_answers", "practices", "own_steps"},
    "sought people": frozenset({"people", "gone_people", "day"}),
    "sought readers": frozenset({"readers"}),
    "sought sites": frozenset({"people", "readers"}),
    "sought strays": ATTRIBUTION | {"day"},
    "sought files": frozenset({"takes", "readers", "settings"}),
    "sought rounds": frozenset({"rounds"}),
    "known numbers": ATTRIBUTION | {"enrolment_history", "former_numbers", "day"},
    "doubted": ATTRIBUTION | {"enrolments", "settings", "day"},
    "standing": frozenset({"recorded", "people", "readers", "enrolments", "attributions", "settings", "day"})
    | CONSENTS,
    "consent states": CONSENTS | {"people", "settings", "day"},
    "hands given": CONSENTS | PRESENTED | {"enrolments", "round_items", "outcomes"},
    "gaps": ATTRIBUTION | frozenset({"schedules", "earnings", "take_spans", "settings"}),
    "seen": frozenset({"recorded", "first"}),
    "proof": frozenset({"recorded", "people", *HELD, "rounds", "round_items", "outcomes", "day"}),
}
"""The frames and settings each part rests on; a part that is not named is made anew in every reckoning."""

BY_PERSON = frozenset(
    {"attribution", "hours", "pay between", "owed lines", "signed lines", "moved days", "proposals", "doubted"}
)
"""The parts of which, after a correction, only the people touched are worked out again."""


@dataclass(frozen=True)
class Since:
    """A part as it was, and the punches and people that corrections made since then touch."""

    part: Any
    punches: frozenset[int]
    people: frozenset[str]


def parts_kept(parts: Mapping[Hashable, Any], changed: frozenset[str]) -> dict[Hashable, Any]:
    """Return the parts that rest on nothing that has changed."""
    return {key: part for key, part in parts.items() if _name(key) in RESTS_ON and not RESTS_ON[_name(key)] & changed}


def since(
    parts: Mapping[Hashable, Any], before: Mapping[Hashable, Since], was: Snapshot, now: Snapshot, attributed: Frame
) -> dict[Hashable, Since]:
    """Return the parts that can be brought up to date person by person, where corrections have been added.

    A part that nobody asked for in between is brought up to date from where it last was: `before`. `attributed`
    (ATTRIBUTED) says whose the punches were.
    """
    had, has = was.corrections, now.corrections
    if not has.head(had.height).equals(had):
        return {}
    numbers = has.tail(has.height - had.height)["correction"].to_list()
    about = {*numbers, *reconcile.roots(has, numbers).values()}
    made = has.filter(pl.col("correction").is_in(list(about)))
    added = made.filter(pl.col("action") == "add").select(-pl.col("correction")).to_series()
    punches = frozenset([*made["punch"].drop_nulls(), *added])
    theirs = pl.col("punch").is_in(list(punches))
    told = has.filter(theirs | (-pl.col("correction")).is_in(list(punches)))["person"]
    people = frozenset([*made["person"], *told, *attributed.filter(theirs)["person"]]) - {"", None}
    older = {key: Since(at.part, at.punches | punches, at.people | people) for key, at in before.items()}
    newer = {key: Since(part, punches, people) for key, part in parts.items() if _name(key) in BY_PERSON}
    return older | newer


def still_due(before: Mapping[Hashable, Since], changed: frozenset[str]) -> dict[Hashable, Since]:
    """Return the parts to be brought up to date that rest, but for corrections, on nothing that has changed."""
    return {key: at for key, at in before.items() if RESTS_ON[_name(key)] & changed <= {"corrections"}}


def attribution_after(before: Since, snapshot: Snapshot, holders: pl.Series) -> reconcile.Attribution:
    """Return whose each punch is, in no particular order: touched and added ones are looked at again.

    `holders` are those of all that is recorded (`reconcile.holders`).
    """
    again = pl.col("punch").is_in(list(before.punches))
    touched = snapshot.recorded.with_columns(holders.alias("holder")).filter(again)
    new = reconcile.attribute(
        touched.drop("holder"), snapshot.holding, snapshot.readers, snapshot.corrections, held=touched["holder"]
    )
    attributed = before.part.attributed.filter(pl.col("punch") >= 0, ~again)
    unattributed = before.part.unattributed.filter(~again)
    return reconcile.Attribution(pl.concat([attributed, new.attributed]), pl.concat([unattributed, new.unattributed]))


def hours_after(before: Since, snapshot: Snapshot, attributed: Frame, rates: Frame) -> WorkedHours:
    """Return everybody's hours, those of the touched people worked out again from their punches (ATTRIBUTED)."""
    people = touched_people(before, attributed)
    theirs = attributed.filter(pl.col("person").is_in(list(people)))
    was: WorkedHours = before.part
    return replace(was.without(people).joined(compute_hours(snapshot, theirs, rates)), attributed=attributed)


def touched_people(before: Since, attributed: Frame) -> frozenset[str]:
    """Return whom the corrections touch, also those to whom a punch is attributed since."""
    given = attributed.filter(pl.col("punch").is_in(list(before.punches)))["person"]
    return before.people | frozenset(given.to_list())


def changed_between(was: Snapshot, now: Snapshot) -> frozenset[str]:
    """Return the names of the frames and settings that differ; `attributions` are corrections of a kind."""
    changed = {name for name in Snapshot.__dataclass_fields__ if getattr(was, name) is not getattr(now, name)}
    for name in ("settings", "own", "watched", "first", "last"):
        if name in changed and getattr(was, name) == getattr(now, name):
            changed.discard(name)
    if "corrections" in changed and was.corrections.equals(now.corrections):
        changed.discard("corrections")  # foreseen, and made as foreseen
    if "corrections" in changed and not _attributions(was.corrections).equals(_attributions(now.corrections)):
        changed.add("attributions")
    return frozenset(changed)


def _attributions(corrections: Frame) -> Frame:
    """Corrections that give a recorded punch to somebody or leave it out; what is added stands at no reader."""
    return reconcile.standing(corrections).filter(pl.col("action").is_in(["attribute", "leave_out"]))


def _name(key: Hashable) -> str:
    return str(key[0]) if isinstance(key, tuple) else str(key)
