"""Refused tries just before an accepted punch: one person tried two numbers."""

from __future__ import annotations

import numpy as np

from evenhand.linkage.seen.roster import Roster, ranges
from evenhand.linkage.seen.strays import Ints, Strays
from evenhand.terms.columns import Frame

__all__ = ["SHORTLY_S", "tried_both"]

SHORTLY_S = 90


def tried_both(strays: Strays, roster: Roster, refused: Frame) -> tuple[set[tuple[int, int]], set[str]]:
    """Return the (stray, person) pairs tried within ninety seconds, and the readers that log refusals.

    Either the person's own number was refused just before the stray's was accepted, or the stray's number was
    refused just before the person's own was accepted, at the same reader.
    """
    holders: dict[str, list[int]] = {}
    for who, number in enumerate(roster.number):
        if number:
            holders.setdefault(number, []).append(who)
    by_number: dict[str, list[int]] = {}
    for stray, number in enumerate(strays.number):
        by_number.setdefault(number, []).append(stray)
    of_reader: dict[str, list[int]] = {}
    for stray, reader in enumerate(strays.reader):
        of_reader.setdefault(reader, []).append(stray)
    found: set[tuple[int, int]] = set()
    parts = refused.sort("at").partition_by("reader", as_dict=True)
    for (reader,), rows in parts.items():
        at, numbers = rows["at"].to_numpy(), rows["number"].to_list()
        here = np.array(of_reader.get(reader, []), dtype=np.int64)
        punches = ranges(strays.first[here], strays.until[here] - strays.first[here])
        for tried, place in _just_before(at, strays.at[punches]):
            found.update((int(strays.of_stray[punches[place]]), who) for who in holders.get(numbers[tried], ()))
        own = np.flatnonzero(roster.owned.reader == roster.readers.get(reader, -2))
        strange = np.array([at for at, number in enumerate(numbers) if number in by_number], dtype=np.int64)
        if len(strange) and len(own):
            own = own[np.argsort(roster.owned.at[own], kind="stable")]
            for tried, place in _just_before(at[strange], roster.owned.at[own]):
                who = int(roster.owned.person[own[place]])
                found.update((stray, who) for stray in by_number[numbers[strange[tried]]])
    return found, {str(reader) for (reader,) in parts}


def _just_before(tries: Ints, accepted: Ints) -> list[tuple[int, int]]:
    """Pairs (try, accepted) where the accepted one follows within ninety seconds."""
    left = np.searchsorted(tries, accepted - SHORTLY_S)
    right = np.searchsorted(tries, accepted, side="left")
    counts = np.maximum(right - left, 0)
    return list(zip(ranges(left, counts).tolist(), np.repeat(np.arange(len(accepted)), counts).tolist(), strict=True))
