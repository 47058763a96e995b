"""People work at a site for which no rules are set."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.estimates import in_period, minutes_behind
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, deadline
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="site_without_rules",
    title=told("No rules bind the site"),
    why=told(
        "Hours are worked out by the rules of the site where a person works. Without a site, or "
        "without rules for it, the punches are kept but nothing is paid from them."
    ),
    next_step=told("Give the person a site on People, or the site its zone and rules in the workplace's settings."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per site without rules whose people have punches in the period."""
    ruled = pl.col("site").fill_null("").is_in(list(facts.settings.sites))
    without = facts.people.filter(~ruled).select("person", site=pl.col("site").fill_null(""))
    if without.is_empty():
        return
    theirs = facts.attributed.filter(pl.col("person").is_in(without["person"].implode()))
    behind = minutes_behind(facts, in_period(facts, theirs), ["person"]).join(without, on="person")
    by_site = behind.sort("person").group_by("site", maintain_order=True).agg("person", pl.col("minutes").sum())
    for site, people, minutes in by_site.iter_rows():
        who = told("{names:listed}", names=[call(facts, person) for person in people])
        where = told("site {site}", site=site) if site else told("people without a site")
        yield Finding(
            code=CHECK.code,
            subject=site or "no site",
            person=people[0] if len(people) == 1 else None,
            says=told(
                "No rules are set for {where}, so {count:# person|# people} cannot be paid.",
                where=where,
                count=len(people),
            ),
            evidence=(
                told("With punches in the period: {who}.", who=who),
                told(
                    "About {minutes:duration} of pay, estimated from the stretches of work they form.",
                    minutes=60 * minutes,
                ),
            ),
            stake=Stake(minutes=minutes, people=len(people), deadline=deadline(facts)),
            next_step=told(
                "Add site {site} with its time zone, workweek and jurisdiction to the workplace's settings.", site=site
            )
            if site
            else told("On People, give {who} the site where they work.", who=who),
            blocks_pay=True,
            details={"people": people, "site": site},
        )
