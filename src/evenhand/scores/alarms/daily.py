"""One standardised value a day for each person and each reader, independent from day to day while nothing changes.

Each pair's day is compared with what its own past predicts, starting from what people at that reader are like, so
that a chart needs no settled window first and a new person is judged as widely as little is known. What everybody
at a reader shares on a day is the reader's; a person is judged without it.

Source: Hawkins (1987), The Statistician 36:431-439 (self-starting charts), here with a prior (Gaussian prediction).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from evenhand.scores.alarms.standardise import REACH, standardise
from evenhand.scores.effects.cells import runs
from evenhand.scores.effects.fit import HUBER, MAD, Effects

__all__ = ["Daily", "PairDays", "daily_values", "pair_days"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Codes = npt.NDArray[np.integer[Any]]

ENOUGH_READERS = 5
"""Readers from which the middle one of a day tells what all of them share."""
SETTLED = 8
"""Scores after which a reference has settled: before, its own error lifts the scores of a whole new reader."""


@dataclass(frozen=True)
class PairDays:
    """Days of pairs as columns (pair-days,), by pair and day: the mean of `n` scores against what was predicted.

    `cell` is the pair's, `usual` what the whole fit says of it; `chance` is the mean's variance if nothing changed.
    Charts go by scores that are pulled in closer: `surprise` is their mean minus what was predicted, `variance` what
    that would be if nothing changed, `step` their mean minus the pair's own earlier ones, for what a whole reader
    shares: there the prior's error would add up.
    """

    cell: Codes
    person: Ints
    reader: Ints
    day: Ints
    n: Floats
    mean: Floats
    usual: Floats
    surprise: Floats
    chance: Floats
    variance: Floats
    step: Floats
    step_weight: Floats


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


def pair_days(day: Ints, values: Floats, effects: Effects, days: int) -> PairDays:
    """Return each pair's days with their surprise, from scores by person, reader and day; far ones are pulled in."""
    layout, cells = effects.layout, effects.cells
    fitted = effects.fitted
    starts = runs(layout.cell.astype(np.int64) * days + day)
    n = np.diff(starts, append=len(values)).astype(np.float64)
    pair, at_day = layout.cell[starts], day[starts]
    own = cells.person[pair], cells.reader[pair]
    mean, chance, _ = _means(values, effects, REACH, starts, n)
    # one far score among a day's four would drown what the other three say: Huber's estimate, as in the fit
    pulled, variance, noise = _means(values, effects, HUBER, starts, n)
    before_weight = _sum_before(pair, 1 / variance)
    before_value = _sum_before(pair, pulled / variance)
    prior, expected = _first_guess(effects, own, at_day, pulled, variance, (before_weight, before_value), days, noise)
    settled = _sum_before(pair, n) >= SETTLED
    own_weight = _sum_before(pair, np.where(settled, 1 / variance, 0.0))
    own_value = _sum_before(pair, np.where(settled, pulled / variance, 0.0))
    told = own_weight > 0
    predicted = (prior * expected + before_value) / (prior + before_weight)
    return PairDays(
        cell=pair,
        person=own[0],
        reader=own[1],
        day=at_day,
        n=n,
        mean=mean,
        usual=fitted[pair],
        surprise=pulled - predicted,
        chance=chance,
        variance=variance + 1 / (prior + before_weight),
        step=pulled - own_value / np.where(told, own_weight, 1.0),
        step_weight=np.where(told, 1 / (variance + 1 / np.where(told, own_weight, 1.0)), 0.0),
    )


def _means(values: Floats, effects: Effects, reach: float, starts: Ints, n: Floats) -> tuple[Floats, Floats, float]:
    """The mean of each pair's day, its variance by chance and that of a score within a day; scores within a reach."""
    cell, reach = effects.layout.cell, reach * effects.noise_sd
    of_score = effects.fitted[cell]
    kept = np.clip(values, of_score - reach, of_score + reach)
    mean = np.add.reduceat(kept, starts) / n
    rest = kept - np.repeat(mean, n.astype(np.int64))
    noise = float(np.einsum("i,i->", rest, rest)) / max(len(kept) - len(n), 1)
    return mean, _day_variance(cell[starts], n, mean, noise) + (noise or effects.noise_sd**2) / n, noise


