"""What one setting, one file or one version of the policy leaves open for many."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from evenhand.checks.cases.telling import CaseTold, following, names_of, of_code, sentence
from evenhand.checks.facts import Facts
from evenhand.terms.cases import CaseStep
from evenhand.terms.records import Finding
from evenhand.terms.words import as_day, as_duration, as_span_of_days, counted

__all__ = ["closed", "consent_due", "rates", "rounding"]


def rates(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of a rate that is missing for many: one file, or one line of the settings, answers all."""
    people = [one.person for one in findings if one.person]
    lacks = findings[0].details["lacks"][0]
    minutes = sum(one.stake.minutes for one in findings)
    who = counted(len(people), "person", "people")
    if lacks.startswith("differential/"):
        name = lacks.removeprefix("differential/")
        says = f'The differential "{name}" has no rate in the settings, so the pay of {who} is not known'
        step = CaseStep("settings", f'Give the differential "{name}" a rate in the settings.')
    else:
        says = f"No one rate of pay holds for {who} on days they worked"
        period = as_span_of_days(facts.period.first, facts.period.last)
        step = CaseStep("files", f"Take a file of rates that covers {period}, or add the rates to the roster.")
    beside = (
        f"{names_of(facts, people)}; {as_duration(60 * minutes)} of work wait for it"
        if minutes
        else names_of(facts, people)
    )
    return CaseTold("A rate is missing", (sentence(says), sentence(beside)), [step])


def rounding(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of a site's rounding that does not average out, with the people for whom it does not either."""
    first = min(findings, key=lambda one: one.person is not None)
    people = [one.person for one in findings if one.person]
    beside = (
        f"Nor does it for {names_of(facts, people)}, each by themselves"
        if people and first.person is None
        else first.evidence[0]
    )
    return CaseTold("Rounding does not average out", (sentence(first.says), sentence(beside)), [following(first)])


def consent_due(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell who is still to agree to a new version of the policy."""
    first = findings[0]
    if not first.details["due_by"]:  # a release for another policy, or of an earlier employment
        return CaseTold(
            "A release no longer counts", (sentence(first.says), sentence(first.evidence[0])), [following(first)]
        )
    people = {person for one in findings for person in one.details["people"]}
    by, late = date.fromisoformat(findings[0].details["due_by"]), findings[0].details["is_late"]
    who = counted(len(people), "person", "people")
    says = f"{who} {'were' if late else 'are'} to agree to the new version of the policy by {as_day(by)}"
    beside = (
        "Releases of the earlier version no longer count"
        if late
        else "Releases of the earlier version count until then"
    )
    return CaseTold("The new policy is to be agreed to", (sentence(says), sentence(beside)), [following(findings[0])])


def closed(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of a period that was handed off and has changed since, and of what was signed for it."""
    changed = of_code(findings, "closed_period_changed")
    if len(changed) == 1:
        says = changed[0].says
    else:
        first, last = (date.fromisoformat(changed[0].details[end]) for end in ("first", "last"))
        who = counted(len(changed), "person has", "people have")
        says = f"{who} changed since {as_span_of_days(first, last)} was handed off"
    signed = of_code(findings, "signature_undone")
    beside = (
        f"{counted(len(signed), 'signature')} under those hours no longer {'stands' if len(signed) == 1 else 'stand'}"
        if signed
        else changed[0].evidence[0]
    )
    steps = [following(changed[0]), *(following(one) for one in signed)]
    return CaseTold(
        "A period handed off has changed", (sentence(says), sentence(beside)), list({s.says: s for s in steps}.values())
    )
