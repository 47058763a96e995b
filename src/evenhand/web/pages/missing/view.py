"""What Missing punches shows: open days by whoever is asked of them, and what was said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from urllib.parse import urlencode
from zoneinfo import ZoneInfo

from evenhand.jobs.missing import OpenDay, open_days, supervisors_asked
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.suggestion_answers import request_of
from evenhand.jobs.suggestions import SuggestionListed, list_suggestions
from evenhand.terms.languages import said_of
from evenhand.terms.records import Refusal
from evenhand.terms.words import called
from evenhand.web.addresses import in_path
from evenhand.web.listing import Listed, ListQuery, list_rows

__all__ = ["MissingView", "SuggestionShown", "missing_view"]


@dataclass(frozen=True)
class SuggestionShown:
    """A suggestion that waits, with the address that shows what its correction changes; '' where words are all it is.

    `stale` says why no correction can be made of it any longer.
    """

    said: SuggestionListed
    preview: str
    stale: str


@dataclass(frozen=True)
class MissingView:
    """Open days of a period, of all or of the people of the one who is `asked`; who is asked of how many."""

    first: date
    last: date
    before: date
    after: date | None
    days: Sequence[OpenDay]
    listed: Listed[OpenDay]
    every: int
    asked: str
    asked_name: str
    supervisors: Sequence[tuple[str, str, int]]
    nobody: int
    suggestions: Sequence[SuggestionShown]
    decided: Sequence[SuggestionListed]

    @property
    def minutes(self) -> int:
        """Return how many minutes of pay are in doubt."""
        return sum(one.minutes for one in self.days)


def missing_view(reckoning: Reckoning, day: date | None, supervisor: str, page: int = 1) -> MissingView:
    """Return the open days of the period that holds `day`; of the people whom `supervisor` is asked about, where named.

    Raises Unknown where nobody answers to that name.
    """
    of, period = reckoning.snapshot, reckoning.period(day)
    who = str(of.find_person(supervisor)["person"]) if supervisor else ""
    every = open_days(reckoning, day)
    last_closed = reckoning.period().first
    days = open_days(reckoning, day, who) if who else every
    kept = (("period", period.first.isoformat()), *((("supervisor", who),) if who else ()))
    said = list_suggestions(of, with_answered=True)
    asked = ListQuery("/missing", page=page, kept=kept)
    return MissingView(
        first=period.first,
        last=period.last,
        before=period.first - timedelta(days=1),
        after=period.last + timedelta(days=1) if period.first < last_closed else None,
        days=days,
        listed=list_rows(days, asked, {"as_asked": lambda _: 0}, lambda one: one.name, "as_asked"),
        every=len(every),
        asked=who,
        asked_name=of.names.get(who, who),
        supervisors=[(one, called(of.names.get(one), one), many) for one, many in supervisors_asked(every).items()],
        nobody=sum(not one.supervisors for one in every),
        suggestions=[_shown(reckoning, one, "/missing?" + urlencode(kept)) for one in said if one.is_open],
        decided=[one for one in said if not one.is_open],
    )


def _shown(reckoning: Reckoning, one: SuggestionListed, back: str) -> SuggestionShown:
    if one.action == "look":
        return SuggestionShown(one, "", "")
    try:
        asked = request_of(reckoning, one, "", "")
    except Refusal as refusal:
        return SuggestionShown(one, "", said_of(refusal))
    given: dict[str, str | int] = {
        "action": asked.action,
        "direction": asked.direction or "",
        "suggestion": one.suggestion,
        "back": back,
    }
    if asked.at is None:
        given["punch"] = asked.punch or 0
    else:
        at = asked.at.astimezone(ZoneInfo(one.zone))
        given |= {"on": at.date().isoformat(), "at": f"{at:%H:%M:%S}", "which": "second" if at.fold else "first"}
    return SuggestionShown(one, f"/hours/{in_path(one.person)}/{one.day}/correct?{urlencode(given)}", "")