def _first_guess(
    effects: Effects,
    own: tuple[Ints, Ints],
    day: Ints,
    mean: Floats,
    variance: Floats,
    before: tuple[Floats, Floats],
    days: int,
    noise: float,
) -> tuple[Floats, Floats]:
    """What is expected of a pair before its own days count, and how surely: by people there, and the hand elsewhere.

    The precision comes first. Else each reader that a steady hand comes to would be surprised by what others know.
    """
    person, reader = own
    usual = effects.mean + effects.reader[reader]
    above = (mean - usual) / variance
    place, size = person * days + day, effects.cells.people * days
    weight, pushed = (
        np.bincount(place, weights=each, minlength=size).reshape(-1, days) for each in (1 / variance, above)
    )
    weight, pushed = ((np.cumsum(each, axis=1) - each)[person, day] for each in (weight, pushed))
    others, told = weight - before[0], pushed - (before[1] - usual * before[0])
    least = 1e-6 * (noise or effects.noise_sd**2)
    seen = others > 1e-9
    known = np.where(seen, 1 / (1 / np.where(seen, others, 1.0) + effects.pair_sd**2 + least), 0.0)
    precision = 1 / max(effects.person_sd**2, least) + known
    hand = known * np.where(seen, told / np.where(seen, others, 1.0), 0.0) / precision
    return np.asarray(1 / np.maximum(1 / precision + effects.pair_sd**2, least)), np.asarray(usual + hand)


def _sum_before(pair: Codes, values: Floats) -> Floats:
    """Sum over the earlier rows of the same pair; rows stand by pair."""
    total = np.cumsum(values) - values
    opens = runs(pair)
    start = np.repeat(total[opens], np.diff(np.r_[opens, len(pair)]))
    return np.asarray(total - start)


def _day_variance(pair: Codes, n: Floats, mean: Floats, noise: float) -> float:
    """Variance of a pair's days beyond what single scores explain, from neighbouring days, robustly."""
    follows = pair[1:] == pair[:-1]
    if not follows.any():
        return 0.0
    step = np.diff(mean)[follows]
    expected = noise * (1 / n[1:] + 1 / n[:-1])[follows]
    # half the squared spread of steps is the variance of a day; the median keeps single upsets out of it
    excess = float(MAD * np.median(np.abs(step))) ** 2 - float(np.median(expected))
    return max(excess / 2, 0.0)


def daily_values(pairs: PairDays, people: int, readers: int, days: int) -> Daily:
    """Return the values of people and readers from their pairs' days.

    Values are centred and divided by their long-run spread over everybody, which counts what neighbouring days
    have in common: a small correlation left in would multiply the false alarms. Shifts are against the whole fit,
    looking back; values against what was known then.
    """
    sd = np.sqrt(pairs.variance)
    clipped = np.clip(pairs.surprise, -REACH * sd, REACH * sd)
    step_sd = 1 / np.sqrt(np.where(pairs.step_weight > 0, pairs.step_weight, 1.0))
    step = np.clip(pairs.step, -REACH * step_sd, REACH * step_sd)
    then = _shared(pairs, step, pairs.step_weight, readers, days)
    own, variance = clipped - then.others, pairs.variance + then.others_variance
    precision, sums = _by_person_day(pairs, 1 / variance, own, people, days)
    with np.errstate(divide="ignore", invalid="ignore"):
        raw_hand = np.where(precision > 0, sums / np.sqrt(precision), np.nan)
    hand, hand_spread = standardise(raw_hand, own=True)
    reader, reader_spread = standardise(_without_common(then.raw, then.total))
    back = pairs.mean - pairs.usual
    now = _shared(pairs, back, 1 / pairs.chance, readers, days)
    precision, sums = _by_person_day(pairs, 1 / (pairs.chance + now.others_variance), back - now.others, people, days)
    with np.errstate(divide="ignore", invalid="ignore"):
        hand_shift = np.where(precision > 0, sums / precision, np.nan)
        hand_variance = np.where(precision > 0, 1 / precision, np.nan)
    return Daily(
        hand=hand,
        reader=reader,
        hand_shift=hand_shift,
        hand_variance=hand_variance,
        reader_shift=now.shift,
        hand_spread=hand_spread,
        reader_spread=reader_spread,
        pairs=pairs,
    )


