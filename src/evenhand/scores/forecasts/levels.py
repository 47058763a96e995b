"""Each person's level by day, the reader's part taken out, and its slope.

Source: Theil (1950) and Sen (1968), J. American Statistical Association 63:1379-1389, for the slope and its interval.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.scores.effects.fit import MAD
from evenhand.scores.model import ScoreModel

__all__ = ["Levels", "Slope", "diffusion_of", "likely_slopes", "person_levels", "slope_of"]

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Levels:
    """Levels on the fit's scale (people, days), nan without presentations, each with its variance by chance."""

    level: Floats
    variance: Floats


@dataclass(frozen=True)
class Slope:
    """A slope per day with the ends of its interval, and the level now, at the last point.

    `lever` is how far, in days, the level now moves with the slope, and `now_rest` the rest of its error, in
    standard deviations of the slope: a slope too steep makes the level now too high as well.
    """

    slope: float
    low: float
    high: float
    now: float
    lever: float
    now_rest: float

    @property
    def sd(self) -> float:
        """Return the standard deviation that a normal slope with a 90 % interval of this width would have."""
        return (self.high - self.low) / (2 * 1.6448536269514722)


def person_levels(model: ScoreModel) -> Levels:
    """Return how people scored each day, had they been at a usual reader."""
    pairs, effects, daily = model.daily.pairs, model.effects, model.daily
    own = pairs.mean - effects.reader[pairs.reader] - daily.reader_shift[pairs.reader, pairs.day]
    chance = effects.pair_sd**2 + effects.noise_sd**2 / pairs.n
    people, days = len(model.people), model.days
    place = pairs.person * days + pairs.day
    weight = np.bincount(place, weights=1 / chance, minlength=people * days)
    total = np.bincount(place, weights=own / chance, minlength=people * days)
    with np.errstate(divide="ignore", invalid="ignore"):
        level = np.where(weight > 0, total / weight, np.nan)
        variance = np.where(weight > 0, 1 / weight, np.nan)
    return Levels(level.reshape(people, days), variance.reshape(people, days))


def slope_of(day: Floats, level: Floats, confidence: float = 0.9) -> Slope:
    """Return the median slope with its rank interval; `now` lies on the line of that slope, at the last day."""
    from scipy.stats import theilslopes

    slope, _, low, high = theilslopes(level, day, alpha=confidence)
    now = float(np.median(level - slope * day) + slope * day[-1])
    spread = float(np.square(day - day.mean()).sum())
    return Slope(
        slope=float(slope),
        low=float(low),
        high=float(high),
        now=now,
        lever=float(day[-1] - day.mean()),
        now_rest=float(np.sqrt(spread / len(day))),
    )


def likely_slopes(found: Slope, named_above: float) -> tuple[Floats, Floats, Floats]:
    """Return slopes, levels now and weights: what may be so, given that the slope stood out enough to be named.

    A slope is named only above a bound, so one that was named is steeper than the truth more often than not. Its
    likelihood is divided by the chance of being named, over slopes above 0 (truncated normal).
    """
    from scipy.special import log_ndtr, ndtri

    sd = max(found.sd, 1e-12)
    slopes = np.linspace(0, found.slope + 4 * sd, 61)[1:]
    log_weight = -0.5 * np.square((found.slope - slopes) / sd) - log_ndtr((slopes - named_above) / sd)
    away = ndtri((np.arange(9) + 0.5) / 9) * found.now_rest * sd
    levels = found.now + (slopes - found.slope)[:, None] * found.lever + away[None, :]
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
