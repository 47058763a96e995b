"""Turn what was compared of each pair into bits, part by part; the parts add up to the weight against nobody known."""

from __future__ import annotations

import math

import numpy as np

from evenhand.linkage.blocking import Pairs
from evenhand.linkage.comparisons.compare import Comparisons
from evenhand.linkage.comparisons.number_errors import NumberErrors
from evenhand.linkage.roster import PeopleColumns
from evenhand.linkage.strays import StrayColumns
from evenhand.linkage.tables import EVIDENCE
from evenhand.linkage.weights.match_weights import Floats, agreement_bits, share_bits
from evenhand.linkage.weights.mixing import mixed_bits
from evenhand.linkage.weights.parameters import ERROR_KINDS, OTHER, Weights

__all__ = ["alone", "error_shares", "fixed_bits", "mixture_bits", "score", "total_bits"]

MOST_CONTRADICTIONS = 6


def fixed_bits(
    compared: Comparisons, strays: StrayColumns, roster: PeopleColumns, pairs: Pairs, weights: Weights
) -> dict[str, Floats]:
    """Return the bits of the parts that no learning changes: times, sites, contradictions, former numbers."""
    counted = np.minimum(compared.times.compared, weights.effective)
    theirs = compared.times.bits * counted - compared.no_matchs_times[pairs.stray]
    return {
        "former": -np.log2(1 - weights.former + weights.former * compared.former),
        "time": np.where(roster.has_hours[pairs.person], theirs, 0.0),
        "site": _site_bits(strays, roster, pairs),
        "elsewhere": weights.impossible_bits * np.minimum(compared.impossible, MOST_CONTRADICTIONS),
        "employed": weights.impossible_bits * np.minimum(compared.unemployed, MOST_CONTRADICTIONS),
    }


def score(compared: Comparisons, fixed: dict[str, Floats], weights: Weights) -> dict[str, Floats]:
    """Return the bits of every part, a pair each."""
    prior = math.log2((1 - weights.nobody) / max(compared.people, 1) / weights.nobody)
    of_matches, of_nobody = weights.lengths
    lasts = np.log2(of_matches / of_nobody)[compared.length]
    bits = fixed | {"prior": prior + lasts[compared.stray], "number": _number_bits(compared, weights)}
    for name, counts in compared.counts.items():
        if name in weights.mixed:
            of_matches, of_others = weights.mixed[name]
            bits[name] = mixed_bits(counts.agreements, counts.trials, of_matches, of_others)
            if name == "days":
                k, n = (column[compared.is_seldom_there] for column in (counts.agreements, counts.trials))
                bits[name][compared.is_seldom_there] = mixed_bits(k, n, of_matches, weights.seldom_there)
            continue
        u = weights.u[name] if counts.coincidence is None else np.clip(counts.coincidence, 1e-6, 0.99)
        bits[name] = agreement_bits(counts.agreements, counts.trials, weights.m[name], u)
    return bits


def total_bits(bits: dict[str, Floats]) -> Floats:
    """Return the sum of the parts."""
    return np.asarray(sum(bits[part] for part in EVIDENCE))


def alone(bits: Floats, pairs: Pairs, lump: Floats) -> tuple[Floats, Floats]:
    """Return P(person) a pair and P(nobody) a stray, every stray taken by itself.

    `lump` is the odds of those not looked at against nobody, a stray each.
    """
    strays = len(pairs.first)
    top = np.zeros(strays)
    np.maximum.at(top, pairs.stray, bits)
    odds = np.exp2(bits - top[pairs.stray])
    nobody = np.exp2(-top)
    total = np.bincount(pairs.stray, weights=odds, minlength=strays) + nobody * (1 + lump)
    return odds / total[pairs.stray], nobody / total


def error_shares(weights: Weights) -> Floats:
    """Return the share of each of ERROR_KINDS in the mixture, in that order."""
    return np.array([weights.errors[kind] for kind in ERROR_KINDS])


def mixture_bits(errors: NumberErrors, digits: Floats, weights: Weights) -> Floats:
    """Return the weight of each pair's number: the mixture of the kinds of error against a number at random.

    Every pair has the kind `other` besides those that fit. Two explanations of the same digits are not counted twice.
    """
    by_random = 10.0**-digits
    weighed = error_shares(weights)[errors.kind] * errors.likelihood
    chance = weights.errors[OTHER] * by_random + np.bincount(errors.pair, weights=weighed, minlength=len(digits))
    return np.asarray(np.log2(chance / by_random))


def _number_bits(compared: Comparisons, weights: Weights) -> Floats:
    own = math.log2(weights.own_number / (1 - weights.own_number))
    found = mixture_bits(compared.errors, compared.digits, weights)
    # whoever is enrolled under a number that somebody holds has that of one of the others, not one of all numbers
    of_people = math.log2(max(compared.people, 1))
    anothers = np.logaddexp2(0.0, found - compared.digits * math.log2(10) + of_people)
    return np.asarray(np.where(compared.holds, own + of_people, np.where(compared.is_held, anothers, found)))


def _site_bits(strays: StrayColumns, roster: PeopleColumns, pairs: Pairs) -> Floats:
    totals = roster.site_counts.sum(axis=0).astype(np.float64) + 1
    share = totals / totals.sum()
    site = roster.sites_of(strays.reader)[pairs.stray]
    home = roster.site[pairs.person]
    q = share[np.maximum(site, 0)]
    usual = np.where(home < 0, q, np.where(home == site, 0.9 + 0.1 * q, 0.1 * q))
    counts = roster.site_counts[pairs.person, np.maximum(site, 0)]
    found = share_bits(counts, roster.site_counts.sum(axis=1)[pairs.person], q, usual)
    return np.where(site < 0, 0.0, found)
