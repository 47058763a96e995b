"""Look at every pair of a stray and a person once, and keep what is seen."""

from __future__ import annotations

import numpy as np
import polars as pl

from evenhand.linkage.bits.match_weights import Floats
from evenhand.linkage.bits.scoring import Seen, mechanism_rows
from evenhand.linkage.bits.weights import Weights
from evenhand.linkage.seen.evidence import count_shifts, impossible_punches, times_seen
from evenhand.linkage.seen.lists import list_evidence
from evenhand.linkage.seen.pairs import Pairs
from evenhand.linkage.seen.roster import NEVER, Roster
from evenhand.linkage.seen.strangers import anybodys_times
from evenhand.linkage.seen.strays import Ints, Strays
from evenhand.terms.columns import Frame
from evenhand.terms.likeness.names import bearers
from evenhand.terms.settings import Policy
from evenhand.terms.sources import PEOPLE

__all__ = ["add_decided", "named_beside", "seen_of"]


def named_beside(strays: Strays, roster: Roster, enrolments: Frame) -> dict[int, frozenset[int]]:
    """Whom the name beside each stray's number on its reader can be; strays without a name there are left out."""
    beside = {
        (reader, number): name for reader, number, name in enrolments.select("reader", "number", "name").iter_rows()
    }
    written = {at: beside.get(key) for at, key in enumerate(zip(strays.reader, strays.number, strict=True))}
    told = {at: name for at, name in written.items() if name and name.strip()}
    people = PEOPLE.frame({"person": roster.person, "name": roster.name})
    borne: dict[str, set[int]] = {}
    for name, person in bearers(pl.Series(list(told.values()), dtype=pl.String), people).iter_rows():
        borne.setdefault(name, set()).add(roster.code[person])
    return {at: frozenset(borne.get(name, ())) for at, name in told.items()}


def seen_of(
    strays: Strays,
    roster: Roster,
    pairs: Pairs,
    explanations: Frame,
    enrolments: Frame,
    beside: dict[int, frozenset[int]],
    weights: Weights,
    policy: Policy,
) -> tuple[Seen, tuple[Ints, Ints]]:
    """Return what is seen of the pairs, and the (pair, place of punch) that cannot be."""
    shifts = count_shifts(strays, roster, pairs, policy)
    k, n, coincidence = list_evidence(strays, roster, pairs, enrolments, beside)
    k |= {"days": shifts.days_k, "parity": shifts.parity_k}
    n |= {"days": shifts.days_n, "parity": shifts.parity_n}
    pair, place = impossible_punches(strays, roster, pairs)
    who, day = pairs.person[pair], strays.day[place]
    unemployed = (day < roster.hired[who]) | (day > roster.left[who])
    size = len(pairs.person)
    seen = Seen(
        k=k,
        n=n,
        coincidence=coincidence,
        times=times_seen(
            strays,
            roster,
            pairs,
            scale_min=weights.scale_min,
            elsewhere=weights.elsewhere,
            mid_shift=weights.mid_shift,
        ),
        anybodys_times=anybodys_times(strays, roster, weights),
        impossible=np.bincount(pair[~unemployed], minlength=size),
        unemployed=np.bincount(pair[unemployed], minlength=size),
        mechanism=mechanism_rows(strays, roster, pairs, explanations),
        digits=np.array([len(strays.number[at]) for at in pairs.stray.tolist()], dtype=np.float64),
        holds=np.array(
            [
                strays.holder[at] == roster.person[who]
                for at, who in zip(pairs.stray.tolist(), pairs.person.tolist(), strict=True)
            ],
            dtype=bool,
        ),
        former=_former(strays, roster)[pairs.stray],
        people=_employed_meanwhile(strays, roster),
    )
    return seen, (pair, place)


def _former(strays: Strays, roster: Roster) -> Floats:
    """How much likelier each stray's number is among the numbers of people not employed then than at random."""
    gone: dict[str, list[int]] = {}
    for who, number in enumerate(roster.number):
        if number and (roster.left[who] < NEVER or roster.hired[who] > -NEVER):
            gone.setdefault(number, []).append(who)
    last = strays.day[strays.until - 1]
    leavers = max(int(((roster.left < NEVER) & (roster.left <= last.max(initial=0))).sum()), 1)
    is_former = [
        any(roster.left[who] < last[at] or roster.hired[who] > last[at] for who in gone.get(number, ()))
        for at, number in enumerate(strays.number)
    ]
    by_random = 10.0 ** np.array([len(number) for number in strays.number], dtype=np.float64)
    return np.where(is_former, by_random / leavers, 0.0)


def _employed_meanwhile(strays: Strays, roster: Roster) -> int:
    if not strays.size:
        return 1
    return max(int(((roster.hired <= strays.day.max()) & (roster.left >= strays.day.min())).sum()), 1)


def add_decided(
    seen: Seen,
    strays: Strays,
    pairs: Pairs,
    tried: set[tuple[int, int]],
    logging: set[str],
    known: set[tuple[int, int]],
    roster: Roster,
) -> None:
    """Add the refused tries and what was confirmed before to what is seen."""
    both = list(zip(pairs.stray.tolist(), pairs.person.tolist(), strict=True))
    logs = np.array([reader in logging for reader in strays.reader], dtype=np.int64)
    decided = np.zeros(strays.size, dtype=np.int64)
    decided[[at for at, _ in known]] = 1
    seen.k["refused"] = np.array([pair in tried for pair in both], dtype=np.int64)
    seen.n["refused"] = logs[pairs.stray]
    seen.k["confirmed"] = np.array([pair in known for pair in both], dtype=np.int64)
    seen.n["confirmed"] = decided[pairs.stray]
    seen.coincidence["confirmed"] = np.full(len(both), 1 / max(roster.size, 2))
