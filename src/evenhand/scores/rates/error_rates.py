"""How often hands are refused: per presentation and per transaction, with intervals that respect repetition.

Source: ISO/IEC 19795-1:2021 for the rates (from memory); the intervals are those of `clustered`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.scores.coding import code_names, codes_of
from evenhand.scores.rates.clustered import Rates, clustered_rates
from evenhand.scores.rates.intervals import most_errors_free, relative_half_width
from evenhand.scores.rates.transactions import ATTEMPTS, GAP_S, Transactions, group_attempts
from evenhand.scores.tables import ERROR_RATES
from evenhand.terms.columns import Frame
from evenhand.terms.languages import pattern_of, sentence, told

__all__ = ["at_refusing_readers", "error_rates", "sample_size_note"]

Ints = npt.NDArray[np.int64]
Flags = npt.NDArray[np.bool_]

ENOUGH_ERRORS = 30
RULE_OF_3 = {
    "person": (
        sentence("Rule of 3: no error among 1 person, so the rate may be up to {bound:.2g} %."),
        sentence("Rule of 3: no error among {count} people, so the rate may be up to {bound:.2g} %."),
    ),
    "day": (
        sentence("Rule of 3: no error among 1 day, so the rate may be up to {bound:.2g} %."),
        sentence("Rule of 3: no error among {count} days, so the rate may be up to {bound:.2g} %."),
    ),
}
"""What is said where nothing erred, by what the clusters are: of one, of several."""


@dataclass(frozen=True)
class _Tried:
    """Trials as columns (trials,): codes of person, reader and day, and whether each erred."""

    person: Ints
    reader: Ints
    day: Ints
    is_error: Flags

    def only(self, chosen: Flags) -> _Tried:
        """Return the chosen trials."""
        return _Tried(self.person[chosen], self.reader[chosen], self.day[chosen], self.is_error[chosen])


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
    people, readers = codes_of(refusing["person"])[1], codes_of(refusing["reader"])[1]
    rows = [
        _rows(measure, of, names, clusters, confidence)
        for measure, tried in _measures(refusing, group_attempts(refusing, gap_s=gap_s, attempts=attempts))
        for of, names, clusters in _clusters(tried, people, readers, sites)
        if len(clusters.group)
    ]
    return pl.concat([ERROR_RATES.empty(), *rows])


def at_refusing_readers(presented: Frame) -> Frame:
    """Return the presentations at readers whose log holds any refusal."""
    readers = presented.filter("is_refused")["reader"].unique()
    if len(readers) == presented["reader"].n_unique():
        return presented
    return presented.filter(pl.col("reader").is_in(readers.implode()))


def _measures(refusing: Frame, grouped: Transactions) -> Iterator[tuple[str, _Tried]]:
    """Yield each measure with its trials; presentations stand as in `refusing`, grouped as in `grouped`."""
    person, reader = (codes_of(refusing[name])[0].astype(np.int64) for name in ("person", "reader"))
    day, refused = refusing["day"].to_physical().to_numpy(), refusing["is_refused"].to_numpy()
    first = grouped.order[grouped.starts]
    of_transactions = _Tried(person[first], reader[first], day[first], grouped.is_rejected)
    yield "false_rejection_rate", of_transactions.only(~grouped.is_suspect)
    has_score = refusing["score"].is_not_null().to_numpy()
    told = np.bincount(reader[refused & has_score], minlength=int(reader.max()) + 1)[reader] > 0
    honest = ~grouped.of_presentation
    presentations = _Tried(person, reader, day, refused)
    yield "false_non_match_rate", presentations.only(honest & told & (~refused | has_score))
    acquired = _Tried(person, reader, day, refused & ~has_score)
    yield "failure_to_acquire_rate", acquired.only(honest & told)
    yield "refused_presentation_rate", presentations.only(honest & ~told)


@dataclass(frozen=True)
class _Clusters:
    """Errors and trials of clusters (clusters,), each in a group by code."""

    group: Ints
    errors: Ints
    trials: Ints


def _clusters(
    tried: _Tried, people: list[str], readers: list[str], sites: Mapping[str, str]
) -> Iterator[tuple[str, list[str], _Clusters]]:
    """Yield what rates are of, with the names of the groups: people are the clusters, and of a person the days."""
    count = max(len(people), 1)
    pair, errors, trials = _summed(tried.reader * count + tried.person, tried.is_error)
    where, who = pair // count, pair % count
    everybody = np.zeros_like(who)
    yield "all", ["everybody"], _merged(everybody, who, count, errors, trials)
    names = sorted({sites.get(reader, "") for reader in readers})
    site = np.array([names.index(sites.get(reader, "")) for reader in readers], dtype=np.int64)
    yield "site", names, _merged(site[where], who, count, errors, trials)
    yield "reader", readers, _Clusters(where, errors, trials)
    day = tried.day - tried.day.min(initial=tried.day[0] if len(tried.day) else 0)
    span = int(day.max(initial=0)) + 1
    dated, errors, trials = _summed(tried.person * span + day, tried.is_error)
    yield "person", people, _Clusters(dated // span, errors, trials)


def _summed(key: Ints, is_error: Flags) -> tuple[Ints, Ints, Ints]:
    """Return each key that occurs, in order, with its errors and trials."""
    trials = np.bincount(key)
    seen = np.flatnonzero(trials)
    return seen, np.bincount(key[is_error], minlength=len(trials))[seen], trials[seen]


def _merged(group: Ints, who: Ints, people: int, errors: Ints, trials: Ints) -> _Clusters:
    """Add up the clusters of one person in a group."""
    keys, index = np.unique(group * people + who, return_inverse=True)
    summed = (np.bincount(index, weights=values, minlength=len(keys)).astype(np.int64) for values in (errors, trials))
    return _Clusters(keys // people, *summed)


def _rows(measure: str, of: str, names: list[str], clusters: _Clusters, confidence: float) -> Frame:
    present, group = np.unique(clusters.group, return_inverse=True)
    rates = clustered_rates(group, clusters.errors, clusters.trials, len(present), confidence)
    people = np.ones(len(present), dtype=np.int64) if of == "person" else rates.clusters
    return ERROR_RATES.frame(
        {
            "of": [of] * len(present),
            "name": [names[at] for at in present.tolist()],
            "measure": [measure] * len(present),
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
    if errors == 0:
        bound = 100 * most_errors_free(clusters, confidence)
        return told(pattern_of(*RULE_OF_3[cluster], clusters), count=clusters, bound=bound)
    if errors < ENOUGH_ERRORS:
        percent = 100 * relative_half_width(errors)
        return told(
            "{errors:# error|# errors} seen, and from 30 on a rate is well known; "
            "this one is known to ±{percent:.0f} % of itself at best.",
            errors=errors,
            percent=percent,
        )
    return ""
