"""What came first: the release or the hand.

Source: 740 ILCS 14/15(b): no private entity may collect a biometric identifier "unless it first" informs in writing and
receives a written release.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from evenhand.records.consent.history import last_words
from evenhand.terms.columns import Frame
from evenhand.terms.consent import EARLY_ENROLMENTS

__all__ = ["early_enrolments", "precedes"]

Moment = tuple[date, int | None]
"""A civil day and, where it is known, the instant."""


def precedes(release: Moment, enrolment: Moment) -> bool | None:
    """Whether a release came before an enrolment; None where only the same day is known of one of them."""
    if release[1] is not None and enrolment[1] is not None:
        return release[1] < enrolment[1]
    return None if release[0] == enrolment[0] else release[0] < enrolment[0]


def early_enrolments(history: Frame, enrolled: Frame) -> Frame:
    """Return the rows of `enrolled` (ENROLLED_AT) at which no release stood, and one came after (EARLY_ENROLMENTS).

    Whoever has never agreed is not among them: their release is missing altogether. Where the same day is all that
    is known, the release is taken to have come first, as it must.
    """
    said = last_words(history)
    rows = []
    for hand in enrolled.iter_rows(named=True):
        after = _release_after(said.get(hand["person"], ()), (hand["day"], hand["at"]))
        if after is not None:
            rows.append({**hand, "released_on": after})
    return EARLY_ENROLMENTS.rows(rows)


def _release_after(rows: Sequence[Mapping[str, Any]], hand: Moment) -> date | None:
    """Return the day of the first release after the hand, where none stood then; None where one did or none came."""
    stood = False
    for row in rows:
        is_before = precedes((row["said_on"], row["said_at"]), hand)
        if is_before is not False and not (is_before is None and row["action"] != "agree"):
            stood = row["action"] == "agree"
        elif row["action"] == "agree" and not stood:
            day: date = row["said_on"]
            return day
    return None
