"""Read what a form says of hours of pay owed beside the time worked, and say what came of it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal, InvalidOperation

from evenhand.jobs.premiums import PremiumDecided, PremiumRequest
from evenhand.web.forms import IncompleteForm, answer

__all__ = ["read", "said"]


def read(answers: Mapping[str, str], person: str, day: date) -> PremiumRequest:
    """Return the decision that a form asks for; raises IncompleteForm where it is not whole."""
    written = answers.get("hours", "").strip()
    action = answer(answers, "action", "say whether the hours are struck, owed, or as the record has them")
    try:
        hours = Decimal(written) if written and action == "owe" else None
    except InvalidOperation as fault:
        raise IncompleteForm(f'"{written}" is no number of hours; write it as 1 or 1.5.') from fault
    return PremiumRequest(
        action,
        person,
        day,
        answer(answers, "kind", "say what the hours are owed for"),
        answer(answers, "author", "say who decides"),
        answer(answers, "reason", "say why"),
        hours,
    )


def said(made: PremiumDecided, author: str) -> str:
    """Return one sentence on a decision that was made."""
    seen = made.foreseen
    kind, now, before = seen.kind.replace("_", " "), seen.hours_after.normalize(), seen.hours_before.normalize()
    return f"Decision {made.number} made by {author}: {now:f} h owed for {kind}, {before:f} h before."
