"""What Hands shows: findings, people and readers with their weeks, groups at readers, and one person's chart."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import inf
from typing import Any

import numpy as np
import polars as pl
from markupsafe import Markup

from evenhand.jobs.hands import Hands, PersonHands, daily_of
from evenhand.jobs.planned_test import Weighed, origin_in_words
from evenhand.terms.columns import Frame
from evenhand.terms.languages import Sentence, Speech, in_a_row, sentence, told
from evenhand.terms.records import Finding
from evenhand.web.listing import Listed, ListQuery, list_rows
from evenhand.web.pages.hands.charts import Point, score_chart, score_strip, tradeoff_chart

__all__ = ["OneHand", "Overview", "Series", "ThresholdView", "one_hand", "overview", "threshold_view"]

WEEKS = 10
HEAT = 5
FEWEST_IN_CELL = 20
MEASURES = {
    "false_non_match_rate": sentence("false non match rate"),
    "failure_to_acquire_rate": sentence("failure to acquire rate"),
    "refused_presentation_rate": sentence("refused presentation rate"),
    "false_rejection_rate": sentence("false rejection rate"),
}
"""What each measure of ERROR_RATES is called."""


@dataclass(frozen=True)
class Series:
    """A person or a reader: median score a week, refused of presented lately, and what is said of it.

    `saved` are the refused presentations that a new enrolment saves in a month, of `presented_a_month`.
    """

    key: str
    name: str
    weeks: Sequence[float]
    presented: int
    refused: int
    saved: float
    presented_a_month: float
    says: str


@dataclass(frozen=True)
class Overview:
    """The page Hands. `heat` has a row per department and a cell per reader: times the usual score, and a shade."""

    hands: Hands
    findings: Sequence[Finding]
    strips: Mapping[str, Markup]
    promised: float
    listed: Listed[Series]
    readers: Sequence[Series]
    heat_readers: Sequence[str]
    heat: Sequence[tuple[str, Sequence[tuple[float, int] | None]]]
    rates: Sequence[Mapping[str, Any]]


@dataclass(frozen=True)
class OneHand:
    """One person's page."""

    seen: PersonHands
    chart: Markup | None
    highest: Sequence[Mapping[str, Any]]
    rates: Sequence[Mapping[str, Any]]
    zone: str


@dataclass(frozen=True)
class ThresholdView:
    """The threshold explorer's answer: what was weighed, the trade-off drawn, and thresholds around the one advised."""

    weighed: Weighed
    origin: Sentence
    chart: Markup
    rows: Sequence[Mapping[str, Any]]


def overview(hands: Hands, asked: ListQuery, say: Speech) -> Overview:
    """Return what Hands shows; people are those of whom there is something to say, or those searched for."""
    said = dict(hands.forecasts.select("person", "says").iter_rows())
    said |= dict(hands.alarms.filter(pl.col("until").is_null()).select("person", "says").drop_nulls().iter_rows())
    foreseen = hands.forecasts.select("person", "saved", "presentations_a_month").iter_rows()
    saved = {person: (spared, presented) for person, spared, presented in foreseen}
    refused = hands.watch.charts.refused_lately
    shown = _series(hands, "person", refused, hands.names, said, saved, None if asked.search else said)
    columns: dict[str, Any] = {
        "saved": lambda one: -one.saved,
        "name": lambda one: one.name,
        "refused": lambda one: one.refused,
    }
    said_readers = {one.reader: one.says for one in hands.findings if one.reader and not one.number}
    readers = _series(hands, "reader", hands.watch.logs.refused_lately, {}, said_readers, {})
    names, heat = _heat(hands)
    return Overview(
        hands=hands,
        findings=hands.findings,
        strips=_strips(hands, say),
        promised=hands.promised,
        listed=list_rows(shown, asked, columns, lambda one: f"{one.name} {one.key}", "saved"),
        readers=readers,
        heat_readers=names,
        heat=heat,
        rates=_rates(
            hands.rates.filter(
                pl.col("of") != "person", (pl.col("of") == "all") | (pl.col("measure") != "failure_to_acquire_rate")
            )
        ),
    )


