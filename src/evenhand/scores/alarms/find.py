"""Find what changed at hands and readers: run the charts, date and shape each alarm, and say whose change it was."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from functools import partial
from typing import Any

import numpy as np
import numpy.typing as npt

from evenhand.scores.alarms.charts import Alarms, cusum, cusum_alarms, ewma_alarms, ewma_heights
from evenhand.scores.alarms.design import EWMA_WEIGHT, MONTH, Design, K, Limit, Traffic, design_charts
from evenhand.scores.alarms.refusals import refusal_days
from evenhand.scores.alarms.shape import Shape, shape_of
from evenhand.scores.alarms.shuffled import in_chance_orders
from evenhand.scores.causes import cause_of_hand, cause_of_reader
from evenhand.scores.coding import code_names
from evenhand.scores.effects.cells import stable_order
from evenhand.scores.model import ScoreModel
from evenhand.scores.rates.error_rates import at_refusing_readers
from evenhand.scores.tables import ALARMS
from evenhand.terms.columns import Frame
from evenhand.terms.languages import DaySpan, sentence, told

__all__ = ["design_for", "find_alarms"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Codes = npt.NDArray[np.int32]
REFUSAL_CHARTS = (("hand_refusals", "person"), ("reader_refusals", "reader"))
HEIGHTS: dict[str, Callable[[Floats], Floats]] = {
    "hand": partial(cusum, k=K),
    "reader": partial(cusum, k=K),
    "reader_drift": lambda values: np.abs(ewma_heights(values, EWMA_WEIGHT)),
    "hand_refusals": partial(cusum, k=0.0),
    "reader_refusals": partial(cusum, k=0.0),
}
BLOCK = 14
"""Neighbouring days that keep together in chance orders: weekdays differ, and days hang together."""
KEPT = 0.75
"""Share of the budget that chance orders are held to: the ends of blocks break up what hangs together."""
WORTH_A_LOOK = 3
"""Refusals in a run from which an alarm about refusals is worth anybody's time. Common practice, no source."""
ON_A_DAY = sentence(
    "{refused:,} of {count:,} presentations {who} were refused on {day} ({share:.2g} %); {usual:.2g} % was to be "
    "expected of them."
)
OVER_DAYS = sentence(
    "{refused:,} of {count:,} presentations {who} were refused from {days} ({share:.2g} %); {usual:.2g} % was to be "
    "expected of them."
)


def design_for(model: ScoreModel | None, presented: Frame, budget: float) -> Design:
    """Return the limits for these people, readers and this traffic; refusal charts only where logs hold refusals."""
    first, last = presented["day"].min(), presented["day"].max()
    months = max(((last - first).days + 1) / MONTH, 1e-9) if isinstance(first, date) and isinstance(last, date) else 1.0
    refusing = at_refusing_readers(code_names(presented))
    traffic, charted = {}, {}
    if model is not None:
        hands, readers = model.daily.hand, model.daily.reader
        traffic["hand"] = _traffic(hands, model.days / MONTH)
        traffic["reader"] = traffic["reader_drift"] = _traffic(readers, model.days / MONTH)
        charted = {"hand": hands, "reader": readers, "reader_drift": readers}
    refusals = refusal_days(refusing) if refusing.height else {}
    for kind, days in refusals.items():
        traffic[kind] = Traffic(len(days.names), refusing.height / len(days.names) / months)
        charted[kind] = days.surprise
    usual = int(refusing["is_refused"].sum()) / max(refusing.height, 1)
    theory = design_charts(budget, traffic, usual)
    limits = {}
    for kind, limit in theory.items():
        foretold = kind in refusals
        shuffled = in_chance_orders(charted[kind], HEIGHTS[kind], BLOCK, months, hang_together=not foretold)
        held = max(limit.limit, shuffled.limit_for(KEPT * budget / len(theory)))
        limits[kind] = Limit(held, limit.false_alarms_a_month, held / limit.limit)
    return Design(limits, refusing, refusals)


def _traffic(values: Floats, months: float) -> Traffic:
    points = int((~np.isnan(values)).sum())
    return Traffic(len(values), points / len(values) / max(months, 1e-9))


def find_alarms(model: ScoreModel | None, design: Design) -> Frame:
    """Return the alarms (ALARMS) of all charts, the latest first; scores may be missing, refusals may be."""
    rows = [*_of_scores(model, design)] if model is not None else []
    if design.refusals:
        for kind, column in REFUSAL_CHARTS:
            rows.extend(_of_refusals(kind, column, design))
    return ALARMS.rows(rows).sort("on", "chart", "person", "reader", descending=[True, False, False, False])


