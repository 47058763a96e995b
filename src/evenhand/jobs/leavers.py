"""People whose hand is held for nothing any more: their whole way from the last day to the erasure."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Literal

import polars as pl

from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.retention import Clocked
from evenhand.jobs.snapshot import take_snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.records.retention import first_disposal_day
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Unknown
from evenhand.terms.words import called

__all__ = [
    "WAY_STANDS",
    "HandHeld",
    "Leaver",
    "clocked_now",
    "clocked_of",
    "leaver_of",
    "leavers_of",
]

State = Literal["to_remove", "to_prove", "on_hold", "no_law", "kept", "may_go"]
WAY_STANDS: dict[State, str] = {
    "to_remove": sentence("to be removed"),
    "to_prove": sentence("removal to be proved"),
    "on_hold": sentence("legal hold"),
    "no_law": sentence("no law on file"),
    "kept": sentence("records kept"),
    "may_go": sentence("may be erased"),
}
"""How far a leaver's way is, by its state."""
TO_DO = {
    "held": sentence("The hand is to be taken off {readers:listed}: put it on a round of removals."),
    "on_a_round": sentence("The hand is on a round to be taken off {readers:listed}."),
    "said_done": sentence(
        "Said to be taken off {readers:listed}: take a list of the reader made since, which proves it."
    ),
    "unlisted": sentence(
        "No list of {readers:listed} was ever taken: take one, which proves that the hand is not there."
    ),
    "taken_over": sentence(
        "Somebody else, who has the number since, is accepted at {readers:listed}, and no list tells whose hand it "
        "shows: take a list with names or days; else take the number off, take a list, and enrol its holder again."
    ),
}
"""What is next for a hand, by its state, at the readers where it is in that state."""


@dataclass(frozen=True)
class HandHeld:
    """A hand at a reader: since when, by when it must be gone and by which law, and how far its removal is.

    `state` is held, on_a_round, said_done (somebody said that it was taken off, and no list proves it), unlisted (the
    reader was used, and no list of it was ever taken), taken_over (another is accepted under the number since, and no
    list tells whose hand it shows) or proved, by the take `proof` of the reader's own list.
    `chosen_from` are the days of other laws or places that were later.
    """

    reader: str
    number: str
    since: date | None
    last_interaction: date | None
    state: str
    destroy_by: date
    is_overdue: bool
    law: str
    rule: str
    started_on: date
    version: date
    reading: str
    checked: str
    chosen_from: str
    round: str
    said_at: int | None
    said_by: str
    proof: int | None
    proof_file: str
    proved_on: date | None


@dataclass(frozen=True)
class Leaver:
    """Somebody whose purpose has ended: when and why, each hand, and through which day time records stay.

    `hold` is the reason of a legal hold, empty where there is none. `erase_from` is the first day on which everything
    may go as far as is known now, None while no law is on file that says. `says` tells where they stand and what is
    next.
    """

    person: str
    name: str
    purpose_ended: date
    why: str
    last_day: date | None
    places: tuple[str, ...]
    state: State
    says: str
    hands: tuple[HandHeld, ...]
    keep_through: date | None
    keep_law: str
    keep_rule: str
    keep_reading: str
    keep_chosen_from: str
    erase_from: date | None
    hold: str

    @property
    def is_proved(self) -> bool:
        """Whether every hand is proved gone; before, records may have to stay longer, counted from the proof."""
        return all(hand.state == "proved" for hand in self.hands)


def clocked_now(workspace: Workspace, as_of: datetime) -> Clocked:
    """Return everybody's clocks as of an instant."""
    return Clocked(take_snapshot(workspace, as_of.date()), as_of.date())


def clocked_of(reckoning: Reckoning) -> Clocked:
    """Return everybody's clocks as of a reckoning's day."""
    return reckoning.part("clocked", lambda: Clocked(reckoning.snapshot, reckoning.day))


def leavers_of(clocked: Clocked) -> list[Leaver]:
    """Return everybody whose purpose has ended: whose hand must be gone first, then by when records may go."""
    order = ("to_remove", "to_prove", "on_hold", "may_go", "no_law", "kept")
    found = [_leaver(clocked, row) for row in clocked.purposes.to_dicts()]
    return sorted(found, key=lambda one: (order.index(one.state), _first(one), one.person))


