"""Somebody worked at readers of a site whose law gives more than that of their own site.

To be silent is the worse mistake: what the law of the place adds shows nowhere else. So it asks, and changes no pay:
whether that law binds depends on the employer, and on how long and how regularly the person works there.
"""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, deadline
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake

__all__ = ["CHECK", "find"]

LAW = "Sullivan v. Oracle, 51 Cal.4th 1191 (2011)"

CHECK = Check(
    code="law_of_place",
    title=told("The law of the place of work may give more"),
    why=told(
        "Hours are worked out under the law of the person's own site. Californian overtime law "
        "binds work done there for full days by people of other states too (Sullivan v. Oracle, "
        "51 Cal.4th 1191, 2011); other laws may as well."
    ),
    next_step=told(
        "Ask counsel which law binds; move the person to that site on the roster for that time, "
        "or settle it with the reason."
    ),
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
            says=told(
                "{who} worked {worked_s:duration} at {site}, whose law ({law}) gives more than "
                "{home_law}, under which it is paid.",
                who=who,
                worked_s=row["worked_s"],
                site=site,
                law=row["law"],
                home_law=row["home_law"],
            ),
            evidence=(
                told(
                    "Paid there: {overtime_s:duration} overtime, {double_s:duration} double time.",
                    overtime_s=row["overtime_s"],
                    double_s=row["double_s"],
                ),
                told(
                    "By the law of the place: {overtime_there_s:duration} overtime, "
                    "{double_there_s:duration} double time{owed}.",
                    overtime_there_s=row["overtime_there_s"],
                    double_there_s=row["double_there_s"],
                    owed=told(", and {hours:f} more hours of pay owed", hours=owed.normalize()) if owed else "",
                ),
            ),
            stake=Stake(minutes=more // 60 + int(60 * owed), people=1, deadline=deadline(facts), law=LAW),
            next_step=told(
                "Ask counsel which law binds the work of {who} at {site}; move them there on the roster "
                "for that time, or settle this with the reason.",
                who=who,
                site=site,
            ),
            details={"site": site},
        )
