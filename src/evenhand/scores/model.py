"""Everything a log of scores tells, computed once: the scale, the fit, the days, and what each score is made of."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.scores.alarms.daily import REACH, Daily, daily_values, pair_days
from evenhand.scores.effects.connected import groups_of
from evenhand.scores.effects.fit import Effects, above, fit_effects
from evenhand.scores.effects.scale import Scale, choose_scale
from evenhand.scores.tables import EXPLAINED
from evenhand.terms.columns import Frame

__all__ = ["ScoreModel", "explain", "fit_scores"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

FEWEST = 30


@dataclass(frozen=True)
class ScoreModel:
    """What the scores of `people` at `readers` tell; codes are places in these lists, days count from `first`.

    `scores` are the presentations used, by person and time; `values` their scores on the fit's scale, with what is
    expected of a refusal without a score; `fitted` what the fit says of each. `threshold` (readers,) is the highest
    score accepted, nan where none is known. `groups` are labels of people and then of readers: between groups no
    effect can be compared.
    """

    scores: Frame
    people: list[str]
    readers: list[str]
    first: date
    days: int
    person: Ints
    reader: Ints
    day: Ints
    values: Floats
    fitted: Floats
    scale: Scale
    threshold: Floats
    effects: Effects
    daily: Daily
    groups: Ints

    def day_at(self, point: int) -> date:
        """Return the civil day of a point of the daily series."""
        return self.first + timedelta(days=point)


def fit_scores(presented: Frame) -> ScoreModel | None:
    """Return what the presentations (PRESENTED, screened scores only) tell; None for fewer than thirty scores.

    Refusals without a score count as above the reader's threshold, where that reader has accepted with scores and
    the person has scores at all; others tell nothing here.
    """
    scored = presented.filter(pl.col("score").is_not_null())
    if scored.height < FEWEST:
        return None
    people, readers = scored["person"].unique().sort(), scored["reader"].unique().sort()
    used, threshold = _used(presented, people, readers)
    person, reader = _codes(used["person"], people), _codes(used["reader"], readers)
    fit = _fit(used["score"], person, reader, threshold, len(people), len(readers))
    first, last = used["day"].min(), used["day"].max()
    assert isinstance(first, date) and isinstance(last, date)
    days = (last - first).days + 1
    day = (used["day"] - first).dt.total_days().to_numpy().astype(np.int64)
    pairs = pair_days(person, reader, day, fit.values, fit.effects, fit.fitted, days)
    cells = fit.effects.cells
    return ScoreModel(
        scores=used,
        people=people.to_list(),
        readers=readers.to_list(),
        first=first,
        days=days,
        person=person,
        reader=reader,
        day=day,
        values=fit.values,
        fitted=fit.fitted,
        scale=fit.scale,
        threshold=threshold,
        effects=fit.effects,
        daily=daily_values(pairs, len(people), len(readers), days),
        groups=groups_of(cells.person, cells.reader, len(people), len(readers))[0],
    )


def _used(presented: Frame, people: pl.Series, readers: pl.Series) -> tuple[Frame, Floats]:
    """The presentations that tell something, by person and time, and the highest score each reader accepted."""
    accepted = presented.filter(pl.col("score").is_not_null(), ~pl.col("is_refused"))
    highest = dict(accepted.group_by("reader").agg(pl.col("score").max()).iter_rows())
    used = presented.filter(
        pl.col("score").is_not_null()
        | (pl.col("is_refused") & pl.col("reader").is_in(list(highest)) & pl.col("person").is_in(people.implode()))
    ).sort("person", "at", "punch")
    return used, np.array([highest.get(name, np.nan) for name in readers.to_list()], dtype=np.float64)


@dataclass(frozen=True)
class _Fit:
    """The scale, the effects on it, and of each presentation its value and what the fit says."""

    scale: Scale
    effects: Effects
    values: Floats
    fitted: Floats


def _fit(score: pl.Series, person: Ints, reader: Ints, threshold: Floats, people: int, readers: int) -> _Fit:
    has_score = score.is_not_null().to_numpy()
    seen, hidden = score.drop_nulls().to_numpy(), ~has_score
    scale = choose_scale(person[has_score], reader[has_score], seen, people, readers)
    values = np.empty(len(person))
    values[has_score] = scale.to(seen)
    bound = np.asarray(scale.to(threshold[reader[hidden]]))
    effects = fit_effects(
        person[has_score],
        reader[has_score],
        values[has_score],
        people,
        readers,
        hidden_person=person[hidden],
        hidden_reader=reader[hidden],
        bound=bound,
    )
    fitted = _fitted(person, reader, effects)
    values[hidden] = above(bound, fitted[hidden], effects.noise_sd, REACH)
    return _Fit(scale, effects, values, fitted)


def _codes(column: pl.Series, known: pl.Series) -> Ints:
    return column.replace_strict(known, pl.Series(np.arange(len(known))), return_dtype=pl.Int64).to_numpy()


def _fitted(person: Ints, reader: Ints, effects: Effects) -> Floats:
    cells = effects.cells
    known = cells.person * cells.readers + cells.reader
    order = np.argsort(known)
    place = order[np.searchsorted(known, person * cells.readers + reader, sorter=order)]
    return np.asarray(effects.mean + effects.person[person] + effects.reader[reader] + effects.pair[place])


def explain(model: ScoreModel) -> Frame:
    """Return of every score how it differs from a usual one, and by whose part (EXPLAINED).

    The parts are differences on the fit's scale and add up exactly: person (this person at this reader, as ever),
    reader (as ever, and what its people shared that day), day (what was the person's own that day), and the rest.
    """
    effects, daily = model.effects, model.daily
    has_score = model.scores["score"].is_not_null().to_numpy()
    person, reader = model.person[has_score], model.reader[has_score]
    day = model.day[has_score]
    of_reader = effects.reader[reader] + daily.reader_shift[reader, day]
    of_person = model.fitted[has_score] - effects.mean - effects.reader[reader]
    of_day = _own_day(daily)[person, day]
    total = model.values[has_score] - effects.mean
    rest = total - of_person - of_reader - of_day
    usual = float(np.asarray(model.scale.back(np.array(effects.mean))))
    return EXPLAINED.frame(
        model.scores.filter(pl.Series(has_score))
        .select("punch", "person", "reader", "at", "is_refused", "score")
        .with_columns(
            usual=pl.lit(usual),
            above=pl.Series(total),
            of_person=pl.Series(of_person),
            of_reader=pl.Series(of_reader),
            of_day=pl.Series(of_day),
            rest=pl.Series(rest),
        )
        .to_dict()
    )


def _own_day(daily: Daily) -> Floats:
    """The shift of a person's day, as far as it is believed: by the variance of that person's days beyond chance."""
    seen = ~np.isnan(daily.hand_shift)
    shift, chance = np.nan_to_num(daily.hand_shift), np.nan_to_num(daily.hand_variance)
    count = np.maximum(seen.sum(axis=1, keepdims=True), 1)
    usual = chance.sum(axis=1, keepdims=True) / count
    own = np.maximum(np.square(shift).sum(axis=1, keepdims=True) / count - usual, 0.05 * usual)
    return np.asarray(shift * own / np.maximum(own + chance, 1e-300))
