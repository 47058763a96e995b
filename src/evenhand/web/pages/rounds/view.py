"""What Round shows: the rounds, one round's readers, and the page held at one of them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import quote

from markupsafe import Markup

from evenhand.jobs.at_turn import NAMES, OTHER_WAYS, REASONS
from evenhand.jobs.queues import QueueSeen
from evenhand.jobs.round_turns import TurnSeen
from evenhand.jobs.rounds import RoundSeen
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence, told
from evenhand.web.forms import IncompleteForm
from evenhand.web.words import TURN_RESULTS

__all__ = ["LostTime", "in_words", "judged", "language_of", "lost_times", "of_choice", "of_turn", "said_no"]

MOST_SCORES = 5


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


ACTIONS = {
    "enrol_supervisor": sentence("Enrol as supervisor"),
    "enrol": sentence("Enrol"),
    "enrol_again": sentence("Enrol again"),
    "remove": sentence("Take off"),
}
PROVED = ("proved", "quiet")
PROOFS = {
    "proved": sentence("proved by a punch"),
    "unproved": sentence("not proved yet: no hand laid down under the number"),
    "refused_only": sentence("not proved: the hand was refused; enrol it again under the same number"),
    "other_number": sentence("{other}, which nobody holds, was keyed within a day of it"),
    "many_presentations": sentence("took more than five presentations"),
    "high_first_score": sentence("the first score was high for this reader; watch the next ones"),
    "quiet": sentence("not used since"),
    "removed_used": sentence("a hand was accepted under it since: take it off again"),
}
HELD = {
    "unseen": sentence("stays: {name} has not been seen under {number} at this reader"),
    "no_number": sentence("stays: the roster gives {name} no number of their own"),
    "own": sentence("stays: it is {name}'s own number"),
    "in_use": sentence("stays: somebody clocks with it, and nobody knows who; find out on Strays"),
    "last_supervisor": sentence("stays: nobody else who stays may enrol others there"),
    "full": sentence("waits: the reader is full until a number that may go has come off"),
    "undecided": sentence("waits: {name} has not agreed; at the desk they read and decide first"),
}


def in_words(turn: TurnSeen) -> dict[str, Any]:
    """Return a turn as the desk reads it: what was tapped last and before, and what proves it or holds it back."""
    held = turn.held and told(HELD[turn.held.why], name=turn.held.name, number=turn.held.number)
    return {
        "turn": turn,
        "does": told(ACTIONS[turn.action]),
        "came": told(TURN_RESULTS[turn.result]),
        "last": turn.tapped[-1] if turn.tapped else None,
        "before": [(told(TURN_RESULTS[one.result]), one) for one in turn.tapped[:-1]],
        "proofs": [
            (_proof_in_words(row), row["at"], row["kind"] in PROVED, row["kind"] == "proved") for row in turn.proof
        ],
        "held": held,
    }


def _proof_in_words(row: Mapping[str, Any]) -> str:
    if row["kind"] == "presentations_disagree":
        return str(row["says"])
    return told(PROOFS[row["kind"]], other=row["other"])


def judged(seen: RoundSeen, quality: Frame) -> list[dict[str, Any]]:
    """Return whose enrolment was judged (JUDGED), where, and what the scores say."""
    items = {row["item"]: row for row in seen.states.iter_rows(named=True)}
    return [
        {"who": item["name"] or item["number"], "reader": item["reader"], "says": row["says"]}
        for row in quality.iter_rows(named=True)
        for item in [items[row["item"]]]
    ]


def of_choice(answers: Mapping[str, str]) -> dict[str, Any]:
    """Return the outcome a form without script says: its button names the result, and presentations after a space.

    A button `put_back` names the item that is put back.
    """
    if "put_back" in answers:
        return {"outcome": answers.get("outcome", ""), "item": answers["put_back"], "result": "undone"}
    result, _, presentations = answers.get("choice", "").partition(" ")
    return {
        "outcome": answers.get("outcome", ""),
        "item": answers.get("item", ""),
        "result": result,
        "presentations": int(presentations) if re.fullmatch("[0-9]{1,6}", presentations) else None,
        "scores": _scores(answers) if result == "enrolled" else None,
        "reason": answers.get({"cannot": "reason", "not_done": "why"}.get(result, "")),
        "other_way": answers.get("other_way") if result == "cannot" else None,
    }


def _scores(answers: Mapping[str, str]) -> str | None:
    """Return the scores written down, in order; raises IncompleteForm where one is missing in between."""
    written = [answers.get(f"score-{n}", "").strip().replace(",", ".") for n in range(1, MOST_SCORES + 1)]
    found = [one for one in written if one]
    if written[: len(found)] != found:
        raise IncompleteForm(
            told("write the figures of the presentations from the first on, or none; nothing was changed.")
        )
    return " ".join(found) or None


def said_no(item: str, outcome: str, author: str) -> dict[str, Any]:
    """Return the outcome of an item whose person did not agree, or chose another way."""
    return {
        "outcome": outcome,
        "item": item,
        "result": "cannot",
        "reason": REASONS[2],
        "other_way": OTHER_WAYS[2],
        "author": author,
    }


def of_turn(said: Mapping[str, Any], turn: Mapping[str, Any] | None) -> dict[str, Any]:
    """Return what `turn.html` shows a turn with, from what is said at it (`said_at_turn`)."""
    return {
        **said,
        "pictures": [(Markup(drawn), caption) for drawn, caption in said["hands"]],  # drawn by us
        "read_at": f"?read={quote(turn['item'])}&speak={turn['language']}" if turn else "",
    }


def language_of(said: str | None) -> str:
    """Return the language asked for, or English."""
    return said if said in NAMES else "en"
