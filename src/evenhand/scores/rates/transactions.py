"""From presentations to transactions: all attempts a person makes for one purpose.

Source: ISO/IEC 2382-37:2022, 37.06.45 (transaction), and ISO/IEC 19795-1 (rates of transactions), from memory.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.scores.coding import code_names, codes_of
from evenhand.scores.effects.cells import stable_order
from evenhand.terms.columns import Column, Frame, Table

__all__ = ["ATTEMPTS", "GAP_S", "Transactions", "group_attempts", "separate_suspects"]

GAP_S = 120
"""Attempts farther apart than this [s] have another purpose."""
ATTEMPTS = 3
"""Attempts a reader allows before it wants the number again. Common practice, no source."""

# A mated score this many times the person's own median is not credible; in placements of nine equal features the
# chance of eight medians is below 1e-8 (chi-square); but a hurt hand may score so, and tries to the end.
FAR = 8.0
ORDINARY = 3.0
SOON_S = 1800

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Flags = npt.NDArray[np.bool_]

TRIED = Table(
    "tried",
    "Transactions of people with a far rejection",
    (
        Column("person", "count", "The person's code"),
        Column("at", "instant", "The first attempt"),
        Column("is_rejected", "yes_no", "Whether it ended without an acceptance"),
        Column("closest", "score", "The lowest score"),
        Column("usual", "score", "The person's median accepted score"),
    ),
)


@dataclass(frozen=True)
class Transactions:
    """Presentations in the order by reader, person and time (`order`), in transactions that begin at `starts`.

    Of each transaction: how many attempts, whether it ended without an acceptance, and whether it was probably another
    hand, or a slip in the number.
    """

    presented: Frame
    order: Ints
    starts: Ints
    attempts: Ints
    is_rejected: Flags
    is_suspect: Flags

    @property
    def of_presentation(self) -> Flags:
        """Return whether each presentation, as it stands in `presented`, belongs to a suspect transaction."""
        found = np.zeros(len(self.order), dtype=bool)
        found[self.order] = np.repeat(self.is_suspect, self.attempts)
        return found


def separate_suspects(presented: Frame) -> tuple[Frame, Frame]:
    """Return the presentations (PRESENTED) of credible transactions, and those of suspect ones, by reader and time."""
    grouped = group_attempts(presented)
    suspect = pl.Series(grouped.of_presentation)
    if not suspect.any():
        return grouped.presented, grouped.presented.clear()
    return grouped.presented.filter(~suspect), grouped.presented.filter(suspect)


def group_attempts(presented: Frame, *, gap_s: int = GAP_S, attempts: int = ATTEMPTS) -> Transactions:
    """Return the transactions of presentations (PRESENTED).

    A transaction ends with an acceptance, after `attempts` refusals, or when `gap_s` pass. One that was rejected
    with scores far beyond the person's own was probably another hand or a number keyed by a slip if it was given up
    before the last attempt, if the person was accepted soon before or after, or if their next scores are as ever:
    it is marked, so that it can be counted apart.
    """
    presented = code_names(presented)
    reader, (person, people) = codes_of(presented["reader"])[0], codes_of(presented["person"])
    pair = reader.astype(np.int64) * len(people) + person
    order = stable_order(pair)
    pair, refused = pair[order], presented["is_refused"].to_numpy()[order]
    at = presented["at"].to_numpy()[order]
    starts = _starts(pair, refused, at, gap_s, attempts)
    count = np.diff(starts, append=len(pair))
    rejected = np.logical_and.reduceat(refused, starts) if len(starts) else np.zeros(0, dtype=bool)
    grouped = Transactions(presented, order, starts, count, rejected, np.zeros(len(starts), dtype=bool))
    closest = np.full(len(starts), np.nan)
    if rejected.any():
        closest = np.fmin.reduceat(presented["score"].to_numpy()[order], starts)
    placed = _Placed(pair[starts] % max(len(people), 1), at[starts], count, rejected, closest)
    return replace(grouped, is_suspect=_suspect(placed, _usual(presented), attempts))


def _starts(pair: Ints, refused: Flags, at: Ints, gap_s: int, attempts: int) -> Ints:
    """Where transactions begin, in presentations by pair and time."""
    if not len(pair):
        return np.zeros(0, dtype=np.int64)
    goes_on = (pair[1:] == pair[:-1]) & refused[:-1] & (np.diff(at) <= gap_s)
    opens = np.flatnonzero(np.r_[True, ~goes_on])
    place = np.arange(len(pair)) - np.repeat(opens, np.diff(opens, append=len(pair)))
    return np.flatnonzero(place % attempts == 0)


def _usual(presented: Frame) -> Floats:
    """The median accepted score of each person by code, nan where there is none."""
    accepted = presented.filter(~pl.col("is_refused")).group_by("person").agg(usual=pl.col("score").median())
    known = presented.select(pl.col("person").unique()).sort("person").join(accepted, on="person", how="left")
    return known.sort("person")["usual"].to_numpy()


@dataclass(frozen=True)
class _Placed:
    """Transactions as columns: the person's code, the first attempt, how many, and the lowest score."""

    person: Ints
    at: Ints
    attempts: Ints
    is_rejected: Flags
    closest: Floats


def _suspect(placed: _Placed, usual: Floats, attempts: int) -> Flags:
    """Which transactions are suspect; only people with a far rejection are looked at more closely."""
    suspect = np.zeros(len(placed.person), dtype=bool)
    if not len(suspect):
        return suspect
    with np.errstate(invalid="ignore"):
        far = placed.is_rejected & (placed.closest > FAR * usual[placed.person])
    if not far.any():
        return suspect
    theirs_too = np.zeros(len(usual), dtype=bool)
    theirs_too[placed.person[far]] = True
    rows = np.flatnonzero(theirs_too[placed.person])
    columns = {
        "person": placed.person,
        "at": placed.at,
        "is_rejected": placed.is_rejected,
        "closest": placed.closest,
        "usual": usual[placed.person],
    }
    theirs = TRIED.frame({name: column[rows] for name, column in columns.items()}).fill_nan(None)
    unlike = _accepted_soon(theirs) | _as_ever_next(theirs) | pl.Series(placed.attempts[rows] < attempts)
    suspect[rows] = far[rows] & unlike.to_numpy()
    return suspect


def _accepted_soon(grouped: Frame) -> pl.Series:
    """Whether the person was accepted within half an hour before or after, at any reader."""
    placed = grouped.select("person", "at", "is_rejected").with_row_index("row").sort("person", "at")
    accepted = pl.when(~pl.col("is_rejected")).then(pl.col("at"))
    before = accepted.forward_fill().over("person")
    after = accepted.backward_fill().over("person")
    near = ((pl.col("at") - before) <= SOON_S) | ((after - pl.col("at")) <= SOON_S)
    return placed.with_columns(soon=near.fill_null(value=False)).sort("row")["soon"]


def _as_ever_next(grouped: Frame) -> pl.Series:
    """Whether the person's next transaction, at any reader, was accepted with an ordinary score."""
    placed = (
        grouped.select("person", "at", "is_rejected", "closest", "usual").with_row_index("row").sort("person", "at")
    )
    ordinary = (~pl.col("is_rejected") & (pl.col("closest") <= ORDINARY * pl.col("usual"))).fill_null(value=False)
    following = ordinary.shift(-1).over("person").fill_null(value=False)
    return placed.with_columns(as_ever=following).sort("row")["as_ever"]