def leaver_of(clocked: Clocked, text: str) -> Leaver:
    """Return one of them by identifier, number or name; raises Unknown for nobody, and for whoever has not left."""
    person = str(clocked.of.find_person(text)["person"])
    row = clocked.purposes.filter(pl.col("person") == person).to_dicts()
    if not row:
        raise Unknown(
            told(
                "{name} is employed and has not withdrawn consent; `evenhand leavers` lists whose records have an end.",
                name=called(clocked.of.names[person], person),
            )
        )
    return _leaver(clocked, row[0])


def _first(one: Leaver) -> date:
    return min((hand.destroy_by for hand in one.hands if hand.state != "proved"), default=one.erase_from or date.max)


def _leaver(clocked: Clocked, row: dict[str, Any]) -> Leaver:
    person = row["person"]
    hands = tuple(_hand(clocked, one) for one in clocked.removals.filter(pl.col("person") == person).to_dicts())
    kept = next(iter(clocked.kept.filter(pl.col("person") == person).to_dicts()), None)
    hold = clocked.held.get(person, "")
    erase_from = first_disposal_day(kept["day"]) if kept else None
    state = _state(hands, hold, erase_from, clocked.on)
    return Leaver(
        person=person,
        name=clocked.of.names.get(person, ""),
        purpose_ended=row["purpose_ended"],
        why=row["purpose_why"],
        last_day=row["employment_ended"],
        places=tuple(clocked.places.filter(pl.col("person") == person)["place"].to_list()),
        state=state,
        says=_says(state, hands, hold, erase_from),
        hands=hands,
        keep_through=kept["day"] if kept else None,
        keep_law=kept["cites"] if kept else "",
        keep_rule=told("{rule:again} {day}", rule=kept["rule"], day=kept["started_on"]) if kept else "",
        keep_reading=(kept["reading"] or "") if kept else "",
        keep_chosen_from=(kept["chosen_from"] or "") if kept else "",
        erase_from=erase_from,
        hold=hold,
    )


def _hand(clocked: Clocked, row: dict[str, Any]) -> HandHeld:
    return HandHeld(
        reader=row["reader"],
        number=row["number"],
        since=row["enrolled_on"],
        last_interaction=row["last_interaction"],
        state=row["state"],
        destroy_by=row["day"],
        is_overdue=row["state"] != "proved" and row["day"] < clocked.on,
        law=row["cites"],
        rule=row["rule"],
        started_on=row["started_on"],
        version=row["version"],
        reading=row["reading"] or "",
        checked=row["checked"],
        chosen_from=row["chosen_from"] or "",
        round=row["round"] or "",
        said_at=row["said_at"],
        said_by=row["said_by"] or "",
        proof=row["gone_take"],
        proof_file=row["gone_file"] or "",
        proved_on=row["gone_on"],
    )


def _state(hands: tuple[HandHeld, ...], hold: str, erase_from: date | None, on: date) -> State:
    states = {hand.state for hand in hands}
    if states & {"held", "on_a_round"}:
        return "to_remove"
    if states & {"said_done", "unlisted", "taken_over"}:
        return "to_prove"
    if hold:
        return "on_hold"
    if erase_from is None:
        return "no_law"
    return "kept" if on < erase_from else "may_go"


def _says(state: State, hands: tuple[HandHeld, ...], hold: str, erase_from: date | None) -> str:
    at = {one: [hand.reader for hand in hands if hand.state == one] for one in {hand.state for hand in hands}}
    match state:
        case "to_remove" | "to_prove":
            first, *rest = (told(says, readers=at[one]) for one, says in TO_DO.items() if one in at)
            return told("{first} {rest:row}", first=first, rest=rest) if rest else first
        case "on_hold":
            return told("No reader holds the hand. A legal hold keeps time records: {matter}.", matter=hold)
        case "no_law":
            return told(
                "No reader holds the hand. No law on time records is on file here: set keep_years under [retention]."
            )
    assert erase_from is not None
    if state == "kept":
        return told("No reader holds the hand. Time records stay until {day}.", day=erase_from)
    return told("No reader holds the hand, and time records may go since {day}: erase.", day=erase_from)
