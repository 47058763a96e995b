"""Read what a form says of hours of pay owed beside the time worked, and say what it would do and what came of it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from decimal import Decimal, InvalidOperation

from evenhand.jobs.premiums import PremiumDecided, PremiumPreview, PremiumRequest
from evenhand.terms.languages import Sentence, sentence, told
from evenhand.terms.said import premium_in_words
from evenhand.web.effects import by_standing
from evenhand.web.forms import IncompleteForm, answer
from evenhand.web.pages.hours.correcting import Preview

__all__ = ["last_seen", "preview", "read", "said"]

ASK_WHETHER = sentence("say whether the hours are struck, owed, or as the record has them")


def read(answers: Mapping[str, str], person: str, day: date, author: str, reason: str) -> PremiumRequest:
    """Return the decision that a form asks for; raises IncompleteForm where it is not whole."""
    written = answers.get("hours", "").strip()
    action = answer(answers, "action", ASK_WHETHER)
    try:
        hours = Decimal(written) if written and action == "owe" else None
    except InvalidOperation as fault:
        raise IncompleteForm(
            told('"{written}" is no number of hours; write it as 1 or 1.5.', written=written)
        ) from fault
    kind = answer(answers, "kind", sentence("say what the hours are owed for"))
    return PremiumRequest(action, person, day, kind, author, reason, hours)


def last_seen(answers: Mapping[str, str]) -> tuple[int, int]:
    """Return the last decision and the last correction that the form's page knew of."""
    written = answer(answers, "last_seen", sentence("look at what it does first"))
    if not re.fullmatch("[0-9]{1,18}-[0-9]{1,18}", written):
        raise IncompleteForm(told('"{written}" says nothing of what was seen; open the day again.', written=written))
    decision, correction = written.split("-")
    return int(decision), int(correction)


def preview(foreseen: PremiumPreview, person: Mapping[str, object], hours: Decimal | None) -> Preview:
    """Return what the confirming page shows of a decision about hours owed."""
    kind = premium_in_words(foreseen.kind)
    says = {
        "strike": told("Strike the hours owed for {kind}", kind=kind),
        "owe": told("Enter {hours} h owed for {kind}", hours=str(hours), kind=kind),
        "presume": told("Owe for {kind} what the record presumes", kind=kind),
    }[foreseen.action]
    still_open, handed_off = by_standing(foreseen.changes)
    return Preview(
        person=person,
        says=says,
        day=foreseen.workday,
        still_open=still_open,
        handed_off=handed_off,
        warnings=(),
        undoes=foreseen.undoes,
    )


def said(made: PremiumDecided, author: str) -> Sentence:
    """Return one sentence on a decision that was made."""
    seen = made.foreseen
    return told(
        "Decision {number} made by {author}: {now:f} h owed for {kind}, {before:f} h before.",
        number=made.number,
        author=author,
        now=seen.hours_after.normalize(),
        kind=premium_in_words(seen.kind),
        before=seen.hours_before.normalize(),
    )
