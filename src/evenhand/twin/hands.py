"""How the scores come about: hands, placement, an adapting reference, dirt on a platen, and the accept threshold.

A presentation is the hand's measures in mm as the reader sees them that time; the score is their squared distance from
the reference, each measure counted in spreads of its placement, so that lower is closer. Measures live here only while
scores are made: nothing but scores and outcomes leaves.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.twin.anthropometry import MEASURES, PLACEMENT_MM, draw_sizes

__all__ = [
    "ADAPTS",
    "FEATURES",
    "THRESHOLD",
    "TRIES",
    "HandMeasures",
    "Presented",
    "draw_hands",
    "other_hand",
    "present",
]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

FEATURES = len(MEASURES)
ADAPTS = 0.1  # share of the way a reference moves towards an accepted presentation
TRIES = 3
THRESHOLD = 18.0
ENROLS = 3  # presentations that make a reference, in one sitting
_SCALE = 0.4  # brings an everyday score to single digits

# invented, but for the swelling: a hand's volume changes by one to a few per cent from day to day (memory, weak)
_WALK = 0.06  # how far a hand wanders from one day to the next, in placements
_SWELLS = 0.005  # of the breadth, from day to day
_GAINS = 4e-5  # of the breadth, a day, for as long as the period lasts
_OFFSET = 0.25  # what a reader adds to each measure, in placements
_GAIN = 0.02  # by how much a reader sees everything larger or smaller
_FLESH = np.array([0.2, 1.0, 0.2, 1.0, 0.3, 0.3, 0.3, 0.3, 0.3])  # how far each measure follows swelling and weight
_WORN_AT = np.array([1, 4, 5, 6, 7, 8])  # measures that a ring or a bandage changes: the breadth, or one finger


@dataclass(frozen=True)
class HandMeasures:
    """Everybody's hands and the readers' platens, in mm.

    `hand` (people, measures) at the start, `moved` (people, days, measures) since then. `unsteady` (people,)
    multiplies a person's placement spread. `platen` (readers, days, measures) is what offset and dirt add at a
    reader, `gain` (readers,) how large it sees everything.
    """

    hand: Floats
    moved: Floats
    unsteady: Floats
    platen: Floats
    gain: Floats


@dataclass(frozen=True)
class Presented:
    """What a reader answered to each visit: `scores` (visits, 3), nan where no further try was made."""

    scores: Floats
    tries: Ints
    is_accepted: npt.NDArray[np.bool_]


def draw_hands(rng: np.random.Generator, drift: Floats, dirt: Floats, worn: Floats | None = None) -> HandMeasures:
    """Return hands half of which are women's, that change, and platens that get dirty.

    `drift` (people, days) is how far a hand has grown or shrunk beyond everybody's swelling and weight, `worn` the
    same for a ring or a bandage, which changes one measure; `dirt` (readers, days) shifts what a platen sees, in
    another direction every day. All are lengths in spreads of placement.
    """
    people, days = drift.shape
    hand = draw_sizes(rng, rng.integers(0, 2, people) == 1)
    moved = (rng.normal(0, _WALK, (people, days, FEATURES)) * PLACEMENT_MM).cumsum(axis=1)
    flesh = rng.normal(0, _SWELLS, (people, days)) + rng.normal(0, _GAINS, (people, 1)) * np.arange(days)
    moved += flesh[:, :, None] * (hand * _FLESH)[:, None, :]
    grows = hand * _FLESH / PLACEMENT_MM
    moved += drift[:, :, None] * (_unit(grows) * PLACEMENT_MM)[:, None, :]
    if worn is not None:
        at = rng.choice(_WORN_AT, people)
        moved[np.arange(people), :, at] += worn * PLACEMENT_MM[at][:, None]
    fixed = rng.normal(0, _OFFSET, (dirt.shape[0], 1, FEATURES))
    smear = _unit(rng.normal(size=(*dirt.shape, FEATURES)))
    platen = (fixed + dirt[:, :, None] * smear) * PLACEMENT_MM
    unsteady, gain = rng.lognormal(0, 0.12, people), rng.normal(1, _GAIN, dirt.shape[0])
    return HandMeasures(hand, moved, np.asarray(unsteady), platen, np.asarray(gain))


def _unit(towards: Floats) -> Floats:
    return np.asarray(towards / np.linalg.norm(towards, axis=-1, keepdims=True))


def _placements(rng: np.random.Generator, unsteady: Floats) -> Floats:
    n = len(unsteady)
    spread = unsteady * rng.lognormal(0, 0.22, n)
    return np.asarray(rng.normal(size=(n, FEATURES)) * spread[:, None] * PLACEMENT_MM)


def _score(difference: Floats) -> Floats:
    return np.asarray(_SCALE * np.square(difference / PLACEMENT_MM).sum(axis=1))


def _enrol(rng: np.random.Generator, hands: HandMeasures, person: Ints, reader: Ints) -> Floats:
    """The references of people at readers: the mean of three presentations of one sitting, at a clean platen."""
    placed = rng.normal(size=(len(person), FEATURES)) * PLACEMENT_MM / np.sqrt(ENROLS)
    return np.asarray(hands.gain[reader, None] * (hands.hand[person] + placed) + hands.platen[reader, 0])


def present(rng: np.random.Generator, hands: HandMeasures, person: Ints, reader: Ints, day: Ints) -> Presented:
    """Return the readers' answers to visits (visits,), which stand in order of time.

    Each person has a reference of their own on each reader. A refused person tries up to three times. The
    reference moves a tenth of the way to an accepted presentation, and not at all to a refused one.
    """
    pair, visit = np.unique(person * hands.platen.shape[0] + reader, return_inverse=True)
    reference = _enrol(rng, hands, *np.divmod(pair, hands.platen.shape[0]))
    scores = np.full((len(visit), TRIES), np.nan)
    accepted = np.zeros(len(visit), dtype=bool)
    for turn in _turns(visit, len(pair)):
        waiting = turn
        for attempt in range(TRIES):
            who, where, when = person[waiting], reader[waiting], day[waiting]
            laid = hands.hand[who] + hands.moved[who, when] + _placements(rng, hands.unsteady[who])
            probe = hands.gain[where, None] * laid + hands.platen[where, when]
            difference = probe - reference[visit[waiting]]
            score = _score(difference)
            scores[waiting, attempt] = score
            passes = score <= THRESHOLD
            reference[visit[waiting[passes]]] += ADAPTS * difference[passes]
            accepted[waiting[passes]] = True
            waiting = waiting[~passes]
            if not len(waiting):
                break
    return Presented(scores, (~np.isnan(scores)).sum(axis=1), accepted)


def _turns(visit: Ints, pairs: int) -> list[Ints]:
    """Return the places of everybody's first visit at each of their readers, then of the second, and so on."""
    order = np.argsort(visit, kind="stable")
    opens = np.concatenate([[0], np.cumsum(np.bincount(visit, minlength=pairs))])[:-1]
    turn = np.empty(len(visit), dtype=np.int64)
    turn[order] = np.arange(len(visit)) - opens[visit[order]]
    return np.split(np.argsort(turn, kind="stable"), np.cumsum(np.bincount(turn))[:-1])


def other_hand(rng: np.random.Generator, hands: HandMeasures, person: Ints, claimed: Ints) -> Floats:
    """Return the scores of `person` laying a hand down under the number of `claimed`: non-mated comparisons."""
    difference = hands.hand[person] - hands.hand[claimed] + _placements(rng, hands.unsteady[person])
    return _score(difference)