def _strips(hands: Hands, say: Speech) -> dict[str, Markup]:
    """The scores of each hand that needs somebody, small, all in one window and on one scale, by the finding's key."""
    asked = [one for one in hands.findings if one.person]
    daily = daily_of(hands, {str(one.person) for one in asked}).filter(pl.col("median").is_not_null())
    if daily.is_empty():
        return {}
    points: dict[str, list[Point]] = {}
    for row in daily.iter_rows(named=True):
        points.setdefault(row["person"], []).append(_point(row))
    every = [point for mine in points.values() for point in mine]
    days = [point.day for point in every]
    limits = _thresholds(hands)
    most = max([point.highest for point in every] + [1.15 * at for at in limits.values()] + [1.0])
    strips: dict[str, Markup] = {}
    for finding in asked:
        mine = [p for p in points.get(str(finding.person), ()) if finding.reader in (None, "", p.reader)]
        if mine:
            strips[finding.key] = score_strip(
                mine,
                (min(days), max(days)),
                most,
                threshold=max((limits[p.reader] for p in mine if p.reader in limits), default=None),
                says=say(
                    "Scores by day since {day}; highest {highest:.1f}, {count:# day|# days} with a refusal.",
                    day=min(days),
                    highest=max(p.highest for p in mine),
                    count=sum(p.refused > 0 for p in mine),
                ),
            )
    return strips


def _point(row: Mapping[str, Any]) -> Point:
    """A day at one reader (DAILY)."""
    return Point(row["day"], row["reader"], row["median"], row["highest"], row["refused"])


def _thresholds(hands: Hands) -> dict[str, float]:
    """The thresholds of readers where they are known."""
    model = hands.model
    known = () if model is None else zip(model.readers, model.threshold.tolist(), strict=True)
    return {reader: at for reader, at in known if np.isfinite(at)}


def _rates(rates: Frame) -> list[dict[str, Any]]:
    """Rows of ERROR_RATES with measures, and the row of everybody, called in words."""
    return [
        row | {"measure": told(MEASURES[row["measure"]])} | ({"name": told("everybody")} if row["of"] == "all" else {})
        for row in rates.iter_rows(named=True)
    ]


def _series(
    hands: Hands,
    column: str,
    counts: Mapping[str, tuple[int, int]],
    names: Mapping[str, str],
    said: Mapping[str, str],
    saved: Mapping[str, tuple[float, float]],
    only: Collection[str] | None = None,
) -> list[Series]:
    """The weeks of people or readers, of these `only` where they are given, with `counts` of refused and all."""
    screened = hands.screened.presented
    last = screened["day"].max()
    if not isinstance(last, date):
        return []
    scored = screened.filter(pl.col("day") > last - timedelta(weeks=WEEKS))
    if only is not None:
        known = pl.Series(list(only), dtype=pl.String).cast(screened[column].dtype, strict=False).drop_nulls()
        scored = scored.filter(pl.col(column).is_in(known.implode()))
    week = (pl.lit(last) - pl.col("day")).dt.total_days() // 7
    weekly = scored.group_by(column, week=week).agg(pl.col("score").median())
    medians: dict[str, list[float]] = {}
    for key, ago, median in weekly.iter_rows():
        medians.setdefault(key, [0.0] * WEEKS)[WEEKS - 1 - ago] = median or 0.0
    return [
        Series(
            key=key,
            name=names.get(key, key),
            weeks=weeks,
            presented=counts.get(key, (0, 0))[1],
            refused=counts.get(key, (0, 0))[0],
            saved=saved.get(key, (0.0, 0.0))[0],
            presented_a_month=saved.get(key, (0.0, 0.0))[1],
            says=said.get(key, ""),
        )
        for key, weeks in sorted(medians.items(), key=lambda item: names.get(item[0], item[0]))
    ]


