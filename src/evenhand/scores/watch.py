"""Watch everybody's hands and all readers: run the charts, date and shape each alarm, and say whose change it was."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.scores.alarms.charts import Alarms, cusum_alarms, ewma_alarms, refusal_alarms
from evenhand.scores.alarms.design import EWMA_WEIGHT, MONTH, Design, K, Traffic, design_charts
from evenhand.scores.alarms.shape import shape_of
from evenhand.scores.causes import cause_of_hand, cause_of_reader
from evenhand.scores.model import ScoreModel
from evenhand.scores.rates.beta_binomial import fit_beta_binomial
from evenhand.scores.tables import ALARMS
from evenhand.terms.columns import Frame

__all__ = ["design_for", "watch"]

Floats = npt.NDArray[np.float64]
ABOVE_MOST = 0.95
WORTH_A_LOOK = 3
"""Refusals in a run from which an alarm about refusals is worth anybody's time. Common practice, no source."""


def design_for(model: ScoreModel | None, presented: Frame, budget: float) -> Design:
    """Return the limits for these people, readers and this traffic; refusal charts only where logs hold refusals."""
    first, last = presented["day"].min(), presented["day"].max()
    months = max(((last - first).days + 1) / MONTH, 1e-9) if isinstance(first, date) and isinstance(last, date) else 1.0
    refusing = presented.filter(pl.col("is_refused").any().over("reader"))
    traffic = {}
    if model is not None:
        hands, readers = model.daily.hand, model.daily.reader
        traffic["hand"] = _traffic(hands, model.days / MONTH)
        traffic["reader"] = traffic["reader_drift"] = _traffic(readers, model.days / MONTH)
    if refusing.height:
        for kind, column in (("hand_refusals", "person"), ("reader_refusals", "reader")):
            series = refusing[column].n_unique()
            traffic[kind] = Traffic(series, refusing.height / series / months)
    return design_charts(budget, traffic, *_usual_refusals(refusing))


def _usual_refusals(refusing: Frame) -> tuple[float, float]:
    """Return the rate of refusal of readers, and the rate that one person in twenty is above: people differ."""
    from scipy.special import betaincinv

    if not refusing.height:
        return 0.0, 0.0
    counted = (
        refusing.group_by("person").agg(errors=pl.col("is_refused").sum(), trials=pl.len()).cast({pl.UInt32: pl.Int64})
    )
    errors, trials = counted["errors"].to_numpy(), counted["trials"].to_numpy()
    everybody = float(errors.sum() / trials.sum())
    fit = fit_beta_binomial(errors, trials)
    return everybody, everybody if fit is None else max(everybody, float(betaincinv(fit.a, fit.b, ABOVE_MOST)))


def _traffic(values: Floats, months: float) -> Traffic:
    points = int((~np.isnan(values)).sum())
    return Traffic(len(values), points / len(values) / max(months, 1e-9))


def watch(model: ScoreModel | None, presented: Frame, design: Design) -> Frame:
    """Return the alarms (ALARMS) of all charts, the latest first; scores may be missing, refusals may be."""
    rows = [*_of_scores(model, design)] if model is not None else []
    refusing = presented.filter(pl.col("is_refused").any().over("reader")).sort("at", "punch")
    for kind, column in (("hand_refusals", "person"), ("reader_refusals", "reader")):
        if kind in design.limits:
            rows.extend(_of_refusals(refusing, kind, column, design))
    return ALARMS.rows(rows).sort("on", "chart", "person", "reader", descending=[True, False, False, False])


def _of_scores(model: ScoreModel, design: Design) -> Iterator[dict[str, Any]]:
    hands, readers = model.daily.hand, model.daily.reader
    for row in _rows(model, "hand", cusum_alarms(hands, K, design.limits["hand"].limit), hands):
        cause = cause_of_hand(model, *row.pop("place"))
        yield row | {"cause": cause.cause, "correlation": cause.correlation, "says": cause.says}
    both = cusum_alarms(readers, K, design.limits["reader"].limit)
    up, down = ewma_alarms(readers, EWMA_WEIGHT, design.limits["reader_drift"].limit)
    for chart, found in (("reader", both), ("reader_drift", up)):
        for row in _rows(model, chart, found, readers):
            cause = cause_of_reader(model, *row.pop("place"))
            yield row | {"cause": cause.cause, "correlation": cause.correlation, "says": cause.says}
    for row in _rows(model, "reader_drift", down, readers):
        del row["place"]
        yield row | {"says": "Scores fell for this reader's people: cleaned, calibrated or warmed up."}


def _rows(model: ScoreModel, chart: str, found: Alarms, values: Floats) -> Iterator[dict[str, Any]]:
    names = model.people if chart == "hand" else model.readers
    for i in range(len(found.at)):
        columns = (found.series, found.at, found.begins, found.peak, found.ends)
        series, at, begins, peak, ends = (int(column[i]) for column in columns)
        seen = np.flatnonzero(~np.isnan(values[series]))
        last = seen[seen <= peak]
        shape, since = shape_of(values[series][last], len(last) - 1) if found.size[i] > 0 else ("unclear", begins)
        begins = int(last[since]) if found.size[i] > 0 and shape != "unclear" else begins
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


def _of_refusals(refusing: Frame, kind: str, column: str, design: Design) -> Iterator[dict[str, Any]]:
    chart, other = design.refusals[kind], "reader" if column == "person" else "person"
    limit = int(design.limits[kind].limit)
    refused = refusing.filter(pl.col("is_refused")).group_by(column).len().filter(pl.col("len") >= WORTH_A_LOOK)
    for (name,), rows in refusing.join(refused, on=column, how="semi").group_by(column, maintain_order=True):
        is_refused, days = rows["is_refused"].to_numpy(), rows["day"].to_list()
        found = refusal_alarms(is_refused, chart.step, limit)
        for i in range(len(found.at)):
            at, begins, ends, share = found.at[i], found.begins[i], found.ends[i], found.size[i]
            run = rows[begins : at + 1]
            most = run.filter(pl.col("is_refused"))[other].value_counts(sort=True).row(0)
            yield {
                "chart": kind,
                column: name,
                "on": days[at],
                "since": days[begins],
                "worst": days[found.peak[i]],
                "until": days[ends] if ends >= 0 else None,
                "size": float(share),
                **_refusals_say(run, column, most, chart.usual),
            }


def _refusals_say(run: Frame, column: str, most: tuple[str, int], usual: float) -> dict[str, Any]:
    """Say how many were refused, and whether one hand, or one reader, makes up most of it."""
    count = int(run["is_refused"].sum())
    who = "under one number" if column == "person" else "at one reader"
    says = f"{count} of {run.height} presentations {who} were refused; {100 * usual:.2g} % is usual."
    name, share = most
    if column == "reader" and run["person"].n_unique() == 1:
        return {"cause": "cannot_tell", "says": f"{says} Nobody else came: hand and reader cannot be told apart."}
    if column == "reader" and 2 * share > count:
        return {"cause": "hand", "says": f"{says} {share} of them were under one number, {name}'s."}
    if column == "person" and 2 * share > count and run["reader"].n_unique() > 1:
        return {"says": f"{says} {share} of them were at {name}."}
    return {"says": says}
