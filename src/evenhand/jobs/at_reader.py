"""What is asked, said and kept at a reader during a round, in the supervisor's language."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Any

from evenhand.enrolment.own_steps import OwnSteps
from evenhand.enrolment.rounds import FINAL, MOST_STOPS, waiting
from evenhand.enrolment.taking_off import HeldBack
from evenhand.enrolment.written import clock_in
from evenhand.jobs.at_turn import READ_OUT, TOGETHER, WAITS, kept_steps
from evenhand.jobs.round_files import round_words
from evenhand.jobs.rounds import RoundSeen
from evenhand.jobs.taking_off import TakingOff
from evenhand.terms.columns import Frame

__all__ = ["HeldRound", "hold_items", "hold_round", "items_at"]


@dataclass(frozen=True)
class HeldRound:
    """A round at one reader: whose turn it is, and what the phone needs without a connection.

    `last` was tapped last; `aside` is what is done or put aside and can be put back, `stays` what must not be taken
    off yet. Items are those of `items_at`.
    """

    turn: dict[str, Any] | None
    last: dict[str, Any] | None
    aside: list[dict[str, Any]]
    stays: list[dict[str, Any]]
    done: int
    total: int
    phone: dict[str, Any]


def hold_round(
    seen: RoundSeen,
    reader: str,
    zone: str,
    language: str,
    unreleased: Collection[str] = (),
    off: TakingOff | None = None,
    steps: OwnSteps | None = None,
    *,
    names_zones: bool = False,
) -> HeldRound:
    """Return the round as it is held at a reader, in the supervisor's language.

    At `unreleased` items no hand may be enrolled, since no release is in force; `off` says what stays on the reader,
    `steps` how things are done there, in the workplace's own words.
    """
    items = items_at(seen.states, reader, zone, unreleased, off, names_zones=names_zones)
    off = off or TakingOff()
    stay = [item["item"] for item in items if item["waits"]]
    return hold_items(
        items,
        waiting(seen.states, reader, stay, first=off.begun)["item"].to_list(),
        round_name=seen.header["round"],
        reader=reader,
        language=language,
        steps=steps,
        room=off.room(reader),
    )


def hold_items(
    items: Sequence[dict[str, Any]],
    order: Sequence[str],
    *,
    round_name: str,
    reader: str,
    language: str,
    steps: OwnSteps | None = None,
    room: int | None = None,
) -> HeldRound:
    """Return items (`items_at`), whose turns come in an `order`, as they are held at a reader; no store is asked.

    `room` is how many places the reader had before anything came of them; None where that is not known.
    """
    by_item = {item["item"]: item for item in items}
    tapped = sorted((item for item in items if item["result"]), key=lambda item: (item["at"], item["item"]))
    phone = {
        "round": round_name,
        "reader": reader,
        "language": language,
        "items": list(items),
        "room": room,
        "words": {spoken: dict(words) for spoken, words in round_words().items()},
        "waits": dict(WAITS),
        "together": TOGETHER,
        "read_out": list(READ_OUT),
        "most_stops": MOST_STOPS,
        "steps": None if steps is None else kept_steps(steps),
    }
    return HeldRound(
        turn=by_item[order[0]] if order else None,
        last=tapped[-1] if tapped else None,
        aside=tapped[::-1],
        stays=[item for item in items if item["waits"] and item["result"] not in FINAL],
        done=sum(item["result"] in FINAL for item in items),
        total=len(items),
        phone=phone,
    )


def items_at(
    states: Frame,
    reader: str,
    zone: str,
    unreleased: Collection[str] = (),
    off: TakingOff | None = None,
    *,
    names_zones: bool = False,
) -> list[dict[str, Any]]:
    """Return the items (STATES) at a reader as a phone keeps them: what to do, what came of it, and what it waits for.

    `waits` is None, or `why` (of WAITS) with the `name` and `number` it is for; `after` are the items that must not be
    tried again without the number staying on the reader; `ring` are those done in one visit with it, `takes` those of
    them for whom a hand would come off, and `beside` who else must be there for that; `laid_down` says how often a hand
    was, by what was tapped and not undone, and `is_listed` whether the reader held the number before the round.
    """
    off = off or TakingOff()
    kept = (
        "item",
        "position",
        "action",
        "number",
        "name",
        "language",
        "stands",
        "result",
        "at",
        "reason",
        "stopped",
        "laid_down",
    )
    return [
        {name: row[name] for name in kept}
        | {
            "put_off": row["put_off"],
            "time": clock_in(zone, row["starts_at"], is_named=names_zones),
            "is_unreleased": row["item"] in unreleased,
            "waits": _waits(off.held.get(row["item"])),
            "after": off.awaited.get(row["item"], []),
            "ring": list(off.together.get(row["item"], ())),
            "takes": list(off.takes.get(row["item"], ())),
            "beside": off.beside(row["item"]),
            "is_listed": row["number"] in off.numbers.get(reader, ()),
        }
        for row in states.iter_rows(named=True)
        if row["reader"] == reader
    ]


def _waits(held: HeldBack | None) -> dict[str, str] | None:
    return None if held is None else {"why": held.why, "name": held.name, "number": held.number}
