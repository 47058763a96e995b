"""Somebody worked at readers of a site whose law gives more than that of their own site.

To be silent is the worse mistake: what the law of the place adds shows nowhere else. So it asks, and changes no pay:
whether that law binds depends on the employer, and on how long and how regularly the person works there.
"""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, deadline
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import as_duration

__all__ = ["CHECK", "find"]

LAW = "Sullivan v. Oracle, 51 Cal.4th 1191 (2011)"

CHECK = Check(
    code="law_of_place",
    title="The law of the place of work may give more",
    why="Hours are worked out under the law of the person's own site. Californian overtime law binds work done there "
    "for full days by people of other states too (Sullivan v. Oracle, 51 Cal.4th 1191, 2011); other laws may as well.",
    next_step="Ask counsel which law binds; move the person to that site on the roster for that time, or settle it "
    "with the reason.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person and site whose law would have given more for the work there."""
    for row in facts.elsewhere.sort("person", "site").iter_rows(named=True):
        who, site = call(facts, row["person"]), row["site"]
        more = max(0, row["overtime_there_s"] - row["overtime_s"]) + max(0, row["double_there_s"] - row["double_s"])
        owed = max(row["premium_hours_there"] - row["premium_hours"], 0)
        yield Finding(
            code=CHECK.code,
            subject=f"{row['person']}/{site}/{facts.period.first}",
            person=row["person"],
            says=f"{who} worked {as_duration(row['worked_s'])} at {site}, whose law ({row['law']}) gives more than "
            f"{row['home_law']}, under which it is paid.",
            evidence=(
                f"Paid there: {as_duration(row['overtime_s'])} overtime, {as_duration(row['double_s'])} double time.",
                f"By the law of the place: {as_duration(row['overtime_there_s'])} overtime, "
                f"{as_duration(row['double_there_s'])} double time"
                + (f", and {owed.normalize():f} more hours of pay owed." if owed else "."),
            ),
            stake=Stake(minutes=more // 60 + int(60 * owed), people=1, deadline=deadline(facts), law=LAW),
            next_step=f"Ask counsel which law binds the work of {who} at {site}; move them there on the roster for "
            "that time, or settle this with the reason.",
            details={"site": site},
        )
