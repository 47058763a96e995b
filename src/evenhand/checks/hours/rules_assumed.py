"""Hours of a site are worked out by the default rules, because nobody has set any."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.rules_told import rules_in_words

CHECK = Check(
    code="rules_assumed",
    title=told("Nobody has set the rules of the site"),
    why=told(
        "Until somebody says which rules bind a site, its hours are worked out by the default "
        "ones. Which day the workweek begins on, and which law applies, changes what is paid."
    ),
    next_step=told(
        "Write the site's jurisdiction, workweek and rounding in the workplace's settings, even "
        "if they are the default ones."
    ),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per site that works by default rules and has hours in the period."""
    if not facts.assumed_sites:
        return
    paid = facts.people.join(facts.weeks, on="person", how="semi").group_by(pl.col("site").fill_null("")).len()
    counts = dict(paid.iter_rows())
    for site in sorted(facts.assumed_sites):
        people = counts.get(site, 0)
        if not people:
            continue
        rules = facts.settings.sites[site]
        where = told("site {site}", site=site) if site else told("people without a site")
        yield Finding(
            code=CHECK.code,
            subject=site or "no site",
            says=told("Hours of {where} are worked out by default rules, which nobody has confirmed.", where=where),
            evidence=(
                told("The default: {rules_in_words}.", rules_in_words=rules_in_words(rules)),
                told("{people:# person has|# people have} hours in the period under them.", people=people),
            ),
            stake=Stake(people=people),
            next_step=told(
                'On Settings, or in evenhand.toml in a table [site."{site}"], set zone, jurisdiction, '
                "workweek_starts and rounding_minutes as the site's law and agreements have them.",
                site=site,
            )
            if site
            else told("On the roster, give these people the site where they work."),
            details={"site": site},
        )
