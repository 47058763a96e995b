"""Worked time that does not keep to a limit on working time."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.disagreement import by
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.zones import civil_date

CHECK = Check(
    code="working_time",
    title=told("A limit on working time was not kept"),
    why=told(
        "At sites bound by Directive 2003/88/EC people are owed rest each day and each week, "
        "breaks, and an average week and night that is not too long. The pay stays what it is; "
        "derogations, opt-outs and national law decide whether the limit binds."
    ),
    next_step=told("Look at the person's shifts, give the rest that is owed, and change the schedule that caused it."),
)

LIMITS = {
    "daily_rest": told("daily rest"),
    "break": told("a break"),
    "weekly_rest": told("weekly rest"),
    "average_week": told("the average week"),
    "night_average": told("the average night"),
}
MOST_LINES = 6


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person whose worked time in the period did not keep to a limit."""
    for (person,), rows in by(facts.breaches.sort("person", "starts").rows(named=True), "person").items():
        kinds = list(dict.fromkeys(LIMITS[row["kind"]] for row in rows))
        lines = [told("{says:again} ({cites}).", says=row["says"], cites=row["cites"]) for row in rows[:MOST_LINES]]
        more, who = len(rows) - len(lines), call(facts, person)
        yield Finding(
            code=CHECK.code,
            subject=person,
            day=civil_date(facts.zone_of(person), rows[0]["starts"]),
            person=person,
            says=told("{who} did not get what limits on working time give: {kinds:commas}.", who=who, kinds=kinds),
            evidence=(*lines, *([told("And {more} more.", more=more)] if more else [])),
            stake=Stake(people=1, law=", ".join(sorted({row["cites"] for row in rows}))),
            next_step=told(
                "Look at the shifts of {who}, give the rest that is owed, and change the schedule that "
                "caused it; national law, agreements and opt-outs decide whether the limit binds.",
                who=who,
            ),
            details={"breaches": len(rows)},
        )
