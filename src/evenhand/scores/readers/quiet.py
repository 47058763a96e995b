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
    """Return the readers (READER_HEALTH) whose log ends long before those of the other readers of their site.

    The time from its last presentation to theirs is compared as silence up to now is.
    """
    lasts = [int(at[-1]) if len(at := logs.at[logs.log(i)]) else None for i in range(len(logs.readers))]
    here = [sites.get(reader) for reader in logs.readers]
    found = []
    for i, site in enumerate(here):
        others = [
            min(last, as_of)
            for at, last in enumerate(lasts)
            if at != i and last is not None and site is not None and here[at] == site
        ]
        if others:
            only = [last if at == i else None for at, last in enumerate(lasts)]
            found += [{**row, "kind": "log_ends", "until": max(others)} for row in _silent(logs, only, max(others))]
    return READER_HEALTH.rows(found)


def _silent(logs: Logs, lasts: list[int | None], as_of: int) -> Iterator[dict[str, Any]]:
    for i, last in enumerate(lasts):
        at = logs.at[logs.log(i)]
        if last is None:
            continue
        span, weeks = min(as_of - last, LONGEST_S), min(WEEKS, (as_of - int(at[0])) // WEEK_S)
        if weeks < FEWEST_WEEKS or span <= 0:
            continue
        ends = as_of - WEEK_S * np.arange(1, weeks + 1)
        counts = np.searchsorted(at, ends, side="right") - np.searchsorted(at, ends - span, side="right")
        chance = _chance_of_none(counts.astype(np.float64))
        if chance < UNLIKELY:
            usual = float(np.mean(counts))
            yield {
                "reader": logs.readers[i],
                "kind": "quiet",
                "since": last,
                "size": usual,
                "count": 0,
                "usual": usual,
                "weeks": weeks,
                "chance": chance,
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
