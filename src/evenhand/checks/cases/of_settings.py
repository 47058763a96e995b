"""What one setting, one file or one version of the policy leaves open for many."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from evenhand.checks.cases.telling import CaseTold, following, names_of, of_code, sentence
from evenhand.checks.facts import Facts
from evenhand.terms.cases import CaseStep
from evenhand.terms.languages import DaySpan, told
from evenhand.terms.records import Finding

__all__ = ["closed", "consent_due", "rates", "rounding"]


def rates(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of a rate that is missing for many: one file, or one line of the settings, answers all."""
    people = [one.person for one in findings if one.person]
    lacks = findings[0].details["lacks"][0]
    minutes = sum(one.stake.minutes for one in findings)
    who = told("{count:# person|# people}", count=len(people))
    if lacks.startswith("differential/"):
        name = lacks.removeprefix("differential/")
        says = told(
            'The differential "{name}" has no rate in the settings, so the pay of {who} is not known',
            name=name,
            who=who,
        )
        step = CaseStep("settings", told('Give the differential "{name}" a rate in the settings.', name=name))
    else:
        says = told("No one rate of pay holds for {who} on days they worked", who=who)
        period = told("{days}", days=DaySpan(facts.period.first, facts.period.last))
        step = CaseStep(
            "files", told("Take a file of rates that covers {period}, or add the rates to the roster.", period=period)
        )
    beside = (
        told(
            "{names_of}; {minutes:duration} of work wait for it", names_of=names_of(facts, people), minutes=60 * minutes
        )
        if minutes
        else names_of(facts, people)
    )
    return CaseTold(told("A rate is missing"), (sentence(says), sentence(beside)), [step])


def rounding(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of a site's rounding that does not average out, with the people for whom it does not either."""
    first = min(findings, key=lambda one: one.person is not None)
    people = [one.person for one in findings if one.person]
    beside = (
        told("Nor does it for {names_of}, each by themselves", names_of=names_of(facts, people))
        if people and first.person is None
        else first.evidence[0]
    )
    return CaseTold(told("Rounding does not average out"), (sentence(first.says), sentence(beside)), [following(first)])


def consent_due(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell who is still to agree to a new version of the policy."""
    first = findings[0]
    if not first.details["due_by"]:  # a release for another policy, or of an earlier employment
        return CaseTold(
            told("A release no longer counts"), (sentence(first.says), sentence(first.evidence[0])), [following(first)]
        )
    people = {person for one in findings for person in one.details["people"]}
    by, late = date.fromisoformat(findings[0].details["due_by"]), findings[0].details["is_late"]
    who = told("{count:# person|# people}", count=len(people))
    says = (
        told("{who} were to agree to the new version of the policy by {by}", who=who, by=by)
        if late
        else told("{who} are to agree to the new version of the policy by {by}", who=who, by=by)
    )
    beside = (
        told("Releases of the earlier version no longer count")
        if late
        else told("Releases of the earlier version count until then")
    )
    return CaseTold(
        told("The new policy is to be agreed to"), (sentence(says), sentence(beside)), [following(findings[0])]
    )


def closed(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of a period that was handed off and has changed since, and of what was signed for it."""
    changed = of_code(findings, "closed_period_changed")
    if len(changed) == 1:
        says = changed[0].says
    else:
        first, last = (date.fromisoformat(changed[0].details[end]) for end in ("first", "last"))
        who = told("{count:# person has|# people have}", count=len(changed))
        says = told("{who} changed since {days} was handed off", who=who, days=DaySpan(first, last))
    signed = of_code(findings, "signature_undone")
    beside = (
        told("{count:# signature|# signatures} under those hours no longer {count:stands|stand}", count=len(signed))
        if signed
        else changed[0].evidence[0]
    )
    steps = [following(changed[0]), *(following(one) for one in signed)]
    return CaseTold(
        told("A period handed off has changed"),
        (sentence(says), sentence(beside)),
        list({s.says: s for s in steps}.values()),
    )
