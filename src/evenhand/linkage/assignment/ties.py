"""What two strays say about each other: nobody is at two places at once, and one number is mostly one person's."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import polars as pl

from evenhand.linkage.assignment.block import IMPOSSIBLE
from evenhand.linkage.comparisons.contradictions import TRAVEL_S
from evenhand.linkage.roster import Flags, PeopleColumns, ranges
from evenhand.linkage.strays import Ints, StrayColumns
from evenhand.linkage.tables import TIES
from evenhand.linkage.weights.match_weights import Floats
from evenhand.linkage.weights.parameters import Weights
from evenhand.terms.columns import Frame

__all__ = ["Choices", "tie_table", "tied_pairs"]

STRAY_BITS = 40  # a stray's place above, an instant below


@dataclass(frozen=True)
class Choices:
    """The people a stray may go to, with the bits of the number and of what each was doing meanwhile."""

    person: Ints
    number_bits: Floats
    habit_bits: Floats


def tied_pairs(strays: StrayColumns, roster: PeopleColumns, choices: Frame) -> Frame:
    """Return TIES, the strays that bear on each other, from `choices` (stray, who, is_plausible).

    Apart are two that share a candidate and cannot be one person's: numbers at one reader whose times interleave,
    or punches at two sites within ten minutes. The same number at two readers of a site is mostly one person's.
    Two numbers that share a candidate at the same time explain the same silence of that candidate. A candidate
    counts as shared where it is plausible for both strays, or for others under the same number.
    """
    facts = strays.keys().with_columns(
        site=pl.Series(roster.sites_of(strays.reader)),
        is_held=strays.holder.is_not_null(),
        first=pl.Series(strays.at[strays.first]),
        last=pl.Series(strays.at[strays.until - 1]),
    )
    alike = facts.select("stray", group=pl.struct("number", "site").rank("dense"))
    mine = choices.join(alike, on="stray")
    likely = mine.filter("is_plausible").select("group", "who").unique()
    shared = mine.join(likely, on=["group", "who"]).select("who", "stray")
    both = pl.concat([_each_two(shared, "who"), _each_two(alike, "group")]).unique().sort("one", "other")
    told = both.join(facts, left_on="one", right_on="stray").join(
        facts, left_on="other", right_on="stray", suffix="_2", maintain_order="left"
    )
    one, other = told["one"].to_numpy(), told["other"].to_numpy()
    same_reader, same_number = pl.col("reader") == pl.col("reader_2"), pl.col("number") == pl.col("number_2")
    same_site = pl.col("site") == pl.col("site_2")
    interleave = (pl.col("first") <= pl.col("last_2")) & (pl.col("first_2") <= pl.col("last"))
    near, meet = pl.Series(_within_travel(strays, one, other)), pl.Series(_share_a_day(strays, one, other))
    unheld = ~pl.col("is_held") & ~pl.col("is_held_2")
    kind = (
        pl.when(same_reader & ~same_number & interleave)
        .then(pl.lit("apart"))
        .when(~same_reader & ~same_site & near)
        .then(pl.lit("apart"))
        .when(same_number & same_site & unheld)
        .then(pl.lit("same_number"))
        .when(~same_number & meet)
        .then(pl.lit("two_numbers"))
    )
    return TIES.check(told.select("one", "other", kind=kind).drop_nulls("kind").sort("one", "other"))


def _each_two(members: Frame, group: str) -> Frame:
    two = members.join(members, on=group, suffix="_2").filter(pl.col("stray") < pl.col("stray_2"))
    return two.select(one="stray", other="stray_2")


def tie_table(
    kind: str,
    mine: Choices,
    theirs: Choices,
    weights: Weights,
    *,
    digits: int,
    people: int,
) -> Floats:
    """Return the bits that each pair of choices adds, nobody first.

    What speaks for a person by being away, or by their hours, speaks once however many strays it explains. For one
    number at two readers the evidence of the number (of so many `digits`) counts once too, and the second person is
    the first with chance `same_number` instead of drawn afresh.
    """
    same = mine.person[:, None] == theirs.person[None, :]
    table = np.zeros((len(mine.person) + 1, len(theirs.person) + 1))
    if kind == "apart":
        table[1:, 1:][same] = IMPOSSIBLE
        return table
    counted_twice = np.maximum(np.minimum(mine.habit_bits[:, None], theirs.habit_bits[None, :]), 0.0)
    if kind == "two_numbers":
        table[1:, 1:][same] = weights.two_numbers_bits - counted_twice[same]
        return table
    # one person's second reader has the first one's number for certain; another's has it by coincidence
    for_certain = digits * math.log2(10)
    table += math.log2(1 - weights.same_number)
    table[0, 0] = math.log2(weights.same_number / weights.nobody) + for_certain
    known = weights.same_number * weights.wrong_again * people / (1 - weights.nobody)
    again = math.log2(known) + for_certain - theirs.number_bits[None, :] - counted_twice
    table[1:, 1:][same] = again[same]
    return table


def _within_travel(strays: StrayColumns, one: Ints, other: Ints) -> Flags:
    """Whether two strays have punches so close in time that nobody could have got from one to the other."""
    key = (strays.of_stray << STRAY_BITS) + strays.at
    counts = strays.until[one] - strays.first[one]
    row, punch = np.repeat(np.arange(len(one)), counts), ranges(strays.first[one], counts)
    sought = (other[row] << STRAY_BITS) + strays.at[punch]
    place = np.searchsorted(key, sought - TRAVEL_S)
    near = np.append(key, np.iinfo(np.int64).max)[place] <= sought + TRAVEL_S
    return np.bincount(row[near], minlength=len(one)) > 0


def _share_a_day(strays: StrayColumns, one: Ints, other: Ints) -> Flags:
    days = np.unique((strays.of_stray << STRAY_BITS) + strays.day)
    first = np.searchsorted(days, one << STRAY_BITS)
    counts = np.searchsorted(days, (one + 1) << STRAY_BITS) - first
    row, place = np.repeat(np.arange(len(one)), counts), ranges(first, counts)
    sought = (other[row] << STRAY_BITS) + (days[place] - (one[row] << STRAY_BITS))
    return np.bincount(row[np.isin(sought, days)], minlength=len(one)) > 0
