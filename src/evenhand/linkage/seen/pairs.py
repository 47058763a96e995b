"""Which people could own which strays: the union of what several indexes find, never everybody."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np
import polars as pl

from evenhand.linkage.seen.roster import Roster
from evenhand.linkage.seen.strays import Ints, Strays
from evenhand.linkage.tables import ABSENT, ASKED
from evenhand.terms.columns import Frame

__all__ = ["Pairs", "candidate_pairs", "without_rejected"]

BUCKET_S = 4 * 3600
MARGIN_S = 2 * 3600
SAMPLED_SHIFTS = 6
LITTLE = 0.6  # of what people usually punch
MOST_SILENT = 12  # of those absent when the stray was there, the best are looked at


@dataclass(frozen=True)
class Pairs:
    """Pairs of a stray and a person, by stray; `first` and `until` are each stray's part."""

    stray: Ints
    person: Ints
    first: Ints
    until: Ints


def candidate_pairs(
    strays: Strays,
    roster: Roster,
    explanations: Frame,
    named: dict[int, frozenset[int]],
    also: Collection[tuple[int, int]],
) -> Pairs:
    """Return the pairs worth scoring.

    They are the people a kind of number error leads to (EXPLANATIONS), the people whose name the reader holds
    beside the number, those of the reader's site who were due and did not punch while the stray did, and `also`.
    """
    found = [
        _by_number(strays, roster, explanations),
        np.array([(stray, who) for stray, people in named.items() for who in people], dtype=np.int64).reshape(-1, 2),
        _silent(strays, roster),
        np.array(sorted(also), dtype=np.int64).reshape(-1, 2),
    ]
    both = np.unique(np.concatenate(found), axis=0)
    both = both[_employed_meanwhile(both, strays, roster)]
    return _pairs(both, strays.size)


def without_rejected(pairs: Pairs, rejected: Collection[tuple[int, int]]) -> Pairs:
    """Return the pairs without those that somebody has rejected."""
    kept = [pair not in rejected for pair in zip(pairs.stray.tolist(), pairs.person.tolist(), strict=True)]
    return _pairs(np.stack([pairs.stray, pairs.person], axis=1)[np.array(kept, dtype=bool)], len(pairs.first))


def _pairs(both: Ints, strays: int) -> Pairs:
    stray = both[:, 0]
    everybody = np.arange(strays)
    return Pairs(stray, both[:, 1], np.searchsorted(stray, everybody), np.searchsorted(stray, everybody, side="right"))


def _by_number(strays: Strays, roster: Roster, explanations: Frame) -> Ints:
    by_keyed: dict[str, set[int]] = {}
    for keyed, person in explanations.select("keyed", "person").iter_rows():
        if person in roster.code:
            by_keyed.setdefault(keyed, set()).add(roster.code[person])
    both = [(stray, who) for stray, number in enumerate(strays.number) for who in by_keyed.get(number, ())]
    return np.array(both, dtype=np.int64).reshape(-1, 2)


def _employed_meanwhile(both: Ints, strays: Strays, roster: Roster) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    begins, ends = strays.day[strays.first][both[:, 0]], strays.day[strays.until - 1][both[:, 0]]
    return np.asarray((roster.hired[both[:, 1]] <= ends) & (roster.left[both[:, 1]] >= begins))


def _silent(strays: Strays, roster: Roster) -> Ints:
    """Those of the site who should have been there and left no punch of their own, by most such shifts."""
    sampled = _sampled_shifts(strays)
    if not len(sampled) or not roster.size:
        return np.empty((0, 2), dtype=np.int64)
    site = roster.sites_of(strays.reader)
    stray = strays.shift_stray[sampled]
    wanted = ASKED.frame({"stray": stray, "site": site[stray], "bucket": strays.shift_starts[sampled] // BUCKET_S})
    asked = np.bincount(stray, minlength=strays.size)
    hits = (
        wanted.join(_absent(roster), on=["site", "bucket"])
        .group_by("stray", "who")
        .len()
        .sort("stray", "len", "who", descending=[False, True, False])
    )
    enough = 2 * hits["len"].to_numpy() >= asked[hits["stray"].to_numpy()]
    return (
        hits.filter(pl.Series(enough))
        .group_by("stray", maintain_order=True)
        .head(MOST_SILENT)
        .select("stray", "who")
        .to_numpy()
        .astype(np.int64)
    )


def _sampled_shifts(strays: Strays) -> Ints:
    counts = strays.shift_until - strays.shift_first
    steps = np.linspace(0, 1, SAMPLED_SHIFTS)
    places = strays.shift_first[:, None] + np.round(steps * (counts[:, None] - 1)).astype(np.int64)
    return np.unique(places)


def _absent(roster: Roster) -> Frame:
    """Who left no punch of their own where they should have, by site and bucket."""
    spans = pl.concat([_unworked(roster), _quiet(roster)])
    spread = spans.with_columns(bucket=pl.int_ranges("begins", pl.col("ends") + 1)).explode("bucket")
    return spread.select("site", "bucket", "who").unique()


def _unworked(roster: Roster) -> Frame:
    plan = roster.schedule
    left, right = roster.owned.between(plan.person, plan.at - MARGIN_S, plan.ends + MARGIN_S)
    missed = np.flatnonzero(left == right)
    who = plan.person[missed]
    return ABSENT.frame(
        {
            "site": roster.site[who],
            "who": who,
            "begins": (plan.at[missed] - MARGIN_S) // BUCKET_S,
            "ends": (plan.ends[missed] + MARGIN_S) // BUCKET_S,
        }
    )


def _quiet(roster: Roster) -> Frame:
    """People without a schedule who punch little, wherever they have no punch within half a day."""
    unplanned = np.flatnonzero(~roster.has_schedule & (roster.site >= 0))
    if not len(unplanned) or not len(roster.owned.at):
        return ABSENT.empty()
    counts = np.bincount(roster.owned.person, minlength=roster.size)[unplanned]
    quiet = unplanned[counts <= LITTLE * np.median(counts)]
    buckets = np.unique(roster.owned.at // BUCKET_S)
    who, bucket = np.repeat(quiet, len(buckets)), np.tile(buckets, len(quiet))
    left, right = roster.owned.between(who, (bucket - 2) * BUCKET_S, (bucket + 3) * BUCKET_S)
    none = left == right
    return ABSENT.frame(
        {"site": roster.site[who[none]], "who": who[none], "begins": bucket[none], "ends": bucket[none]}
    )
