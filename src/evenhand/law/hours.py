"""Hours of the people of one site: frames in, frames out, with the reasons where they are asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

import numpy as np
import polars as pl

from evenhand.law import compiling
from evenhand.law.classing import Change, class_spans
from evenhand.law.codes import IN, OUT, UNMARKED
from evenhand.law.differentials import differential_frame
from evenhand.law.own import resolve
from evenhand.law.results import Names, classed_frame, premiums_frame, questions_frame, steps_frame, weeks_frame
from evenhand.law.site import Planned, Site, bind_site
from evenhand.law.spans import Column, Spans
from evenhand.terms.columns import Frame
from evenhand.terms.parameters import Numbers, OwnRules
from evenhand.terms.settings import Policy, SiteRules
from evenhand.terms.tables import CLASSED, DIFFERENTIALS, PREMIUMS, QUESTIONS, STEPS, WEEKS

__all__ = ["Hours", "compute_once"]


@dataclass(frozen=True)
class Hours:
    """Paid spans (CLASSED), workweeks (WEEKS), what is open (QUESTIONS) and why (STEPS; empty unless kept).

    For each person and workweek, recorded seconds and the seconds of all steps add up to ordinary, overtime and
    double seconds. `premiums` (PREMIUMS) are hours of pay owed beside time worked, `differentials`
    (DIFFERENTIALS) paid spans that carry a premium rate; both leave paid seconds as they are.
    """

    classed: Frame = field(default_factory=CLASSED.empty)
    weeks: Frame = field(default_factory=WEEKS.empty)
    questions: Frame = field(default_factory=QUESTIONS.empty)
    steps: Frame = field(default_factory=STEPS.empty)
    premiums: Frame = field(default_factory=PREMIUMS.empty)
    differentials: Frame = field(default_factory=DIFFERENTIALS.empty)


def compute_once(
    owned: Frame,
    rules: SiteRules,
    policy: Policy,
    *,
    keep_steps: bool,
    schedules: Frame | None = None,
    rates: Mapping[str, Decimal | None] | None = None,
    own: Mapping[str, OwnRules] | None = None,
    week_bounds: Mapping[Any, int] | None = None,
) -> Hours:
    """Return the hours of everybody in `owned` under one set of rules; see `compute_hours`.

    `week_bounds` moves the beginning of workweeks, by their date, where the workweek itself changes.
    """
    if owned.is_empty():
        return Hours()
    owned = owned.sort("person", "at", "punch")
    people = owned["person"].unique().sort()
    rules, numbers = resolve(rules, own)
    spans, site = _bind(owned, people, rules, policy, schedules, rates, numbers)
    if week_bounds:
        for k, day in enumerate(site.week_dates):
            site.week_bounds[k] = week_bounds.get(day, site.week_bounds[k])
    changes: list[Change] | None = [] if keep_steps else None
    spans = class_spans(spans, site, changes)
    names = Names(people, owned["punch"].to_numpy())
    questions = questions_frame(spans, site, names)
    return Hours(
        classed=classed_frame(spans, site, names),
        weeks=weeks_frame(spans, site, names, questions),
        questions=questions,
        steps=steps_frame(changes, spans, site, names) if changes else STEPS.empty(),
        premiums=premiums_frame(spans, site, names),
        differentials=differential_frame(spans, site, people),
    )


def _bind(
    owned: Frame,
    people: pl.Series,
    rules: SiteRules,
    policy: Policy,
    schedules: Frame | None,
    rates: Mapping[str, Decimal | None] | None,
    numbers: Numbers,
) -> tuple[Spans, Site]:
    at = owned["at"].to_numpy()
    zones = owned["zone"].unique().sort()
    mark = owned["direction"].replace_strict({"in": IN, "out": OUT}, default=UNMARKED, return_dtype=pl.Int8)
    site = bind_site(
        rules,
        policy,
        tuple(zones),
        int(at.min()),
        int(at.max()),
        large=owned.height >= compiling.LARGE,
        numbers=numbers,
        planned=_planned(schedules, people) if schedules is not None and schedules.height else None,
        rates=_rates(rates, people) if rates is not None else None,
        waived=_waived(rules, people) if rules.first_meal_waived or rules.second_meal_waived else None,
    )
    spans = Spans(
        person=owned["person"].rle_id().cast(pl.Int32).to_numpy(),
        at=at,
        mark=mark.to_numpy(),
        zone=zones.search_sorted(owned["zone"]).cast(pl.Int16).to_numpy(),
    )
    return spans, site


def _planned(schedules: Frame, people: pl.Series) -> Planned:
    mine = schedules.filter(pl.col("person").is_in(people.to_list()), pl.col("ends_at") > pl.col("starts_at"))
    mine = mine.sort("person", "starts_at")
    codes = people.search_sorted(mine["person"]).to_numpy()
    first = np.searchsorted(codes, np.arange(len(people) + 1))
    return Planned(first, mine["starts_at"].to_numpy(), mine["ends_at"].to_numpy())


def _rates(rates: Mapping[str, Decimal | None], people: pl.Series) -> Column:
    known = (rates.get(person) for person in people)
    return np.array([-1 if rate is None else int(rate * 10_000) for rate in known], np.int64)


def _waived(rules: SiteRules, people: pl.Series) -> Column:
    def waives(names: tuple[str, ...], person: str) -> bool:
        return "*" in names or person in names

    return np.array(
        [waives(rules.first_meal_waived, who) | waives(rules.second_meal_waived, who) << 1 for who in people], np.int8
    )