@dataclass(frozen=True)
class _Shared:
    """What a reader's people share on a day, and the same by all others (rows,).

    `raw` is standardised by its weight, `total`, and `shift` shrunken (readers, days).
    """

    raw: Floats
    total: Floats
    shift: Floats
    others: Floats
    others_variance: Floats


def _shared(pairs: PairDays, values: Floats, weight: Floats, readers: int, days: int) -> _Shared:
    """Average pair-days over each reader's people, shrunken by how much readers vary, or this day plainly does."""
    cell = pairs.reader * days + pairs.day
    total = np.bincount(cell, weights=weight, minlength=readers * days).astype(np.float64)
    pushed = np.bincount(cell, weights=weight * values, minlength=readers * days).astype(np.float64)
    raw = np.full(len(total), np.nan)
    seen = total > 0
    raw[seen] = pushed[seen] / np.sqrt(total[seen])
    usual = _reader_variance(raw, total)
    shift, _ = _shrunken(pushed, total, usual)
    others, left = _shrunken(pushed[cell] - weight * values, total[cell] - weight, usual)
    by_day = (readers, days)
    return _Shared(raw.reshape(by_day), total.reshape(by_day), shift.reshape(by_day), others, left)


def _without_common(raw: Floats, total: Floats) -> Floats:
    """Take out what all readers share on a day, a Monday or a season: the middle one's, where there are enough."""
    if len(raw) < ENOUGH_READERS:
        return raw
    with np.errstate(divide="ignore", invalid="ignore"):
        level = np.where(total > 0, raw / np.sqrt(total), np.nan)
    seen = (~np.isnan(level)).sum(axis=0) >= ENOUGH_READERS
    common = np.zeros(level.shape[1])
    common[seen] = np.nanmedian(level[:, seen], axis=0)
    return np.asarray(raw - common * np.sqrt(total))


def _shrunken(pushed: Floats, total: Floats, usual: float) -> tuple[Floats, Floats]:
    """Return the shrunken average, and its variance; without anybody it is 0, as uncertain as readers vary."""
    known = total > 1e-9
    chance = 1 / np.where(known, total, 1.0)
    average = np.where(known, pushed * chance, 0.0)
    plain = np.maximum(usual, np.square(average) - chance)
    kept = np.where(known, plain / (plain + chance), 0.0)
    return np.asarray(kept * average), np.asarray(np.where(known, kept * chance, usual))


def _by_person_day(pairs: PairDays, weight: Floats, values: Floats, people: int, days: int) -> tuple[Floats, Floats]:
    place = pairs.person * days + pairs.day
    precision = np.bincount(place, weights=weight, minlength=people * days)
    sums = np.bincount(place, weights=weight * values, minlength=people * days)
    return precision.reshape(people, days).astype(np.float64), sums.reshape(people, days).astype(np.float64)


def _reader_variance(raw: Floats, total: Floats) -> float:
    """Variance of what a reader's people share on a day, by moments: the values' excess over 1, by their weight."""
    seen = ~np.isnan(raw)
    if seen.sum() < 2:
        return 0.0
    excess = (MAD * np.median(np.abs(raw[seen] - np.median(raw[seen])))) ** 2 - 1
    return max(float(excess / np.median(total[seen])), 0.0)
