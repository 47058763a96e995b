"""When the purpose of holding somebody's hand ended: the last day of work, consent withdrawn, no longer listed.

Whoever is employed again, or consents again, has a purpose again: what ended before starts no clock any more.
"""

from __future__ import annotations

from datetime import date

import polars as pl

from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.languages import sentence

__all__ = ["ENDINGS", "PURPOSES", "purposes_ended"]

ENDINGS = Table(
    "endings",
    "What may end the purpose of holding somebody's hand",
    (
        Column("person", "text", "The person", required=True),
        Column("day", "date", "On which day", required=True),
        Column("why", "text", "What happened, in words", required=True),
    ),
)

PURPOSES = Table(
    "purposes",
    "Whose hand is held for nothing any more, since when and why",
    (
        *ENDINGS.columns[:1],
        Column("purpose_ended", "date", "The day", required=True),
        Column("purpose_why", "text", "What ended it, in words", required=True),
        Column("employment_ended", "date", "The last day of work; empty while employed"),
    ),
    key=("person",),
)


def purposes_ended(people: Frame, gone: Frame, withdrawn: Frame, on: date) -> Frame:
    """Return whose purpose has ended up to a day (PURPOSES), by person: of several endings the earliest counts.

    `people` are PEOPLE; `gone` (ENDINGS) are those whom the roster lists no longer, with the day of the last that is
    known of them, and count where no last day of work is on file; `withdrawn` (ENDINGS) do not consent any more.
    """
    back = pl.col("hired_on").is_not_null() & (pl.col("hired_on") > pl.col("left_on"))
    left = people.filter(pl.col("left_on") <= on, ~back.fill_null(value=False))
    employed = left.select("person", day="left_on", why=pl.lit(sentence("last day of work")))
    unlisted = gone.join(left, on="person", how="anti").filter(pl.col("day") <= on)
    parts = [part.select(ENDINGS.names) for part in (employed, withdrawn.filter(pl.col("day") <= on), unlisted)]
    every = pl.concat([ENDINGS.empty(), *parts]).sort("person", "day", maintain_order=True)
    first = every.unique("person", keep="first", maintain_order=True)
    ended = pl.concat([employed, unlisted.select(ENDINGS.names)]).unique("person", keep="first")
    made = first.join(ended.select("person", employment_ended="day"), on="person", how="left")
    made = made.rename({"day": "purpose_ended", "why": "purpose_why"})
    return PURPOSES.check(made.select(PURPOSES.names).sort("person"))
