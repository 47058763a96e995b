"""How often hands are refused: per presentation and per transaction, with intervals that respect repetition.

Source: ISO/IEC 19795-1:2021 for the rates (from memory); the intervals are those of `clustered`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np
import polars as pl

from evenhand.scores.coding import code_names
from evenhand.scores.rates.clustered import Rates, clustered_rates
from evenhand.scores.rates.intervals import most_errors_free, relative_half_width
from evenhand.scores.rates.transactions import ATTEMPTS, GAP_S, separate_suspects, transactions
from evenhand.scores.tables import ERROR_RATES
from evenhand.terms.columns import Frame

__all__ = ["at_refusing_readers", "error_rates", "sample_size_note"]

ENOUGH_ERRORS = 30

REFUSED, HAS_SCORE, SCORES_REFUSALS = pl.col("is_refused"), pl.col("score").is_not_null(), pl.col("scores_refusals")
# of each measure: what is an error, and what is a trial
OF_TRANSACTIONS = {"false_rejection_rate": (pl.col("is_rejected"), pl.lit(value=True))}
OF_PRESENTATIONS = {
    "false_non_match_rate": (REFUSED & HAS_SCORE & SCORES_REFUSALS, (~REFUSED | HAS_SCORE) & SCORES_REFUSALS),
    "failure_to_acquire_rate": (REFUSED & ~HAS_SCORE & SCORES_REFUSALS, SCORES_REFUSALS),
    "refused_presentation_rate": (REFUSED & ~SCORES_REFUSALS, ~SCORES_REFUSALS),
}


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
    refusing = at_refusing_readers(code_names(presented))
    if not refusing.height:
        return ERROR_RATES.empty()
    grouped = transactions(refusing, gap_s=gap_s, attempts=attempts).filter(~pl.col("is_suspect"))
    scoring = refusing.filter(REFUSED, HAS_SCORE)["reader"].unique()
    honest, _ = separate_suspects(refusing)
    honest = honest.with_columns(scores_refusals=pl.col("reader").is_in(scoring.implode()))
    rows = [
        row
        for tried, measures in ((grouped, OF_TRANSACTIONS), (honest, OF_PRESENTATIONS))
        for measure in measures
        for row in _of_measure(measure, *_counted(tried, measures[measure]), sites, confidence)
    ]
    return pl.concat([ERROR_RATES.empty(), *rows])


def at_refusing_readers(presented: Frame) -> Frame:
    """Return the presentations at readers whose log holds any refusal."""
    readers = presented.filter(REFUSED)["reader"].unique()
    if len(readers) == presented["reader"].n_unique():
        return presented
    return presented.filter(pl.col("reader").is_in(readers.implode()))


def _counted(tried: Frame, measure: tuple[pl.Expr, pl.Expr]) -> tuple[Frame, Frame]:
    """Errors and trials of each person at each reader, and on each day."""
    error, trial = measure
    told = tried.filter(trial).select("person", "reader", "day", error=error)
    counts = (pl.col("error").sum().cast(pl.Int64).alias("errors"), pl.len().cast(pl.Int64).alias("trials"))
    return told.group_by("reader", "person").agg(counts), told.group_by("person", "day").agg(counts)


def _of_measure(
    measure: str, at_readers: Frame, by_day: Frame, sites: Mapping[str, str], confidence: float
) -> Iterator[Frame]:
    site = pl.col("reader").cast(pl.String).replace_strict(dict(sites), default="", return_dtype=pl.String)
    clusters = at_readers.with_columns(all=pl.lit("everybody"), site=site)
    for of in ("all", "site", "reader"):
        yield _rows(measure, clusters.select("errors", "trials", name=of, cluster="person"), of, confidence)
    yield _rows(measure, by_day.select("errors", "trials", name="person", cluster="day"), "person", confidence)


def _rows(measure: str, clusters: Frame, of: str, confidence: float) -> Frame:
    counted = clusters.group_by("name", "cluster").agg(pl.col("errors", "trials").sum())
    if not counted.height:
        return ERROR_RATES.empty()
    names = counted["name"].unique().sort()
    group = counted["name"].rank("dense").to_numpy().astype(np.int64) - 1
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
