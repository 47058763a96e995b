"""Who will be refused too often, when, and whose new enrolment saves most refused presentations.

The reference adapts a little at each acceptance, so a steady drift shows as a raised level that holds, an accepted
step heals, and a refused one never does. A level that still rises means that the hand moves ever faster or that the
reference no longer follows; that rise is carried forward, for as long as it lasted and no date where it may be none.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import Any

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.scores.forecasts.levels import Levels, diffusion_of, likely_slopes, person_levels, slope_of
from evenhand.scores.forecasts.passage import passage_days
from evenhand.scores.model import ScoreModel
from evenhand.scores.tables import FORECASTS
from evenhand.terms.columns import Frame

__all__ = ["forecast"]

Floats = npt.NDArray[np.float64]

WINDOW = 28
FEWEST_DAYS = 8
RAISED = 2.0
"""Standard errors by which a level now must be above the person's earlier one to count as raised."""
MONTH = 30.4375
MISTAKEN = 0.5
"""People expected to be called rising by chance, among everybody looked at."""


def forecast(model: ScoreModel, *, limit: float = 0.05) -> Frame:
    """Return a forecast (FORECASTS) of everybody whose refusals are, or may soon be, above `limit` a presentation.

    The limit is a chance per presentation: when the level itself meets the threshold, half of them fail already.
    Readers that never refused in the log have no threshold to be seen, and people who use only such readers get
    no forecast. A date needs a slope whose 90 % interval lies above 0, and that stands out among all those looked at.
    """
    threshold = _threshold(model)
    levels = person_levels(model)
    diffusion = diffusion_of(levels)
    rows = [
        row
        for person in np.flatnonzero(_worth_asking(model, levels, threshold, limit)).tolist()
        if (row := _of_person(model, person, levels, float(threshold[person]), diffusion, limit)) is not None
    ]
    return FORECASTS.rows(rows).sort("saved", "person", descending=[True, False])


def _threshold(model: ScoreModel) -> Floats:
    """Each person's threshold on the fit's scale, over the readers they use; nan where no reader they use refused."""
    refused = model.scores.filter(pl.col("is_refused"))["reader"].unique().to_list()
    known = np.isin(np.array(model.readers, dtype=object), refused)
    with np.errstate(divide="ignore", invalid="ignore"):
        at = np.where(known, model.scale.to(model.threshold), np.nan)
    at = at - model.effects.reader
    cells = model.effects.cells
    told = ~np.isnan(at[cells.reader])
    people = len(model.people)
    weight = np.bincount(cells.person[told], weights=cells.count[told], minlength=people)
    total = np.bincount(cells.person[told], weights=(cells.count * at[cells.reader])[told], minlength=people)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(np.where(weight > 0, total / weight, np.nan))


def _worth_asking(model: ScoreModel, levels: Levels, threshold: Floats, limit: float) -> npt.NDArray[np.bool_]:
    """A quick look at everybody: recently refused, or near the limit, or higher than before."""
    recent, _ = _recent_mean(levels, model.days)
    with np.errstate(invalid="ignore"):
        near = _chance(threshold - recent, model.effects.noise_sd) > limit / 5
        higher = recent - model.effects.mean - model.effects.person > 0.3 * model.effects.noise_sd
    refused = np.zeros(len(model.people), dtype=bool)
    late = model.scores["is_refused"].to_numpy() & (model.day >= model.days - WINDOW)
    refused[model.person[late]] = True
    days = (~np.isnan(levels.level)).sum(axis=1)
    return np.asarray((near | higher | refused) & (days >= FEWEST_DAYS) & ~np.isnan(threshold))


def _recent_mean(levels: Levels, days: int, span: int = 7) -> tuple[Floats, Floats]:
    window = levels.level[:, max(days - span, 0) :]
    seen = ~np.isnan(window)
    count = seen.sum(axis=1)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(np.nan_to_num(window).sum(axis=1) / count), np.asarray(count, dtype=np.float64)


def _chance(distance: npt.ArrayLike, sd: float) -> Floats:
    from scipy.special import ndtr

    return np.asarray(ndtr(-np.asarray(distance) / sd))


