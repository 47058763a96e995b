"""Refusals of several people close together: a smear, the sun, a knocked platen.

Counted are comings of people, not their tries: somebody who is refused tries again at once. What is usual is each
person's own share at that reader, drawn to the reader's, so that those who are often refused and come at the same hour
are no burst; and shares differ from day to day, Mondays, cold hands, as widely as this reader's own days do.

Source: scan over windows with a beta-binomial tail, corrected for the number of windows (Bonferroni). Spread of the
share by moments: Kleinman (1973), J. American Statistical Association 68:46-54, over days (from memory).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from evenhand.scores.readers.logs import Logs
from evenhand.scores.tables import READER_HEALTH
from evenhand.terms.columns import Frame

__all__ = ["refusal_bursts"]

WINDOW_S = 1800
FEWEST_PEOPLE = 3
UNLIKELY = 0.001
FEWEST_DAYS = 10
MOST_ALIKE = 0.2
SURE = 10.0
"""Comings from which a person's own share counts as much as the reader's."""

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Codes = npt.NDArray[np.integer[Any]]
Flags = npt.NDArray[np.bool_]


def refusal_bursts(logs: Logs) -> Frame:
    """Return the bursts (READER_HEALTH): half hours in which three or more hands were refused beyond chance."""
    return READER_HEALTH.rows(row for reader in range(len(logs.readers)) for row in _found(logs, reader))


def _found(logs: Logs, reader: int) -> Iterator[dict[str, Any]]:
    log = logs.log(reader)
    at, refused = logs.at[log], logs.is_refused[log]
    if refused.all() or refused.sum() < FEWEST_PEOPLE:
        return
    code = logs.presented["number"][log].fill_null("").rank("dense").to_numpy().astype(np.int64) - 1
    seen = _comings(at, refused, code, logs.day[log])
    usual = _usual(seen)
    opens = np.flatnonzero(seen.refused)
    ends = np.searchsorted(seen.at, seen.at[opens] + WINDOW_S, side="right")
    errors, trials = np.searchsorted(opens, ends) - np.arange(len(opens)), ends - opens
    total = np.r_[0.0, np.cumsum(usual)]
    chance = _tail(errors, trials, (total[ends] - total[opens]) / trials, _alike(seen.day, seen.refused)) * len(opens)
    free = np.iinfo(np.int64).min
    for i in np.flatnonzero((errors >= FEWEST_PEOPLE) & (chance < UNLIKELY)).tolist():
        since = int(seen.at[opens[i]])
        within = slice(*np.searchsorted(at, (since, since + WINDOW_S + 1)).tolist())
        people = len(np.unique(code[within][refused[within]]))
        if since < free or people < FEWEST_PEOPLE:
            continue
        free = since + WINDOW_S
        yield {
            "reader": logs.readers[reader],
            "kind": "refusal_burst",
            "since": since,
            "size": float(refused[within].sum()),
            "count": int(refused[within].sum()),
            "trials": len(at[within]),
            "people": people,
            "chance": float(chance[i]),
        }


@dataclass(frozen=True)
class _Comings:
    """Comings of people to one reader, by time (comings,): tries up to an acceptance, or half an hour apart, are one.

    `at` is the first refusal, or the first try where there is none.
    """

    at: Ints
    refused: Flags
    code: Codes
    day: Codes


def _comings(at: Ints, refused: Flags, code: Codes, day: Codes) -> _Comings:
    order = np.lexsort((at, code))
    at, refused, code, day = at[order], refused[order], code[order], day[order]
    starts = np.flatnonzero(np.r_[True, (np.diff(code) != 0) | ~refused[:-1] | (np.diff(at) > WINDOW_S)])
    is_refused = np.logical_or.reduceat(refused, starts)
    first = np.minimum.reduceat(np.where(refused, at, np.iinfo(np.int64).max), starts)
    when = np.where(is_refused, first, at[starts])
    order = np.argsort(when, kind="stable")
    return _Comings(when[order], is_refused[order], code[starts][order], day[starts][order])


def _usual(seen: _Comings) -> Floats:
    """The share of comings with a refusal that is usual for each one's person at other times, drawn to the reader's."""
    share = float(seen.refused.mean())
    errors, trials = np.bincount(seen.code, weights=seen.refused), np.bincount(seen.code)
    return np.asarray((errors[seen.code] - seen.refused + SURE * share) / (trials[seen.code] - 1 + SURE))


def _alike(day: Codes, refused: Flags) -> float:
    """How alike the comings of one day are, from 0: the correlation of any two beyond that of all days.

    Days without more than one coming tell nothing, and the worst day is left out: a burst is what is looked for,
    and is not to widen what hides it.
    """
    place = day - day.min()
    trials = np.bincount(place).astype(np.float64)
    errors = np.bincount(place, weights=refused)[trials > 1]
    trials = trials[trials > 1]
    if len(trials) < FEWEST_DAYS:
        return 0.0
    far = np.square(errors - trials * errors.sum() / trials.sum()) / trials
    kept = np.argsort(far)[:-1]
    errors, trials = errors[kept], trials[kept]
    share = errors.sum() / trials.sum()
    if not 0 < share < 1:
        return 0.0
    seen = float(np.square(errors - trials * share).sum()) / (share * (1 - share))
    return float(np.clip((seen - trials.sum()) / (trials * (trials - 1)).sum(), 0.0, MOST_ALIKE))


def _tail(errors: Ints, trials: Ints, share: Floats, alike: float) -> Floats:
    """The chance of so many people refused or more, of so many."""
    from scipy.special import bdtrc
    from scipy.stats import betabinom

    if alike <= 0:
        return np.asarray(bdtrc(errors - 1, trials, share))
    size = 1 / alike - 1
    return np.asarray(betabinom.sf(errors - 1, trials, size * share, size * (1 - share)))