def _of_scores(model: ScoreModel, design: Design) -> Iterator[dict[str, Any]]:
    hands, readers = model.daily.hand, model.daily.reader
    for row in _rows(model, "hand", cusum_alarms(hands, K, design.limits["hand"].limit), hands):
        cause = cause_of_hand(model, *row.pop("place"))
        yield row | {"cause": cause.cause, "correlation": cause.correlation, "says": cause.says}
    if "reader" not in design.limits:  # a log of a few days has no value of any reader yet
        return
    both = cusum_alarms(readers, K, design.limits["reader"].limit)
    up, down = ewma_alarms(readers, EWMA_WEIGHT, design.limits["reader_drift"].limit)
    for chart, found in (("reader", both), ("reader_drift", up)):
        for row in _rows(model, chart, found, readers):
            cause = cause_of_reader(model, *row.pop("place"))
            yield row | {"cause": cause.cause, "correlation": cause.correlation, "says": cause.says}
    for row in _rows(model, "reader_drift", down, readers):
        del row["place"]
        yield row | {"says": told("Scores fell for this reader's people: cleaned, calibrated or warmed up.")}


def _rows(model: ScoreModel, chart: str, found: Alarms, values: Floats) -> Iterator[dict[str, Any]]:
    daily, names = model.daily, model.people if chart == "hand" else model.readers
    levels, variance = values, np.ones_like(values)
    if chart == "hand":
        # looking back, since values are against what was known then, which takes a change in by and by
        levels, variance = daily.hand_shift, daily.hand_variance * daily.hand_spread**2
    for i in range(len(found.at)):
        columns = (found.series, found.at, found.begins, found.peak, found.ends)
        series, at, begins, peak, ends = (int(column[i]) for column in columns)
        shape: Shape = "unclear"
        if found.size[i] > 0:
            shape, begins = shape_of(levels[series], variance[series], begins, peak)
        yield {
            "chart": chart,
            "person" if chart == "hand" else "reader": names[series],
            "on": model.day_at(at),
            "since": model.day_at(min(begins, at)),
            "worst": model.day_at(peak),
            "until": model.day_at(ends) if ends >= 0 else None,
            "size": float(found.size[i]),
            "shape": shape,
            "place": (series, min(begins, at), peak + 1),
        }


def _of_refusals(kind: str, column: str, design: Design) -> Iterator[dict[str, Any]]:
    refusing, days, other = design.refusing, design.refusals[kind], "reader" if column == "person" else "person"
    is_refused = refusing["is_refused"].to_numpy()
    order = stable_order(days.series)
    starts = np.searchsorted(days.series[order], np.arange(len(days.names) + 1))
    found = cusum_alarms(days.surprise, 0.0, design.limits[kind].limit)
    for i in range(len(found.at)):
        series, begins, at, peak, ends = (
            int(part[i]) for part in (found.series, found.begins, found.at, found.peak, found.ends)
        )
        mine = order[starts[series] : starts[series + 1]]
        mine = mine[(days.day[mine] >= begins) & (days.day[mine] <= peak)]
        refusals = np.sort(days.day[mine[is_refused[mine]]])
        if len(refusals) < WORTH_A_LOOK:
            continue
        at = max(at, int(refusals[WORTH_A_LOOK - 1]))
        run = mine[days.day[mine] <= at]
        seen, refused = refusing[run], int(is_refused[run].sum())
        most = seen.filter("is_refused")[other].value_counts(sort=True).row(0)
        yield {
            "chart": kind,
            column: days.names[series],
            "on": days.day_at(at),
            "since": days.day_at(int(days.day[run].min())),
            "worst": days.day_at(peak),
            "until": days.day_at(ends) if ends >= 0 else None,
            "size": refused / seen.height,
            **_refusals_say(seen, column, most, float(days.usual[run].mean()), days.day_at(at)),
        }


def _refusals_say(run: Frame, column: str, most: tuple[str, int], usual: float, on: date) -> dict[str, Any]:
    """Say how many were refused, and whether one hand, or one reader, makes up most of it."""
    count = int(run["is_refused"].sum())
    who = told("under one number") if column == "person" else told("at one reader")
    first = min(run["day"])
    says = told(
        ON_A_DAY if first == on else OVER_DAYS,
        refused=count,
        count=run.height,
        who=who,
        day=on,
        days=DaySpan(first, on),
        share=100 * count / run.height,
        usual=100 * usual,
    )
    seen = {"refused": count, "presentations": run.height, "usual": usual}
    name, share = most
    if column == "reader" and run["person"].n_unique() == 1:
        says = told("{says} Nobody else came: hand and reader cannot be told apart.", says=says)
        return seen | {"cause": "cannot_tell", "says": says}
    if column == "reader" and 2 * share > count:
        says = told("{says} {share:,} of them were under one number, {name}'s.", says=says, share=share, name=name)
        return seen | {"cause": "hand", "says": says}
    if column == "person" and 2 * share > count and run["reader"].n_unique() > 1:
        return seen | {"says": told("{says} {share:,} of them were at {name}.", says=says, share=share, name=name)}
    return seen | {"says": says}
