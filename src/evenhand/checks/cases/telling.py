"""What is told of a case: its title, its story in two sentences, and its steps."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.cases import CaseStep
from evenhand.terms.languages import told
from evenhand.terms.records import Finding

__all__ = [
    "CaseTold",
    "alone",
    "asked_of_days",
    "following",
    "of_code",
    "on_rounds",
    "sentence",
    "waiting_on_round",
]

PLACES_OF_STEPS = {
    "approval_missing": "signoff",
    "below_minimum": "settings",
    "closed_period_changed": "handoff",
    "consent_due": "consent",
    "consent_missing": "consent",
    "dispute_open": "signoff",
    "enrol_again": "hands",
    "few_supervisors": "reader_steps",
    "file_lost_zeros": "files",
    "file_waiting": "files",
    "folder_out_of_reach": "files",
    "gone_from_roster": "files",
    "hand_changed": "hands",
    "hand_overdue": "leavers",
    "law_of_place": "look",
    "leaver_enrolled": "leavers",
    "log_ends_early": "files",
    "log_missing": "files",
    "long_span": "ask_day",
    "lost_zeros": "reader_steps",
    "many_refusals": "hands",
    "missing_punch": "ask_day",
    "near_capacity": "reader_steps",
    "no_punches": "ask_day",
    "not_enrolled": "round",
    "period_passed_over": "handoff",
    "rate_faulty": "files",
    "rate_missing": "files",
    "reader_changed": "hands",
    "reader_clock_off": "reader_steps",
    "reader_quiet": "files",
    "release_after_enrolment": "consent",
    "release_ended": "leavers",
    "rounding_not_neutral": "settings",
    "rules_assumed": "settings",
    "same_time": "ask_day",
    "signature_undone": "signoff",
    "site_without_rules": "settings",
    "supervisor_mismatch": "reader_steps",
    "supervisors_unproved": "reader_steps",
    "travel_unpaid": "ask_day",
    "unattributed_punches": "give_punches",
    "unknown_enrolment": "reader_steps",
    "working_time": "ask_day",
    "wrong_number": "reader_steps",
    "zone_changed": "files",
}
"""Where the next step of a kind of finding is done; the others are looked at."""


@dataclass(frozen=True)
class CaseTold:
    """What is told of a case."""

    title: str
    story: tuple[str, str]
    steps: Sequence[CaseStep]


def of_code(findings: Sequence[Finding], *codes: str) -> list[Finding]:
    """Return the findings of some checks, in their order."""
    return [one for one in findings if one.code in codes]


def sentence(text: str) -> str:
    """Return a text that begins with a capital and ends with a full stop."""
    return told("{says:sentence}", says=text)


def following(one: Finding) -> CaseStep:
    """Return the step that a finding itself tells."""
    return CaseStep(
        PLACES_OF_STEPS.get(one.code, "look"),
        one.next_step,
        person=one.person,
        reader=one.reader,
        number=one.number,
        day=one.day if one.code in ("missing_punch", "no_punches", "long_span", "same_time", "travel_unpaid") else None,
    )


def on_rounds(facts: Facts, which: pl.Expr) -> list[dict[str, Any]]:
    """Return the items of rounds (STATES) that are meant, round by round."""
    return facts.on_rounds.filter(which).sort("round", "position").to_dicts()


def waiting_on_round(step: CaseStep, item: Mapping[str, Any]) -> CaseStep:
    """Return a step that an item of a round (STATES) has still to do, and that waits for it."""
    on = item["round"]
    return replace(
        step,
        says=told("{says} It is on round {on}.", says=step.says, on=on),
        state="waits",
        waits_for=told("round {on} at {reader}", on=on, reader=item["reader"]),
        round=on,
    )


def alone(check: Check, findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Return what is told of findings that nothing else explains: what the first says, and its first evidence."""
    first, others = findings[0], len(findings) - 1
    beside = first.evidence[0] if first.evidence else check.why
    story = sentence(beside)
    if others:
        story = told("{says} {others:# more finding|# more findings} of the same cause.", says=story, others=others)
    steps = list({step.says: step for step in map(following, findings)}.values())
    return CaseTold(check.title, (sentence(first.says), story), steps)


def asked_of_days(findings: Sequence[Finding]) -> list[CaseStep]:
    """Return a step for each day of somebody's that is to be asked about."""
    return [following(one) for one in findings]


def names_of(facts: Facts, people: Sequence[str]) -> str:
    """Return the people's names in a row."""
    return told("{names:listed 3}", names=[call(facts, person) for person in people])
