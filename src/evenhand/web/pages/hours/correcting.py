"""Read what a correction asks for, and say what it would do."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from evenhand.jobs.correct import CorrectionPreview, CorrectionRequest
from evenhand.jobs.history import DayDecision
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.suggestion_answers import waiting_suggestion
from evenhand.jobs.suggestions import SuggestionListed
from evenhand.terms.correction_rules import CORRECTION_RULES, kept_under
from evenhand.terms.languages import Sentence, clock_told, said_of, sentence, told
from evenhand.terms.open_punches import WAYS_IN_WORDS
from evenhand.terms.records import Refusal
from evenhand.terms.said import decision_in_words
from evenhand.terms.wall_clock import instant_shown, read_time
from evenhand.web.effects import PeriodShown, by_standing
from evenhand.web.forms import IncompleteForm, answer

__all__ = [
    "RULES",
    "CorrectionPreview",
    "Preview",
    "last_seen",
    "paid_after",
    "paid_before",
    "preview",
    "read",
    "suggestion_of",
]

RULE_TITLES = {
    "sleep": sentence("sleep within a tour of 24 hours or more, 29 CFR 785.22"),
    "interrupted_meal": sentence("a meal interrupted by work, 29 CFR 785.19"),
}
NO_WAY = sentence('a punch goes in or out, not "{way}"; nothing was changed.')
NO_CORRECTION = sentence('"{written}" is no correction\'s number; nothing was changed.')
ASK_TIME = sentence("give the time of the punch")
RULES = {
    action: [(name, RULE_TITLES[name]) for name, (actions, _) in CORRECTION_RULES.items() if action in actions]
    for action in ("add", "leave_out", "change")
}
"""What each kind of correction may rest on: the rule's name and what the form calls it."""


@dataclass(frozen=True)
class Preview:
    """What a decision would do: in periods still open, in those handed off already, and what does not fit.

    `kept` is what is kept with the reason: the rule that a correction rests on, with what it asks for.
    """

    person: Mapping[str, Any]
    says: str
    day: date
    still_open: Sequence[PeriodShown]
    handed_off: Sequence[PeriodShown]
    warnings: Sequence[str]
    kept: str = ""
    undoes: Sequence[str] = ()


def read(answers: Mapping[str, str], person: str, zone: str, author: str, reason: str) -> CorrectionRequest:
    """Return the correction that a form asks for; raises IncompleteForm where it is not whole."""
    action, rule = answer(answers, "action", sentence("say what is to be corrected")), answers.get("rule", "")
    if action in ("withdraw", "change"):
        return replace(_of_earlier(answers, action, person, zone, author, reason), rule=rule)
    if action == "add":
        way = answers.get("direction", "")
        if way not in ("", "in", "out"):
            raise IncompleteForm(told(NO_WAY, way=way))
        at = _instant(answers, zone)
        return CorrectionRequest(action, person, author, reason, at=at, direction=way or None, rule=rule)
    if action not in ("leave_out", "direct"):
        raise IncompleteForm(told('"{action}" is no correction; nothing was changed.', action=action))
    written = answer(answers, "punch", sentence("choose the punch that is meant"))
    if not re.fullmatch("-?[0-9]{1,18}", written):  # no more than the store's numbers have
        raise IncompleteForm(told('"{written}" is no punch; nothing was changed.', written=written))
    way = answer(answers, "direction", sentence("say which way the punch went")) if action == "direct" else ""
    if way not in ("", "in", "out"):
        raise IncompleteForm(told(NO_WAY, way=way))
    return CorrectionRequest(action, person, author, reason, punch=int(written), direction=way or None, rule=rule)


def suggestion_of(answers: Mapping[str, str], reckoning: Reckoning, person: str) -> SuggestionListed | None:
    """Return which suggestion a correction is made of, if any; raises Refusal where that one does not wait."""
    written = answers.get("suggestion", "")
    if not written:
        return None
    if not re.fullmatch("[0-9]{1,18}", written):
        raise IncompleteForm(told('"{written}" is no suggestion\'s number; nothing was changed.', written=written))
    said = waiting_suggestion(reckoning.snapshot, int(written))
    if said.person != person:
        raise IncompleteForm(
            told("suggestion {number} is about {name}; nothing was changed.", number=written, name=said.name)
        )
    return said


