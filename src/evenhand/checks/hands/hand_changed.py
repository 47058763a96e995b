"""A hand scores, or is refused, otherwise than it used to."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.changes import open_alarms, set_right
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.languages import told
from evenhand.terms.records import Finding

CHECK = Check(
    code="hand_changed",
    title=told("A hand has changed"),
    why=told(
        "Scores or refusals under a number are no longer what they were: a ring, a bandage, a "
        "swelling, weight or age. Charts tell it with a known number of false alarms a month "
        "(see Hands). It says nothing about the person."
    ),
    next_step=told(
        "Ask whether a ring, a bandage or a swelling explains it; if not, and a new enrolment "
        "would spare refusals, enrol the hand again."
    ),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person whose alarm lasts."""
    for row in open_alarms(facts, "person"):
        yield set_right(facts, CHECK.code, row, call(facts, row["person"]))
