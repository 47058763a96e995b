"""Which people could own which strays: the union of what several indexes find, never everybody.

Record linkage calls this blocking: only pairs that share a key are compared.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import polars as pl

from evenhand.linkage.roster import Flags, PeopleColumns, ranges
from evenhand.linkage.strays import Ints, StrayColumns
from evenhand.linkage.tables import ABSENT, PAIRS, SOUGHT
from evenhand.terms.columns import Frame

__all__ = ["Pairs", "candidate_pairs"]

BUCKET_S = 4 * 3600
MARGIN_S = 2 * 3600
SAMPLED_STRETCHES = 6
LITTLE = 0.6  # of what people usually punch
MOST_PAIRS = 300_000  # of strays with everybody of their sites; where there are more, only whom an index finds
PERSON_BITS = 32  # a stray's place above, a person's below
AT_ONCE = 8192
MOST_SILENT = 12  # of those absent when the stray was there, the best are looked at


@dataclass(frozen=True)
class Pairs:
    """Pairs of a stray and a person, by stray; `first` and `until` are each stray's part."""

    stray: Ints
    person: Ints
    first: Ints
    until: Ints

    @property
    def size(self) -> int:
        """Return how many pairs there are."""
        return len(self.stray)

    @classmethod
    def of(cls, stray: Ints, person: Ints, strays: int) -> Pairs:
        """Return pairs that stand by stray, of so many `strays`."""
        every = np.arange(strays)
        return cls(stray, person, np.searchsorted(stray, every), np.searchsorted(stray, every, side="right"))

    def in_parts(self) -> Iterator[Pairs]:
        """Yield the pairs some at a time, by stray as they stand, so that what is compared stays near the processor."""
        for first in range(0, max(self.size, 1), AT_ONCE):
            some = slice(first, first + AT_ONCE)
            yield replace(self, stray=self.stray[some], person=self.person[some])

    def without(self, others: Pairs) -> Pairs:
        """Return the pairs that are not among `others`."""
        key, theirs = (one.stray << PERSON_BITS | one.person for one in (self, others))
        apart = ~np.isin(key, theirs)
        return Pairs.of(self.stray[apart], self.person[apart], len(self.first))

    def are_in(self, some: Frame) -> Flags:
        """Return which of the pairs are among `some` (PAIRS)."""
        mine = pl.select(stray=pl.Series(self.stray), who=pl.Series(self.person))
        told = some.unique().with_columns(is_in=True)
        return mine.join(told, on=["stray", "who"], how="left", maintain_order="left")["is_in"].is_not_null().to_numpy()


def candidate_pairs(
    strays: StrayColumns, roster: PeopleColumns, explanations: Frame, also: Frame, never: Frame
) -> Pairs:
    """Return the pairs worth comparing.

    They are the people a kind of number error leads to (EXPLANATIONS), those of the reader's site who were due and
    did not punch while the stray did, and `also`, less `never` (both PAIRS) and whoever was not employed meanwhile.
    """
    by_number = (
        strays.keys()
        .join(explanations.select("person", number="keyed").unique(), on="number")
        .join(roster.keys().select("person", "who"), on="person")
        .select(PAIRS.names)
    )
    every = (
        pl.concat([by_number, _silent(strays, roster), _of_the_site(strays, roster), also])
        .unique()
        .join(never, on=PAIRS.names, how="anti")
    )
    both = every.sort(PAIRS.names)
    stray, who = both["stray"].to_numpy(), both["who"].to_numpy()
    employed = (roster.hired[who] <= strays.last_day[stray]) & (roster.left[who] >= strays.first_day[stray])
    return Pairs.of(stray[employed], who[employed], strays.size)


def _of_the_site(strays: StrayColumns, roster: PeopleColumns) -> Frame:
    """Everybody of the reader's site, where they are few enough to be looked at one by one."""
    site = roster.sites_of(strays.reader)
    order = np.argsort(roster.site, kind="stable")
    first = np.searchsorted(roster.site[order], site)
    many = np.where(site >= 0, np.searchsorted(roster.site[order], site, side="right") - first, 0)
    if many.sum() > MOST_PAIRS:
        return PAIRS.empty()
    return PAIRS.frame({"stray": np.repeat(np.arange(strays.size), many), "who": order[ranges(first, many)]})


