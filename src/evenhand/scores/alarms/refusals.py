"""Refusals against what these very people, and this very reader, are used to, day by day.

What is usual is foretold for each presentation from what came before it: the person's own share, beginning at what
people are like (a beta-binomial), times how much more or less this reader refuses than its people's shares say. So
somebody who is often refused is no alarm, nor is the reader they use. The charted value is the log-likelihood ratio of
a share three times as high against the foretold one, summed over a day.

Source: Reynolds and Stoumbos (1999), J. Quality Technology 31, for the ratio; Dawid (1984), J. Royal Statistical
Society A 147:278-292, for foretelling each from those before.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import numpy as np
import numpy.typing as npt

from evenhand.scores.coding import codes_of
from evenhand.scores.effects.cells import runs, stable_order
from evenhand.scores.rates.beta_binomial import fit_beta_binomial
from evenhand.terms.columns import Frame

__all__ = ["TIMES_RAISED", "RefusalDays", "raised_share", "refusal_days"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Codes = npt.NDArray[np.integer[Any]]
Flags = npt.NDArray[np.bool_]

TIMES_RAISED = 3.0
"""A refusal chart is sharpest for a share raised by this factor, and by no less than to 3 %."""
LEAST, MOST = 0.001, 0.5
SURE = 10.0
"""Refusals that a reader is taken to have had, as many as were to be expected, before its log begins."""


@dataclass(frozen=True)
class RefusalDays:
    """One kind of series: `names`, and `surprise` (series, days), nan on days without a presentation.

    `series`, `day` (from `first`) and `usual` are of each presentation, in the order they were given.
    """

    names: list[str]
    first: date
    surprise: Floats
    series: Codes
    day: Ints
    usual: Floats

    def day_at(self, point: int) -> date:
        """Return the civil day of a point of the series."""
        return self.first + timedelta(days=point)


def raised_share(usual: Floats) -> Floats:
    """Return the share of refusals that a chart is sharpest for."""
    return np.asarray(np.clip(TIMES_RAISED * usual, 0.03, 0.9))


def refusal_days(refusing: Frame) -> dict[str, RefusalDays]:
    """Return the days of hands (`hand_refusals`) and of readers (`reader_refusals`), from presentations (PRESENTED)."""
    person, people = codes_of(refusing["person"])
    reader, readers = codes_of(refusing["reader"])
    refused = refusing["is_refused"].to_numpy()
    at = refusing["at"].to_numpy()
    day = refusing["day"].to_physical().to_numpy().astype(np.int64)
    first = int(day.min(initial=0 if not len(day) else day[0]))
    day = day - first
    foretold = _of_people(person, at, refused, len(people))
    usual = np.clip(foretold * _of_readers(reader, at, refused, foretold), LEAST, MOST)
    raised = raised_share(usual)
    ratio = np.where(refused, np.log(raised / usual), np.log((1 - raised) / (1 - usual)))
    begins, days = date(1970, 1, 1) + timedelta(days=first), int(day.max(initial=-1)) + 1
    return {
        kind: RefusalDays(names, begins, _by_day(codes, day, ratio, len(names), days), codes, day, usual)
        for kind, codes, names in (("hand_refusals", person, people), ("reader_refusals", reader, readers))
    }


def _of_people(person: Codes, at: Ints, refused: Flags, people: int) -> Floats:
    """The share foretold for each presentation from the person's earlier ones."""
    errors = np.bincount(person, weights=refused, minlength=people).astype(np.int64)
    trials = np.bincount(person, minlength=people)
    alike, weights = np.unique(np.column_stack([errors, trials]), axis=0, return_counts=True)
    fit = fit_beta_binomial(alike[:, 0], alike[:, 1], weights)
    share = max(float(refused.mean()), LEAST) if len(refused) else LEAST
    a, b = (fit.a, fit.b) if fit is not None else (1e6 * share, 1e6 * (1 - share))
    before, count = _before(person, at, refused.astype(np.float64))
    return np.asarray((a + before) / (a + b + count))


def _of_readers(reader: Codes, at: Ints, refused: Flags, foretold: Floats) -> Floats:
    """How many times as often a reader refused, up to each presentation, as its people's shares foretold."""
    seen, _ = _before(reader, at, refused.astype(np.float64))
    expected, _ = _before(reader, at, foretold)
    return np.asarray((SURE + seen) / (SURE + expected))


def _before(codes: Codes, at: Ints, values: Floats) -> tuple[Floats, Floats]:
    """The sum of the values of the same code that came before each, and their number, in the order given."""
    since = at - at.min(initial=0 if not len(at) else at[0])
    order = stable_order(codes.astype(np.int64) * (int(since.max(initial=0)) + 1) + since)
    ordered = values[order]
    starts = runs(codes[order])
    lengths = np.diff(starts, append=len(ordered))
    total = np.cumsum(ordered) - ordered
    sums, count = np.empty(len(values)), np.empty(len(values))
    sums[order] = total - np.repeat(total[starts], lengths)
    count[order] = np.arange(len(values)) - np.repeat(starts, lengths)
    return sums, count


def _by_day(codes: Codes, day: Ints, values: Floats, series: int, days: int) -> Floats:
    place = codes.astype(np.int64) * days + day
    sums = np.bincount(place, weights=values, minlength=series * days).astype(np.float64)
    sums[np.bincount(place, minlength=series * days) == 0] = np.nan
    return sums.reshape(series, days)
