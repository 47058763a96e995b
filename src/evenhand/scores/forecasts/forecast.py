"""Who will be refused too often, when, and whose new enrolment saves most refused presentations.

The reference adapts a little at each acceptance, so a steady drift shows as a raised level that holds, an accepted
step heals, and a refused one never does. A level that still rises means that the hand moves ever faster or that the
reference no longer follows; that rise is carried forward, for as long as it lasted and no date where it may be none.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import numpy.typing as npt

from evenhand.scores.effects.cells import runs
from evenhand.scores.forecasts.distances import Distances, distances_of
from evenhand.scores.forecasts.levels import (
    Levels,
    Slopes,
    diffusion_of,
    likely_slopes,
    person_levels,
    recent_levels,
    slopes_of,
)
from evenhand.scores.forecasts.passage import passage_days
from evenhand.scores.forecasts.scatter import Scatter, scatter_of
from evenhand.scores.forecasts.shrunken import Believed, believed_changes
from evenhand.scores.forecasts.tries import Tries, tries_of
from evenhand.scores.forecasts.words import ForecastWords, forecast_says
from evenhand.scores.lately import counted_lately
from evenhand.scores.model import ScoreModel
from evenhand.scores.paths import paths_of
from evenhand.scores.tables import FORECASTS
from evenhand.terms.columns import Frame

__all__ = ["forecast"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Flags = npt.NDArray[np.bool_]
Days = tuple[float, float, float]

WINDOW = 28
FEWEST_DAYS = 8
LAST = 4
"""Refusals in a row, up to now, after which a hand is taken to be refused for good. Common practice, no source."""
BELIEVED = 0.9
"""Chance that a level has truly moved from which it counts as raised."""
MONTH = 30.4375
CHANGED = ("locked_out", "rising", "raised")
AHEAD = 2.0
"""Days ahead from which a day is given: of a limit that is as likely passed as not, its days held too seldom."""
MISTAKEN = 0.5
"""People expected to be called rising by chance, among everybody looked at."""


@dataclass(frozen=True)
class _Asked:
    """Those worth asking about, as columns (asked,): their codes, and their level now and before.

    `rises` and `is_raised` say what stands out, `last` is the last day with a presentation.
    """

    person: Ints
    slopes: Slopes
    last: Ints
    now: Floats
    was: Floats
    rises: Flags
    is_raised: Flags
    named_above: Floats
    believed: Believed


def forecast(
    model: ScoreModel,
    as_of: int,
    *,
    limit: float = 0.05,
    changed: Collection[str] = (),
    alarmed: Collection[str] | None = None,
) -> Frame:
    """Return a forecast (FORECASTS) of everybody whose refusals are, or may soon be, above `limit` a presentation.

    The limit is a chance per presentation: when the level itself meets the threshold, half of them fail already.
    Of those whose hand `changed` by their chart it is not said that they are as before, and only of those whose chart
    has `alarmed` that they rose: what stands out among many in the last days alone does so by chance too often, and a
    chart seldom goes along with it. Without `alarmed` the level alone decides.
    Refusals are counted over the four weeks up to `as_of` [s since 1970-01-01T00:00:00Z].
    Readers that never refused in the log have no threshold to be seen, and people who use only such readers get
    no forecast. A date needs a slope whose 90 % interval lies above 0, and that stands out among all those looked at,
    and a limit that is more likely ahead than passed.
    """
    tries = tries_of(model)
    levels, scatter, distances = person_levels(model), scatter_of(model, tries.is_first), distances_of(model)
    asked = _ask(model, tries.is_first, levels, np.flatnonzero(_worth_asking(model, levels, distances, scatter, limit)))
    if alarmed is not None:
        asked = replace(asked, is_raised=asked.is_raised & np.isin(model.people, sorted(alarmed))[asked.person])
    if not len(asked.person):
        return FORECASTS.empty()
    chance = distances.chances(scatter, _of_everybody(model, asked.person, asked.now))[asked.person]
    state = _states(model, asked, chance, limit)
    chance, after, sure = _shares(model, asked, state, chance, (tries, scatter, distances))
    refused, presented = _lately(model, asked, as_of)
    visits = _visits(model, asked, tries)
    saved = visits * (tries.refused(chance) - tries.refused(after)) * sure
    share = tries.refused(chance) / tries.made(chance)
    named = np.flatnonzero((state != "steady") | (chance >= limit))
    days = _passages(asked, state, distances.middle[asked.person], diffusion_of(levels), scatter, limit)
    days = {i: counts for i, counts in days.items() if share[i] < limit and counts[1] >= AHEAD}
    dates = [_dates(model, int(asked.last[i]), days.get(i)) for i in named.tolist()]
    spared = np.where(np.isin(state, CHANGED), np.maximum(saved, 0.0), 0.0)
    counts = [(int(refused[i]), int(presented[i])) for i in named.tolist()]
    words = [
        ForecastWords(
            str(state[i]),
            lately,
            float(share[i]),
            limit,
            days.get(i),
            float(spared[i]),
            model.people[asked.person[i]] in changed,
        )
        for i, lately in zip(named.tolist(), counts, strict=True)
    ]
    return FORECASTS.frame(
        {
            "person": [model.people[person] for person in asked.person[named].tolist()],
            "state": state[named].tolist(),
            "presentations_a_month": (visits * tries.made(chance))[named],
            "refused": refused[named],
            "presentations": presented[named],
            "refusal_now": share[named],
            "refusal_after": (tries.refused(after) / tries.made(after))[named],
            "slope": 7 * asked.slopes.slope[named],
            "slope_low": 7 * asked.slopes.low[named],
            "slope_high": 7 * asked.slopes.high[named],
            **{name: [row[at] for row in dates] for at, name in enumerate(("soonest", "likely", "latest"))},
            "saved": spared[named],
            "says": [forecast_says(one) for one in words],
        }
    ).sort("saved", "person", descending=[True, False])


def _shares(
    model: ScoreModel,
    asked: _Asked,
    state: npt.NDArray[np.str_],
    chance: Floats,
    means: tuple[Tries, Scatter, Distances],
) -> tuple[Floats, Floats, Floats]:
    """The chance of a refusal now and after a new enrolment, by the paths a level may have taken, and how sure it rose.

    The same where the level is as ever: a new enrolment would bring what the old one did.
    """
    now, after, (tries, scatter, distances) = chance.copy(), chance.copy(), means
    sure = asked.believed.chance.copy()
    for i in np.flatnonzero(np.isin(state, CHANGED)).tolist():
        person = int(asked.person[i])
        paths, rest = paths_of(model, tries.is_first, person, float(scatter.width[person]), asked.believed.wander)
        about = scatter.about(person, rest)
        now[i] = paths.weight @ distances.chances_of(about, person, paths.now)
        after[i] = paths.weight @ distances.chances_of(about, person, paths.was)
        if state[i] == "locked_out":  # named by its last refusals, whatever is believed beside everybody's changes
            sure[i] = paths.sure
    return now, np.minimum(after, now), sure


def _of_everybody(model: ScoreModel, person: Ints, values: Floats) -> Floats:
    """Values of some people, at everybody's places; 0 for the others."""
    placed = np.zeros(len(model.people))
    placed[person] = values
    return placed


