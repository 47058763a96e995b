"""What a law of retention is: what starts its clock, how long that runs, and where it is written.

`checked` says how the text stands with us: "seen" was read when this was written, "memory" was not and is to be looked
up before anybody relies on it. No record here is advice; local codes, agreements and licensed counsel decide.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from evenhand.records.retention.lapses import Lapse
from evenhand.terms.languages import sentence, told

__all__ = ["EUROPEAN", "WORDS_OF_EVENTS", "Clock", "Event", "Law", "Term", "after_years"]

Clock = Literal["destroy", "keep"]
Event = Literal["purpose_ended", "last_interaction", "found_unnecessary", "last_entry", "employment_ended", "gone_on"]

WORDS_OF_EVENTS: dict[Event, str] = {
    "purpose_ended": sentence("the end of the purpose"),
    "last_interaction": sentence("the last interaction"),
    "found_unnecessary": sentence("the day it was found unnecessary"),
    "last_entry": sentence("the last entry"),
    "employment_ended": sentence("the last day of work"),
    "gone_on": sentence("the proof that the hand was gone"),
}
AFTER = {
    "years": sentence("{count:# year|# years} after {event:again}"),
    "months": sentence("{count:# month|# months} after {event:again}"),
    "days": sentence("{count:# day|# days} after {event:again}"),
    "calendar_years": sentence("{count:# calendar year|# calendar years} after the year of {event:again}"),
}
"""How long after an event, by the unit of a Lapse."""
ON_THE_END = sentence("on the end of the purpose")

# ISO 3166-1. The United Kingdom keeps the regulation as its own law ("UK GDPR", Data Protection Act 2018 s. 2, seen),
# its articles under the same numbers (from memory).
EUROPEAN = {
    *("EU", "GB", "AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU", "IE"),
    *("IS", "IT", "LI", "LT", "LU", "LV", "MT", "NL", "NO", "PL", "PT", "RO", "SE", "SI", "SK"),
}


@dataclass(frozen=True)
class Term:
    """One limb of a law: a day that a period after an event gives."""

    event: Event
    period: Lapse = Lapse()  # noqa: RUF009  (it is frozen)

    @property
    def words(self) -> str:
        """Return the limb in words, such as "3 years after the last interaction"."""
        event = told(WORDS_OF_EVENTS[self.event])
        for unit, pattern in AFTER.items():
            if count := getattr(self.period, unit):
                return told(pattern, count=count, event=event)
        return told(ON_THE_END) if self.event == "purpose_ended" else told("on {event}", event=event)


@dataclass(frozen=True)
class Law:
    """What a law says of how long something is kept, at most (`destroy`) or at least (`keep`).

    `place` is an ISO 3166 code: a country, or a country and its part; "EU" stands for the European Economic Area and
    the United Kingdom. Of several terms the earliest counts for destroying, the latest for keeping. `since` is the date
    of effect, `reading` what was chosen where the text leaves a doubt, `keeps` what it is about.
    """

    code: str
    place: str
    clock: Clock
    keeps: str
    terms: tuple[Term, ...]
    cites: str
    since: date
    checked: Literal["seen", "memory", "common practice, no source"]
    reading: str = ""

    def binds(self, place: str) -> bool:
        """Whether the law holds at a place, such as US-IL."""
        if self.place == "EU":
            return place[:2] in EUROPEAN
        return place == self.place or place.startswith(f"{self.place}-")


def after_years(event: Event, count: int) -> tuple[Term, ...]:
    """Return the one term of so many years after an event."""
    return (Term(event, Lapse(years=count)),)
