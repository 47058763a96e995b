"""Read what a correction asks for, and say what it would do."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from decimal import Decimal
from typing import Any

from evenhand.jobs.correct import CorrectionPreview, CorrectionRequest
from evenhand.terms.words import as_clock, as_short_day
from evenhand.terms.zones import check_reckoned, instants_at
from evenhand.web.forms import IncompleteForm, answer

__all__ = ["CorrectionPreview", "Preview", "last_seen", "paid_after", "paid_before", "preview", "read"]


@dataclass(frozen=True)
class Preview:
    """What a correction would do: (what, before, after) in seconds, and the open questions before and after."""

    person: Mapping[str, Any]
    says: str
    rows: Sequence[tuple[str, int, int]]
    most_s: int
    questions_before: int
    questions_after: int
    pay_before: Decimal | None
    pay_after: Decimal | None


def read(answers: Mapping[str, str], person: str, zone: str, author: str, reason: str) -> CorrectionRequest:
    """Return the correction that a form asks for; raises IncompleteForm where it is not whole."""
    action = answer(answers, "action", "say what is to be corrected")
    if action == "add":
        way = answers.get("direction", "")
        if way not in ("", "in", "out"):
            raise IncompleteForm(f'a punch goes in or out, not "{way}"; nothing was changed.')
        return CorrectionRequest(action, person, author, reason, at=_instant(answers, zone), direction=way or None)
    if action not in ("leave_out", "direct"):
        raise IncompleteForm(f'"{action}" is no correction; nothing was changed.')
    written = answer(answers, "punch", "choose the punch that is meant")
    if not re.fullmatch("-?[0-9]{1,18}", written):  # no more than the store's numbers have
        raise IncompleteForm(f'"{written}" is no punch; nothing was changed.')
    way = answer(answers, "direction", "say which way the punch went") if action == "direct" else ""
    if way not in ("", "in", "out"):
        raise IncompleteForm(f'a punch goes in or out, not "{way}"; nothing was changed.')
    return CorrectionRequest(action, person, author, reason, punch=int(written), direction=way or None)


def last_seen(answers: Mapping[str, str]) -> int | None:
    """Return the last correction that the form's page knew of; None where the form does not say."""
    written = answers.get("last_seen")
    if written is None:
        return None
    if not re.fullmatch("[0-9]{1,18}", written):
        raise IncompleteForm(f'"{written}" is no correction\'s number; nothing was changed.')
    return int(written)


def _instant(answers: Mapping[str, str], zone: str) -> datetime:
    on, at = answer(answers, "on", "give the day of the punch"), answer(answers, "at", "give the time of the punch")
    try:
        day = date.fromisoformat(on)
        civil = datetime.combine(day, time.fromisoformat(at).replace(tzinfo=None))
    except ValueError as fault:
        raise IncompleteForm(f'"{on} {at}" is no time; write it as 2026-03-04 and 16:30.') from fault
    check_reckoned(day)
    instants, which = instants_at(zone, civil), answers.get("which", "")
    if not instants:
        raise IncompleteForm(f"clocks in {zone} skipped {at} on {as_short_day(civil)}; give a time that they showed.")
    if len(instants) > 1 and which not in ("first", "second"):
        raise IncompleteForm(
            f"clocks in {zone} showed {at} twice on {as_short_day(civil)}; say which of the two is meant."
        )
    return datetime.fromtimestamp(instants[-1] if which == "second" else instants[0], UTC)


def paid_before(foreseen: CorrectionPreview) -> int:
    """Return the paid seconds before."""
    return foreseen.ordinary_before_s + foreseen.overtime_before_s + foreseen.double_before_s


def paid_after(foreseen: CorrectionPreview) -> int:
    """Return the paid seconds after."""
    return foreseen.ordinary_after_s + foreseen.overtime_after_s + foreseen.double_after_s


def preview(foreseen: CorrectionPreview, zone: str) -> Preview:
    """Return what the confirming page shows."""
    asked, at = foreseen.asked, as_clock(foreseen.at, zone)
    says = {
        "add": f"Add a punch at {at}" + (f", {asked.direction}" if asked.direction else ", way not said"),
        "leave_out": f"Leave out the punch at {at}",
        "direct": f"Say that the punch at {at} goes {asked.direction}",
    }[asked.action]
    before, after = paid_before(foreseen), paid_after(foreseen)
    double, doubled = foreseen.double_before_s, foreseen.double_after_s
    return Preview(
        person=foreseen.person,
        says=f"{says}, {as_short_day(foreseen.day)}",
        rows=[
            ("Ordinary", foreseen.ordinary_before_s, foreseen.ordinary_after_s),
            ("Overtime", foreseen.overtime_before_s, foreseen.overtime_after_s),
            *([("Double", double, doubled)] if double or doubled else []),
            ("Paid", before, after),
        ],
        most_s=max(before, after),
        questions_before=foreseen.questions_before,
        questions_after=foreseen.questions_after,
        pay_before=foreseen.pay_before,
        pay_after=foreseen.pay_after,
    )
