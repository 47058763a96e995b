"""A punch in without its punch out, or the reverse."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

from evenhand.checks.days import Punch, asked_days
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, clock, deadline
from evenhand.terms.languages import sentence, told
from evenhand.terms.open_punches import as_told, minutes_in_doubt, say_proposal, say_suggested
from evenhand.terms.records import Finding, Stake
from evenhand.terms.zones import civil_date

CHECK = Check(
    code="missing_punch",
    title=told("A punch is missing"),
    why=told(
        "A punch in without a punch out, or the reverse, counts for nothing until somebody says "
        "when the other was. Time worked is owed whether or not it was punched (29 CFR 785.11 to "
        "785.13)."
    ),
    next_step=told("Ask the person when they came or went, and add the punch with that reason on Hours."),
)

NONE = {"in": sentence("no punch in before {clock}"), "out": sentence("no punch out after {clock}")}
MISSING = {"missing_in": "in", "missing_out": "out"}
NAMED = ("start", "meal_out", "meal_in", "break_out", "break_in", "end")


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person and day with a punch that stands alone."""
    proposals, suggested = _proposals(facts), _suggested(facts)
    for person, day, zone, asked, punches, refused in asked_days(facts, tuple(MISSING)):
        who = call(facts, person)
        ways = [MISSING[row["kind"]] for row in asked]
        one_way = len(ways) > 1 and len(set(ways)) == 1
        in_doubt = minutes_in_doubt(asked)
        proposed = [one for row in asked for one in proposals.get((person, row["punch"]), [])]
        said = suggested.get((person, day), [])
        says = [told(NONE[way], clock=clock(facts, row["at"], zone)) for way, row in zip(ways, asked, strict=True)]
        yield Finding(
            code=CHECK.code,
            subject=person,
            day=day,
            person=person,
            says=told("{who} has {says:joined} on {day}.", who=who, says=says, day=day),
            evidence=(
                *punches,
                told(
                    "About {in_doubt:duration} of pay is in doubt, estimated from the person's other spans.",
                    in_doubt=60 * in_doubt,
                ),
                *dict.fromkeys(say_proposal(row, zone, day) for row in proposed),
                *(_said(facts, row, zone, day) for row in said),
            ),
            stake=Stake(minutes=in_doubt, people=1, deadline=deadline(facts)),
            next_step=told("Decide on Missing punches on what was said.")
            if said
            else told(
                "{do}; or, if one punch says the wrong way, say there which way it went.",
                do=_first_step(who, ways, proposed, zone, day),
            )
            if one_way and not any(row["suspect"] is not None for row in proposed)
            else told("{do}.", do=_first_step(who, ways, proposed, zone, day)),
            blocks_pay=True,
            details={
                "punches": [row["punch"] for row in asked],
                "missing": ways,
                "zone": zone,
                "at": [row["at"] for row in asked],
                "proposals": proposed,
                "strays": _strays(facts, person, asked),
                "readers": facts.usual_readers.get(person, ()),
                "refused_at": _refused_at(facts, asked, refused),
                "suggestions": [row["suggestion"] for row in said],
            },
        )


def _strays(facts: Facts, person: str, asked: list[dict[str, Any]]) -> list[tuple[str, str]]:
    """Return the readers and numbers under which the missing punch may lie, among those that may be theirs."""
    may_be = facts.strays_of.get(person, ())
    return list(dict.fromkeys((reader, number) for reader, number, at in may_be if _may_lie_at(facts, asked, at)))


def _refused_at(facts: Facts, asked: list[dict[str, Any]], refused: list[Punch]) -> list[str]:
    """Return the readers that refused the hand for good where the missing punch may lie."""
    at_readers = (reader for reader, at, _ in refused if reader and _may_lie_at(facts, asked, at))
    return list(dict.fromkeys(at_readers))


def _may_lie_at(facts: Facts, asked: list[dict[str, Any]], at: int) -> bool:
    """Whether one of the missing punches may lie at an instant: within the longest span of the one that is alone."""
    reach = facts.settings.policy.longest_span_s
    return any(0 <= (row["at"] - at if row["kind"] == "missing_in" else at - row["at"]) <= reach for row in asked)


def _asked_for(ways: list[str]) -> str:
    asked = set(ways)
    if len(asked) == 2:
        return sentence("when they came and went on {day}, and add that punch on Hours with the reason")
    if asked == {"in"}:
        return sentence("when they came in on {day}, and add that punch on Hours with the reason")
    return sentence("when they went out on {day}, and add that punch on Hours with the reason")


def _proposals(facts: Facts) -> dict[tuple[str, int], list[dict[str, Any]]]:
    found: dict[tuple[str, int], list[dict[str, Any]]] = {}
    for proposal in facts.proposals.iter_rows(named=True):
        row = proposal
        if row["stray"] and facts.meant_by.get(row["stray"], row["person"]) != row["person"]:
            # a punch at the right time under a number that is told to be another's is no proposal for this person
            row = proposal | dict.fromkeys(("stray", "stray_at", "likely")) | {"kind": "not_sure"}
        found.setdefault((row["person"], row["punch"]), []).append(row)
    return found


def _suggested(facts: Facts) -> dict[tuple[str, date], list[dict[str, Any]]]:
    found: dict[tuple[str, date], list[dict[str, Any]]] = {}
    for row in facts.suggestions.iter_rows(named=True):
        found.setdefault((row["person"], row["day"]), []).append(row)
    return found


def _said(facts: Facts, row: dict[str, Any], zone: str, day: date) -> str:
    """Return what a supervisor says of the day, and that nothing follows from it yet."""
    who = facts.names.get(row["supervisor"], row["supervisor"]) if row["supervisor"] else row["author"]
    return told(
        "{who} says: {say_suggested}. Nothing is paid from that until it is decided on.",
        who=who,
        say_suggested=say_suggested(row, zone, day),
    )


def _first_step(who: str, ways: list[str], proposed: list[dict[str, Any]], zone: str, day: date) -> str:
    """Return what to ask whom, after what is proposed."""

    asked = told(
        _asked_for(ways),
        day=day,
    )
    strays = list(dict.fromkeys(row["stray"] for row in proposed if row["stray"]))
    if strays:
        return told(
            "Decide on Strays whose the punch under {strays:listed} is; if it is not theirs, ask {who} {asked}",
            strays=strays,
            who=who,
            asked=asked,
        )
    for row in proposed:
        if row["suspect"] is None:
            continue
        near = civil_date(zone, row["suspect_at"]) == day
        when = as_told(row["suspect_at"], zone, day)
        if near:
            when = told("{at} on {day}", at=when, day=day)
        if row["kind"] == "wrong_way":
            return told(
                "Ask {who} which way they went at {when}, and say so on Hours with the reason", who=who, when=when
            )
        return told(
            "Ask {who} whether the punch at {when} was one too many, and leave it out on Hours with "
            "the reason, or add the one that is missing",
            who=who,
            when=when,
        )
    times = dict.fromkeys(row["at"] for row in proposed if row["at"] is not None and row["kind"] in NAMED)
    if not times:
        return told("Ask {who} {asked}", who=who, asked=asked)
    around = [as_told(at, zone, day) for at in times]
    return told("Ask {who} {asked}, perhaps around {times:listed}", who=who, asked=asked, times=around)
