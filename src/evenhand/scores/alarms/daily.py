"""One standardised value a day for each person and each reader, independent from day to day while nothing changes.

Each pair's day is compared with what its own past predicts, starting from what people at that reader are like, so
that a chart needs no settled window first and a new person is judged as widely as little is known. What everybody
at a reader shares on a day is the reader's; a person is judged without it.

Source: Hawkins (1987), The Statistician 36:431-439 (self-starting charts), here with a prior (Gaussian prediction).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.scores.effects.fit import MAD, Effects

__all__ = ["Daily", "PairDays", "daily_values", "pair_days"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

REACH = 3.0
SETTLED = 8
"""Scores after which a reference has settled: before, its own error lifts the scores of a whole new reader."""
LAGS = 5


@dataclass(frozen=True)
class PairDays:
    """Days of pairs as columns (pair-days,), by pair and day: the mean of `n` scores against what was predicted.

    `seen` counts the pair's earlier scores; `surprise` is mean minus prediction, `variance` what it would be if
    nothing changed.
    """

    person: Ints
    reader: Ints
    day: Ints
    n: Floats
    seen: Floats
    mean: Floats
    surprise: Floats
    variance: Floats


@dataclass(frozen=True)
class Daily:
    """Standardised values, nan where there are none: `hand` (people, days), `reader` (readers, days).

    `reader_shift` (readers, days) is what everybody at a reader shared, in units of the scale, shrunken;
    `hand_shift` (people, days) is what then is the person's own, with its `hand_variance` by chance.
    `hand_spread` and `reader_spread` are what the raw values were divided by: above 1 where days are more uneven,
    or hang together more, than single scores say.
    """

    hand: Floats
    reader: Floats
    hand_shift: Floats
    hand_variance: Floats
    reader_shift: Floats
    hand_spread: float
    reader_spread: float
    pairs: PairDays


def pair_days(
    person: Ints, reader: Ints, day: Ints, values: Floats, effects: Effects, fitted: Floats, days: int
) -> PairDays:
    """Return each pair's days with their surprise; `fitted` is each score's fit, and far scores are pulled to it."""
    reach = REACH * effects.noise_sd
    kept = np.clip(values, fitted - reach, fitted + reach)
    key = (person * len(effects.reader) + reader) * days + day
    keys, index = np.unique(key, return_inverse=True)
    n = np.bincount(index).astype(np.float64)
    mean = np.bincount(index, weights=kept) / n
    pair, at_day = keys // days, keys % days
    own = pair // len(effects.reader), pair % len(effects.reader)
    day_variance = _day_variance(pair, n, mean, kept - mean[index])
    noise = float(np.square(kept - mean[index]).sum() / max(len(kept) - len(n), 1)) or effects.noise_sd**2
    variance = day_variance + noise / n
    prior = 1 / max(effects.person_sd**2 + effects.pair_sd**2, 1e-6 * noise)
    expected = effects.mean + effects.reader[own[1]]
    before_weight = _sum_before(pair, 1 / variance)
    before_value = _sum_before(pair, mean / variance)
    predicted = (prior * expected + before_value) / (prior + before_weight)
    return PairDays(
        person=own[0],
        reader=own[1],
        day=at_day,
        n=n,
        seen=_sum_before(pair, n),
        mean=mean,
        surprise=mean - predicted,
        variance=variance + 1 / (prior + before_weight),
    )


def _sum_before(pair: Ints, values: Floats) -> Floats:
    """Sum over the earlier rows of the same pair; rows stand by pair."""
    total = np.cumsum(values) - values
    opens = np.flatnonzero(np.r_[True, pair[1:] != pair[:-1]])
    start = np.repeat(total[opens], np.diff(np.r_[opens, len(pair)]))
    return np.asarray(total - start)


def _day_variance(pair: Ints, n: Floats, mean: Floats, rest: Floats) -> float:
    """Variance of a pair's days beyond what single scores explain, from neighbouring days, robustly."""
    follows = pair[1:] == pair[:-1]
    if not follows.any():
        return 0.0
    noise = float(np.square(rest).sum() / max(len(rest) - len(n), 1))
    step = np.diff(mean)[follows]
    expected = noise * (1 / n[1:] + 1 / n[:-1])[follows]
    # half the squared spread of steps is the variance of a day; the median keeps single upsets out of it
    excess = float(MAD * np.median(np.abs(step))) ** 2 - float(np.median(expected))
    return max(excess / 2, 0.0)


