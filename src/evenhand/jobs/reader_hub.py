"""Everything about one reader beside its standing: whom it lists, its log and clock, rounds, decisions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import polars as pl

from evenhand.jobs.decision_log import decision_log
from evenhand.jobs.freshness import ReaderFreshness, find_freshness
from evenhand.jobs.person_hub import turns
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.strays import unattributed_lately
from evenhand.terms.columns import Column, Frame, Table

__all__ = ["LISTED_HERE", "ReaderHub", "reader_hub"]

LISTED_HERE = Table(
    "listed_here",
    "Whom a reader lists, by number, with whose number each is by the roster",
    (
        Column("number", "text", "The number", required=True),
        Column("name", "text", "The name that the reader has beside it"),
        Column("person", "text", "Whose number it is; empty where it is nobody's, or several people's"),
        Column("known_name", "text", "The person's name on the roster"),
        Column("is_supervisor", "yes_no", "Whether the reader has them as supervisor"),
        Column("enrolled_on", "date", "Since when, where the list says so"),
        Column("last_at", "instant", "The last presentation under it here", unit="s since 1970-01-01T00:00:00Z"),
    ),
    key=("number",),
)


@dataclass(frozen=True)
class ReaderHub:
    """What is known of a reader beside its standing and its steps.

    `listed` (LISTED_HERE) is whom it lists; `fresh` how old its log is and which file brought the last of it; `zones`
    are those its clock was said to run in before, each with the take that changed it; `strays` are numbers keyed here
    whose punches are nobody's yet, with how many; `turns` (TURNS_PLANNED) are those of rounds here, `decisions` (LOG)
    were made here or are about what was keyed here.
    """

    listed: Frame
    fresh: ReaderFreshness
    zones: Sequence[Mapping[str, Any]]
    strays: Sequence[tuple[str, int]]
    turns: Sequence[Mapping[str, Any]]
    decisions: Frame


def reader_hub(reckoning: Reckoning, reader: str) -> ReaderHub:
    """Return everything about a reader that is listed."""
    of, here = reckoning.snapshot, pl.col("reader") == reader
    freshness = reckoning.part("fresh by reader", lambda: {one.reader: one for one in find_freshness(reckoning)})
    strays = unattributed_lately(reckoning).filter(here).group_by("number").len().sort("len", "number", descending=True)
    return ReaderHub(
        listed=_listed(reckoning, reader),
        fresh=freshness[reader],
        zones=of.clock_changes.filter(here).rows(named=True),
        strays=strays.rows(),
        turns=turns(reckoning, here).rows(named=True),
        decisions=decision_log(reckoning).filter(here),
    )


def _listed(reckoning: Reckoning, reader: str) -> Frame:
    of, here = reckoning.snapshot, pl.col("reader") == reader
    left = pl.col("left_on").is_not_null() & (pl.col("left_on") < reckoning.day)
    holders = of.people.filter(~left).drop_nulls("number").group_by("number").agg("person", "name")
    sole = holders.filter(pl.col("person").list.len() == 1)
    sole = sole.select("number", person=pl.col("person").list.first(), known_name=pl.col("name").list.first())
    seen = of.recorded.filter(here).group_by("number").agg(last_at=pl.col("at").max())
    rows = of.enrolments.filter(here).join(sole, on="number", how="left").join(seen, on="number", how="left")
    return LISTED_HERE.check(rows.select(LISTED_HERE.names).sort("number"))
