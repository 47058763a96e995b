"""The frames that are handed on: strays, everybody who could own them, and the punches they cannot have made."""

from __future__ import annotations

import numpy as np
import polars as pl

from evenhand.linkage.assignment.solve import Solution
from evenhand.linkage.blocking import Pairs
from evenhand.linkage.comparisons.compare import Comparisons
from evenhand.linkage.comparisons.number_errors import NumberErrors
from evenhand.linkage.roster import PeopleColumns
from evenhand.linkage.strays import StrayColumns
from evenhand.linkage.tables import CANDIDATES, EVIDENCE, IMPOSSIBLE_PUNCHES, STRAY_PUNCHES, STRAYS
from evenhand.linkage.weights.match_weights import Floats
from evenhand.linkage.weights.parameters import AGREEMENTS, ERROR_KINDS, Weights
from evenhand.linkage.weights.scoring import error_shares, total_bits
from evenhand.terms.columns import Frame

__all__ = ["candidates_frame", "impossible_frame", "punches_frame", "strays_frame"]


def strays_frame(strays: StrayColumns, nobody: Floats, others: Floats) -> Frame:
    """Return STRAYS, by reader and number, with the probability that each is nobody's, or somebody's not looked at."""
    return STRAYS.frame(
        {
            "stray": strays.name,
            "reader": strays.reader,
            "number": strays.number,
            "holder": strays.holder,
            "punches": strays.until - strays.first,
            "shifts": strays.stretch_until - strays.stretch_first,
            "first_at": strays.at[strays.first],
            "last_at": strays.at[strays.until - 1],
            "minutes": strays.minutes,
            "nobody": nobody,
            "others": others,
        }
    )


def punches_frame(strays: StrayColumns) -> Frame:
    """Return STRAY_PUNCHES, by stray and time."""
    return STRAY_PUNCHES.frame({"stray": strays.name.gather(strays.of_stray), "punch": strays.punch})


def candidates_frame(
    strays: StrayColumns,
    roster: PeopleColumns,
    pairs: Pairs,
    compared: Comparisons,
    bits: dict[str, Floats],
    by_itself: Floats,
    solution: Solution,
    weights: Weights,
) -> Frame:
    """Return CANDIDATES, by stray, the likeliest first."""
    kind, meant = _likeliest_error(compared.errors, weights, pairs.size)
    counts = {f"{name}_k": compared.counts[name].agreements for name in AGREEMENTS}
    counts |= {f"{name}_n": compared.counts[name].trials for name in AGREEMENTS}
    frame = CANDIDATES.frame(
        {
            "stray": strays.name.gather(pairs.stray),
            "person": roster.person.gather(pairs.person),
            "probability": solution.chance,
            "alone": by_itself,
            "is_best": solution.is_best,
            "bits": total_bits(bits),
            **{part: bits[part] for part in EVIDENCE},
            "kind": kind,
            "meant": meant,
            **counts,
            "minutes_off": compared.times.minutes_off,
            "impossible": compared.impossible,
            "unemployed": compared.unemployed,
        }
    )
    return frame.sort("stray", "probability", "bits", "person", descending=[False, True, True, False])


def impossible_frame(strays: StrayColumns, roster: PeopleColumns, pairs: Pairs, compared: Comparisons) -> Frame:
    """Return IMPOSSIBLE_PUNCHES, by stray and candidate."""
    pair, place = compared.barred
    return IMPOSSIBLE_PUNCHES.frame(
        {
            "stray": strays.name.gather(pairs.stray[pair]),
            "person": roster.person.gather(pairs.person[pair]),
            "punch": strays.punch[place],
        }
    )


def _likeliest_error(errors: NumberErrors, weights: Weights, size: int) -> tuple[pl.Series, pl.Series]:
    """The kind of error that explains most of each pair's number, and the number it came from; null without one."""
    share = error_shares(weights)[errors.kind] * errors.likelihood
    order = np.lexsort((errors.kind, -share, errors.pair))
    first = order[np.diff(errors.pair[order], prepend=-1) > 0]
    place = np.full(size, -1, dtype=np.int64)
    place[errors.pair[first]] = first
    told = pl.Series(place).replace(-1, None)
    kinds = pl.Series(ERROR_KINDS).gather(errors.kind)
    return kinds.gather(told), errors.meant.gather(told)