def _of_earlier(
    answers: Mapping[str, str], action: str, person: str, zone: str, author: str, reason: str
) -> CorrectionRequest:
    """Return what is asked of a correction that was made before."""
    written = answer(answers, "correction", sentence("choose the correction that is meant"))
    if not re.fullmatch("[0-9]{1,18}", written):
        raise IncompleteForm(told(NO_CORRECTION, written=written))
    asked = CorrectionRequest(action, person, author, reason, correction=int(written))
    if action == "withdraw":
        return asked
    way = answers.get("direction", "")
    if way not in ("", "in", "out"):
        raise IncompleteForm(told(NO_WAY, way=way))
    at = _instant(answers, zone) if answers.get("at") else None
    return replace(asked, at=at, direction=way or None, to=answers.get("to", "").strip() or None)


def last_seen(answers: Mapping[str, str]) -> int | None:
    """Return the last correction that the form's page knew of; None where the form does not say."""
    written = answers.get("last_seen")
    if written is None:
        return None
    if not re.fullmatch("[0-9]{1,18}", written):
        raise IncompleteForm(told(NO_CORRECTION, written=written))
    return int(written)


def _instant(answers: Mapping[str, str], zone: str) -> datetime:
    on, at = answer(answers, "on", sentence("give the day of the punch")), answer(answers, "at", ASK_TIME)
    try:
        civil = datetime.combine(date.fromisoformat(on), read_time(at))
        return instant_shown(zone, civil, answers.get("which", ""), ask=sentence("say which of the two is meant"))
    except ValueError as fault:
        raise IncompleteForm(told('"{written}" is no day; write it as 2026-03-04.', written=on)) from fault
    except Refusal as refusal:
        raise IncompleteForm(said_of(refusal)) from refusal


def paid_before(foreseen: CorrectionPreview) -> int:
    """Return the paid seconds before."""
    return foreseen.ordinary_before_s + foreseen.overtime_before_s + foreseen.double_before_s


def paid_after(foreseen: CorrectionPreview) -> int:
    """Return the paid seconds after."""
    return foreseen.ordinary_after_s + foreseen.overtime_after_s + foreseen.double_after_s


def preview(foreseen: CorrectionPreview, zone: str, history: Sequence[DayDecision] = ()) -> Preview:
    """Return what the confirming page shows; `history` words the correction that is taken back or changed."""
    still_open, handed_off = by_standing(foreseen.changes)
    return Preview(
        person=foreseen.person,
        says=_says(foreseen, zone, history),
        day=foreseen.day,
        still_open=still_open,
        handed_off=handed_off,
        warnings=foreseen.warnings,
        kept=kept_under(foreseen.asked.rule),
        undoes=foreseen.undoes,
    )


def _says(foreseen: CorrectionPreview, zone: str, history: Sequence[DayDecision]) -> Sentence:
    asked, at = foreseen.asked, clock_told(foreseen.at, zone)
    way = told(WAYS_IN_WORDS[asked.direction]) if asked.direction else told("way not said")
    match asked.action:
        case "add":
            return told("Add a punch at {at}, {way}", at=at, way=way)
        case "leave_out":
            return told("Leave out the punch at {at}", at=at)
        case "direct":
            return told("Say that the punch at {at} goes {way}", at=at, way=way)
    earlier = next((one for one in history if one.correction == asked.correction), None)
    meant = told("correction {number}", number=asked.correction)
    if earlier:
        made = decision_in_words(earlier.action, earlier.direction, earlier.name, earlier.withdraws)
        meant = told("{what} ({words})", what=meant, words=made)
    if asked.action == "withdraw":
        return told("Take back {meant}, about the punch at {at}", meant=meant, at=at)
    if asked.to:
        return told("Change {meant}: give the punch to {name}", meant=meant, name=asked.to)
    if asked.at:
        return (
            told("Change {meant}: a punch at {at}, {way}", meant=meant, at=at, way=way)
            if asked.direction
            else told("Change {meant}: a punch at {at}", meant=meant, at=at)
        )
    return told("Change {meant}: go {way}", meant=meant, way=way)
