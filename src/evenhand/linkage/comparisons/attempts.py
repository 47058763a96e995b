"""Refused presentations just before an accepted one: one person tried two numbers."""

from __future__ import annotations

import numpy as np
import polars as pl

from evenhand.linkage.roster import Flags, PeopleColumns, ranges
from evenhand.linkage.strays import Ints, StrayColumns
from evenhand.linkage.tables import PAIRS
from evenhand.terms.columns import Frame

__all__ = ["SHORTLY_S", "logs_refusals", "tried_both"]

SHORTLY_S = 90
READER_BITS = 40  # a reader's code above, an instant below


def logs_refusals(strays: StrayColumns, refused: Frame) -> Flags:
    """Return which strays stand at a reader that logs refused presentations."""
    return strays.reader.is_in(refused["reader"].unique().implode()).to_numpy()


def tried_both(strays: StrayColumns, roster: PeopleColumns, refused: Frame) -> Frame:
    """Return the PAIRS tried within ninety seconds.

    Either the person's own number was refused just before the stray's was accepted, or the stray's number was
    refused just before the person's own was accepted, at the same reader.
    """
    if refused.is_empty():
        return PAIRS.empty()
    readers = pl.concat([refused["reader"], strays.reader]).unique().sort()
    codes = pl.Enum(readers)
    ordered = refused.select(code=pl.col("reader").cast(codes).to_physical().cast(pl.Int64), at="at", number="number")
    tries = ordered.sort("code", "at")
    own_first = _own_number_first(strays, roster, tries, strays.reader.cast(codes).to_physical().cast(pl.Int64))
    theirs_first = _strays_number_first(strays, roster, tries, codes)
    return pl.concat([own_first, theirs_first]).unique()


def _own_number_first(strays: StrayColumns, roster: PeopleColumns, tries: Frame, reader: pl.Series) -> Frame:
    accepted = _key(reader.to_numpy()[strays.of_stray], strays.at)
    tried, place = _just_before(_key(tries["code"].to_numpy(), tries["at"].to_numpy()), accepted)
    found = pl.select(number=tries["number"].gather(tried), stray=pl.Series(strays.of_stray[place]))
    return found.unique().join(roster.keys().filter(pl.col("number") != ""), on="number").select(PAIRS.names)


def _strays_number_first(strays: StrayColumns, roster: PeopleColumns, tries: Frame, codes: pl.Enum) -> Frame:
    strange = tries.filter(pl.col("number").is_in(strays.number.unique().implode()))
    reader_codes = roster.readers.cast(codes, strict=False).to_physical().cast(pl.Int64).fill_null(-1).to_numpy()
    own = roster.attributed
    reader = np.where(own.reader >= 0, np.append(reader_codes, -1)[own.reader], -1)
    there = np.flatnonzero(np.isin(reader, strange["code"].unique().to_numpy()))
    accepted = _key(reader[there], own.at[there])
    tried, place = _just_before(_key(strange["code"].to_numpy(), strange["at"].to_numpy()), accepted)
    found = pl.select(number=strange["number"].gather(tried), who=pl.Series(own.person[there[place]]))
    return found.unique().join(strays.keys(), on="number").select(PAIRS.names)


def _key(reader: Ints, at: Ints) -> Ints:
    return (reader << READER_BITS) + at


def _just_before(tries: Ints, accepted: Ints) -> tuple[Ints, Ints]:
    """Places (try, accepted) where the accepted one follows within ninety seconds; `tries` are in order."""
    left = np.searchsorted(tries, accepted - SHORTLY_S)
    counts = np.maximum(np.searchsorted(tries, accepted, side="left") - left, 0)
    return ranges(left, counts), np.repeat(np.arange(len(accepted)), counts)
