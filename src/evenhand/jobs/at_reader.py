"""What is asked, said and kept at a reader during a round, in the supervisor's language."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from evenhand.enrolment.languages import NAMES, clock_in, sentence
from evenhand.enrolment.rounds import FINAL
from evenhand.jobs.round_files import round_words
from evenhand.jobs.rounds import RoundSeen

__all__ = ["NAMES", "OTHER_WAYS", "REASONS", "HeldRound", "hold_round", "items_at"]

# What is kept is the English sentence; pages say it in the supervisor's language.
REASONS = (
    sentence("The hand is hurt or in a cast"),
    sentence("The reader does not take the hand"),
    sentence("Does not agree to it"),
    sentence("Another reason"),
)
OTHER_WAYS = (sentence("A card"), sentence("A signed time sheet"), sentence("Another way, as agreed"))


@dataclass(frozen=True)
class HeldRound:
    """A round at one reader: whose turn it is, what was tapped last, and what the phone needs without a connection."""

    turn: dict[str, Any] | None
    last: dict[str, Any] | None
    done: int
    total: int
    phone: dict[str, Any]


def hold_round(seen: RoundSeen, reader: str, zone: str, language: str, unreleased: Collection[str] = ()) -> HeldRound:
    """Return the round as it is held at a reader, in the supervisor's language.

    At `unreleased` items no hand may be enrolled, since no release is in force.
    """
    items = items_at(seen, reader, zone, unreleased)
    by_item = {item["item"]: item for item in items}
    waiting = seen.waiting(reader)["item"].to_list()
    tapped = [item for item in items if item["result"]]
    phone = {
        "round": seen.header["round"],
        "reader": reader,
        "language": language,
        "items": items,
        "words": {spoken: dict(words) for spoken, words in round_words().items()},
    }
    return HeldRound(
        turn=by_item[waiting[0]] if waiting else None,
        last=max(tapped, key=lambda item: (item["at"], item["item"]), default=None),
        done=sum(item["result"] in FINAL for item in items),
        total=len(items),
        phone=phone,
    )


def items_at(seen: RoundSeen, reader: str, zone: str, unreleased: Collection[str] = ()) -> list[dict[str, Any]]:
    """Return the items at a reader with what came of them, as the phone keeps them."""
    kept = ("item", "position", "action", "number", "name", "language", "stands", "result", "at")
    return [
        {name: row[name] for name in kept}
        | {"time": clock_in(zone, row["starts_at"]), "is_unreleased": row["item"] in unreleased}
        for row in seen.states.iter_rows(named=True)
        if row["reader"] == reader
    ]
