"""Everything a log of scores tells, computed once: the scale, the fit, the days, and what each score is made of."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.scores.alarms.daily import Daily, daily_values, pair_days
from evenhand.scores.alarms.standardise import REACH
from evenhand.scores.coding import code_names, codes_of
from evenhand.scores.effects.cells import stable_order
from evenhand.scores.effects.connected import groups_of
from evenhand.scores.effects.fit import Effects, expected_above, fit_effects
from evenhand.scores.effects.scale import Scale, choose_scale
from evenhand.scores.tables import EXPLAINED, GROUP_LEVELS
from evenhand.terms.columns import Frame
from evenhand.terms.lately import LATELY_DAYS
from evenhand.terms.zones import DAY_S

__all__ = ["ScoreModel", "explain", "fit_scores", "group_levels"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Codes = npt.NDArray[np.integer[Any]]
Flags = npt.NDArray[np.bool_]

FEWEST = 30


@dataclass(frozen=True)
class ScoreModel:
    """What the scores of `people` at `readers` tell; codes are places in these lists, days count from `first`.

    `person`, `reader`, `day`, `is_refused` and `values` are columns of the presentations used, by person, reader and
    time, which stand at `rows` in `presented`; `values` are scores on the fit's scale, with what is expected of a
    refusal without a score, which `is_hidden` marks. `threshold` (readers,) is the highest score accepted, nan where
    none is known. `groups` are labels of people and then of readers: between groups no effect can be compared.
    """

    presented: Frame
    rows: Codes
    people: list[str]
    readers: list[str]
    first: date
    days: int
    person: Codes
    reader: Codes
    day: Ints
    is_refused: Flags
    is_hidden: Flags
    values: Floats
    scale: Scale
    threshold: Floats
    effects: Effects
    daily: Daily
    groups: Ints

    @property
    def at(self) -> Ints:
        """Return when each presentation used was made [s since 1970-01-01T00:00:00Z]."""
        at: Ints = self.presented["at"].to_numpy()[self.rows]
        return at

    @property
    def usual(self) -> float:
        """Return what a usual person at a usual reader scores, on the reader's own scale."""
        return float(np.asarray(self.scale.back(np.array(self.effects.mean))))

    def day_at(self, point: int) -> date:
        """Return the civil day of a point of the daily series."""
        return self.first + timedelta(days=point)


def fit_scores(presented: Frame) -> ScoreModel | None:
    """Return what the presentations (PRESENTED, screened scores only) tell; None where that is nothing.

    It is nothing below thirty scores, and where nobody's score at a reader ever differs from the one before.
    Refusals without a score count as above the reader's threshold, where that reader has accepted with scores and
    the person has scores at all; others tell nothing here.
    """
    presented = code_names(presented)
    if presented["score"].count() < FEWEST:
        return None
    used = _used(presented)
    people, readers = codes_of(used["person"]), codes_of(used["reader"])
    day = used["day"].to_physical().to_numpy()
    order = _by_pair(people[0], readers[0], day, len(readers[1]))
    person, reader, day = people[0][order], readers[0][order], day[order].astype(np.int64)
    score = used["score"].to_numpy()[order]
    is_hidden, is_refused = np.isnan(score), used["is_refused"].to_numpy()[order]
    if not _differ(score[~is_hidden], person[~is_hidden], reader[~is_hidden]):
        return None
    threshold = _highest_accepted(used, readers[1])
    scale, values, effects = _fit(score, is_hidden, person, reader, threshold, len(people[1]))
    first = int(day.min())
    days = int(day.max()) - first + 1
    day -= first
    pairs = pair_days(day, values, effects, days)
    cells = effects.cells
    return ScoreModel(
        presented=presented,
        rows=used["row"].to_numpy()[order],
        people=people[1],
        readers=readers[1],
        first=date(1970, 1, 1) + timedelta(days=first),
        days=days,
        person=person,
        reader=reader,
        day=day,
        is_refused=is_refused,
        is_hidden=is_hidden,
        values=values,
        scale=scale,
        threshold=threshold,
        effects=effects,
        daily=daily_values(pairs, len(people[1]), len(readers[1]), days),
        groups=groups_of(cells.person, cells.reader, len(people[1]), len(readers[1]))[0],
    )


def _differ(score: Floats, person: Codes, reader: Codes) -> bool:
    """Whether anybody's scores at a reader differ; they stand by person and reader."""
    is_same_pair = (person[1:] == person[:-1]) & (reader[1:] == reader[:-1])
    return bool((is_same_pair & (score[1:] != score[:-1])).any())


def _used(presented: Frame) -> Frame:
    """The presentations that tell something, with the row each stands in."""
    columns = ("person", "reader", "at", "day", "is_refused", "score")
    has_score = pl.col("score").is_not_null()
    if presented["score"].null_count() == 0:
        return presented.select(columns).with_row_index("row")
    scored = presented.filter(has_score)
    readers = scored.filter(~pl.col("is_refused"))["reader"].unique()
    refused = pl.col("is_refused") & pl.col("reader").is_in(readers.implode())
    known = pl.col("person").is_in(scored["person"].unique().implode())
    return presented.select(columns).with_row_index("row").filter(has_score | (refused & known))


