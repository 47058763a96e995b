"""What an open punch's day lacks, or has too much, and how sure that is; never applied.

Source: common practice, no source; 29 CFR 516.2(a)(7) wants the hours that were worked, which only the person knows.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import polars as pl

from evenhand.law.codes import IN, OUT, UNMARKED
from evenhand.law.proposals.days import Column, Days, days_of
from evenhand.law.proposals.likeness import HOUR_S, STRANGE, Floats, LikeDays, Mask, likeness_of, pair_days
from evenhand.law.proposals.times import WITHIN, times_of
from evenhand.law.proposals.words import (
    BREAK_SIDE,
    NOT_LIKE,
    SEVERAL,
    STRAYS_TOO_FAR,
    TOO_FEW,
    say_marks,
    say_missing,
    say_too_many,
)
from evenhand.terms.columns import Frame
from evenhand.terms.hours import PROPOSALS
from evenhand.terms.settings import Policy
from evenhand.terms.zones import Offsets, offsets_of

__all__ = ["propose_punches"]

FEWEST = 3
"""Whole days from which on they tell something."""

SURE = 0.7
"""From which probability on one account of the day is told."""

WIDEST_S = 45 * 60
"""A time is proposed where the interval around it is no longer."""

SURE_OF_SIDE = 0.97
"""From which probability on a short break of unmarked punches is told to lack its out, or its in."""

VAGUE = 1.4
"""How much wider an interval is to be where punches are unmarked and a short pause may hide which one is missing."""

MEAL_S = 15 * 60
"""The longest pause of a day is its meal where it lasts this long."""

APART_S = 2 * HOUR_S
"""A pause of this length parts two stretches of work, each with a start and an end."""


def propose_punches(
    questions: Frame, attributed: Frame, classed: Frame, schedules: Frame, policy: Policy, zone: str
) -> Frame:
    """Return a proposal (PROPOSALS) for each missing punch of `questions` (QUESTIONS).

    `attributed` (ATTRIBUTED), `classed` (CLASSED) and `schedules` (SCHEDULES) should reach some weeks back; `zone` is
    where the clock is read. Where nothing can be said the proposal is `not_sure`, and says why.
    """
    asked = questions.filter(pl.col("kind").is_in(["missing_in", "missing_out"])).select("person", "punch")
    if asked.is_empty() or attributed.is_empty():
        return PROPOSALS.empty()
    theirs = pl.col("person").is_in(asked["person"].unique().implode())
    local = offsets_of(zone)
    days = days_of(attributed.filter(theirs), classed.filter(theirs), schedules.filter(theirs), local, policy)
    day_of = _days_of(days, asked["punch"].to_numpy())
    told = _told(days, np.unique(list(day_of.values())), local) if day_of else {}
    nothing = {"kind": "not_sure", "says": NOT_LIKE}
    return PROPOSALS.rows(row | told.get(day_of.get(row["punch"], -1), nothing) for row in asked.iter_rows(named=True))


def _days_of(days: Days, punches: Column) -> dict[int, int]:
    """Return the day of each of these punches that is not the repeat of another, nor of a day with too many."""
    few = days.count <= days.width
    is_asked = np.isin(days.punch, punches) & few[:, None] & (days.count[:, None] > np.arange(days.width))
    return dict(zip(days.punch[is_asked].tolist(), np.nonzero(is_asked)[0].tolist(), strict=True))


def _told(days: Days, open_days: Column, local: Offsets) -> dict[int, dict[str, Any]]:
    """Return what is told of each open day."""
    pairs, usual = pair_days(days, open_days)
    told: dict[int, dict[str, Any]] = {
        int(day): {"kind": "not_sure", "says": TOO_FEW if known < FEWEST else NOT_LIKE}
        for day, known in zip(open_days, usual, strict=True)
    }
    if not len(pairs.open_day):
        return told
    asked, first, question = np.unique(pairs.open_day, return_index=True, return_inverse=True)
    shares, weights = _shares(days, pairs, first, question)
    missing, extra, marks = slice(days.width + 1), slice(days.width + 1, -1), slice(-1, None)
    place = shares[:, missing].argmax(axis=1)
    lacks = shares[np.arange(len(asked)), place] >= SURE
    times = _times(days, pairs, lacks, place, question, weights, local)
    seen = [np.bincount(question, weights[:, part].any(axis=1)) for part in (missing, extra, marks)]
    for number, day in enumerate(asked.tolist()):
        accounts = [shares[number, part] for part in (missing, extra, marks)]
        found = _row(days, day, accounts, [int(of[number]) for of in seen], times.get(number, {}))
        if not found and shares[number].sum() >= SURE:
            found = {"says": SEVERAL if max(int(of[number]) for of in seen) >= FEWEST else TOO_FEW}
        told[day] |= found
    return told


def _shares(days: Days, pairs: LikeDays, first: Column, question: Column) -> tuple[Floats, Floats]:
    """Return the probability of each account of each open day, and what each pair adds to it.

    What is missing to one is the probability that the day is like no other.
    """
    each = likeness_of(days, pairs)
    asked = pairs.open_day[first]
    strange = np.log(STRANGE * pairs.usual[first]) - days.count[asked] * np.log(12 * HOUR_S)
    peak = np.maximum(np.maximum.reduceat(each.max(axis=1), first), strange)
    weights: Floats = np.exp(each - peak[question][:, None])
    together = np.add.reduceat(weights, first, axis=0)
    other = np.exp(strange - peak)
    return together / (together.sum(axis=1) + other)[:, None], weights


def _times(
    days: Days,
    pairs: LikeDays,
    lacks: Mask,
    place: Column,
    question: Column,
    weights: Floats,
    local: Offsets,
) -> dict[int, dict[str, Any]]:
    """Return when the punch is missing, and which, by the number of each question that lacks one."""
    weight = weights[np.arange(len(question)), place[question]]
    speaks = lacks[question] & (weight > 0)
    if not speaks.any():
        return {}
    kept = pairs.some(speaks)
    numbers, again = np.unique(question[speaks], return_inverse=True)
    likest = np.lexsort((-weight[speaks], again))[np.unique(again, return_index=True)[1]]
    vague = _are_vague(days, kept.some(likest))
    wide = np.where(vague, VAGUE, 1.0)
    times = times_of(days, kept, place[question][speaks], again, weight[speaks], local, wide)
    found: dict[int, dict[str, Any]] = {}
    for at, number in enumerate(numbers):
        pair = likest[at]
        found[int(number)] = {
            "at": int(times.at[at]),
            "low": int(times.low[at]),
            "high": int(times.high[at]),
            "habit": int(times.habit[at]),
            "planned": bool(days.planned[kept.open_day[pair]].all() and days.planned[kept.whole_day[pair]].all()),
            "vague": bool(vague[at]),
            "kind": _kind(kept.like[pair], int(days.count[kept.whole_day[pair]]), int(place[number])),
        }
    return found


def _are_vague(days: Days, pairs: LikeDays) -> Mask:
    """Tell of which days no punch is marked, while the whole day beside it has a pause shorter than a meal."""
    unmarked = (days.way[pairs.open_day] == UNMARKED).all(axis=1)
    pauses = pairs.like[:, 2::2] - pairs.like[:, 1:-1:2]
    there = np.arange(2, days.width, 2) < days.count[pairs.whole_day][:, None]
    vague: Mask = unmarked & (there & (pauses < MEAL_S)).any(axis=1)
    return vague


def _kind(like: Column, count: int, place: int) -> str:
    """Return what the punch at a place of a whole day is for."""
    if place in (0, count - 1):
        return "start" if place == 0 else "end"
    way = "out" if place % 2 else "in"
    pauses = like[2 : count - 1 : 2] - like[1 : count - 2 : 2]
    mine = pauses[(place - 1) // 2]
    if mine >= APART_S:
        return "end" if place % 2 else "start"
    return f"meal_{way}" if mine == pauses.max() and mine >= MEAL_S else f"break_{way}"


def _row(days: Days, day: int, accounts: Sequence[Floats], seen: list[int], time: Mapping[str, Any]) -> dict[str, Any]:
    """Return what is told of one day from the probabilities of its accounts; nothing where none is likely enough."""
    missing, extra, marks = accounts
    if seen[0] >= FEWEST and time:
        way, kind = ("out" if missing.argmax() % 2 else "in"), time["kind"]
        told = {"kind": kind, "way": way, "seen": seen[0]}
        if time["vague"] and kind.startswith("break") and missing.max() < SURE_OF_SIDE:
            return {"kind": "not_sure", "seen": seen[0], "says": BREAK_SIDE}
        told |= {"likely": WITHIN * float(missing.max()), "earliest_at": time["low"], "latest_at": time["high"]}
        if time["high"] - time["low"] > WIDEST_S:
            return told | {"says": STRAYS_TOO_FAR.format(what=say_missing(kind))}
        says = say_missing(kind, time["habit"], seen[0], planned=time["planned"])
        return told | {"at": time["at"], "says": says}
    if seen[1] >= FEWEST and extra.sum() >= SURE:
        told = {"kind": "too_many", "likely": float(extra.sum()), "seen": seen[1], "says": say_too_many(seen[1])}
        return told | _suspect(days, day, int(extra.argmax()))
    if seen[2] >= FEWEST and marks[0] >= SURE:
        turn = np.where(np.arange(days.width) % 2 == 0, IN, OUT)
        wrong = int(np.argmax((days.way[day] != UNMARKED) & (days.way[day] != turn)))
        told = {"kind": "wrong_way", "likely": float(marks[0]), "seen": seen[2], "says": say_marks(seen[2])}
        return told | {"way": "out" if wrong % 2 else "in"} | _suspect(days, day, wrong)
    return {}


def _suspect(days: Days, day: int, place: int) -> dict[str, int]:
    return {"suspect": int(days.punch[day, place]), "suspect_at": int(days.at[day, place])}
