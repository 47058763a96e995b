"""Decide about hours of pay owed beside time worked: strike what the record presumes, enter what it cannot show."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any

import polars as pl

from evenhand import law
from evenhand.jobs.effects import PeriodChange, pay_before_and_after, period_changes
from evenhand.jobs.hours import workweek_of
from evenhand.jobs.overtaken import corrections_since, refuse_corrected
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.signed_hours import undone_by
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions, frames
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.terms.tables import PREMIUM_DECISIONS
from evenhand.terms.zones import day_start

__all__ = [
    "PREMIUM_ACTIONS",
    "PREMIUM_KINDS",
    "PremiumDecided",
    "PremiumPreview",
    "PremiumRequest",
    "decide_premium",
    "decided_on",
    "last_decided",
    "preview_premium",
    "struck_between",
]

PREMIUM_ACTIONS: tuple[str, ...] = PREMIUM_DECISIONS.column("action").allowed
PREMIUM_KINDS: tuple[str, ...] = PREMIUM_DECISIONS.column("kind").allowed
MOST_HOURS = Decimal(24)
ONE_A_DAY = ("meal", "rest")


@dataclass(frozen=True)
class PremiumRequest:
    """What somebody says of one kind of hours owed on a workday: `strike` them, `owe` so many, or `presume` again."""

    action: str
    person: str
    workday: date
    kind: str
    author: str
    reason: str
    hours: Decimal | None = None


@dataclass(frozen=True)
class PremiumPreview:
    """Hours of that kind owed on the workday, and pay of the workweeks that change, before and after.

    Pay is None where it is not known, see `total_pay`. `changes` tell the person's hours and pay apart by pay period,
    before and after over the same workweeks, `undoes` whose sign-off of these hours counts no longer.
    """

    person: str
    name: str
    workday: date
    kind: str
    action: str
    hours_before: Decimal
    hours_after: Decimal
    pay_before: Decimal | None
    pay_after: Decimal | None
    changes: tuple[PeriodChange, ...]
    undoes: tuple[str, ...] = ()


@dataclass(frozen=True)
class PremiumDecided:
    """A decision with its number, what it does, and the reckoning in which it stands."""

    number: int
    foreseen: PremiumPreview
    after: Reckoning


def preview_premium(reckoning: Reckoning, asked: PremiumRequest, *, as_of: datetime) -> PremiumPreview:
    """Return what the decision would do, writing nothing; raises Refusal where it cannot be made or stands already."""
    return _foresee(reckoning, asked, as_of)[0]


def decide_premium(
    workspace: Workspace,
    reckoning: Reckoning,
    asked: PremiumRequest,
    *,
    as_of: datetime,
    last_seen: tuple[int, int] | None = None,
) -> PremiumDecided:
    """Make the decision; the record and what it presumes stay as they are.

    `last_seen` are the last decision and the last correction that its preview knew of (`last_decided`), where those are
    not the reckoning's. Raises Refusal where somebody has decided about the same hours since, or corrected the week.
    """
    if not asked.author.strip() or not asked.reason.strip():
        raise Refusal(told("hours owed are decided about by somebody and for a reason; give both."))
    of, seen = reckoning.snapshot, last_seen or last_decided(reckoning.snapshot)
    _refuse_since(of, asked, seen, of.premium_decisions, of.corrections)
    foreseen, after = _foresee(reckoning, asked, as_of)
    row = _row(asked, foreseen.person, as_of)
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        _refuse_since(of, asked, seen, frames.premium_decisions(conn), frames.corrections(conn))
        number = decisions.add_premium_decision(conn, row | {"workday": asked.workday.isoformat()})
    return PremiumDecided(number, foreseen, after)


def last_decided(snapshot: Snapshot) -> tuple[int, int]:
    """Return the numbers of the last decision about hours owed and of the last correction that a snapshot holds."""
    return int(snapshot.premium_decisions["decision"].max() or 0), snapshot.last_correction  # type: ignore[arg-type]


def struck_between(snapshot: Snapshot, person: str, first: date, last: date) -> list[dict[str, Any]]:
    """Return what of a person's hours owed stands struck (PREMIUM_DECISIONS) from one workday to another."""
    standing = law.standing_decisions(snapshot.premium_decisions).sort("workday", "kind")
    days = pl.col("workday").is_between(first, last)
    return standing.filter(pl.col("person") == person, days, pl.col("action") == "strike").rows(named=True)


