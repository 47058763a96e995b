"""Attributed punches that may be somebody else's: two people in one number."""

from __future__ import annotations

import numpy as np
import polars as pl

from evenhand.linkage.comparisons.contradictions import TRAVEL_S
from evenhand.linkage.roster import Flags, PeopleColumns
from evenhand.linkage.strays import Ints
from evenhand.terms.columns import Frame
from evenhand.terms.likeness.names import bearers
from evenhand.terms.settings import Policy

__all__ = ["doubted"]

FEWEST_PUNCHES = 4
FEWEST_CLASHES = 3


def doubted(attributed: Frame, roster: PeopleColumns, enrolments: Frame, policy: Policy) -> Frame:
    """Return the punches worth asking about: those of ATTRIBUTED, with the number and the person whose they are now.

    `roster` is the people with these punches; whose punches are doubted rests on nobody else's.

    A person's punches at a reader are doubted where the reader hangs at another site, where it holds another
    name beside the number, where they come within ten minutes of punches at another site, or where together with
    the person's others they go in twice without going out. The reader the person uses most at the own site stays,
    but where it holds another name.
    """
    use = _use_of_readers(roster, policy)
    counted = _misnamed(use, enrolments)
    own_first = pl.struct(~pl.col("is_misnamed"), ~pl.col("is_away"), "punches", "reader")
    is_main = own_first.rank("ordinal", descending=True).over("person") == 1
    elsewhere = (pl.col("is_away") | (pl.col("clashes") >= FEWEST_CLASHES)) & ~is_main
    suspect = counted.filter(
        elsewhere | pl.col("is_misnamed"), pl.col("punches") >= FEWEST_PUNCHES, pl.col("number") != ""
    )
    return (
        attributed.filter(pl.col("person").is_in(suspect["person"].implode()), pl.col("punch") >= 0)
        .join(suspect.select("person", "reader", "number"), on=["person", "reader"])
        .select("punch", "reader", "number", "at", "direction", "person")
    )


def _use_of_readers(roster: PeopleColumns, policy: Policy) -> Frame:
    """How many punches each person has at each reader, and how many of them clash with the one before."""
    own = roster.attributed
    listed = np.flatnonzero(own.reader >= 0)
    person, reader = own.person[listed], own.reader[listed]
    site = roster.attributed_site[listed]
    clash = _clashes(person, reader, site, own.at[listed], own.direction[listed], policy)
    cell, place, punches = np.unique(
        person * max(len(roster.readers), 1) + reader, return_inverse=True, return_counts=True
    )
    who, at = np.divmod(cell, max(len(roster.readers), 1))
    home, there = roster.site[who], roster.reader_site[at]
    return pl.select(
        person=roster.person.gather(who),
        name=roster.name.gather(who),
        number=roster.number.gather(who),
        reader=roster.readers.gather(at),
        punches=pl.Series(punches),
        clashes=pl.Series(np.bincount(place, weights=clash, minlength=len(cell))),
        is_away=pl.Series((home >= 0) & (home != there)),
    )


def _clashes(person: Ints, reader: Ints, site: Ints, at: Ints, way: Ints, policy: Policy) -> Flags:
    """Which punches go the same way as the one before at another reader, or came too soon after it at another site."""
    found = np.zeros(len(at), dtype=bool)
    later_s = np.diff(at)
    apart = (person[1:] == person[:-1]) & (reader[1:] != reader[:-1])
    within = (later_s >= policy.repeat_gap_s) & (later_s <= policy.longest_span_s)
    same_way = within & (way[1:] == way[:-1]) & (way[1:] != 0)
    too_far = (site[1:] != site[:-1]) & (later_s < TRAVEL_S)
    found[1:] = apart & (same_way | too_far)
    return found


def _misnamed(use: Frame, enrolments: Frame) -> Frame:
    named = enrolments.filter(pl.col("name").str.strip_chars() != "").select("reader", "number", beside="name")
    beside = named.join(use, on=["reader", "number"], how="semi").unique(["reader", "number"], keep="first")
    joined = use.join(beside, on=["reader", "number"], how="left", maintain_order="left")
    borne = bearers(joined["beside"], joined.drop_nulls("beside").unique("person")).with_columns(is_borne=True)
    compared = joined.join(borne, left_on=["beside", "person"], right_on=["written", "person"], how="left")
    return compared.with_columns(is_misnamed=pl.col("beside").is_not_null() & pl.col("is_borne").is_null())
