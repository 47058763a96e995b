"""How often hands are refused: per presentation and per transaction, with intervals that respect repetition.

Source: ISO/IEC 19795-1:2021 for the rates (from memory); the intervals are those of `clustered`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np
import polars as pl

from evenhand.scores.rates.clustered import Rates, clustered_rates
from evenhand.scores.rates.intervals import most_errors_free, relative_half_width
from evenhand.scores.rates.transactions import ATTEMPTS, GAP_S, separate_suspects, transactions
from evenhand.scores.tables import ERROR_RATES
from evenhand.terms.columns import Frame

__all__ = ["error_rates", "sample_size_note"]

ENOUGH_ERRORS = 30


def error_rates(
    presented: Frame,
    sites: Mapping[str, str],
    *,
    confidence: float = 0.95,
    gap_s: int = GAP_S,
    attempts: int = ATTEMPTS,
) -> Frame:
    """Return the rates (ERROR_RATES) over everybody, per site, reader and person; suspect transactions left out.

    `sites` gives each reader's site. Intervals take people as clusters, and a person's own take that person's
    days. Presentations at readers whose log holds no refusal at all give no rate: nothing there tells whether
    refusals happened. A reader that writes scores beside its refusals tells a failure to acquire by its missing
    score; at the others both are one rate, refused_presentation_rate.
    """
    if not presented["is_refused"].any():
        return ERROR_RATES.empty()
    refusing = presented.filter(pl.col("is_refused").any().over("reader")).sort("reader", "person", "at", "punch")
    grouped = transactions(refusing, gap_s=gap_s, attempts=attempts)
    honest, _ = separate_suspects(refusing)
    parts = [
        ("false_rejection_rate", grouped.filter(~pl.col("is_suspect")).with_columns(error="is_rejected")),
        *_of_presentations(honest),
    ]
    site = pl.col("reader").replace_strict(dict(sites), default="", return_dtype=pl.String)
    rows = [
        _rows(measure, frame.with_columns(site=site), of, confidence)
        for measure, frame in parts
        for of in ("all", "site", "reader", "person")
    ]
    return pl.concat([ERROR_RATES.empty(), *rows])


def _of_presentations(honest: Frame) -> Iterator[tuple[str, Frame]]:
    scored = (pl.col("is_refused") & pl.col("score").is_not_null()).any().over("reader")
    told = honest.filter(scored)
    untold = honest.filter(~scored)
    yield (
        "false_non_match_rate",
        told.filter(~pl.col("is_refused") | pl.col("score").is_not_null()).with_columns(error="is_refused"),
    )
    yield "failure_to_acquire_rate", told.with_columns(error=pl.col("is_refused") & pl.col("score").is_null())
    yield "refused_presentation_rate", untold.with_columns(error="is_refused")


def _rows(measure: str, frame: Frame, of: str, confidence: float) -> Frame:
    name = pl.lit("everybody") if of == "all" else pl.col(of)
    cluster = "day" if of == "person" else "person"
    counted = frame.group_by(name=name, cluster=cluster).agg(
        errors=pl.col("error").sum().cast(pl.Int64), trials=pl.len().cast(pl.Int64)
    )
    if not counted.height:
        return ERROR_RATES.empty()
    group = counted["name"].rank("dense").to_numpy().astype(np.int64) - 1
    names = counted["name"].unique().sort()
    rates = clustered_rates(group, counted["errors"].to_numpy(), counted["trials"].to_numpy(), len(names), confidence)
    people = np.ones(len(names), dtype=np.int64) if of == "person" else rates.clusters
    return ERROR_RATES.frame(
        {
            "of": [of] * len(names),
            "name": names,
            "measure": [measure] * len(names),
            "errors": rates.errors,
            "trials": rates.trials,
            "people": people,
            "rate": rates.rate,
            "low": rates.low,
            "high": rates.high,
            "effective_trials": rates.effective_trials,
            "note": _notes(rates, "day" if of == "person" else "person", confidence),
        }
    )


def _notes(rates: Rates, cluster: str, confidence: float) -> list[str]:
    # one sentence per distinct pair of counts: a hundred thousand people have only a few hundred of them
    seen: dict[tuple[int, int], str] = {}
    return [
        seen.setdefault((a, n), sample_size_note(a, n, cluster, confidence))
        for a, n in zip(rates.errors.tolist(), rates.clusters.tolist(), strict=True)
    ]


def sample_size_note(errors: int, clusters: int, cluster: str = "person", confidence: float = 0.95) -> str:
    """Return what so few errors can show, in a sentence; an empty text for 30 errors or more."""
    many = {"person": "people", "day": "days"}[cluster]
    counted = f"1 {cluster}" if clusters == 1 else f"{clusters} {many}"
    if errors == 0:
        bound = 100 * most_errors_free(clusters, confidence)
        return f"Rule of 3: no error among {counted}, so the rate may be up to {bound:.2g} %."
    if errors < ENOUGH_ERRORS:
        percent = 100 * relative_half_width(errors)
        return f"Rule of 30: {errors} of 30 errors seen; known to +-{percent:.0f} % of itself at best."
    return ""