def _heat(hands: Hands) -> tuple[list[str], list[tuple[str, list[tuple[float, int] | None]]]]:
    """How departments score at each reader, by the usual score, over the last four weeks; None where few came."""
    levels = hands.group_levels
    readers = levels["reader"].unique().sort().to_list()
    times = {
        (group, reader): value
        for group, reader, count, value in levels.select("group", "reader", "presentations", "times").iter_rows()
        if count >= FEWEST_IN_CELL
    }
    groups = levels["group"].unique().sort().to_list()
    rows = [
        (group or told("no department"), [_shade(times.get((group, reader))) for reader in readers]) for group in groups
    ]
    return readers, rows


def _shade(times: float | None) -> tuple[float, int] | None:
    """A cell's value with its shade: 0 up to the usual score, one more for each tenth above it."""
    return None if times is None else (times, min(max(int((times - 1) * 10 + 0.5), 0), HEAT - 1))


def one_hand(seen: PersonHands, hands: Hands, say: Speech) -> OneHand:
    """Return one person's page: the chart with alarms and enrolments, the highest scores in their parts."""
    scored = seen.daily.filter(pl.col("median").is_not_null())
    chart = None
    if scored.height:
        points = [_point(row) for row in scored.iter_rows(named=True)]
        used = set(scored["reader"])
        thresholds = [at for reader, at in _thresholds(hands).items() if reader in used]
        chart = score_chart(
            points,
            (points[0].day, points[-1].day),
            threshold=max(thresholds, default=None),
            changes=[(row["since"], say.retold(row["says"])) for row in seen.alarms.iter_rows(named=True)],
            enrolments=[(day, say("enrolled at {reader}", reader=reader)) for day, reader in seen.enrolled],
            says=say(
                "Scores of {name} by day, {count} days at readers; lower is closer.", name=seen.name, count=len(points)
            ),
            say=say,
        )
    highest = seen.explained.filter(pl.col("above") > 0).sort("above", descending=True).head(8)
    return OneHand(seen, chart, highest.rows(named=True), _once(_rates(seen.rates)), hands.reckoning.zone)


def _once(rates: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
    """Return the rates with those of the same figures in one row, which names the measures of all."""
    by_figures: dict[tuple[Any, ...], list[dict[str, Any]]] = {}
    for row in rates:
        figures = tuple(row[name] for name in ("errors", "trials", "low", "high", "note"))
        by_figures.setdefault(figures, []).append(row)
    return [
        rows[0] | {"measure": in_a_row("{one}, {other}", [row["measure"] for row in rows])}
        for rows in by_figures.values()
    ]


def _on_axes(row: Mapping[str, Any]) -> tuple[float, float]:
    """Return where a threshold (TRADEOFF) lies: a rate of 0 or 1 has no deviate, and lies beyond the edge."""
    places = (("non_mated_axis", "false_match_rate"), ("mated_axis", "false_non_match_rate"))
    match, miss = (row[axis] if row[axis] is not None else -inf if row[rate] == 0 else inf for axis, rate in places)
    return match, miss


def threshold_view(weighed: Weighed, say: Speech) -> ThresholdView:
    """Return the threshold explorer's answer, with a dozen thresholds around the one that costs least."""
    curve, advice = weighed.curve, weighed.advice
    drawn = [_on_axes(row) for row in curve.iter_rows(named=True)]
    at = curve["threshold"].to_list()
    best = at.index(advice.threshold)
    chosen = curve.row(best, named=True)
    marks = [(drawn[best], "chosen", told("advised"))]
    if advice.present is not None:  # the present one is judged at the nearest score seen at or below it
        marks.append((drawn[max(bisect_right(at, advice.present) - 1, 0)], "present", told("present")))
    step = max(len(at) // 40, 1)
    origin = origin_in_words(advice.origin)
    rows = curve[max(best - 6 * step, 0) : best + 6 * step + 1 : step]
    return ThresholdView(
        weighed,
        origin,
        tradeoff_chart(
            drawn,
            marks,
            say(
                "Trade-off of {count} thresholds; the advised one refuses {refused:.2g} % of right hands and passes "
                "{passed:.2g} % of wrong ones ({origin}).",
                count=len(at),
                refused=100 * chosen["false_non_match_rate"],
                passed=100 * chosen["false_match_rate"],
                origin=origin,
            ),
            say,
        ),
        rows.rows(named=True),
    )
