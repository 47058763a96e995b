"""Whose change an alarm is: the changes of all pairs around it since then, divided between hands and readers."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from evenhand.scores.effects.changes import Change, ChangePosterior, estimate_changes, find_cause
from evenhand.scores.model import ScoreModel

__all__ = ["cause_of_hand", "cause_of_reader"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

MOST_PAIRS = 600
BOUND = 0.15
PRIOR = 0.5
"""In spreads of a single score: a change above BOUND counts; before looking, changes are taken to be about PRIOR."""
WINDOW = 14
"""Days up to the end of the alarm, or to now, that are looked at: what a change has grown to, not how it began."""


def cause_of_hand(model: ScoreModel, person: int, since: int, until: int) -> Change:
    """Return what changed from one day until another at the readers this person used, or that it cannot be told."""
    pairs = model.daily.pairs
    recent = _recent(model, since, until)
    readers = np.unique(pairs.reader[recent & (pairs.person == person)])
    posterior, people, placed = _estimate(model, recent & np.isin(pairs.reader, readers), recent, person, since)
    at = int(np.searchsorted(people, person))
    shares = np.bincount(
        np.searchsorted(placed, pairs.reader[recent & (pairs.person == person)]), minlength=len(placed)
    )
    worst = int(np.argmax(np.where(shares > 0, posterior.reader, -np.inf)))
    usual = int(np.argmax(shares))
    bound = BOUND * model.effects.noise_sd
    first = find_cause(posterior, at, usual, bound=bound)
    return first if first.cause != "neither" else find_cause(posterior, at, worst, bound=bound)


def cause_of_reader(model: ScoreModel, reader: int, since: int, until: int) -> Change:
    """Return what changed at this reader from a day until another, judged with the person who came there most often."""
    pairs = model.daily.pairs
    recent = _recent(model, since, until)
    here = recent & (pairs.reader == reader)
    who = np.bincount(pairs.person[here], weights=pairs.n[here])
    person = int(np.argmax(who))
    posterior, people, placed = _estimate(model, here, recent, person, since)
    at = int(np.searchsorted(people, person))
    return find_cause(posterior, at, int(np.searchsorted(placed, reader)), bound=BOUND * model.effects.noise_sd)


def _recent(model: ScoreModel, since: int, until: int) -> npt.NDArray[np.bool_]:
    pairs = model.daily.pairs
    return np.asarray((pairs.day >= max(since, until - WINDOW)) & (pairs.day < until))


def _estimate(
    model: ScoreModel,
    chosen: npt.NDArray[np.bool_],
    recent: npt.NDArray[np.bool_],
    person: int,
    since: int,
) -> tuple[ChangePosterior, Ints, Ints]:
    """Divide the changes of the chosen pair-days, and of the same people's at other readers; most-used pairs first."""
    pairs = model.daily.pairs
    rows = recent & np.isin(pairs.person, pairs.person[chosen])
    readers = len(model.readers)
    key = pairs.person[rows] * readers + pairs.reader[rows]
    keys, index = np.unique(key, return_inverse=True)
    late = np.bincount(index, weights=1 / pairs.chance[rows])
    now = np.bincount(index, weights=pairs.mean[rows] / pairs.chance[rows]) / late
    before, early = _before(model, keys, since)
    change, weight = now - before, 1 / (1 / late + 1 / early)
    busiest = np.lexsort((-weight, keys // readers != person))[:MOST_PAIRS]
    kept = np.sort(busiest)
    people, who = np.unique(keys[kept] // readers, return_inverse=True)
    placed, where = np.unique(keys[kept] % readers, return_inverse=True)
    spread = (PRIOR * model.effects.noise_sd) ** 2
    posterior = estimate_changes(
        who,
        where,
        change[kept],
        1 / weight[kept],
        len(people),
        len(placed),
        person_variance=spread,
        reader_variance=spread,
    )
    return posterior, people, placed


def _before(model: ScoreModel, keys: Ints, since: int) -> tuple[Floats, Floats]:
    """The level of each pair before a day, and its precision, starting from people at that reader in general."""
    pairs, effects = model.daily.pairs, model.effects
    readers = len(model.readers)
    key = pairs.person * readers + pairs.reader
    rows = (pairs.day < since) & np.isin(key, keys)
    place = np.searchsorted(keys, key[rows])
    prior = 1 / (effects.person_sd**2 + effects.pair_sd**2 + 1e-9)
    weight = np.bincount(place, weights=1 / pairs.chance[rows], minlength=len(keys)) + prior
    total = np.bincount(place, weights=pairs.mean[rows] / pairs.chance[rows], minlength=len(keys))
    level = (total + prior * (effects.mean + effects.reader[keys % readers])) / weight
    return np.asarray(level), np.asarray(weight)