def decided_on(snapshot: Snapshot, person: str, day: date) -> list[dict[str, Any]]:
    """Return what stands decided about a person's workday (PREMIUM_DECISIONS)."""
    standing = law.standing_decisions(snapshot.premium_decisions)
    return standing.filter(pl.col("person") == person, pl.col("workday") == day).rows(named=True)


def _refuse_since(
    of: Snapshot, asked: PremiumRequest, seen: tuple[int, int], decided: Frame, corrections: Frame
) -> None:
    """Refuse where somebody decided about the same hours after what was `seen` (`last_decided`), or corrected the week.

    `decided` (PREMIUM_DECISIONS) and `corrections` (CORRECTIONS) are those there are now.
    """
    who, (decision, correction) = of.find_person(asked.person), seen
    about = [pl.col(name) == value for name, value in (("person", who["person"]), ("kind", asked.kind))]
    newer = decided.filter(*about, pl.col("workday") == asked.workday, pl.col("decision") > decision)
    if newer.height:
        raise Refusal(
            told(
                "{author} has decided about these hours of {name} meanwhile; nothing was changed, look at the day "
                "again.",
                author=newer["author"][-1],
                name=who["name"] or who["person"],
            )
        )
    was, week = of.up_to(correction), workweek_of(of.rules_of(who["site"]), asked.workday)
    refuse_corrected(was, who, corrections_since(was, str(who["person"]), corrections), (week, week))


def _foresee(reckoning: Reckoning, asked: PremiumRequest, as_of: datetime) -> tuple[PremiumPreview, Reckoning]:
    of = reckoning.snapshot
    who = of.find_person(asked.person)
    person, name = str(who["person"]), str(who["name"] or who["person"])
    week = workweek_of(of.rules_of(who["site"]), asked.workday)
    before = _hours_owed(reckoning, person, asked)
    _check(reckoning, asked, person, name, week, before)
    row = PREMIUM_DECISIONS.rows([{**_row(asked, person, as_of), "decision": of.premium_decisions.height + 1}])
    after = reckoning.following(replace(of, premium_decisions=pl.concat([of.premium_decisions, row])), reckoning.as_of)
    later = _hours_owed(after, person, asked)
    if before == later and asked.action != "owe":
        raise Refusal(
            told(
                "{name} is owed {hours:f} h of {kind:again} on {day} as it is.",
                hours=later.normalize(),
                **_about(name, asked),
            )
        )
    changes = period_changes(reckoning, after, [person], {person: [week]})
    paid = pay_before_and_after(changes)
    undoes = undone_by(reckoning, after, [person])
    about = (person, name, asked.workday, asked.kind, asked.action, before, later)
    return PremiumPreview(*about, *paid, changes, undoes), after


def _about(name: str, asked: PremiumRequest) -> dict[str, str]:
    """Return of whom, what and which day a refusal speaks."""
    return {"name": name, "kind": asked.kind, "day": str(asked.workday)}


def _hours_owed(reckoning: Reckoning, person: str, asked: PremiumRequest) -> Decimal:
    premiums = reckoning.person_hours(person).premiums
    owed = premiums.filter(pl.col("workday") == asked.workday, pl.col("kind") == asked.kind)["hours"]
    return sum(owed, Decimal(0))


