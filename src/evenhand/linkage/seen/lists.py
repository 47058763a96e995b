"""What the readers' own lists tell: who is missing from them, whose name stands beside a number, and since when."""

from __future__ import annotations

import numpy as np
import polars as pl

from evenhand.linkage.bits.match_weights import Floats
from evenhand.linkage.seen.pairs import Pairs
from evenhand.linkage.seen.roster import Roster
from evenhand.linkage.seen.strays import Ints, Strays
from evenhand.terms.columns import Frame

__all__ = ["list_evidence"]

HIRED_BEFORE_ENROLLED_DAYS = 21
FIELDS = ("enrolment", "name", "dates")


def list_evidence(
    strays: Strays, roster: Roster, pairs: Pairs, enrolments: Frame, named: dict[int, frozenset[int]]
) -> tuple[dict[str, Ints], dict[str, Ints], dict[str, Floats]]:
    """Return agreements, trials and coincidences of what the readers' lists tell: enrolment, name, dates."""
    lists: dict[str, set[str]] = {}
    on: dict[tuple[str, str], int] = {}
    days = enrolments["enrolled_on"].to_physical().cast(pl.Int64).to_list()
    for reader, number, day in zip(enrolments["reader"], enrolments["number"], days, strict=True):
        lists.setdefault(reader, set()).add(number)
        if day is not None:
            on[reader, number] = day
    size, stray = len(pairs.person), pairs.stray
    k = {name: np.zeros(size, dtype=np.int64) for name in ("enrolment", "name", "dates")}
    n = {name: np.zeros(size, dtype=np.int64) for name in ("enrolment", "name", "dates")}
    u = {name: np.full(size, 0.5) for name in ("enrolment", "name", "dates")}
    for at in range(strays.size):
        part = slice(int(pairs.first[at]), int(pairs.until[at]))
        people, reader = pairs.person[part], strays.reader[at]
        listed = lists.get(reader)
        if listed is not None:
            k["enrolment"][part] = [roster.number[who] not in listed for who in people.tolist()]
            n["enrolment"][part] = [int(roster.number[who] != "") for who in people.tolist()]
            u["enrolment"][part] = 1 - min(len(listed) / max(roster.size, 1), 0.98)
        if at in named:
            k["name"][part] = [who in named[at] for who in people.tolist()]
            n["name"][part] = 1
            u["name"][part] = max(len(named[at]), 1) / max(roster.size, 1)
        if (reader, strays.number[at]) in on:
            day = on[reader, strays.number[at]]
            k["dates"][part] = _hired_shortly_before(roster.hired[people], day)
            n["dates"][part] = roster.hired[people] > 0
            share = float(_hired_shortly_before(roster.hired, day).mean())
            u["dates"][part] = min(max(share, 1 / max(roster.size, 1)), 0.95)
    holds = np.array([strays.holder[at] for at in stray.tolist()], dtype=object) == np.array(
        [roster.person[who] for who in pairs.person.tolist()], dtype=object
    )
    n["enrolment"][holds] = 0
    k["enrolment"][holds] = 0
    return k, n, u


def _hired_shortly_before(hired: Ints, day: int) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    return np.asarray((hired <= day) & (hired >= day - HIRED_BEFORE_ENROLLED_DAYS))
