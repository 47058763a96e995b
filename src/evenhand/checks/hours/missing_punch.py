"""A punch in without its punch out, or the reverse."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.facts import Check, Facts
from evenhand.checks.questions import day_evidence, person_days
from evenhand.checks.words import as_clock, as_day, as_duration, call, deadline
from evenhand.terms.records import Finding, Stake

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
    for person, day, asked in person_days(facts, tuple(MISSING)):
        zone = facts.zone_of(person)
        minutes = sum(int(row["minutes"]) for row in asked)
        gaps = [(MISSING[row["kind"]], as_clock(row["at"], zone)) for row in asked]
        says = " and ".join(f"no punch {way} {'before' if way == 'in' else 'after'} {clock}" for way, clock in gaps)
        yield Finding(
            code=CHECK.code,
            subject=person,
            day=day,
            person=person,
            says=f"{call(facts, person)} has {says} on {as_day(day)}.",
            evidence=(
                *day_evidence(facts, person, day, zone),
                f"About {as_duration(minutes)} of pay is in doubt, estimated from the person's other spans.",
            ),
            stake=Stake(minutes=minutes, people=1, deadline=deadline(facts)),
            next_step=f"Ask {call(facts, person)} when they {_asked_for(gaps)} on {as_day(day)} and add that punch on "
            "Hours, with the reason. Refused presentations that day may show when they tried.",
            blocks_pay=True,
            details={"punches": [row["punch"] for row in asked], "missing": [way for way, _ in gaps]},
        )


def _asked_for(gaps: list[tuple[str, str]]) -> str:
    ways = {way for way, _ in gaps}
    return "came and went" if len(ways) == 2 else "came in" if ways == {"in"} else "went out"
