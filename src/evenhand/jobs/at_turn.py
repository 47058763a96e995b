"""What is said and asked at one turn of a round: reasons, what to read out, how the hand lies, the own steps."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from evenhand.enrolment.own_steps import ACTIONS, OwnSteps, headings_of
from evenhand.enrolment.paper.drawings import drawing
from evenhand.enrolment.rounds import MOST_STOPS
from evenhand.jobs.languages import say_in
from evenhand.terms.languages import NAMES, sentence

__all__ = [
    "NAMES",
    "NOT_DONE",
    "OTHER_WAYS",
    "READ_OUT",
    "REASONS",
    "TITLES",
    "TOGETHER",
    "WAITS",
    "kept_steps",
    "said_at_turn",
    "shown_steps",
    "steps_in_turn",
]

ENOUGH = (3, 4, 5)
"""After how many presentations somebody is enrolled (common practice, no source)."""

# What is kept is the English sentence; pages say it in the supervisor's language.
REASONS = (
    sentence("The hand cannot be used"),
    sentence("The reader does not take the hand"),
    sentence("Does not agree to it"),
    sentence("Another reason"),
)
"""Why somebody is not enrolled, as seen at the reader: nobody is asked, and nothing of anybody's health is kept."""
OTHER_WAYS = (sentence("A card"), sentence("A signed time sheet"), sentence("Another way, as agreed"))
NOT_DONE = (
    sentence("The person could not stay"),
    sentence("The reader is full"),
    sentence("The reader does not work"),
    sentence("A wrong number was keyed"),
    sentence("The number may be somebody else's"),
    sentence("The number is not on this reader"),
    sentence("Another reason"),
)
READ_OUT = (
    sentence("Turn rings so that stones face the palm, and pull your sleeve back."),
    sentence("Lay your hand flat, close your fingers on the posts, hold still."),
    sentence("We do this three times. Take your hand away in between."),
)
"""What is read out to whoever is enrolled, in their own language."""
WAITS: Mapping[str, str] = {
    "unseen": sentence("Not yet: {name} has not been seen under {number} at this reader since."),
    "no_number": sentence("Not yet: the roster gives {name} no number of their own."),
    "own": sentence("Not this one: {number} is {name}'s own number."),
    "in_use": sentence("Not yet: somebody clocks with this number, and nobody knows who. The desk finds out first."),
    "last_supervisor": sentence("Not yet: nobody else who stays may enrol others at this reader."),
    "full": sentence("Not yet: this reader is full. Their turn comes once a number that may go has come off."),
    "undecided": sentence("Not yet: {name} has not agreed. At the desk they read and decide first."),
}
"""Why a number stays on the reader for now, or somebody is not enrolled yet (HeldBack)."""
TOGETHER = sentence(
    "Hands under each other's numbers: only with {names} here too. One right after the other, and nobody leaves before "
    "each has keyed their own number and was accepted."
)
"""What is said where turns wait on each other, and are done in one visit."""
TITLES: Mapping[str, str] = {
    "get_in": sentence("Get in"),
    "enrol": sentence("Enrol a hand"),
    "make_supervisor": sentence("Make a supervisor"),
    "remove": sentence("Take a number off"),
    "get_out": sentence("Get out"),
}
"""What the headings of the workplace's own steps (HEADINGS) are called."""
HANDS = (
    ("flat", sentence("Flat, palm down")),
    ("posts", sentence("Each finger at its post")),
    ("ring", sentence("Not so: turn the stone to the palm")),
    ("far", sentence("Not so: slide in until it stops")),
)
"""Drawings of a hand (DRAWINGS), each with what it shows."""


def said_at_turn(
    turn: Mapping[str, Any] | None, steps: OwnSteps | None, language: str, tell: str = ""
) -> dict[str, Any]:
    """Return what a page says at a turn (of `items_at`, or none), in the supervisor's language.

    What is read out is in the language that `tell` names, or in the person's. `hands` are drawings (SVG) with captions;
    `say` and `tell` say sentences of the catalogue. No store is asked: a turn may be invented.
    """
    told = tell if tell in NAMES else turn["language"] if turn else language
    return {
        "say": say_in(language),
        "tell": say_in(told),
        "told": told,
        "language": language,
        "languages": NAMES,
        "read_out": READ_OUT,
        "hands": [(drawing(name, is_hidden=True), caption) for name, caption in HANDS],
        "steps": steps_in_turn(steps, turn["action"], language) if turn else None,
        "enough": ENOUGH,
        "most_stops": MOST_STOPS,
        "reasons": REASONS,
        "other_ways": OTHER_WAYS,
        "not_done": NOT_DONE,
        "waits": WAITS,
        "together": TOGETHER,
    }


def steps_in_turn(steps: OwnSteps | None, action: str, language: str) -> dict[str, Any] | None:
    """Return the own steps for what is to be done, in a language or the first they are written in; None for none.

    `parts` have a `title` (of the catalogue) and `steps`, each with what it `says` and, where it must be quick, its
    `seconds`.
    """
    if steps is None:
        return None
    spoken = steps.spoken(language)
    parts = [_part(steps, spoken, heading) for heading in headings_of(action) if steps.words[spoken].get(heading)]
    return {"language": spoken, "parts": parts} if parts else None


def shown_steps(steps: OwnSteps, language: str) -> dict[str, Any]:
    """Return all own steps of a kind in one of its languages, as a sheet shows them (`parts` as `steps_in_turn`)."""
    parts = [_part(steps, language, heading) for heading in TITLES if steps.words[language].get(heading)]
    return {"kind": steps.kind, "readers": list(steps.readers), "language": language, "parts": parts}


def _part(steps: OwnSteps, spoken: str, heading: str) -> dict[str, Any]:
    quick = steps.quick.get(heading)
    return {
        "title": TITLES[heading],
        "steps": [
            {"says": says, "seconds": quick.seconds if quick is not None and quick.step == place else None}
            for place, says in enumerate(steps.words[spoken][heading], start=1)
        ],
    }


def kept_steps(steps: OwnSteps) -> dict[str, Any]:
    """Return the own steps as a phone keeps them, in every language, by heading, and which headings a turn needs."""
    return {
        "kind": steps.kind,
        "words": {language: dict(table) for language, table in steps.words.items()},
        "quick": {heading: {"step": one.step, "seconds": one.seconds} for heading, one in steps.quick.items()},
        "in_turn": {
            action: [{"heading": heading, "title": TITLES[heading]} for heading in headings_of(action)]
            for action in ACTIONS
        },
    }
