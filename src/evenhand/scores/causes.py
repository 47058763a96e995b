"""Whose change an alarm is: the changes of all pairs around it since then, divided between hands and readers."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

from evenhand.scores.effects.changes import (
    Change,
    ChangePosterior,
    estimate_changes,
    find_cause,
    find_cause_at_reader,
)
from evenhand.scores.model import ScoreModel

__all__ = ["cause_of_hand", "cause_of_reader"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Codes = npt.NDArray[np.integer[Any]]

MOST_PAIRS = 600
BOUND = 0.15
PRIOR = 0.5
"""In spreads of a single score: a change above BOUND counts; before looking, changes are taken to be about PRIOR."""
WINDOW = 14
"""Days up to the end of the alarm, or to now, that are looked at: what a change has grown to, not how it began."""


def cause_of_hand(model: ScoreModel, person: int, since: int, until: int) -> Change:
    """Return what changed from one day until another at the readers this person used, or that it cannot be told."""
    pairs, recent = model.daily.pairs, _recent(model, since, until)
    mine = recent[pairs.person[recent] == person]
    uses = _marked(pairs.reader[mine], len(model.readers))
    posterior, people, readers = _estimate(model, recent, recent[uses[pairs.reader[recent]]], person, since)
    at = int(np.searchsorted(people, person))
    shares = np.bincount(np.searchsorted(readers, pairs.reader[mine]), minlength=len(readers))
    worst = int(np.argmax(np.where(shares > 0, posterior.reader, -np.inf)))
    usual = int(np.argmax(shares))
    bound = BOUND * model.effects.noise_sd
    first = find_cause(posterior, at, usual, bound=bound)
    return first if first.cause != "neither" else find_cause(posterior, at, worst, bound=bound)


def cause_of_reader(model: ScoreModel, reader: int, since: int, until: int) -> Change:
    """Return what changed at this reader from a day until another, judged with the person who came there most often."""
    pairs, recent = model.daily.pairs, _recent(model, since, until)
    here = recent[pairs.reader[recent] == reader]
    person = int(np.argmax(np.bincount(pairs.person[here], weights=pairs.n[here])))
    posterior, people, readers = _estimate(model, recent, here, person, since)
    at = int(np.searchsorted(people, person))
    place = int(np.searchsorted(readers, reader))
    return find_cause_at_reader(posterior, at, place, bound=BOUND * model.effects.noise_sd)


def _recent(model: ScoreModel, since: int, until: int) -> Ints:
    """The pair-days of the last days before `until`, by their places."""
    day = model.daily.pairs.day
    return np.flatnonzero((day >= max(since, until - WINDOW)) & (day < until))


def _marked(codes: Codes, size: int) -> npt.NDArray[np.bool_]:
    marked = np.zeros(size, dtype=bool)
    marked[codes] = True
    return marked


def _estimate(
    model: ScoreModel, recent: Ints, chosen: Ints, person: int, since: int
) -> tuple[ChangePosterior, Ints, Ints]:
    """Divide the changes of the chosen pair-days, and of the same people's at other readers; most-used pairs first."""
    pairs, cells = model.daily.pairs, model.effects.cells
    rows = recent[_marked(pairs.person[chosen], len(model.people))[pairs.person[recent]]]
    seen, index = np.unique(pairs.cell[rows], return_inverse=True)
    late = np.bincount(index, weights=1 / pairs.chance[rows])
    now = np.bincount(index, weights=pairs.mean[rows] / pairs.chance[rows]) / late
    before, early = _before(model, seen, since)
    change, weight = now - before, 1 / (1 / late + 1 / early)
    busiest = np.lexsort((-weight, cells.person[seen] != person))[:MOST_PAIRS]
    kept = np.sort(busiest)
    people, who = np.unique(cells.person[seen[kept]], return_inverse=True)
    readers, where = np.unique(cells.reader[seen[kept]], return_inverse=True)
    spread = (PRIOR * model.effects.noise_sd) ** 2
    posterior = estimate_changes(
        who,
        where,
        change[kept],
        1 / weight[kept],
        len(people),
        len(readers),
        person_variance=spread,
        reader_variance=spread,
    )
    return posterior, people, readers


def _before(model: ScoreModel, seen: Codes, since: int) -> tuple[Floats, Floats]:
    """The level of each cell seen before a day, and its precision, starting from people at that reader in general."""
    pairs, effects = model.daily.pairs, model.effects
    rows = np.flatnonzero(_marked(seen, len(effects.cells.count))[pairs.cell] & (pairs.day < since))
    place = np.searchsorted(seen, pairs.cell[rows])
    prior = 1 / (effects.person_sd**2 + effects.pair_sd**2 + 1e-9)
    weight = np.bincount(place, weights=1 / pairs.chance[rows], minlength=len(seen)) + prior
    total = np.bincount(place, weights=pairs.mean[rows] / pairs.chance[rows], minlength=len(seen))
    level = (total + prior * (effects.mean + effects.reader[effects.cells.reader[seen]])) / weight
    return np.asarray(level), np.asarray(weight)