def _worth_asking(model: ScoreModel, levels: Levels, distances: Distances, scatter: Scatter, limit: float) -> Flags:
    """A quick look at everybody: recently refused, or near the limit, or higher than before."""
    recent = _recent_mean(levels, model.days)
    with np.errstate(invalid="ignore"):
        near = distances.chances(scatter, recent) > limit / 5
        higher = recent - model.effects.mean - model.effects.person > 0.3 * model.effects.noise_sd
    late = model.is_refused & (model.day >= model.days - WINDOW)
    refused = np.bincount(model.person[late], minlength=len(model.people)) > 0
    days = (~np.isnan(levels.level)).sum(axis=1)
    return np.asarray((near | higher | refused) & (days >= FEWEST_DAYS) & ~np.isnan(distances.middle))


def _recent_mean(levels: Levels, days: int, span: int = 7) -> Floats:
    window = levels.level[:, max(days - span, 0) :]
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(np.nansum(window, axis=1) / (~np.isnan(window)).sum(axis=1))


def _ask(model: ScoreModel, is_first: Flags, levels: Levels, person: Ints) -> _Asked:
    """Return the slope of the last weeks, the level now, and the level before, of those with enough recent days."""
    from scipy.special import ndtri

    days = np.arange(model.days)
    last = model.days - 1 - np.argmax(~np.isnan(levels.level[person, ::-1]), axis=1)
    is_recent = ~np.isnan(levels.level[person]) & (days >= last[:, None] - WINDOW)
    enough = is_recent.sum(axis=1) >= FEWEST_DAYS
    person, last, is_recent = person[enough], last[enough], is_recent[enough]
    level = levels.level[person]
    seen, recent = (~np.isnan(level)).sum(axis=1), is_recent.sum(axis=1)
    window = last[:, None] - np.arange(WINDOW, -1, -1)
    slopes = slopes_of(
        np.arange(WINDOW + 1.0), np.where(window < 0, np.nan, np.take_along_axis(level, np.maximum(window, 0), axis=1))
    )
    ordinal = np.cumsum(~np.isnan(level), axis=1)
    earlier = np.maximum(seen - recent, seen // 3)
    was = _median_where(level, ordinal <= earlier[:, None])
    now = recent_levels(model, is_first, WINDOW)[person]
    named_above = slopes.sd * float(ndtri(1 - MISTAKEN / max(len(model.people), 2)))
    rises = (slopes.low > 0) & (slopes.slope > named_above)
    believed = believed_changes(*_changes(levels))
    believed = Believed(believed.chance[person], believed.mean[person], believed.wander)
    is_raised = (believed.chance >= BELIEVED) & (believed.mean > 0)
    return _Asked(person, slopes, last, now, was, rises, is_raised, named_above, believed)


def _changes(levels: Levels) -> tuple[Floats, Floats]:
    """Everybody's level of the last days less the one before, with its error by chance; nan with too few days."""
    level, variance = levels.level, levels.variance
    known = ~np.isnan(level)
    seen = known.sum(axis=1)
    ordinal = np.cumsum(known, axis=1)
    late = ordinal > (seen - FEWEST_DAYS)[:, None]
    early = ordinal <= np.maximum(seen - 2 * FEWEST_DAYS, seen // 3)[:, None]
    told = seen >= 2 * FEWEST_DAYS
    change, error = np.full(len(level), np.nan), np.full(len(level), np.nan)
    now, was = _median_where(level[told], late[told]), _median_where(level[told], early[told])
    count = (early & known).sum(axis=1)[told]
    change[told] = now - was
    error[told] = 1.25 * np.sqrt(_median_where(variance[told], known[told]) * (1 / count + 1 / FEWEST_DAYS))
    return change, error


def _median_where(values: Floats, chosen: Flags) -> Floats:
    """The median of the chosen values in each row, of which there are some; nan is never chosen."""
    ordered = np.sort(np.where(chosen & ~np.isnan(values), values, np.nan), axis=1)
    count = (~np.isnan(ordered)).sum(axis=1)
    rows = np.arange(len(ordered))
    return np.asarray((ordered[rows, (count - 1) // 2] + ordered[rows, count // 2]) / 2)


def _visits(model: ScoreModel, asked: _Asked, tries: Tries) -> Floats:
    """How many visits each makes in a month, from their first day to the last."""
    count = np.bincount(model.person[tries.is_first], minlength=len(model.people))[asked.person]
    first = np.minimum.reduceat(model.day, runs(model.person))[asked.person]
    return np.asarray(count / (asked.last - first + 1) * MONTH)


def _lately(model: ScoreModel, asked: _Asked, as_of: int) -> tuple[Ints, Ints]:
    """How many of how many presentations of each were refused lately, scored or not."""
    counts = counted_lately(model.presented, "person", as_of)
    found = [counts.get(model.people[person], (0, 0)) for person in asked.person.tolist()]
    refused, count = np.array(found, dtype=np.int64).reshape(-1, 2).T
    return refused, count


def _states(model: ScoreModel, asked: _Asked, chance: Floats, limit: float) -> npt.NDArray[np.str_]:
    starts = runs(model.person)
    at = model.at
    accepted = np.maximum.reduceat(np.where(model.is_refused, np.iinfo(np.int64).min, at), starts)
    since = model.is_refused & (at > np.repeat(accepted, np.diff(starts, append=len(at))))
    is_locked_out = (np.add.reduceat(since.astype(np.int64), starts) >= LAST)[asked.person]
    return np.select(
        [is_locked_out, asked.rises & asked.is_raised, asked.is_raised, chance >= limit],
        ["locked_out", "rising", "raised", "often_refused"],
        "steady",
    )


def _passages(
    asked: _Asked,
    state: npt.NDArray[np.str_],
    threshold: Floats,
    diffusion: float,
    scatter: Scatter,
    limit: float,
) -> dict[int, Days]:
    """Return when those who rise pass the limit, by their place among those asked."""
    found, reach = {}, scatter.reach(limit)
    for i in np.flatnonzero(state == "rising").tolist():
        slopes, at, weight = likely_slopes(asked.slopes, i, float(asked.named_above[i]))
        own_limit = scatter.level_below(int(asked.person[i]), float(threshold[i]), reach)
        found[i] = passage_days(own_limit - at, slopes, weight, diffusion)
    return found


def _dates(model: ScoreModel, last: int, days: Days | None) -> list[date | None]:
    counts: Any = days or (np.inf, np.inf, np.inf)
    return [model.day_at(last) + timedelta(days=int(count)) if np.isfinite(count) else None for count in counts]