def _by_pair(person: Codes, reader: Codes, day: Codes, readers: int) -> Ints:
    """The order by person, reader and time; by day too, where setting back a clock at midnight has days go back."""
    pair = person.astype(np.int64) * readers + reader
    order = stable_order(pair)
    goes_back = (np.diff(day[order]) < 0) & (np.diff(pair[order]) == 0)
    return stable_order(pair * (int(day.max()) + 1) + day) if goes_back.any() else order


def _highest_accepted(used: Frame, readers: list[str]) -> Floats:
    highest = dict(used.filter(~pl.col("is_refused")).group_by("reader").agg(pl.col("score").max()).iter_rows())
    found = [highest.get(name) for name in readers]
    return np.array([np.nan if score is None else score for score in found], dtype=np.float64)


def _fit(
    score: Floats, is_hidden: Flags, person: Codes, reader: Codes, threshold: Floats, people: int
) -> tuple[Scale, Floats, Effects]:
    """Return the scale, the values on it with refusals where they are expected, and the effects."""
    seen, readers = ~is_hidden, len(threshold)
    scale = choose_scale(person[seen], reader[seen], score[seen], people, readers)
    values = scale.to(score)
    bound = np.asarray(scale.to(threshold[reader]))
    effects = fit_effects(person, reader, values, people, readers, bound=bound)
    if is_hidden.any():
        at = effects.fitted[effects.layout.cell[is_hidden]]
        values[is_hidden] = expected_above(bound[is_hidden], at, effects.noise_sd, REACH)
    return scale, values, effects


def explain(model: ScoreModel, person: str | None = None) -> Frame:
    """Return of every score, or of one person's, how it differs from a usual one, and by whose part (EXPLAINED).

    The parts are differences on the fit's scale and add up exactly: person (this person at this reader, as ever),
    reader (as ever, and what its people shared that day), day (what was the person's own that day), and the rest.
    """
    effects, daily = model.effects, model.daily
    rows = np.flatnonzero(~model.is_hidden)
    if person is not None:
        rows = rows[model.person[rows] == (model.people.index(person) if person in model.people else -1)]
    who, reader, day = model.person[rows], model.reader[rows], model.day[rows]
    of_reader = effects.reader[reader] + daily.reader_shift[reader, day]
    of_person = effects.fitted[effects.layout.cell[rows]] - effects.mean - effects.reader[reader]
    of_day = _own_day(daily)[who, day]
    total = model.values[rows] - effects.mean
    return EXPLAINED.frame(
        model.presented[model.rows[rows]]
        .select("punch", "person", "reader", "at", "is_refused", "score")
        .with_columns(
            usual=pl.lit(model.usual),
            above=pl.Series(total),
            of_person=pl.Series(of_person),
            of_reader=pl.Series(of_reader),
            of_day=pl.Series(of_day),
            rest=pl.Series(total - of_person - of_reader - of_day),
        )
        .to_dict()
    )


def group_levels(model: ScoreModel, group_of: Mapping[str, str], as_of: int) -> Frame:
    """Return how groups of people score at each reader of late (GROUP_LEVELS), by group and reader.

    `group_of` gives each person's group; people without one are a group without a name.
    """
    names = sorted({group_of.get(person, "") for person in model.people})
    group = np.array([names.index(group_of.get(person, "")) for person in model.people], dtype=np.int64)
    at = model.at
    recent = ~model.is_hidden & (at > as_of - LATELY_DAYS * DAY_S) & (at <= as_of)
    cell = group[model.person[recent]] * len(model.readers) + model.reader[recent]
    count = np.bincount(cell, minlength=len(names) * len(model.readers))
    seen = np.flatnonzero(count)
    above = np.bincount(cell, weights=model.values[recent] - model.effects.mean)[seen] / count[seen]
    times = np.asarray(model.scale.back(above + model.effects.mean)) / model.usual
    return GROUP_LEVELS.frame(
        {
            "group": [names[at] for at in (seen // len(model.readers)).tolist()],
            "reader": [model.readers[at] for at in (seen % len(model.readers)).tolist()],
            "presentations": count[seen],
            "times": times,
        }
    )


def _own_day(daily: Daily) -> Floats:
    """The shift of a person's day, as far as it is believed: by the variance of that person's days beyond chance."""
    seen = ~np.isnan(daily.hand_shift)
    shift, chance = np.nan_to_num(daily.hand_shift), np.nan_to_num(daily.hand_variance)
    count = np.maximum(seen.sum(axis=1, keepdims=True), 1)
    usual = chance.sum(axis=1, keepdims=True) / count
    own = np.maximum(np.square(shift).sum(axis=1, keepdims=True) / count - usual, 0.05 * usual)
    return np.asarray(shift * own / np.maximum(own + chance, 1e-300))
