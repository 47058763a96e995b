"""Hours of the people of one site: frames in, frames out, with the reasons where they are asked for."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import polars as pl

from evenhand.law import compiling
from evenhand.law.classing import Change, class_spans, step_rows
from evenhand.law.codes import ASKS, IN, LONG_SPAN, NOTHING, OUT, UNMARKED
from evenhand.law.spans import Column, Site, Spans, bind_site
from evenhand.terms.columns import Frame
from evenhand.terms.settings import Policy, SiteRules
from evenhand.terms.tables import CLASSED, DIFFERENTIALS, PREMIUMS, QUESTIONS, STEPS, WEEKS

__all__ = ["Hours", "compute_hours"]

USUAL_SPAN_S = 4 * 3600
"""What is in doubt where a person has no complete span to go by: half a day. Common practice, no source."""


@dataclass(frozen=True)
class Hours:
    """Paid spans (CLASSED), workweeks (WEEKS), what is open (QUESTIONS) and why (STEPS; empty unless kept).

    For each person and workweek, recorded seconds and the seconds of all steps add up to ordinary, overtime and
    double seconds. `premiums` (PREMIUMS) are hours of pay owed beside time worked, `differentials`
    (DIFFERENTIALS) paid spans that carry a premium rate; both leave paid seconds as they are.
    """

    classed: Frame
    weeks: Frame
    questions: Frame
    steps: Frame
    premiums: Frame = field(default_factory=PREMIUMS.empty)
    differentials: Frame = field(default_factory=DIFFERENTIALS.empty)


@dataclass(frozen=True)
class _Names:
    """What the codes stand for: people by code, the stored punch of each row."""

    people: pl.Series
    punches: Column


def compute_hours(owned: Frame, rules: SiteRules, policy: Policy, *, keep_steps: bool) -> Hours:
    """Return the hours of everybody in `owned`, all of whom `rules` bind.

    `owned` has the columns of OWNED, in any order of rows. Raises Refusal where a setting is one the law does not
    allow, and KeyError where a zone is unknown.
    """
    if owned.is_empty():
        return Hours(CLASSED.empty(), WEEKS.empty(), QUESTIONS.empty(), STEPS.empty())
    owned = owned.sort("person", "at", "punch")
    at = owned["at"].to_numpy()
    zones = owned["zone"].unique().sort()
    mark = owned["direction"].replace_strict({"in": IN, "out": OUT}, default=UNMARKED, return_dtype=pl.Int8)
    site = bind_site(rules, policy, tuple(zones), int(at.min()), int(at.max()), large=owned.height >= compiling.LARGE)
    people = owned["person"].unique().sort()
    spans = Spans(
        person=owned["person"].rle_id().cast(pl.Int32).to_numpy(),
        at=at,
        mark=mark.to_numpy(),
        zone=zones.search_sorted(owned["zone"]).cast(pl.Int16).to_numpy(),
    )
    changes: list[Change] | None = [] if keep_steps else None
    spans = class_spans(spans, site, changes)
    names = _Names(people, owned["punch"].to_numpy())
    questions = _questions(spans, site, names)
    return Hours(
        classed=_classed(spans, site, names),
        weeks=_weeks(spans, site, names, questions),
        questions=questions,
        steps=_steps(changes, spans, site, names) if changes else STEPS.empty(),
    )


def _classed(spans: Spans, site: Site, names: _Names) -> Frame:
    paid = spans.paid
    ordinary, overtime = paid.starts < paid.overtime_from, paid.overtime_from < paid.ends
    act = np.concatenate([paid.act[ordinary], paid.act[overtime]])
    week = np.concatenate([paid.week[ordinary], paid.week[overtime]])
    frame = CLASSED.frame(
        {
            "person": names.people.gather(spans.person[act]),
            "shift": spans.shift[act],
            "workweek": pl.Series(site.week_dates).gather(week),
            "starts": np.concatenate([paid.starts[ordinary], paid.overtime_from[overtime]]),
            "ends": np.concatenate([paid.overtime_from[ordinary], paid.ends[overtime]]),
            "pay_class": pl.Series(
                ["ordinary"] * int(ordinary.sum()) + ["overtime"] * int(overtime.sum()), dtype=pl.String
            ),
            "punch_in": names.punches[spans.row[act]],
            "punch_out": names.punches[spans.row[act + 1]],
        }
    )
    return frame.sort("person", "starts")


def _questions(spans: Spans, site: Site, names: _Names) -> Frame:
    people = len(names.people)
    work = spans.recorded
    length = (work.ends - work.starts).astype(np.float64)
    owner = spans.person[work.act]
    spans_of_each = np.bincount(spans.person[np.unique(work.act)], minlength=people)
    total = np.bincount(owner, weights=length, minlength=people)
    usual = np.where(spans_of_each > 0, total / np.maximum(spans_of_each, 1), USUAL_SPAN_S)
    act = np.flatnonzero(spans.asks != NOTHING)
    asks = spans.asks[act]
    doubt = usual[spans.person[act]]
    long = asks == LONG_SPAN
    doubt[long] = np.maximum(0, spans.at[act[long] + 1] - spans.at[act[long]] - doubt[long])
    return QUESTIONS.frame(
        {
            "person": names.people.gather(spans.person[act]),
            "kind": pl.Series([ASKS[ask] for ask in asks], dtype=pl.String),
            "at": spans.at[act],
            "workweek": _week_dates(site, spans.at[act]),
            "punch": names.punches[spans.row[act]],
            "minutes": np.rint(doubt / 60).astype(np.int64),
        }
    )


def _week_dates(site: Site, instants: Column) -> pl.Series:
    return pl.Series(site.week_dates).gather(np.searchsorted(site.week_bounds, instants, side="right") - 1)


def _weeks(spans: Spans, site: Site, names: _Names, questions: Frame) -> Frame:
    def tally(act: Column, week: Column, seconds: Column, name: str) -> Frame:
        return pl.select(
            person=names.people.gather(spans.person[act]),
            workweek=pl.Series(site.week_dates).gather(week),
            name=pl.lit(name),
            amount=pl.Series(seconds),
        )

    paid, work = spans.paid, spans.recorded
    tallies = pl.concat(
        [
            tally(work.act, work.week, work.ends - work.starts, "recorded_s"),
            tally(paid.act, paid.week, paid.overtime_from - paid.starts, "ordinary_s"),
            tally(paid.act, paid.week, paid.ends - paid.overtime_from, "overtime_s"),
            tally(paid.act, paid.week, paid.ends - paid.ends, "double_s"),
            questions.select("person", "workweek", name=pl.lit("questions"), amount=pl.lit(1, pl.Int64)),
        ]
    )
    amounts = {
        name: pl.col("amount").filter(pl.col("name") == name).sum()
        for name in ("recorded_s", "ordinary_s", "overtime_s", "double_s", "questions")
    }
    weeks = tallies.group_by("person", "workweek").agg(**amounts).sort("person", "workweek")
    return WEEKS.frame({name: weeks[name] for name in WEEKS.names})


def _steps(changes: list[Change], spans: Spans, site: Site, names: _Names) -> Frame:
    def row(step: dict[str, Any]) -> dict[str, Any]:
        act = step["act"]
        row_a = step.get("row_a", int(spans.row[act]))
        row_b = step.get("row_b", int(spans.row[step["other"]]) if "other" in step else None)
        zone = site.zone_names[spans.zone[act]]
        words = {
            word: _on_the_wall(value, zone) if word in {"was", "now"} else value
            for word, value in step["words"].items()
        }
        return step | {
            "person": names.people[int(spans.person[act])],
            "workweek": site.week_dates[step["week"]],
            "punch_a": int(names.punches[row_a]),
            "punch_b": None if row_b is None else int(names.punches[row_b]),
            "says": step["says"].format(**words),
        }

    return STEPS.rows(row(step) for step in step_rows(changes, site)).sort("person", "starts", maintain_order=True)


def _on_the_wall(instant: int, zone: str) -> str:
    stamp = datetime.fromtimestamp(instant, ZoneInfo(zone))
    return f"{stamp:%Y-%m-%d %H:%M:%S}" if stamp.second else f"{stamp:%Y-%m-%d %H:%M}"
