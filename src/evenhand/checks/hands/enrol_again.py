"""A hand is refused so often, or soon will be, that a new enrolment saves trouble."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.said import some_saved

WORTH = 3.0
"""Refused presentations a month from which a new enrolment is proposed. Common practice, no source."""

CHECK = Check(
    code="enrol_again",
    title=told("A new enrolment would spare refusals"),
    why=told(
        "The level of somebody's scores against the threshold tells how many presentations are "
        "refused now, and how many would be after a good enrolment. People are named whose level "
        "has risen, as far as that is believed, from three refused presentations a month that it "
        "would spare; whoever was always refused as often is not."
    ),
    next_step=told("Enrol the hand again, or offer another way to clock."),
)

CHANGED = ("locked_out", "rising", "raised")
NEXT = {
    "locked_out": sentence(
        "Enrol {who} again now, since a hand that is refused is never learnt; until then offer another way to clock."
    ),
    "rising": sentence("Enrol {who} again before more are refused, or offer another way to clock."),
    "raised": sentence(
        "Ask whether a ring, a bandage or a swelling explains it; if not, enrol {who} again, or offer another way to "
        "clock."
    ),
}


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person, those first who gain most."""
    worth = facts.forecasts.filter(pl.col("state").is_in(CHANGED), pl.col("saved") >= WORTH)
    for row in worth.iter_rows(named=True):
        who = call(facts, row["person"])
        yield Finding(
            code=CHECK.code,
            subject=row["person"],
            person=row["person"],
            says=told("{who}: {says:again}", who=who, says=row["says"]),
            evidence=(
                told(
                    "A new enrolment would save {some_saved} refused presentations a month.",
                    some_saved=some_saved(row["saved"], row["presentations_a_month"]),
                ),
            ),
            stake=Stake(people=1),
            next_step=told(NEXT[row["state"]], who=who),
        )