def _of_person(
    model: ScoreModel, person: int, levels: Levels, threshold: float, diffusion: float, limit: float
) -> dict[str, Any] | None:
    from scipy.special import ndtri

    sd = model.effects.noise_sd
    seen = np.flatnonzero(~np.isnan(levels.level[person]))
    recent = seen[seen >= seen[-1] - WINDOW]
    if len(recent) < FEWEST_DAYS:
        return None
    slope = slope_of(recent.astype(np.float64), levels.level[person, recent])
    before = levels.level[person, seen[: max(len(seen) - len(recent), len(seen) // 3)]]
    was = float(np.median(before))
    error = float(np.sqrt(np.median(levels.variance[person, seen]) * (1 / len(before) + 1 / len(recent)))) * 1.25
    now = slope.now if slope.low > 0 else float(np.median(levels.level[person, recent[-FEWEST_DAYS:]]))
    own_limit = threshold + sd * float(ndtri(limit))
    mine = model.person == person
    monthly = float(mine.sum()) / (seen[-1] - seen[0] + 1) * MONTH
    chance, after = float(_chance(threshold - now, sd)), float(_chance(threshold - min(was, now), sd))
    named_above = slope.sd * float(ndtri(1 - MISTAKEN / max(len(model.people), 2)))
    rises = slope.low > 0 and slope.slope > named_above
    state = _state(model, mine, rises, now - was > RAISED * error, chance, limit)
    if state == "steady" and chance < limit:
        return None
    days = None
    if state == "rising":
        slopes, at, weight = likely_slopes(slope, named_above)
        days = passage_days(own_limit - at, slopes, weight, diffusion)
    ahead = float(_chance(threshold - now - max(slope.slope, 0.0) * MONTH / 2, sd)) if state == "rising" else chance
    return {
        "person": model.people[person],
        "state": state,
        "presentations_a_month": monthly,
        "refusal_now": chance,
        "refusal_after": after,
        "slope": 7 * slope.slope,
        "slope_low": 7 * slope.low,
        "slope_high": 7 * slope.high,
        **dict(zip(("soonest", "likely", "latest"), _dates(model, int(seen[-1]), days), strict=True)),
        "saved": max(ahead - after, 0.0) * monthly,
        "says": _says(state, chance, limit, days),
    }


def _state(
    model: ScoreModel,
    mine: npt.NDArray[np.bool_],
    rises: bool,
    is_raised: bool,
    chance: float,
    limit: float,
) -> str:
    last = model.scores["is_refused"].to_numpy()[mine][-4:]
    if len(last) == 4 and last.all():
        return "locked_out"
    if rises and is_raised:
        return "rising"
    if is_raised:
        return "raised"
    return "often_refused" if chance >= limit else "steady"


def _dates(model: ScoreModel, last: int, days: tuple[float, float, float] | None) -> Iterator[Any]:
    for count in days or (np.inf, np.inf, np.inf):
        yield None if not np.isfinite(count) else model.day_at(last) + timedelta(days=int(count))


def _says(state: str, chance: float, limit: float, days: tuple[float, float, float] | None) -> str:
    now = f"{100 * chance:.1f} % of presentations are refused now"
    if state == "locked_out":
        return "The last four presentations were refused: a changed hand that is refused is never learnt; enrol again."
    if state == "rising" and days is not None and chance < limit:
        soon, late = (_in_days(count) for count in days[::2])
        return f"Scores rise; {now}, and {100 * limit:.0f} % is passed {soon} at the soonest, {late} at the latest."
    if state == "rising":
        return f"Scores rise, and {now}: enrol again."
    if state == "raised":
        return f"Scores rose; {now}. No date: whether they rise further is not sure."
    return f"{now[0].upper()}{now[1:]}, as before: a new enrolment may help little; offer another way to clock."


def _in_days(count: float) -> str:
    if not np.isfinite(count):
        return "in two years or more"
    return "tomorrow" if count < 2 else f"in {count:.0f} days"
