"""Turn what is seen of each pair into bits, part by part; the parts add up to the weight against nobody known."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from evenhand.linkage.bits.match_weights import Floats, agreement_bits, share_bits
from evenhand.linkage.bits.weights import OTHER, Weights
from evenhand.linkage.seen.evidence import Times
from evenhand.linkage.seen.pairs import Pairs
from evenhand.linkage.seen.roster import Roster
from evenhand.linkage.seen.strays import Ints, Strays
from evenhand.linkage.tables import PARTS
from evenhand.terms.columns import Frame

__all__ = ["Seen", "alone", "fixed_bits", "mechanism_rows", "mixture_bits", "score", "total_bits"]


@dataclass(frozen=True)
class Seen:
    """Everything seen of the pairs: agreement counts by kind, chances by coincidence, times, contradictions.

    `coincidence` holds u where it depends on the value seen: a rare name says more than a common one.
    `former` is the chance of the number among those of people not employed, over that of a number at random.
    `mechanism` lists (pair, mechanism, likelihood, meant) of the kinds of error that fit.
    """

    k: dict[str, Ints]
    n: dict[str, Ints]
    coincidence: dict[str, Floats]
    times: Times
    anybodys_times: Floats
    impossible: Ints
    unemployed: Ints
    mechanism: tuple[Ints, list[str], Floats, list[str]]
    digits: Floats
    holds: np.ndarray[tuple[int], np.dtype[np.bool_]] = field(repr=False)
    former: Floats = field(default_factory=lambda: np.empty(0))
    people: int = 1


def mechanism_rows(
    strays: Strays, roster: Roster, pairs: Pairs, explanations: Frame
) -> tuple[Ints, list[str], Floats, list[str]]:
    """Return (pair, kind, likelihood, meant) for every kind of number error that fits a pair."""
    fitting: dict[tuple[str, int], list[tuple[str, str, float]]] = {}
    for keyed, person, kind, meant, chance in explanations.select(
        "keyed", "person", "kind", "meant", "likelihood"
    ).iter_rows():
        if person in roster.code:
            fitting.setdefault((keyed, roster.code[person]), []).append((kind, meant, chance))
    pair: list[int] = []
    kinds: list[str] = []
    chances: list[float] = []
    meants: list[str] = []
    for at, (stray, who) in enumerate(zip(pairs.stray.tolist(), pairs.person.tolist(), strict=True)):
        for kind, meant, chance in fitting.get((strays.number[stray], who), ()):
            pair.append(at)
            kinds.append(kind)
            chances.append(chance)
            meants.append(meant)
    return np.array(pair, dtype=np.int64), kinds, np.array(chances), meants


def fixed_bits(seen: Seen, strays: Strays, roster: Roster, pairs: Pairs, weights: Weights) -> dict[str, Floats]:
    """Return the bits of the parts that no learning changes: times, sites, contradictions, former numbers."""
    counted = np.minimum(seen.times.compared, weights.effective)
    theirs = seen.times.bits * counted - seen.anybodys_times[pairs.stray]
    return {
        "former": -np.log2(1 - weights.former + weights.former * seen.former),
        "time": np.where(roster.has_hours[pairs.person], theirs, 0.0),
        "site": _site_bits(strays, roster, pairs),
        "elsewhere": weights.impossible_bits * np.minimum(seen.impossible, 6),
        "employed": weights.impossible_bits * np.minimum(seen.unemployed, 6),
    }


def score(seen: Seen, fixed: dict[str, Floats], weights: Weights) -> dict[str, Floats]:
    """Return the bits of every part, a pair each."""
    prior = math.log2((1 - weights.nobody) / max(seen.people, 1) / weights.nobody)
    bits = fixed | {"prior": np.full(len(seen.digits), prior), "number": _number_bits(seen, weights)}
    for name, trials in seen.n.items():
        u = np.clip(seen.coincidence[name], 1e-6, 0.99) if name in seen.coincidence else weights.u[name]
        spread = weights.spread.get(name, (math.inf, math.inf))
        bits[name] = agreement_bits(seen.k[name], trials, weights.m[name], u, spread=spread)
    return bits


def total_bits(bits: dict[str, Floats]) -> Floats:
    """Return the sum of the parts."""
    return np.asarray(sum(bits[part] for part in PARTS))


def alone(bits: Floats, pairs: Pairs) -> tuple[Floats, Floats]:
    """Return P(person) a pair and P(nobody) a stray, every stray taken by itself."""
    strays = len(pairs.first)
    top = np.zeros(strays)
    np.maximum.at(top, pairs.stray, bits)
    odds = np.exp2(bits - top[pairs.stray])
    nobody = np.exp2(-top)
    total = np.bincount(pairs.stray, weights=odds, minlength=strays) + nobody
    return odds / total[pairs.stray], nobody / total


def mixture_bits(
    pair: Ints, kinds: list[str], likelihoods: Floats, digits: Floats, shares: Mapping[str, float]
) -> Floats:
    """Return the weight of each pair's number: the mixture of the kinds of error against a number at random.

    `pair`, `kinds` and `likelihoods` list the kinds that fit; every pair has the kind `other` besides. Two
    explanations of the same digits are not counted twice.
    """
    by_random = 10.0**-digits
    weighed = np.array([shares[kind] for kind in kinds]) * likelihoods if kinds else likelihoods
    chance = shares[OTHER] * by_random + np.bincount(pair, weights=weighed, minlength=len(digits))
    return np.asarray(np.log2(chance / by_random))


def _number_bits(seen: Seen, weights: Weights) -> Floats:
    pair, kinds, likelihoods, _ = seen.mechanism
    own = math.log2(weights.own_number / (1 - weights.own_number))
    found = mixture_bits(pair, kinds, likelihoods, seen.digits, weights.mechanisms)
    return np.asarray(np.where(seen.holds, own + seen.digits * math.log2(10), found))


def _site_bits(strays: Strays, roster: Roster, pairs: Pairs) -> Floats:
    totals = roster.site_counts.sum(axis=0).astype(np.float64) + 1
    share = totals / totals.sum()
    site = roster.sites_of(strays.reader)[pairs.stray]
    home = roster.site[pairs.person]
    q = share[np.maximum(site, 0)]
    usual = np.where(home < 0, q, np.where(home == site, 0.9 + 0.1 * q, 0.1 * q))
    counts = roster.site_counts[pairs.person, np.maximum(site, 0)]
    found = share_bits(counts, roster.site_counts[pairs.person].sum(axis=1), q, usual)
    return np.where(site < 0, 0.0, found)
