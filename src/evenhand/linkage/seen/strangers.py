"""How strangers compare: the same counts for people and strays that have nothing to do with each other."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenhand.linkage.bits.match_weights import Floats
from evenhand.linkage.bits.weights import Weights
from evenhand.linkage.seen.evidence import count_shifts, times_seen, traffic
from evenhand.linkage.seen.pairs import Pairs
from evenhand.linkage.seen.roster import Flags, Roster
from evenhand.linkage.seen.strays import Ints, Strays
from evenhand.terms.settings import Policy

__all__ = ["Strangers", "anybodys_times", "strangers"]

STRAYS, EACH = 150, 12


@dataclass(frozen=True)
class Strangers:
    """By kind of count: the mean share of agreements among strangers, and how alike one person's are."""

    u: dict[str, float]
    spread: dict[str, float]


def strangers(
    strays: Strays,
    roster: Roster,
    among: Flags,
    policy: Policy,
    *,
    prior: dict[str, float],
    spread: dict[str, float],
    pseudo: float,
) -> Strangers:
    """Return how often people of the site are silent, or fit, while strays are there that are not theirs.

    People are taken evenly over each site's roster, `among` those who own no stray as far as is known. Somebody
    who is never there is silent always: the more such people there are, the less silence says. Beta parameters
    by moments, held back by `pseudo` observations.
    """
    some = np.unique(np.linspace(0, max(strays.size - 1, 0), STRAYS).astype(np.int64))
    pairs = _evenly(strays, roster, some[: strays.size], among)
    counted = count_shifts(strays, roster, pairs, policy)
    found_u, found_spread = {}, {}
    for name, k, n in (
        ("days", counted.days_k, counted.days_n),
        ("parity", counted.parity_k, counted.parity_n),
    ):
        share = k[n > 0] / n[n > 0]
        weight = len(share) + pseudo
        mean = float((share.sum() + pseudo * prior[name]) / weight)
        usual = prior[name] * (1 - prior[name]) / (spread[name] + 1)
        variance = float((((share - mean) ** 2).sum() + pseudo * usual) / weight)
        found_u[name] = min(max(mean, 0.005), 0.95)
        found_spread[name] = min(max(mean * (1 - mean) / max(variance, 1e-9) - 1, 0.05), 20.0)
    return Strangers(found_u, found_spread)


def anybodys_times(strays: Strays, roster: Roster, weights: Weights) -> Floats:
    """Return, a stray, the log2 density of its times [per min] if they were those of somebody unknown.

    Somebody unknown keeps to hours of their own all the same: the chance is averaged over people of the site,
    punch by punch for nobody in particular as one more of them.
    """
    pairs = _evenly(strays, roster, np.arange(strays.size), roster.has_hours)
    times = times_seen(
        strays,
        roster,
        pairs,
        scale_min=weights.scale_min,
        elsewhere=weights.elsewhere,
        mid_shift=weights.mid_shift,
    )
    counted = np.minimum(strays.until - strays.first, weights.effective)
    whole = times.bits * counted[pairs.stray]
    mixed = traffic(strays, roster) * counted
    top = mixed.copy()
    np.maximum.at(top, pairs.stray, whole)
    total = np.bincount(pairs.stray, weights=np.exp2(whole - top[pairs.stray]), minlength=strays.size)
    return np.asarray(top + np.log2((total + np.exp2(mixed - top)) / (EACH + 1)))


def _evenly(strays: Strays, roster: Roster, chosen: Ints, among: Flags) -> Pairs:
    sites = roster.sites_of(strays.reader)
    members = {site: np.flatnonzero((roster.site == site) & among) for site in np.unique(sites).tolist()}
    rows: list[Ints] = []
    for at in chosen.tolist():
        here = members[int(sites[at])]
        if len(here):
            places = (at * 31 + np.arange(EACH) * max(len(here) // EACH, 1)) % len(here)
            rows.append(np.stack([np.full(EACH, at), here[places]], axis=1))
    both = np.concatenate(rows) if rows else np.empty((0, 2), dtype=np.int64)
    everybody = np.arange(strays.size)
    return Pairs(
        both[:, 0],
        both[:, 1],
        np.searchsorted(both[:, 0], everybody),
        np.searchsorted(both[:, 0], everybody, side="right"),
    )
