"""Each person's level by day, the reader's part taken out, and its slope.

Source: Theil (1950) and Sen (1968), J. American Statistical Association 63:1379-1389, for the slope and its interval.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.scores.alarms.standardise import REACH
from evenhand.scores.effects.fit import MAD
from evenhand.scores.model import ScoreModel

__all__ = ["Levels", "Slopes", "diffusion_of", "likely_slopes", "person_levels", "recent_levels", "slopes_of"]

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Levels:
    """Levels on the fit's scale (people, days), nan without presentations, each with its variance by chance."""

    level: Floats
    variance: Floats


@dataclass(frozen=True)
class Slopes:
    """Slopes per day (people,) with the ends of their intervals, and the levels now, at each one's last point.

    `lever` is how far, in days, a level now moves with its slope, and `rest` the rest of its error, in standard
    deviations of the slope: a slope too steep makes the level now too high as well.
    """

    slope: Floats
    low: Floats
    high: Floats
    now: Floats
    lever: Floats
    rest: Floats

    @property
    def sd(self) -> Floats:
        """Return the standard deviation that a normal slope with a 90 % interval of this width would have."""
        return np.asarray((self.high - self.low) / (2 * 1.6448536269514722))


def person_levels(model: ScoreModel) -> Levels:
    """Return how people scored each day, had they been at a usual reader, as used to them as people are."""
    pairs, effects, daily = model.daily.pairs, model.effects, model.daily
    own = pairs.mean - effects.reader[pairs.reader] - effects.pair[pairs.cell]
    own = own - daily.reader_shift[pairs.reader, pairs.day]
    noise, pair = effects.noise_sd**2, effects.pair_sd**2
    unknown = pair * noise / np.maximum(noise + pair * effects.cells.count, 1e-300)  # of a pair's own offset
    chance = unknown[pairs.cell] + noise / pairs.n
    people, days = len(model.people), model.days
    place = pairs.person * days + pairs.day
    weight = np.bincount(place, weights=1 / chance, minlength=people * days)
    total = np.bincount(place, weights=own / chance, minlength=people * days)
    with np.errstate(divide="ignore", invalid="ignore"):
        level = np.where(weight > 0, total / weight, np.nan)
        variance = np.where(weight > 0, 1 / weight, np.nan)
    return Levels(level.reshape(people, days), variance.reshape(people, days))


def recent_levels(model: ScoreModel, is_first: npt.NDArray[np.bool_], days: int) -> Floats:
    """Return each person's level (people,) over their own last days, by the first presentations of visits.

    How many tries follow depends on what they score: in them high scores would count more often than they come.
    """
    effects, people = model.effects, len(model.people)
    last = np.zeros(people, dtype=np.int64)
    np.maximum.at(last, model.person, model.day)
    rows = np.flatnonzero(is_first & (model.day >= last[model.person] - days))
    cell, reach = effects.layout.cell[rows], REACH * effects.noise_sd
    person, reader, fitted = model.person[rows], model.reader[rows], effects.fitted[cell]
    own = np.clip(model.values[rows], fitted - reach, fitted + reach) - effects.reader[reader] - effects.pair[cell]
    own = own - model.daily.reader_shift[reader, model.day[rows]]
    count = np.bincount(person, minlength=people)
    return np.asarray(np.bincount(person, weights=own, minlength=people) / np.maximum(count, 1))


def slopes_of(day: Floats, level: Floats, confidence: float = 0.9) -> Slopes:
    """Return the median slope of each row of levels (people, points), nan where unknown, with its rank interval.

    `day` (points,) rises. The level now lies on the line of the slope, at the last day known. All people at once, which
    SciPy's function is not; its correction for equal levels is left out, since these are means of measurements.
    """
    from scipy.special import ndtri

    left, right = np.triu_indices(len(day), 1)
    slopes = np.sort((level[:, right] - level[:, left]) / (day[right] - day[left]), axis=1)
    known = ~np.isnan(level)
    points = known.sum(axis=1)
    pairs = points * (points - 1) // 2
    half = float(ndtri(0.5 + confidence / 2)) * np.sqrt(points * (points - 1) * (2 * points + 5) / 18)
    upper = np.minimum(np.rint((pairs + half) / 2).astype(np.int64), pairs - 1)
    lower = np.maximum(np.rint((pairs - half) / 2).astype(np.int64) - 1, 0)
    rows = np.arange(len(level))
    slope = (slopes[rows, (pairs - 1) // 2] + slopes[rows, pairs // 2]) / 2
    last = day[len(day) - 1 - np.argmax(known[:, ::-1], axis=1)]
    mean = (known * day).sum(axis=1) / points
    spread = np.square(np.where(known, day - mean[:, None], 0.0)).sum(axis=1)
    return Slopes(
        slope=slope,
        low=slopes[rows, lower],
        high=slopes[rows, upper],
        now=np.nanmedian(level - slope[:, None] * day, axis=1) + slope * last,
        lever=last - mean,
        rest=np.sqrt(spread / points),
    )


def likely_slopes(found: Slopes, at: int, named_above: float) -> tuple[Floats, Floats, Floats]:
    """Return slopes, levels now and weights of one row: what may be so, given that its slope stood out to be named.

    A slope is named only above a bound, so one that was named is steeper than the truth more often than not. Its
    likelihood is divided by the chance of being named, over slopes above 0 (truncated normal).
    """
    from scipy.special import log_ndtr, ndtri

    slope, now, sd = float(found.slope[at]), float(found.now[at]), max(float(found.sd[at]), 1e-12)
    slopes = np.linspace(0, slope + 4 * sd, 61)[1:]
    log_weight = -0.5 * np.square((slope - slopes) / sd) - log_ndtr((slopes - named_above) / sd)
    away = ndtri((np.arange(9) + 0.5) / 9) * float(found.rest[at]) * sd
    levels = now + (slopes - slope)[:, None] * float(found.lever[at]) + away[None, :]
    weight = np.repeat(np.exp(log_weight - log_weight.max()), len(away))
    return np.repeat(slopes, len(away)), levels.ravel(), weight


def diffusion_of(levels: Levels, span: int = 14) -> float:
    """Return the variance a usual hand's level gains a day, beyond chance: from levels one span apart, robustly."""
    days = int(levels.level.shape[1])
    if days < 2 * span:
        return 0.0
    early, early_variance = _mean_of(levels, slice(0, span))
    late, late_variance = _mean_of(levels, slice(days - span, days))
    change, chance = late - early, early_variance + late_variance
    seen = ~np.isnan(change)
    if seen.sum() < 5:
        return 0.0
    spread = MAD * float(np.median(np.abs(change[seen] - np.median(change[seen]))))
    excess = spread * spread - float(np.median(chance[seen]))
    return max(excess / (days - span), 0.0)


def _mean_of(levels: Levels, days: slice) -> tuple[Floats, Floats]:
    value, variance = levels.level[:, days], levels.variance[:, days]
    weight = np.where(np.isnan(value), 0.0, 1 / np.where(np.isnan(variance), 1.0, variance))
    total = weight.sum(axis=1)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray((weight * np.nan_to_num(value)).sum(axis=1) / total), np.asarray(1 / total)