def _check(reckoning: Reckoning, asked: PremiumRequest, person: str, name: str, week: date, owed: Decimal) -> None:
    if asked.action not in PREMIUM_ACTIONS or asked.kind not in PREMIUM_KINDS:
        allowed = f"{', '.join(PREMIUM_ACTIONS)} with {', '.join(PREMIUM_KINDS)}"
        raise Refusal(
            told(
                "{action} {kind} is no decision; use {allowed}.", action=asked.action, kind=asked.kind, allowed=allowed
            )
        )
    if (asked.action == "owe") != (asked.hours is not None):
        raise Refusal(told("hours are given where they are owed, and only there."))
    if asked.hours is not None and not (asked.hours.is_finite() and 0 < asked.hours <= MOST_HOURS):
        raise Refusal(
            told(
                "{hours} h cannot be owed for one workday; give more than 0 and up to {most}.",
                hours=str(asked.hours),
                most=str(MOST_HOURS),
            )
        )
    of = reckoning.snapshot
    _refuse_other_than_one_hour(of, asked, of.find_person(person)["site"])
    about = of.premium_decisions.filter(
        pl.col("person") == person, pl.col("workday") == asked.workday, pl.col("kind") == asked.kind
    )
    last = about.sort("decision")["action"].to_list()[-1:]
    if asked.action == "strike" and not owed:
        raise Refusal(
            told("{name} is owed no hours of {kind:again} on {day}; there is nothing to strike.", **_about(name, asked))
        )
    if asked.action == "presume" and last in ([], ["presume"]):
        raise Refusal(
            told(
                "nothing was decided about {kind:again} of {name} on {day}; the record counts already.",
                **_about(name, asked),
            )
        )
    if asked.action == "owe" and last == ["owe"] and owed == asked.hours:
        raise Refusal(
            told(
                "{name} is owed {hours:f} h of {kind:again} on {day} already.",
                hours=owed.normalize(),
                **_about(name, asked),
            )
        )
    if asked.action == "owe" and reckoning.person_hours(person).weeks.filter(pl.col("workweek") == week).is_empty():
        raise Refusal(
            told("{name} worked nothing in the week of {week}; correct the punches first.", name=name, week=str(week))
        )
    if asked.action == "owe" and asked.kind in ONE_A_DAY and not _worked_on(reckoning, person, asked.workday):
        raise Refusal(
            told(
                "{name} has no time on {day}, and a {kind:again} period is owed for a workday that was worked (Labor "
                "Code 226.7(c)); look at the date, or correct the punches first.",
                **_about(name, asked),
            )
        )


def _worked_on(reckoning: Reckoning, person: str, workday: date) -> bool:
    rules = reckoning.snapshot.rules_of(reckoning.snapshot.find_person(person)["site"]).on(workday)
    begins, ends = (day_start(rules.zone, day, rules.workweek_s) for day in (workday, workday + timedelta(days=1)))
    classed = reckoning.person_hours(person).classed
    return not classed.filter(pl.col("starts") < ends, pl.col("ends") > begins).is_empty()


def _refuse_other_than_one_hour(of: Snapshot, asked: PremiumRequest, site: str | None) -> None:
    """Refuse more or less than an hour a workday for meal periods, or for rest periods, in California.

    However many of a kind were missed: one hour for each workday of each kind. Source: Labor Code 226.7(c); United
    Parcel Service v. Superior Court, 196 Cal.App.4th 57 (2011).
    """
    if asked.hours is None or asked.hours == 1 or asked.kind not in ONE_A_DAY:
        return
    name = of.rules_of(site).on(asked.workday).jurisdiction
    if (of.own[name].based_on if name in of.own else name) == "california":
        other = "meal" if asked.kind == "rest" else "rest"
        raise Refusal(
            told(
                "{hours} h of {kind:again} cannot be owed for {day}. In California one hour is owed, however many "
                "{kind:again} periods were missed, and another for {other:again} periods (Labor Code 226.7(c); 196 "
                "Cal.App.4th 57); give 1, and enter {other:again} by itself.",
                hours=str(asked.hours),
                kind=asked.kind,
                day=str(asked.workday),
                other=other,
            )
        )


def _row(asked: PremiumRequest, person: str, as_of: datetime) -> dict[str, Any]:
    return {
        "person": person,
        "workday": asked.workday,
        "kind": asked.kind,
        "action": asked.action,
        "hours": asked.hours,
        "author": asked.author.strip(),
        "reason": asked.reason.strip(),
        "made_at": int(as_of.timestamp()),
    }