def _silent(strays: StrayColumns, roster: PeopleColumns) -> Frame:
    """Those of the site who should have been there and left no punch of their own, by most such stretches."""
    sampled = _sampled_stretches(strays)
    if not len(sampled) or not roster.size:
        return PAIRS.empty()
    site = roster.sites_of(strays.reader)
    stray = strays.stretch_stray[sampled]
    wanted = SOUGHT.frame(
        {"stray": stray, "site": site[stray], "bucket": strays.stretch_starts[sampled] // BUCKET_S}
    ).with_columns(sought=pl.len().over("stray"))
    hits = (
        wanted.join(_absent(roster, wanted), on=["site", "bucket"])
        .group_by("stray", "who")
        .agg(silent=pl.len(), sought=pl.col("sought").first())
        .filter(2 * pl.col("silent") >= pl.col("sought"))
    )
    best = hits.sort("stray", "silent", "who", descending=[False, True, False])
    return best.group_by("stray", maintain_order=True).head(MOST_SILENT).select(PAIRS.names)


def _sampled_stretches(strays: StrayColumns) -> Ints:
    counts = strays.stretch_until - strays.stretch_first
    steps = np.linspace(0, 1, SAMPLED_STRETCHES)
    places = strays.stretch_first[:, None] + np.round(steps * (counts[:, None] - 1)).astype(np.int64)
    return np.unique(places)


def _absent(roster: PeopleColumns, wanted: Frame) -> Frame:
    """Who left no punch of their own where they should have, by the sites and buckets wanted (SOUGHT)."""
    spans = pl.concat([_unworked(roster, wanted), _quiet(roster)])
    spread = spans.with_columns(bucket=pl.int_ranges("begins", pl.col("ends") + 1)).explode("bucket")
    return spread.select("site", "bucket", "who").unique()


def _unworked(roster: PeopleColumns, wanted: Frame) -> Frame:
    """Whose schedule no punch fits; most schedules fall where nothing is wanted, and are not looked at."""
    plan = roster.schedule
    begins, ends = (plan.at - MARGIN_S) // BUCKET_S, (plan.ends + MARGIN_S) // BUCKET_S
    asked = np.flatnonzero(_touches(roster.site[plan.person], begins, ends, wanted))
    who = plan.person[asked]
    left, right = roster.attributed.between(who, plan.at[asked] - MARGIN_S, plan.ends[asked] + MARGIN_S)
    none = left == right
    missed, who = asked[none], who[none]
    return ABSENT.frame({"site": roster.site[who], "who": who, "begins": begins[missed], "ends": ends[missed]})


def _touches(site: Ints, begins: Ints, ends: Ints, wanted: Frame) -> Flags:
    """Which spans of buckets at a site hold one that is wanted there (SOUGHT)."""
    at, bucket = wanted["site"].to_numpy(), wanted["bucket"].to_numpy()
    first, last = int(bucket.min()), int(bucket.max())
    until = np.zeros((max(site.max(initial=0), at.max()) + 2, last - first + 2), dtype=np.int64)
    until[at + 1, bucket - first + 1] = 1  # -1 is a site too: the unknown one
    until = until.cumsum(axis=1)
    before, after = (np.clip(end - first, 0, last - first + 1) for end in (begins, ends + 1))
    return until[site + 1, after] > until[site + 1, before]


def _quiet(roster: PeopleColumns) -> Frame:
    """People without a schedule who punch little, wherever they have no punch within half a day."""
    unplanned = np.flatnonzero(~roster.has_schedule & (roster.site >= 0))
    if not len(unplanned) or not len(roster.attributed.at):
        return ABSENT.empty()
    counts = np.bincount(roster.attributed.person, minlength=roster.size)[unplanned]
    quiet = unplanned[counts <= LITTLE * np.median(counts)]
    buckets = np.unique(roster.attributed.at // BUCKET_S)
    who, bucket = np.repeat(quiet, len(buckets)), np.tile(buckets, len(quiet))
    left, right = roster.attributed.between(who, (bucket - 2) * BUCKET_S, (bucket + 3) * BUCKET_S)
    none = left == right
    return ABSENT.frame(
        {"site": roster.site[who[none]], "who": who[none], "begins": bucket[none], "ends": bucket[none]}
    )
