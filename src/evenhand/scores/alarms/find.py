"""Find what changed at hands and readers: run the charts, date and shape each alarm, and say whose change it was."""

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
from evenhand.scores.coding import code_names, codes_of
from evenhand.scores.effects.cells import runs, stable_order
from evenhand.scores.model import ScoreModel
from evenhand.scores.rates.beta_binomial import fit_beta_binomial
from evenhand.scores.rates.error_rates import at_refusing_readers
from evenhand.scores.tables import ALARMS
from evenhand.terms.columns import Frame

__all__ = ["design_for", "find_alarms"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Codes = npt.NDArray[np.int32]
REFUSAL_CHARTS = (("hand_refusals", "person"), ("reader_refusals", "reader"))
ABOVE_MOST = 0.95
WORTH_A_LOOK = 3
"""Refusals in a run from which an alarm about refusals is worth anybody's time. Common practice, no source."""


def design_for(model: ScoreModel | None, presented: Frame, budget: float) -> Design:
    """Return the limits for these people, readers and this traffic; refusal charts only where logs hold refusals."""
    first, last = presented["day"].min(), presented["day"].max()
    months = max(((last - first).days + 1) / MONTH, 1e-9) if isinstance(first, date) and isinstance(last, date) else 1.0
    refusing = at_refusing_readers(presented)
    traffic = {}
    if model is not None:
        hands, readers = model.daily.hand, model.daily.reader
        traffic["hand"] = _traffic(hands, model.days / MONTH)
        traffic["reader"] = traffic["reader_drift"] = _traffic(readers, model.days / MONTH)
    counted = refusing.group_by("person").agg(errors=pl.col("is_refused").sum(), trials=pl.len())
    if refusing.height:
        series = {"hand_refusals": counted.height, "reader_refusals": refusing["reader"].n_unique()}
        traffic |= {kind: Traffic(count, refusing.height / count / months) for kind, count in series.items()}
    return design_charts(budget, traffic, *_usual_refusals(counted))


def _usual_refusals(counted: Frame) -> tuple[float, float]:
    """Return the rate of refusal of readers, and the rate that one person in twenty is above: people differ."""
    from scipy.special import betaincinv

    if not counted.height:
        return 0.0, 0.0
    alike = counted.group_by("errors", "trials").len().sort("errors", "trials").cast(pl.Int64)
    errors, trials, people = (alike[name].to_numpy() for name in ("errors", "trials", "len"))
    everybody = float((people * errors).sum() / (people * trials).sum())
    fit = fit_beta_binomial(errors, trials, people)
    return everybody, everybody if fit is None else max(everybody, float(betaincinv(fit.a, fit.b, ABOVE_MOST)))


def _traffic(values: Floats, months: float) -> Traffic:
    points = int((~np.isnan(values)).sum())
    return Traffic(len(values), points / len(values) / max(months, 1e-9))


def find_alarms(model: ScoreModel | None, presented: Frame, design: Design) -> Frame:
    """Return the alarms (ALARMS) of all charts, the latest first; scores may be missing, refusals may be."""
    rows = [*_of_scores(model, design)] if model is not None else []
    if any(kind in design.limits for kind, _ in REFUSAL_CHARTS):
        refusing = at_refusing_readers(code_names(presented))
        for kind, column in REFUSAL_CHARTS:
            rows.extend(_of_refusals(refusing, kind, column, design))
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
    codes, names = codes_of(refusing[column])
    # presentations stand by reader and time
    order = np.arange(len(codes)) if column == "reader" else _by_time(codes, refusing["at"].to_numpy())
    is_refused = refusing["is_refused"].to_numpy()[order]
    starts = runs(codes[order])
    found = refusal_alarms(is_refused, starts, chart.step, int(design.limits[kind].limit))
    often = np.add.reduceat(is_refused.astype(np.int64), starts) >= WORTH_A_LOOK
    for i in np.flatnonzero(often[found.series]).tolist():
        series, begins, at, peak, ends = (
            int(part[i]) for part in (found.series, found.begins, found.at, found.peak, found.ends)
        )
        place = order[starts[series] :]
        run = refusing[place[begins : at + 1]]
        most = run.filter("is_refused")[other].value_counts(sort=True).row(0)
        days = refusing["day"].gather(place[[begins, at, peak, max(ends, 0)]]).to_list()
        yield {
            "chart": kind,
            column: names[series],
            "on": days[1],
            "since": days[0],
            "worst": days[2],
            "until": days[3] if ends >= 0 else None,
            "size": float(found.size[i]),
            **_refusals_say(run, column, most, chart.usual),
        }


def _by_time(codes: Codes, at: Ints) -> Ints:
    """The order by code and time; where times are equal, as they stand."""
    since = at - at.min(initial=0 if not len(at) else at[0])
    return stable_order(codes.astype(np.int64) * (int(since.max(initial=0)) + 1) + since)


def _refusals_say(run: Frame, column: str, most: tuple[str, int], usual: float) -> dict[str, Any]:
    """Say how many were refused, and whether one hand, or one reader, makes up most of it."""
    count = int(run["is_refused"].sum())
    who = "under one number" if column == "person" else "at one reader"
    says = f"{count} of {run.height} presentations {who} were refused; {100 * usual:.2g} % is usual."
    told = {"refused": count, "presentations": run.height, "usual": usual}
    name, share = most
    if column == "reader" and run["person"].n_unique() == 1:
        says = f"{says} Nobody else came: hand and reader cannot be told apart."
        return told | {"cause": "cannot_tell", "says": says}
    if column == "reader" and 2 * share > count:
        return told | {"cause": "hand", "says": f"{says} {share} of them were under one number, {name}'s."}
    if column == "person" and 2 * share > count and run["reader"].n_unique() > 1:
        return told | {"says": f"{says} {share} of them were at {name}."}
    return told | {"says": says}
