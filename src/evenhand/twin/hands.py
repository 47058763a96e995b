"""How the scores come about: hands, placement, an adapting reference, dirt on a plate, and the accept threshold.

A hand is a point in nine abstract features, in units of the spread of its own placements; no measure of a
hand exists here or leaves this module. The score is a squared distance, so that lower is closer.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

__all__ = ["ADAPTS", "FEATURES", "THRESHOLD", "TRIES", "Hands", "Presented", "draw_hands", "other_hand", "present"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

FEATURES = 9
ADAPTS = 0.1  # share of the way a reference moves towards an accepted presentation
TRIES = 3
THRESHOLD = 18.0
_SCALE = 0.4  # brings an everyday score to single digits
_BETWEEN_SD = 2.3  # people against people, in placements of one hand; gives an equal error rate of 2 to 6 %
_WALK_SD = 0.06  # how far a hand wanders from one day to the next


@dataclass(frozen=True)
class Hands:
    """Everybody's hands: features `hand` (people, features), `moved` (people, days, features) since the first day.

    `unsteady` (people,) multiplies a person's placement spread; `plate` (readers, days, features) is what dirt
    adds at a reader.
    """

    hand: Floats
    moved: Floats
    unsteady: Floats
    plate: Floats


@dataclass(frozen=True)
class Presented:
    """What a reader answered to each visit: `scores` (visits, 3), nan where no further try was made."""

    scores: Floats
    tries: Ints
    is_accepted: npt.NDArray[np.bool_]


def _directions(rng: np.random.Generator, n: int) -> Floats:
    raw = rng.normal(size=(n, FEATURES))
    return np.asarray(raw / np.linalg.norm(raw, axis=1, keepdims=True))


def draw_hands(rng: np.random.Generator, shift: Floats, dirt: Floats) -> Hands:
    """Return hands that change by `shift` (people, days) and plates that get dirty by `dirt` (readers, days).

    Both are lengths in units of placement spread, in a direction drawn for each person, and for each reader
    and day.
    """
    people, days = shift.shape
    moved = rng.normal(0, _WALK_SD, (people, days, FEATURES)).cumsum(axis=1)
    moved += shift[:, :, None] * _directions(rng, people)[:, None, :]
    fixed = rng.normal(0, 0.25, (dirt.shape[0], 1, FEATURES))
    plate = fixed + dirt[:, :, None] * _directions(rng, dirt.size).reshape(*dirt.shape, FEATURES)
    return Hands(
        rng.normal(0, _BETWEEN_SD, (people, FEATURES)), moved, np.asarray(rng.lognormal(0, 0.12, people)), plate
    )


def _placements(rng: np.random.Generator, unsteady: Floats) -> Floats:
    n = len(unsteady)
    spread = unsteady * rng.lognormal(0, 0.22, n)
    return np.asarray(rng.normal(size=(n, FEATURES)) * spread[:, None])


def _score(difference: Floats) -> Floats:
    return np.asarray(_SCALE * np.square(difference).sum(axis=1))


def present(rng: np.random.Generator, hands: Hands, person: Ints, reader: Ints, day: Ints) -> Presented:
    """Return the readers' answers to visits (visits,), which stand in order of time.

    Each person has a reference of their own on each reader. A refused person tries up to three times. The
    reference moves a tenth of the way to an accepted presentation, and not at all to a refused one.
    """
    pair, visit = np.unique(person * hands.plate.shape[0] + reader, return_inverse=True)
    at_reader = pair % hands.plate.shape[0]
    enrolled = rng.normal(0, np.sqrt(1 / 3), (len(pair), FEATURES))
    reference = enrolled + hands.plate[at_reader, 0]
    scores = np.full((len(visit), TRIES), np.nan)
    accepted = np.zeros(len(visit), dtype=bool)
    for turn in _turns(visit, len(pair)):
        waiting = turn
        for attempt in range(TRIES):
            who, where, when = person[waiting], reader[waiting], day[waiting]
            probe = hands.moved[who, when] + hands.plate[where, when] + _placements(rng, hands.unsteady[who])
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


def other_hand(rng: np.random.Generator, hands: Hands, person: Ints, claimed: Ints) -> Floats:
    """Return the scores of `person` laying a hand down under the number of `claimed`: non-mated comparisons."""
    difference = hands.hand[person] - hands.hand[claimed] + _placements(rng, hands.unsteady[person])
    return _score(difference)
