"""Punches of a stray that a person cannot have made."""

from __future__ import annotations

import numpy as np

from evenhand.linkage.blocking import Pairs
from evenhand.linkage.roster import Flags, PeopleColumns, ranges
from evenhand.linkage.strays import Ints, StrayColumns

__all__ = ["TRAVEL_S", "impossible_punches"]

TRAVEL_S = 600  # nobody is at two sites within ten minutes


def impossible_punches(strays: StrayColumns, roster: PeopleColumns, pairs: Pairs) -> tuple[Ints, Ints]:
    """Return (pair, place of punch) of every punch the person cannot have made.

    Within ten minutes they punched at another site under their own number, or were not employed on the day on which
    that stretch of work began.
    """
    site = roster.sites_of(strays.reader)
    here = np.maximum(site, 0)[pairs.stray]
    others = roster.site_counts.sum(axis=1)[pairs.person] - roster.site_counts[pairs.person, here]
    first, last = strays.first_day[pairs.stray], strays.last_day[pairs.stray]
    # whoever punches at the stray's site alone, and was employed all along, can have made every punch
    doubtful = np.flatnonzero(
        ((others > 0) & (site[pairs.stray] >= 0))
        | (roster.hired[pairs.person] > first)
        | (roster.left[pairs.person] < last)
    )
    stray = pairs.stray[doubtful]
    counts = strays.until[stray] - strays.first[stray]
    pair, place = np.repeat(doubtful, counts), ranges(strays.first[stray], counts)
    who, day = pairs.person[pair], strays.shift_day[place]
    unemployed = (day < roster.hired[who]) | (day > roster.left[who])
    bad = np.flatnonzero(unemployed | _is_elsewhere(strays, roster, who, site[pairs.stray[pair]], place))
    return pair[bad], place[bad]


def _is_elsewhere(strays: StrayColumns, roster: PeopleColumns, who: Ints, site: Ints, place: Ints) -> Flags:
    at = strays.at[place]
    left, right = roster.attributed.between(who, at - TRAVEL_S, at + TRAVEL_S)
    near = np.flatnonzero(right > left)
    counts = (right - left)[near]
    row, there = np.repeat(near, counts), roster.attributed_site[ranges(left[near], counts)]
    away = (site[row] >= 0) & (there >= 0) & (site[row] != there)
    found = np.zeros(len(who), dtype=bool)
    found[row[away]] = True
    return found
