"""Hours of the people of one site: frames in, frames out, with the reasons where they are asked for."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np
import polars as pl

from evenhand.law import compiling
from evenhand.law.classing import apply_rules
from evenhand.law.jurisdictions import JURISDICTIONS, jurisdiction_of
from evenhand.law.ordering import Block, Each, Ordered, order_punches
from evenhand.law.results import HOURS_TABLES, Columns, Done, assemble, columns_of
from evenhand.law.site import HourlyRates, PlannedShifts, Site, bind_site
from evenhand.law.spans import Column
from evenhand.terms.columns import Frame
from evenhand.terms.hours import RECORDED_SPANS, STEPS
from evenhand.terms.parameters import OwnRules
from evenhand.terms.settings import Policy, SiteRules
from evenhand.terms.tables import ATTRIBUTED
from evenhand.terms.zones import day_start

__all__ = ["ACCOUNT", "PARTS_FOR_ALL", "Hours", "compute_once", "load_passes"]

PARTS_FOR_ALL = ("classed", "questions", "premiums", "differentials")
"""What can be had of everybody, beside the weeks."""
ACCOUNT = ("recorded_spans", "steps")
"""What was recorded and what the rules did to it, for the few people that are looked at."""


@dataclass(frozen=True)
class Hours:
    """What was asked for of some people's hours, as frames.

    For each person and workweek, recorded seconds and the seconds of all steps add up to ordinary, overtime and
    double seconds; `premiums` and `differentials` leave paid seconds as they are. A part that was not asked for
    raises KeyError.
    """

    frames: Mapping[str, Frame]

    @property
    def weeks(self) -> Frame:
        """Return everybody's workweeks (WEEKS), which are always there."""
        return self.frames["weeks"]

    @property
    def classed(self) -> Frame:
        """Return paid spans in one class each (CLASSED)."""
        return self.frames["classed"]

    @property
    def recorded_spans(self) -> Frame:
        """Return work as recorded (RECORDED_SPANS); none unless steps were kept."""
        return self.frames.get("recorded_spans", RECORDED_SPANS.empty())

    @property
    def questions(self) -> Frame:
        """Return what the punches leave open (QUESTIONS)."""
        return self.frames["questions"]

    @property
    def steps(self) -> Frame:
        """Return what each rule did (STEPS); none unless steps were kept."""
        return self.frames.get("steps", STEPS.empty())

    @property
    def premiums(self) -> Frame:
        """Return hours of pay owed beside time worked (PREMIUMS)."""
        return self.frames["premiums"]

    @property
    def differentials(self) -> Frame:
        """Return paid spans that carry a premium rate (DIFFERENTIALS)."""
        return self.frames["differentials"]


def compute_once(
    attributed: Frame,
    rules: SiteRules,
    policy: Policy,
    *,
    parts: Collection[str],
    schedules: Frame | None = None,
    rates: Frame | None = None,
    own: Mapping[str, OwnRules] | None = None,
    moved: Mapping[date, int] | None = None,
    large: bool | None = None,
    each: Each = map,
) -> Hours:
    """Return the hours of everybody in `attributed` under one set of rules; see `compute_hours`.

    `moved` are the beginnings of workweeks, by their date, where the workweek itself changes. `large` tells whether
    the passes are compiled, in place of the number of punches; `each` applies the work to every block of people.
    """
    wanted = [part for part in HOURS_TABLES if part in parts or part == "weeks"]
    jurisdiction, numbers = jurisdiction_of(rules.jurisdiction, own, site=rules.site)
    if attributed.is_empty():
        return Hours({part: HOURS_TABLES[part][0].empty() for part in wanted})
    large = compiling.is_large(attributed.height) if large is None else large
    ordered = order_punches(attributed, large=large, each=each)
    site = _bind(ordered, attributed, rules, policy, schedules, rates, moved, numbers=numbers)

    def work_out(block: Block) -> dict[str, Columns]:
        spans, row = ordered.spans(block)
        spans, account = apply_rules(jurisdiction.rules, spans, site, in_full="steps" in wanted)
        return columns_of(wanted, Done(spans, account, block, site, row, ordered.stored))

    blocks = list(each(work_out, ordered.blocks(len(site.week_dates))))
    return Hours({part: assemble(part, [block[part] for block in blocks], ordered.people, site) for part in wanted})


def load_passes() -> None:
    """Compile the passes of every jurisdiction, or load them where that was done before, so that no later run waits."""
    day, zone = date(2026, 3, 2), "UTC"
    # Out of order, and with a punch that stands alone on the next day, as punches come.
    attributed = ATTRIBUTED.rows(
        {"punch": punch, "person": person, "zone": zone, "at": day_start(zone, day, punch * 3600)}
        for person, punches in (("somebody", (8, 12, 13, 17)), ("another", (32,)))
        for punch in punches
    )
    for name in JURISDICTIONS:
        rules = SiteRules(
            "", zone, name, workweek_day=day.weekday(), fortnight=day,
            public_safety="fire_protection", work_period_days=28, work_period=day,
        )  # fmt: skip
        compute_once(attributed, rules, Policy(), parts=PARTS_FOR_ALL, large=True)


def _bind(
    ordered: Ordered,
    attributed: Frame,
    rules: SiteRules,
    policy: Policy,
    schedules: Frame | None,
    rates: Frame | None,
    moved: Mapping[date, int] | None,
    **bound: Any,
) -> Site:
    people = ordered.people
    first, last = attributed.select(first=pl.col("at").min(), last=pl.col("at").max()).row(0)
    return bind_site(
        rules,
        policy,
        ordered.zones,
        first,
        last,
        large=ordered.large,
        moved=moved,
        planned=_planned(schedules, people) if schedules is not None and schedules.height else None,
        rates=_rates(rates, people) if rates is not None else None,
        waived=_waived(rules, people) if rules.first_meal_waived or rules.second_meal_waived else None,
        **bound,
    )


def _planned(schedules: Frame, people: pl.Series) -> PlannedShifts:
    shifts, first = _by_person(schedules.filter(pl.col("ends_at") > pl.col("starts_at")), people, "starts_at")
    return PlannedShifts(first, shifts["starts_at"].to_numpy(), shifts["ends_at"].to_numpy())


def _rates(rates: Frame, people: pl.Series) -> HourlyRates:
    held, first = _by_person(rates, people, "since")
    since, until = (held[name].cast(pl.Int64).to_numpy() for name in ("since", "until"))
    # What is not known by the hour is below every limit.
    return HourlyRates(first, since, until, held["amount"].fill_null(0).to_numpy())


def _by_person(rows: Frame, people: pl.Series, then: str) -> tuple[Frame, Column]:
    """Return the rows of `people`, each person's together in order of `then`, and where each person's begin."""
    mine = rows.filter(pl.col("person").is_in(people.implode())).sort("person", then)
    codes = mine["person"].cast(pl.Enum(people)).to_physical().to_numpy()
    return mine, np.searchsorted(codes, np.arange(len(people) + 1))


def _waived(rules: SiteRules, people: pl.Series) -> Column:
    def waives(names: tuple[str, ...], person: str) -> bool:
        return "*" in names or person in names

    return np.array(
        [waives(rules.first_meal_waived, who) | waives(rules.second_meal_waived, who) << 1 for who in people], np.int8
    )
