"""A reader that is quieter than at the same hours, or on the same weekday, of earlier weeks.

Source: the predictive distribution of a Poisson count with a gamma prior (negative binomial) for silence up to now;
two Poisson counts compared exactly for a whole day (Przyborowski and Wilenski, Biometrika 31, 1940, from memory).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from typing import Any

import numpy as np
import numpy.typing as npt

from evenhand.scores.readers.logs import Logs
from evenhand.scores.tables import READER_HEALTH
from evenhand.terms.columns import Frame
from evenhand.terms.zones import WEEK_S

__all__ = ["ended_logs", "quiet_days", "quiet_readers"]

Floats = npt.NDArray[np.float64]

WEEKS = 6
FEWEST_WEEKS = 2
UNLIKELY = 0.001
LONGEST_S = 3 * 86_400
APART_S = 86_400
"""Logs that end less than this apart were taken on the same round [s]."""
EPOCH = date(1970, 1, 1)

DAYS_LOOKED_AT = 7
WEEKS_OF_DAYS = 8
UNLIKELY_DAY = 1e-4


def quiet_readers(logs: Logs, as_of: int) -> Frame:
    """Return the readers (READER_HEALTH) that have been silent as of an instant for longer than chance allows.

    The silence is compared with the same span of up to six earlier weeks. Their counts give the rate and how uneven
    it is; a silence that the reader has had before at those hours is not remarked upon. Where nobody was recorded
    anywhere since, it is the log that ends there.
    """
    ends = [int(np.searchsorted(logs.at[logs.log(i)], as_of, side="right")) for i in range(len(logs.readers))]
    lasts = [int(logs.at[logs.starts[i] + end - 1]) if end else None for i, end in enumerate(ends)]
    known = [last for last in lasts if last is not None]
    return READER_HEALTH.rows(_silent(logs, lasts, max(known)) if known else [])


def ended_logs(logs: Logs, as_of: int, sites: Mapping[str, str]) -> Frame:
    """Return the readers (READER_HEALTH) whose log ends at least a day before those of the others of their site.

    The time from its last presentation to theirs is compared as silence up to now is, in step with the others: where
    they had less than usual to record, so had it.
    """
    lasts = [int(at[-1]) if len(at := logs.at[logs.log(i)]) else None for i in range(len(logs.readers))]
    here = [sites.get(reader, "") for reader in logs.readers]
    return READER_HEALTH.rows(
        row
        for i, last in enumerate(lasts)
        if last is not None and (others := [at for at in range(len(here)) if at != i and here[at] == here[i] != ""])
        for row in _ended(logs, i, last, others, as_of)
    )


def _ended(logs: Logs, reader: int, last: int, others: list[int], as_of: int) -> Iterator[dict[str, Any]]:
    rest = np.sort(np.concatenate([logs.at[logs.log(i)] for i in others]))
    rest = rest[: int(np.searchsorted(rest, as_of, side="right"))]
    until = int(rest[-1]) if len(rest) else last
    if until - last < APART_S:
        return
    span, at = min(until - last, LONGEST_S), logs.at[logs.log(reader)]
    weeks = min(WEEKS, (until - int(at[0])) // WEEK_S)
    if weeks < FEWEST_WEEKS:
        return
    usual_rest = float(np.mean(_in_earlier_weeks(rest, until, span, weeks)))
    seen = len(rest) - int(np.searchsorted(rest, until - span, side="right"))
    in_step = min(1.0, seen / usual_rest) if usual_rest else 1.0
    row = _row(logs.readers[reader], last, _in_earlier_weeks(at, until, span, weeks) * in_step)
    if row["chance"] < UNLIKELY:
        yield {**row, "kind": "log_ends", "until": until}


def _silent(logs: Logs, lasts: list[int | None], as_of: int) -> Iterator[dict[str, Any]]:
    for i, last in enumerate(lasts):
        at = logs.at[logs.log(i)]
        if last is None:
            continue
        span, weeks = min(as_of - last, LONGEST_S), min(WEEKS, (as_of - int(at[0])) // WEEK_S)
        if weeks < FEWEST_WEEKS or span <= 0:
            continue
        row = _row(logs.readers[i], last, _in_earlier_weeks(at, as_of, span, weeks))
        if row["chance"] < UNLIKELY:
            yield {**row, "kind": "quiet"}


def _in_earlier_weeks(at: npt.NDArray[np.int64], as_of: int, span: int, weeks: int) -> Floats:
    """Count presentations in the `span` [s] that ends at `as_of`, as many weeks before as there are `weeks`."""
    ends = as_of - WEEK_S * np.arange(1, weeks + 1)
    counts = np.searchsorted(at, ends, side="right") - np.searchsorted(at, ends - span, side="right")
    return counts.astype(np.float64)


def _row(reader: str, since: int, counts: Floats) -> dict[str, Any]:
    usual = float(np.mean(counts))
    return {
        "reader": reader,
        "since": since,
        "size": usual,
        "count": 0,
        "usual": usual,
        "weeks": len(counts),
        "chance": _chance_of_none(counts),
    }


def _chance_of_none(counts: Floats) -> float:
    mean = float(counts.mean())
    if mean == 0:
        return 1.0
    if len(counts) > 1 and counts.min() == 0:
        return 1.0
    uneven = max(float(counts.var(ddof=1)) / mean, 1.0) if len(counts) > 1 else 1.0
    # negative binomial with this mean and variance mean x uneven; its chance of 0
    return float(np.exp(-mean)) if uneven == 1 else float(uneven ** (-mean / (uneven - 1)))


def quiet_days(logs: Logs, today: date, sites: Mapping[str, str]) -> Frame:
    """Return of each reader the latest of the last seven whole days (READER_HEALTH) on which it was far too quiet.

    A day is compared with the same weekday of up to eight weeks before, in step with the other readers of its site in
    `sites`, so that a holiday is no news. The chance is that of so few, given all of them, were it like those days.
    """
    from scipy.special import bdtr

    if not logs.readers:
        return READER_HEALTH.empty()
    last = (today - EPOCH).days - 1 - logs.first_day
    counts = _until(logs.daily, last)
    known = np.array([logs.day[logs.log(i)].min() for i in range(len(logs.readers))]) - logs.first_day
    here = np.array([sites.get(reader, "") for reader in logs.readers])
    same_site = here[:, None] == here[None, :]
    found: dict[int, dict[str, Any]] = {}
    for back in range(DAYS_LOOKED_AT):
        day = last - back
        before = [day - 7 * week for week in range(1, WEEKS_OF_DAYS + 1) if day - 7 * week >= 0]
        if day < 0 or not before:
            break
        since = np.array(before)[None, :] >= known[:, None]
        weeks = since.sum(axis=1)
        seen, whole = counts[:, day], np.where(since, counts[:, before], 0).sum(axis=1)
        usual = whole / np.maximum(weeks, 1) * _in_step(counts, day, before, since, same_site)
        chance = bdtr(seen, (seen + np.rint(usual * weeks)).astype(np.int64), 1 / (weeks + 1))
        quiet = (weeks >= FEWEST_WEEKS) & (usual > seen) & (chance < UNLIKELY_DAY)
        for i in np.flatnonzero(quiet).tolist():
            found.setdefault(
                i,
                {
                    "reader": logs.readers[i],
                    "kind": "quiet_day",
                    "day": EPOCH + timedelta(days=logs.first_day + day),
                    "size": float(usual[i]),
                    "count": int(seen[i]),
                    "usual": float(usual[i]),
                    "weeks": int(weeks[i]),
                    "chance": float(chance[i]),
                },
            )
    return READER_HEALTH.rows(found[i] for i in sorted(found))


def _until(counts: npt.NDArray[np.int64], last: int) -> npt.NDArray[np.int64]:
    """Counts by day up to `last`, nothing on days after the log ends."""
    return np.pad(counts, ((0, 0), (0, max(last + 1 - counts.shape[1], 0))))


def _in_step(
    counts: npt.NDArray[np.int64], day: int, before: list[int], since: npt.NDArray[np.bool_], same_site: Floats
) -> Floats:
    """How far the rest of each reader's site falls short of its usual that day; 1 where it does not, or is nobody."""
    others = same_site & ~np.eye(len(counts), dtype=bool)
    rest = others @ counts[:, day]
    rest_usual = ((others @ counts[:, before]) * since).sum(axis=1) / np.maximum(since.sum(axis=1), 1)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(np.where(rest_usual > 0, np.minimum(1.0, rest / rest_usual), 1.0))
