"""Rules that a correction of hours may rest on; what is kept with its reason is what the rule asks for.

The record cannot show whether somebody slept, or was called away from a meal. Somebody says so, and stands for it.
"""

from __future__ import annotations

from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal

__all__ = ["CORRECTION_RULES", "kept_under", "reason_told", "reason_under", "rule_of"]

CORRECTION_RULES = {
    "sleep": (
        ("add", "change"),
        sentence(
            "sleep left out under 29 CFR 785.22: a tour of 24 hours or more, an agreement, a place to sleep, 8 hours "
            "at most, 5 or more of them slept without a call"
        ),
    ),
    "interrupted_meal": (
        ("leave_out", "add", "change"),
        sentence("a meal that was interrupted by work is work: 29 CFR 785.19"),
    ),
}
"""By name: the actions of corrections that can rest on it, and what is kept with the reason."""

WAYS = {
    "sleep": sentence(
        "a correction for sleep cannot be of this kind: add an out where it begins and an in where it ends."
    ),
    "interrupted_meal": sentence(
        "a correction for interrupted meal cannot be of this kind: leave out the punches of the meal, or add one "
        "within a meal that is deducted."
    ),
}


def reason_under(rule: str, action: str, reason: str) -> str:
    """Return the reason with the rule that the correction rests on, '' for none; raises Refusal for one that cannot."""
    if not rule:
        return reason
    actions, says = CORRECTION_RULES.get(rule, ((), ""))
    if not actions:
        raise Refusal(
            told(
                '"{rule}" is no rule that a correction may rest on; use one of {rules}.',
                rule=rule,
                rules=", ".join(CORRECTION_RULES),
            )
        )
    if action not in actions:
        raise Refusal(told(WAYS[rule]))
    return f"{reason} ({says})"


def kept_under(rule: str) -> str:
    """Return what is kept with the reason of a correction that rests on the rule; '' for none."""
    return CORRECTION_RULES[rule][1] if rule else ""


def rule_of(reason: str) -> str | None:
    """Return the name of the rule that a kept reason rests on, if any."""
    return next((name for name, (_, says) in CORRECTION_RULES.items() if reason.endswith(f"({says})")), None)


def reason_told(reason: str) -> str:
    """Return a kept reason so that the rule it rests on, if any, is told in its reader's language."""
    rule = rule_of(reason)
    if rule is None:
        return reason
    says = kept_under(rule)
    return told("{what} ({words})", what=reason.removesuffix(f" ({says})"), words=told(says))
