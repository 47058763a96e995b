"""Limits from the log itself: how high a chart climbs where the same values come in an order that means nothing.

A limit from theory holds where values are normal, equally wide for everybody and free of each other. A hand's days are
none of that for certain: tails are long, people differ in how steady they are, neighbouring days hang together. So each
series is cut into blocks of neighbouring points, the blocks are put in a chance order again and again, and the limit is
where the charts of these orders give the false alarms a month that are accepted. Where a series has plainly changed,
the change is taken out first, else it would raise the limit that is to find it.

Source: permutation in blocks for dependent series, Künsch (1989), Annals of Statistics 17:1217-1241; the exponential
tail of the highest points of excursions, Pickands (1975), Annals of Statistics 3:119-131, of shape 0; halving at the
best split again and again, Scott and Knott (1974), Biometrics 30:507-512.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from evenhand.scores.alarms.standardise import left_packed

__all__ = ["Shuffled", "in_chance_orders"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Chart = Callable[[Floats], Floats]

MOST_ORDERS, FEWEST_ORDERS = 60, 2
POINTS = 2_000_000
"""Points charted at most, in all orders together; a large workplace tells as much in a few orders."""
TAIL, FAR = 100, 0.02
"""Excursions that the tail of the highest is taken from, at least, and their share of all: the highest hundred of many
orders are two or three runs of the log, again and again, and a limit from them is as much by chance as these."""
PLAIN, PIECES = 8.0, 6
"""Log-likelihood by which two levels must beat one to be a plain change, and into how many levels at most."""
SHORTEST = 6
"""Points that a level must last to be one: a bad day or two are no change."""
ODDEST = 3
"""Points that may be odd for once, as when a hand is refused all of one day."""
LAGS = 5
SEED = 20_260_105
"""The orders are the same every time: the same log gives the same limits."""


@dataclass(frozen=True)
class Shuffled:
    """The highest points of all excursions in the chance orders (falling), and how many months they stand for."""

    peaks: Floats
    months: float

    def limit_for(self, wanted: float) -> float:
        """Return the least limit that gives no more than `wanted` alarms a month."""
        count, tail = wanted * self.months, max(TAIL, int(FAR * len(self.peaks)))
        if len(self.peaks) < tail or count >= tail:
            return float(self.peaks[min(int(count), len(self.peaks) - 1)]) if len(self.peaks) else 0.0
        low = float(self.peaks[tail - 1])
        mean = max(float(np.mean(self.peaks[:tail])) - low, 1e-9)
        return low + mean * float(np.log(tail / max(count, 1e-9)))


def in_chance_orders(
    values: Floats, chart: Chart, block: int, months: float, *, hang_together: bool = True
) -> Shuffled:
    """Chart values (series, points; nan is none) in chance orders of blocks of `block` neighbouring points.

    `chart` gives the height of each point, which is 0 or below where it is at rest. `months` is what the points span.
    What neighbours have in common makes a level wander, which is no change; with `hang_together` false it is not asked,
    since each value was foretold from those before.
    """
    packed = left_packed(values)
    packed = packed[:, : max(int((~np.isnan(packed)).sum(axis=1).max(initial=0)), 1)]
    still = _unchanged(packed, PLAIN)
    if hang_together:
        still = _unchanged(packed, PLAIN * _hanging_together(still))
    packed = _in_blocks(_without_oddest(still), block)
    orders = int(np.clip(POINTS // max(packed.size, 1), FEWEST_ORDERS, MOST_ORDERS))
    rng = np.random.default_rng(SEED)
    peaks = []
    for _ in range(orders):
        order = np.argsort(rng.random(packed.shape[:2]), axis=1)
        peaks.append(_peaks(chart(np.take_along_axis(packed, order[:, :, None], axis=1).reshape(len(packed), -1))))
    return Shuffled(np.sort(np.concatenate(peaks))[::-1], max(orders * months, 1e-9))


def _unchanged(packed: Floats, plain: float) -> Floats:
    """The series with changes of level taken out, as many as win this much likelihood each."""
    found, variance = packed.copy(), _variance(packed)
    least = float(np.median(variance)) or 1.0
    own, count = np.maximum(variance, least), (~np.isnan(packed)).sum(axis=1)
    between, _ = _best_split(packed)
    # what came and went again wins little by one split, and shows by how far it spreads the series
    may_win = np.maximum(_won(count, between, count * own), 0.25 * count * np.log(own / least))
    for series in np.flatnonzero(may_win > plain).tolist():
        values = packed[series][~np.isnan(packed[series])]
        cuts = _levels(values, float(own[series]), plain)
        middle = values[: cuts[1]].mean()
        for begins, ends in pairwise(cuts) if len(cuts) > 2 else ():
            found[series, begins:ends] = values[begins:ends] - values[begins:ends].mean() + min(middle, 0.0)
    return found


def _levels(values: Floats, variance: float, plain: float) -> list[int]:
    """Where the levels of a series begin, and the end: at the best splits, one after the other, as many as win most."""
    count, left, won, most = len(values), len(values) * variance, 0.0, 0.0
    cuts = kept = [0, count]
    for levels in range(1, PIECES):
        splits = [(_best_split(values[None, begins:ends]), begins) for begins, ends in pairwise(cuts)]
        between, at = max((float(apart[0]), begins + int(place[0])) for (apart, place), begins in splits)
        if between <= 0:
            break
        won, left = won + float(_won(count, between, left)), left - between
        cuts = sorted([*cuts, at])
        if won - levels * plain > most:
            most, kept = won - levels * plain, cuts
    return kept


def _won(count: Ints | int, between: Floats | float, left: Floats | float) -> Floats:
    """The log-likelihood that a split wins, which leaves so much less of the sum of squares."""
    return np.asarray(-0.5 * count * np.log1p(-np.minimum(between / left, 1 - 1e-9)))


def _without_oddest(packed: Floats) -> Floats:
    """The series with the oddest few points of all drawn in: what happened once tells nothing of how often it does."""
    told = np.sort(packed[~np.isnan(packed)])
    return np.asarray(np.minimum(packed, told[-ODDEST - 1])) if len(told) > ODDEST else packed


def _hanging_together(packed: Floats) -> float:
    """How many times as much a level wanders as free points would: by what neighbours have in common, in the middle."""
    count = (~np.isnan(packed)).sum(axis=1)
    rows = packed[count > 4 * LAGS]
    if not len(rows):
        return 1.0
    rows = rows - np.nanmean(rows, axis=1, keepdims=True)
    whole = np.nanmean(np.square(rows), axis=1)
    rows = rows[whole > 0]
    shares = [np.nanmean(rows[:, lag:] * rows[:, :-lag], axis=1) / whole[whole > 0] for lag in range(1, LAGS + 1)]
    return max(1.0 + 2 * sum(float(np.median(share)) for share in shares), 1.0) if len(rows) else 1.0


def _variance(packed: Floats) -> Floats:
    count = np.maximum((~np.isnan(packed)).sum(axis=1), 1)
    mean = np.nansum(packed, axis=1) / count
    return np.asarray(np.nansum(np.square(packed - mean[:, None]), axis=1) / count)


def _best_split(packed: Floats) -> tuple[Floats, Ints]:
    """The sum of squares between two levels in each row, parted at the best place, and the place."""
    count = (~np.isnan(packed)).sum(axis=1)[:, None]
    sums = np.cumsum(np.nan_to_num(packed), axis=1)
    before = np.arange(1, packed.shape[1] + 1)[None, :]
    after = count - before
    with np.errstate(divide="ignore", invalid="ignore"):
        apart = (sums[:, -1:] - sums) / after - sums / before
        is_long = (before >= SHORTEST) & (after >= SHORTEST)
        between = np.where(is_long, before * after / count * np.square(apart), 0.0)
    at = np.argmax(between, axis=1)
    return np.asarray(between[np.arange(len(between)), at]), np.asarray(at + 1)


def _in_blocks(packed: Floats, block: int) -> Floats:
    """The series in blocks (series, blocks, block), the last filled up with nothing."""
    blocks = -(-packed.shape[1] // block)
    room = np.full((len(packed), blocks * block), np.nan)
    room[:, : packed.shape[1]] = packed
    return room.reshape(len(packed), blocks, block)


def _peaks(heights: Floats) -> Floats:
    """The highest point of each excursion from rest."""
    rests = heights <= 0
    rests[:, 0] = True
    peaks = np.maximum.reduceat(heights.ravel(), np.flatnonzero(rests.ravel())) if heights.size else np.zeros(0)
    return np.asarray(peaks[peaks > 0])