def daily_values(pairs: PairDays, people: int, readers: int, days: int) -> Daily:
    """Return the values of people and readers from their pairs' days.

    Values are centred and divided by their long-run spread over everybody, which counts what neighbouring days
    have in common: a small correlation left in would multiply the false alarms.
    """
    sd = np.sqrt(pairs.variance)
    weight = np.where(pairs.seen >= SETTLED, 1 / pairs.variance, 0.0)
    pulled = np.clip(pairs.surprise, -REACH * sd, REACH * sd)
    cell = pairs.reader * days + pairs.day
    total = np.bincount(cell, weights=weight, minlength=readers * days).astype(np.float64)
    pushed = np.bincount(cell, weights=weight * pulled, minlength=readers * days)
    with np.errstate(divide="ignore", invalid="ignore"):
        raw_reader = np.where(total > 0, pushed / np.sqrt(total), np.nan)
        shared = pushed / total
    own_variance = _reader_variance(raw_reader, total)
    shrunken = np.nan_to_num(shared) * own_variance / (own_variance + 1 / np.maximum(total, 1e-300))
    others = total[cell] - weight
    with np.errstate(divide="ignore", invalid="ignore"):
        without = np.where(others > 0, (pushed[cell] - weight * pulled) / others, 0.0)
        kept = np.where(others > 0, own_variance / (own_variance + 1 / others), 0.0)
        left = np.where(others > 0, own_variance * (1 - kept), own_variance)
    surprise, variance = pulled - kept * without, pairs.variance + left
    place = pairs.person * days + pairs.day
    precision = np.bincount(place, weights=1 / variance, minlength=people * days)
    sums = np.bincount(place, weights=surprise / variance, minlength=people * days)
    with np.errstate(divide="ignore", invalid="ignore"):
        raw_hand = np.where(precision > 0, sums / np.sqrt(precision), np.nan).reshape(people, days)
        hand_shift = np.where(precision > 0, sums / precision, np.nan).reshape(people, days)
        hand_variance = np.where(precision > 0, 1 / precision, np.nan).reshape(people, days)
    hand, hand_spread = _standardised(raw_hand)
    reader, reader_spread = _standardised(raw_reader.reshape(readers, days))
    return Daily(
        hand=hand,
        reader=reader,
        hand_shift=hand_shift,
        hand_variance=hand_variance,
        reader_shift=shrunken.reshape(readers, days),
        hand_spread=hand_spread,
        reader_spread=reader_spread,
        pairs=pairs,
    )


def _reader_variance(raw: Floats, total: Floats) -> float:
    """Variance of what a reader's people share on a day, by moments: the values' excess over 1, by their weight."""
    seen = ~np.isnan(raw)
    if seen.sum() < 2:
        return 0.0
    excess = (MAD * np.median(np.abs(raw[seen] - np.median(raw[seen])))) ** 2 - 1
    return max(float(excess / np.median(total[seen])), 0.0)


def _standardised(raw: Floats) -> tuple[Floats, float]:
    seen = raw[~np.isnan(raw)]
    if len(seen) < 10:
        return raw, 1.0
    middle = float(np.median(seen))
    spread = MAD * float(np.median(np.abs(seen - middle))) or 1.0
    z = (raw - middle) / spread
    factor = np.sqrt(max(1 + 2 * sum(_correlation(np.clip(z, -REACH, REACH), lag) for lag in range(1, LAGS + 1)), 1.0))
    return np.asarray(z / factor), float(spread * factor)


def _correlation(z: Floats, lag: int) -> float:
    """Correlation of values `lag` points apart, middle half of the series only: those with a change would feign it."""
    order = _pressed(z)
    if order.shape[1] <= lag:
        return 0.0
    a, b = order[:, lag:], order[:, :-lag]
    both = ~(np.isnan(a) | np.isnan(b))
    count = both.sum(axis=1)
    enough = count >= 10
    if not enough.any():
        return 0.0
    product = np.where(both, np.nan_to_num(a) * np.nan_to_num(b), 0.0).sum(axis=1)[enough] / count[enough]
    return float(np.median(product))


def _pressed(z: Floats) -> Floats:
    """The values without their gaps, each row from the left."""
    order = np.argsort(np.isnan(z), axis=1, kind="stable")
    return np.take_along_axis(z, order, axis=1)
