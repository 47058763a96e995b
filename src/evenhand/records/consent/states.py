"""How each person stands at an instant: a pure function of what was said until then and of the policies in force."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from evenhand.records.consent.history import last_words
from evenhand.terms.columns import Frame
from evenhand.terms.consent import CONSENT_STATES

__all__ = ["Version", "in_force", "states_of"]

SAID = {"refuse": "refused", "withdraw": "withdrawn", "other_way": "other_way"}


@dataclass(frozen=True)
class Version:
    """A policy version as it bears on releases: its number, its first day, and how long earlier releases count."""

    policy: int
    in_force_from: date
    renew_by: date | None = None

    @property
    def place(self) -> tuple[date, int]:
        """Return what orders versions: the day from which, then the number."""
        return self.in_force_from, self.policy


def in_force(versions: Sequence[Version], on: date) -> Version | None:
    """Return the version in force on a day: the last that began, and of two that began together the later added."""
    return max((one for one in versions if one.in_force_from <= on), key=lambda one: one.place, default=None)


def states_of(
    people: Frame,
    history: Frame,
    versions: Mapping[str | None, Sequence[Version]],
    required: Mapping[str | None, bool],
    ended: Mapping[str, date] | None = None,
    *,
    on: date,
    at: int | None = None,
) -> Frame:
    """Return how everybody of `people` (PEOPLE) stands on a civil day, or at an instant of it (CONSENT_STATES).

    `history` is CONSENT_HISTORY; `versions` and `required` are by site, None for people without one. The last word
    counts. A release counts for the version it was given for and for earlier ones; for a later one it counts until the
    day that version names, on that day still, and without such a day it goes on counting. A release whose version is
    not known is earlier than all; one for the policy of another site does not count. Without any policy a signed
    form counts as it is.

    A release given before an earlier employment `ended` counts no longer once its person came back: the purpose and the
    length of term that it was given for were over then, and a hand is collected anew only after notice and a release
    (740 ILCS 14/15(a), (b)(2), (b)(3), read: "initial purpose ... satisfied", "unless it first ... receives").
    """
    said = last_words(history)
    rows = []
    for person, site in people.select("person", "site").iter_rows():
        last = _last(said.get(person, ()), on, at)
        stands = _stands(last, versions.get(site, ()), on, (ended or {}).get(person))
        rows.append({"person": person, "site": site, "is_required": required.get(site, True), **stands})
    return CONSENT_STATES.rows(rows)


def _last(rows: Sequence[Mapping[str, Any]], on: date, at: int | None) -> Mapping[str, Any] | None:
    until = [
        row
        for row in rows
        if row["said_on"] <= on and not (at is not None and row["said_at"] is not None and row["said_at"] > at)
    ]
    return until[-1] if until else None


def _stands(
    last: Mapping[str, Any] | None, versions: Sequence[Version], on: date, ended: date | None
) -> dict[str, Any]:
    asked = in_force(versions, on)
    stands: dict[str, Any] = {"kind": "nothing", "asked": asked.policy if asked else None}
    if last is None:
        return stands
    stands |= {name: last[name] for name in ("said_on", "said_at", "policy", "other_way")}
    if last["action"] != "agree":
        return stands | {"kind": SAID[last["action"]]}
    if ended is not None and last["said_on"] <= ended < on:
        return stands | {"kind": "lapsed", "ended_on": ended}
    if asked is None:
        return stands | {"kind": "agreed"}
    given = next((one for one in versions if one.policy == last["policy"]), None)
    if given is None and last["policy"] is not None:
        return stands | {"kind": "lapsed"}
    since = [one for one in versions if (given is None or one.place > given.place) and one.place <= asked.place]
    due_by = min((one.renew_by for one in since if one.renew_by is not None), default=None)
    if due_by is None:
        return stands | {"kind": "agreed"}
    return stands | {"kind": "due" if on <= due_by else "lapsed", "due_by": due_by}
