"""Readers and hands that changed, clocks that are off, and readers short of supervisors."""

from __future__ import annotations

from collections.abc import Sequence

from evenhand.checks.cases.telling import CaseTold, asked_of_days, following, of_code, sentence
from evenhand.checks.facts import Facts
from evenhand.terms.cases import CaseStep
from evenhand.terms.languages import told
from evenhand.terms.records import Finding

__all__ = ["clock", "hand", "reader", "supervisors"]

ABSENCES = ("missing_punch", "no_punches", "long_span")


def _once(steps: Sequence[CaseStep]) -> list[CaseStep]:
    return list({step.says: step for step in steps}.values())


def reader(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of a reader that refuses hands it used to accept: the platen first, hands only afterwards."""
    own = of_code(findings, "reader_changed", "refusal_burst", "reader_scores_high")
    own += [one for one in of_code(findings, "many_refusals") if one.number is None]
    hands = [one for one in findings if one not in own and one.code not in ABSENCES]
    absences = of_code(findings, *ABSENCES)
    follow = [
        *([told("{count:# hand|# hands} refused or scored high there", count=len(hands))] if hands else ()),
        *([told("{count:# punch|# punches} missing after a refusal there", count=len(absences))] if absences else ()),
    ]
    beside = told("{says:listed}", says=follow) if follow else own[0].evidence[0]
    steps = _once([following(one) for one in own])
    if hands:
        says = told("Look at the hands again a few days after the platen was cleaned; enrol nobody again before.")
        steps.append(CaseStep("hands", says, "waits", told("the punches after the cleaning")))
    return CaseTold(
        told("A reader has changed"), (sentence(own[0].says), sentence(beside)), [*steps, *asked_of_days(absences)]
    )


def hand(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of one hand that is refused or scores otherwise than it used to."""
    own = [one for one in findings if one.code not in ABSENCES]
    absences = of_code(findings, *ABSENCES)
    beside = own[1].says if len(own) > 1 else own[0].evidence[0]
    if absences:
        beside = told(
            "{says:before}; {count:# day|# days} of theirs with a punch missing after a refusal",
            says=beside,
            count=len(absences),
        )
    as_before = all(one.details.get("is_as_before") for one in own)
    is_unknown = all(one.code == "many_refusals" and not one.details.get("has_changed") for one in own)
    title = told("A hand is often refused") if is_unknown else told("A hand is not recognised as it was")
    return CaseTold(
        told("A hand is often refused, as before") if as_before else title,
        (sentence(own[0].says), sentence(beside)),
        [*_once([following(one) for one in own]), *asked_of_days(absences)],
    )


def clock(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of a reader whose clock, or the zone it is said to run in, is wrong."""
    first = findings[0]
    beside = findings[1].says if len(findings) > 1 else first.evidence[0]
    return CaseTold(
        told("A clock is off"), (sentence(first.says), sentence(beside)), _once([following(one) for one in findings])
    )


def supervisors(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of a reader at which too few can enrol others."""
    first = findings[0]
    beside = findings[1].says if len(findings) > 1 else first.evidence[0]
    steps = _once([following(one) for one in findings])
    return CaseTold(told("Too few supervisors"), (sentence(first.says), sentence(beside)), steps)
