"""A punch in without its punch out, or the reverse."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

from evenhand.checks.days import asked_days
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, deadline
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import as_clock, as_day, as_duration, as_short_moment
from evenhand.terms.zones import civil_date

CHECK = Check(
    code="missing_punch",
    title="A punch is missing",
    why="A punch in without a punch out, or the reverse, counts for nothing until somebody says when the other was. "
    "Time worked is owed whether or not it was punched (29 CFR 785.11 to 785.13).",
    next_step="Ask the person when they came or went, and add the punch with that reason on Hours.",
)

MISSING = {"missing_in": "in", "missing_out": "out"}


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person and day with a punch that stands alone."""
    proposals = _proposals(facts)
    for person, day, zone, asked, punches in asked_days(facts, tuple(MISSING)):
        who = call(facts, person)
        ways = [MISSING[row["kind"]] for row in asked]
        # two punches the same way in a row are one span whose punch says the wrong way, more often than two spans
        one_way = len(ways) > 1 and len(set(ways)) == 1
        minutes = [int(row["minutes"]) for row in asked]
        in_doubt = max(minutes) if one_way else sum(minutes)
        proposed = [one for row in asked for one in proposals.get((person, row["punch"]), [])]
        proposed.sort(key=lambda one: one["at"])
        says = " and ".join(
            f"no punch {way} {'before' if way == 'in' else 'after'} {as_clock(row['at'], zone)}"
            for way, row in zip(ways, asked, strict=True)
        )
        yield Finding(
            code=CHECK.code,
            subject=person,
            day=day,
            person=person,
            says=f"{who} has {says} on {as_day(day)}.",
            evidence=(
                *punches,
                f"About {as_duration(60 * in_doubt)} of pay is in doubt, estimated from the person's other spans.",
                *(_as_evidence(row, zone, day) for row in proposed),
            ),
            stake=Stake(minutes=in_doubt, people=1, deadline=deadline(facts)),
            next_step=f"Ask {who} when they {_asked_for(ways)} on {as_day(day)}, and add that punch on Hours with the "
            "reason"
            + (_hint(proposed, zone, day) if proposed and not one_way else "")
            + ("; or, if one punch says the wrong way, say there which way it went." if one_way else "."),
            blocks_pay=True,
            details={
                "punches": [row["punch"] for row in asked],
                "missing": ways,
                "proposals": [_as_detail(row) for row in proposed],
            },
        )


def _as_detail(row: dict[str, Any]) -> dict[str, Any]:
    """A proposal under names that say by themselves that their values are instants."""
    told = {name: value for name, value in row.items() if name not in ("low", "high")}
    return told | {"earliest_at": row["low"], "latest_at": row["high"]}


def _asked_for(ways: list[str]) -> str:
    asked = set(ways)
    return "came and went" if len(asked) == 2 else "came in" if asked == {"in"} else "went out"


def _proposals(facts: Facts) -> dict[tuple[str, int], list[dict[str, Any]]]:
    found: dict[tuple[str, int], list[dict[str, Any]]] = {}
    for row in facts.proposals.iter_rows(named=True):
        found.setdefault((row["person"], row["punch"]), []).append(row)
    return found


def _as_evidence(row: dict[str, Any], zone: str, day: date) -> str:
    way, percent = MISSING[row["kind"]], round(100 * row["likely"])
    at, low, high = (_told(row[name], zone, day) for name in ("at", "low", "high"))
    return (
        f"Proposed {way}: {at} (between {low} and {high} four times in five; within 15 minutes {percent} times in a "
        f"hundred), {row['says']}. Nothing is paid from a proposal."
    )


def _hint(proposed: list[dict[str, Any]], zone: str, day: date) -> str:
    return ", perhaps around " + " and ".join(_told(row["at"], zone, day) for row in proposed)


def _told(at: int, zone: str, day: date) -> str:
    """A time, with its day where that is not the one that is spoken of."""
    return as_clock(at, zone) if civil_date(zone, at) == day else as_short_moment(at, zone)
