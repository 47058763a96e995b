"""Say in words what was found to break a limit, for the few that did."""

from __future__ import annotations

from typing import Any

import numpy as np
import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.hours import BREACHES
from evenhand.terms.languages import Moment, sentence, told
from evenhand.terms.zones import DAY_S, civil_date, offsets_of

__all__ = ["breach", "midnights", "worded"]

HOUR_S = 3600

ARTICLES = {
    "daily_rest": "art. 3",
    "break": "art. 4",
    "weekly_rest": "art. 5",
    "average_week": "arts. 6 and 16",
    "night_average": "art. 8",
}
LITTLE_REST = sentence(
    "{found:duration} are left for rest from {at} in the 24 hours from when the shift began, {short:duration} short"
)
SHORT_REST = sentence("{found:duration} of rest from {at}; {short:duration} short")
NO_BREAK = sentence("{found:duration} of work from {at} with no break recorded")
SHORT_WEEK = sentence("{found:duration} is the longest rest in the seven days from {at}; {limit:duration} are due")
LONG_WEEKS = sentence(
    "{average} a week on average over {count} weeks so far; at most {limit} over {of}, unless the person has opted out"
)
LONG_NIGHTS = sentence(
    "{average} in 24 on average in the week of {day}, of which {nights} nights; at most {limit} for night workers"
)


def breach(rows: Frame, kind: str, **columns: pl.Expr) -> Frame:
    """Return `rows` as breaches of one kind: person, starts, ends, found_s, limit_s, and what their words need."""
    given = {name: columns.get(name, pl.lit(0)) for name in ("starts", "ends", "found_s", "limit_s", "count", "of")}
    average = columns.get("average", pl.lit(0.0)).cast(pl.Float64)
    return rows.select(
        "person", kind=pl.lit(kind), average=average, **{name: column.cast(pl.Int64) for name, column in given.items()}
    )


def midnights(days: pl.Series, zone: str, seconds: pl.Series | int = 0) -> pl.Series:
    """Return the instants at which civil days [d since 1970-01-01] reach `seconds` after midnight in `zone`."""
    local = days.cast(pl.Int64) * DAY_S + seconds
    earlier, _, _ = offsets_of(zone).from_local(np.asarray(local.to_numpy(), np.int64))
    return pl.Series(earlier)


def worded(found: Frame, zone: str) -> Frame:
    """Return breaches (BREACHES) with their words, by person and time."""
    in_order = found.sort("person", "starts", "kind")
    says = [_says(row, zone) for row in in_order.iter_rows(named=True)]
    cites = in_order["kind"].replace_strict(
        {kind: f"Directive 2003/88/EC, {article}" for kind, article in ARTICLES.items()}, return_dtype=pl.String
    )
    names = ["person", "kind", "starts", "ends", "found_s", "limit_s"]
    return BREACHES.frame({**{name: in_order[name] for name in names}, "says": says, "cites": cites})


def _says(row: dict[str, Any], zone: str) -> str:
    starts, found, limit = row["starts"], row["found_s"], row["limit_s"]
    at = Moment(starts, zone)
    average = f"{row['average'] / HOUR_S:.2f} h"
    match row["kind"]:
        case "daily_rest" if row["of"]:
            return told(LITTLE_REST, found=found, at=at, short=limit - found)
        case "daily_rest":
            return told(SHORT_REST, found=found, at=at, short=limit - found)
        case "break":
            return told(NO_BREAK, found=row["ends"] - starts, at=at)
        case "weekly_rest":
            return told(SHORT_WEEK, found=found, at=at, limit=limit)
        case "average_week":
            return told(LONG_WEEKS, average=average, count=row["count"], limit=limit // HOUR_S, of=row["of"])
        case _:
            return told(
                LONG_NIGHTS,
                average=average,
                day=civil_date(zone, starts),
                nights=row["count"],
                limit=limit // HOUR_S,
            )
