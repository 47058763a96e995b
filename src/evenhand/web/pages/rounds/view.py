"""What Round shows: the rounds, one round's readers, and the page held at one of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from evenhand.enrolment.languages import NAMES, clock_in, sentence, words_of
from evenhand.enrolment.rounds import FINAL
from evenhand.jobs.queues import QueueSeen
from evenhand.jobs.rounds import RoundSeen
from evenhand.terms.columns import Frame
from evenhand.terms.rounds import LANGUAGES

__all__ = [
    "OTHER_WAYS",
    "PRESENTATIONS",
    "REASONS",
    "AtReader",
    "Held",
    "LostTime",
    "at_readers",
    "code_of",
    "held",
    "judged",
    "language_of",
    "lost_times",
    "of_choice",
    "to_phone",
]

PRESENTATIONS = (3, 4, 5, 6, 7)
# What is kept is the English sentence; the page says it in the supervisor's language.
REASONS = (
    sentence("The hand is hurt or in a cast"),
    sentence("The reader does not take the hand"),
    sentence("Does not agree to it"),
    sentence("Another reason"),
)
OTHER_WAYS = (sentence("A card"), sentence("A signed time sheet"), sentence("Another way, as agreed"))


@dataclass(frozen=True)
class AtReader:
    """How far a round is at one reader."""

    reader: str
    total: int
    done: int
    not_come: int

    @property
    def is_over(self) -> bool:
        """Whether nothing is left to do."""
        return self.done == self.total


@dataclass(frozen=True)
class Held:
    """The page at a reader: whose turn it is, what was tapped last, and what the phone needs without a connection."""

    turn: dict[str, Any] | None
    last: dict[str, Any] | None
    done: int
    total: int
    phone: dict[str, Any]


@dataclass(frozen=True)
class LostTime:
    """A quarter of an hour of the day: people and seconds lost in it, in a week."""

    begins: str
    people: float
    least_s: int
    most_s: int


def lost_times(seen: QueueSeen) -> list[LostTime]:
    """Return the quarters of an hour in which people wait, by time of day."""
    return [
        LostTime(
            f"{row['quarter'] // 4:02d}:{row['quarter'] % 4 * 15:02d}",
            row["people"],
            round(row["least_lost_s"]),
            round(row["most_lost_s"]),
        )
        for row in seen.by_time.iter_rows(named=True)
    ]


def at_readers(seen: RoundSeen) -> list[AtReader]:
    """Return the readers of a round, by name."""
    return [
        AtReader(
            reader,
            len(rows),
            sum(row["result"] in FINAL for row in rows),
            sum(row["result"] == "did_not_come" for row in rows),
        )
        for reader in seen.readers
        for rows in [[row for row in seen.states.iter_rows(named=True) if row["reader"] == reader]]
    ]


def judged(seen: RoundSeen, quality: Frame) -> list[dict[str, Any]]:
    """Return whose enrolment was judged (JUDGED), where, and what the scores say."""
    items = {row["item"]: row for row in seen.states.iter_rows(named=True)}
    return [
        {"who": item["name"] or item["number"], "reader": item["reader"], "says": row["says"]}
        for row in quality.iter_rows(named=True)
        for item in [items[row["item"]]]
    ]


def code_of(address: str) -> Markup:
    """Return a QR code of the address as SVG, dark on light whatever the page's colours are, as cameras expect it.

    Source: ISO/IEC 18004, as segno writes it.
    """
    import segno

    drawn = segno.make(address, error="m", micro=False)
    return Markup(drawn.svg_inline(light="#fff", dark="#000", border=4, omitsize=True))


def held(seen: RoundSeen, reader: str, zone: str, language: str) -> Held:
    """Return the page held at a reader, in the supervisor's language."""
    items = to_phone(seen, reader, zone)
    by_item = {item["item"]: item for item in items}
    waiting = seen.waiting(reader)["item"].to_list()
    tapped = [item for item in items if item["result"]]
    phone = {
        "round": seen.header["round"],
        "reader": reader,
        "language": language,
        "items": items,
        "words": {spoken: dict(words_of(spoken)) for spoken in LANGUAGES},
    }
    return Held(
        turn=by_item[waiting[0]] if waiting else None,
        last=max(tapped, key=lambda item: (item["at"], item["item"]), default=None),
        done=sum(item["result"] in FINAL for item in items),
        total=len(items),
        phone=phone,
    )


def to_phone(seen: RoundSeen, reader: str, zone: str) -> list[dict[str, Any]]:
    """Return the items at a reader with what came of them, as the phone keeps them."""
    kept = ("item", "position", "action", "number", "name", "language", "stands", "result", "at")
    return [
        {name: row[name] for name in kept} | {"time": clock_in(zone, row["starts_at"])}
        for row in seen.states.iter_rows(named=True)
        if row["reader"] == reader
    ]


def of_choice(answers: Mapping[str, str]) -> dict[str, Any]:
    """Return the outcome a form without script says: its button names the result, and presentations after a space."""
    result, _, presentations = answers.get("choice", "").partition(" ")
    cannot = result == "cannot"
    return {
        "outcome": answers.get("outcome", ""),
        "item": answers.get("item", ""),
        "result": result,
        "presentations": int(presentations) if presentations.isdecimal() else None,
        "scores": answers.get("scores", "").strip() or None if result == "enrolled" else None,
        "reason": answers.get("reason") if cannot else None,
        "other_way": answers.get("other_way") if cannot else None,
    }


def language_of(said: str | None) -> str:
    """Return the language asked for, or English."""
    return said if said in NAMES else "en"
