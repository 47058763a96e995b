"""What the tool says with a number, and the truth, family by family.

Each function measures one workplace and returns rows (claim, said, true, weight) that `__main__` adds up.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
import polars as pl
from bench.adverse.crew import Crew
from bench.adverse.mishaps import NOBODY, Mishaps
from bench.adverse.noise import Change, Noise
from bench.adverse.place import FIRST, MONTH, Place, make_place, person_name, reader_name

from evenhand.checks.hands.enrol_again import WORTH
from evenhand.checks.readers.many_refusals import CHANGED
from evenhand.jobs.hands import Hands, find_hands
from evenhand.jobs.stray_proposals import PLAIN, PLAIN_ROUGH
from evenhand.jobs.strays import find_strays
from evenhand.terms.words import SAVED

BEGINS = 40
SHAPED = 45
"""Days after which a change has its shape."""
LIMIT = 0.05
RATED = 30
"""People whose rate of refusal is held against the truth."""
ASKED = (60, 75)
"""Days after which it is asked when the limit will be passed."""


PRINTED, WORDED = "stray, a percentage", "stray, a word"
"""Chances of strays that are printed as such, and those that a word stands for below 99.9 %."""
CERTAIN = "confirmable, as good as certain"
"""Of whom strays are, from 0.99 on, or from 0.999 where a word stands for what is less."""
EXPECTED = "false alarms a month, charts"
"""Of all charts together where nothing changes; what is said is an expectation."""


@dataclass(frozen=True)
class Row:
    """One thing claimed at one workplace: what was said (nan: nothing) and what was true."""

    claim: str
    said: float
    true: float = float("nan")


def at_rest(seed: int, crew: Crew, noise: Noise, mishaps: Mishaps) -> Iterator[Row]:
    """Nothing changes: every alarm is false, and nothing is saved by enrolling anybody again."""
    place = make_place(seed, crew, noise, mishaps)
    hands = find_hands(place.reckoning())
    months = crew.days / MONTH
    yield Row(EXPECTED, hands.promised, hands.alarms.height / months)
    charts = hands.alarms.group_by("chart").len()
    for chart, count in charts.iter_rows():
        yield Row(f"  of them, {chart}", float("nan"), count / months)
    often = hands.watch.logs.refused_hands
    yield Row(
        "hands said to be refused more than before", 0.0, often.filter(pl.col("chance_as_before") < CHANGED).height
    )
    moved = hands.forecasts.filter(pl.col("state").is_in(["rising", "raised", "locked_out"]))
    yield Row("people whose level is said to have risen", 0.0, moved.height)
    yield Row("refusals a month that enrolling saves", _saved(hands), 0.0)
    for row in hands.forecasts.filter(pl.col("state") == "often_refused").iter_rows(named=True):
        true = place.refusals(int(row["person"][1:]))[0]
        yield Row("share refused of those often refused", row["refusal_now"], true)
    yield from _rates(place, hands)
    health = dict(hands.health.group_by("kind").len().iter_rows())
    for kind in ("refusal_burst", "quiet", "quiet_day", "log_ends", "clock"):
        yield Row(f"readers at rest, {kind}", 0.0, health.get(kind, 0))
    moved_at = [one for one in hands.issues if one.code == "threshold_moved"]
    yield Row("readers at rest, threshold moved", 0.0, len(moved_at))


def _rates(place: Place, hands: Hands) -> Iterator[Row]:
    """Whether the interval of how often a hand is refused, a presentation, holds what is so; of the first people."""
    mine = hands.watch.charts.rates.filter(
        pl.col("of") == "person",
        pl.col("measure").is_in(["false_non_match_rate", "refused_presentation_rate"]),
        pl.col("name").is_in([person_name(who) for who in range(RATED)]),
    )
    for row in mine.iter_rows(named=True):
        true = place.refusals(int(row["name"][1:]))[0]
        yield Row("rate of a hand: 95 % interval holds", float(row["low"] <= true <= row["high"]))


def _saved(hands: Hands) -> float:
    saved = hands.forecasts.filter(pl.col("state") != "steady")["saved"]
    return float(saved.fill_null(0).sum() or 0)


def changes_of(seed: int, crew: Crew) -> tuple[Change, ...]:
    """Four drifting hands, two that jump, a plate that gathers dirt and is cleaned, a reader that jumps."""
    rng = np.random.default_rng(seed + 10_000)
    people = rng.choice(crew.people, 6, replace=False).tolist()
    readers = rng.choice(crew.readers, 2, replace=False).tolist()
    drifts = tuple(Change("hand_drift", who, BEGINS, 0.75, 45) for who in people[:4])
    steps = tuple(Change("hand_step", who, BEGINS, 0.55) for who in people[4:])
    plates = (
        Change("reader_dirt", readers[0], BEGINS, 0.4, 20, BEGINS + 32),
        Change("reader_step", readers[1], BEGINS, 0.3),
    )
    return drifts + steps + plates


def when_changed(seed: int, crew: Crew, noise: Noise, mishaps: Mishaps) -> Iterator[Row]:
    """How long each change stays unseen, what it is called, and what is said of it at 45 days."""
    changes = changes_of(seed, crew)
    place = make_place(seed, crew, noise, mishaps, changes)
    hands = find_hands(place.reckoning())
    at_45 = find_hands(place.reckoning(BEGINS + SHAPED)) if crew.days > BEGINS + SHAPED + 1 else hands
    start = FIRST + timedelta(days=BEGINS)
    codes = {one.code for one in hands.issues}
    slow, slow_readers = (
        "said to be slow" if code in codes else "not said to be slow"
        for code in ("hand_charts_slow", "reader_charts_slow")
    )
    for change in changes:
        is_hand = change.kind.startswith("hand")
        column, name = ("person", person_name(change.which)) if is_hand else ("reader", reader_name(change.which))
        mine = hands.alarms.filter(
            pl.col(column) == name, pl.col("on") >= start, pl.col("chart").str.contains("refus").not_()
        )
        mine = (mine if is_hand else mine.filter(pl.col("person").is_null())).sort("on")
        days = (mine["on"][0] - start).days if mine.height else float("inf")
        yield Row(f"days until seen, {change.kind}", days)
        if is_hand:
            yield Row(f"seen at all, charts of hands {slow}", float(mine.height > 0))
        else:
            yield Row(f"days until a reader is seen, charts of readers {slow_readers}", days)
        named = mine.filter(pl.col("cause").is_in(["hand", "reader"]))
        if named.height:
            yield Row(f"cause right, {change.kind}", float(named["cause"][-1] == ("hand" if is_hand else "reader")))
        if change.kind in ("hand_drift", "hand_step"):
            yield from _shaped(at_45, name, start, change.kind.removeprefix("hand_"))
    yield from _after_cleaning(hands, changes)
    yield from _savings(place, hands)


def _shaped(hands: Hands, person: str, start: date, truth: str) -> Iterator[Row]:
    """What the change is called, as far as it is seen."""
    mine = hands.alarms.filter(pl.col("person") == person, pl.col("on") >= start, pl.col("chart") == "hand").sort("on")
    for shape in mine["shape"].tail(1):
        yield Row(f"shape named, {truth}", float(shape != "unclear"))
        if shape != "unclear":
            yield Row(f"shape right where named, {truth}", float(shape == truth))


def _after_cleaning(hands: Hands, changes: tuple[Change, ...]) -> Iterator[Row]:
    for change in changes:
        if change.ends is not None:
            cleaned = FIRST + timedelta(days=change.ends)
            mine = hands.alarms.filter(
                pl.col("reader") == reader_name(change.which), pl.col("person").is_null(), pl.col("since") > cleaned
            )
            yield Row("alarms that begin after the plate was cleaned", 0.0, mine.height)


def _savings(place: Place, hands: Hands) -> Iterator[Row]:
    """Refusals a month said to be saved by enrolling each one advised, and what truly would be."""
    advised = hands.forecasts.filter(pl.col("state") != "steady", pl.col("saved") > 0)
    for row in advised.iter_rows(named=True):
        who = int(row["person"][1:])
        true = place.refusals(who)[1] - place.refusals(who, anew=True)[1]
        yield Row("refusals a month that enrolling saves, hands changed", row["saved"], true)
        if row["saved"] >= WORTH:
            low, high = (share * row["saved"] for share in SAVED)
            yield Row("saved lies in the range said", float(low <= true <= high))


def dates(seed: int, crew: Crew, noise: Noise, mishaps: Mishaps) -> Iterator[Row]:
    """Whether the day on which 1 of 20 is refused lies between the days said (90 % are to)."""
    rng = np.random.default_rng(seed + 20_000)
    drifting = rng.choice(crew.people, 12, replace=False).tolist()
    slopes = rng.uniform(0.008, 0.02, 12)
    crew = Crew(**{**vars(crew), "days": ASKED[-1]})
    long = 365
    changes = tuple(
        Change("hand_drift", who, 25, float(slope) * long, long) for who, slope in zip(drifting, slopes, strict=True)
    )
    place = make_place(seed, crew, noise, mishaps, changes)
    crossings: dict[int, float] = {}
    for day in ASKED:
        hands = find_hands(place.reckoning(day - 1))
        named = {row["person"]: row for row in hands.forecasts.iter_rows(named=True)}
        for change, slope in zip(changes, slopes, strict=True):
            row = named.pop(person_name(change.which), None)
            if row is None or row["likely"] is None:
                yield Row("dates of refusal: said", 0.0)
                continue
            yield Row("dates of refusal: said", 1.0)
            if change.which not in crossings:
                crossings[change.which] = _crossing(place, change.which, float(slope))
            # A limit that is passed already is told as one passed today, by soonest; so is it here.
            crossed = max(crossings[change.which], float(day))
            low, high = (((row[end] - FIRST).days if row[end] else 10_000) for end in ("soonest", "latest"))
            holds = float(max(low, day) <= crossed <= max(high, day))
            yield Row("dates of refusal: 90 % hold", holds)
            if crossed > day:
                yield Row("dates of refusal: 90 % hold, limit not passed yet", holds)
        others = sum(row["likely"] is not None for row in named.values())
        yield Row("people given a date whose hand does not move, a workplace", 0.0, others / len(ASKED))


def _crossing(place: Place, who: int, slope: float) -> float:
    """The day on which the chance of refusal passes the limit, going on as it goes."""
    last = place.work.crew.days - 1
    now = float(place.hands.moved[who, -1])
    for ahead in range(-70, 400, 3):
        if place.refusals(who, moved=now + slope * ahead)[0] > LIMIT:
            return last + ahead
    return 10_000.0


def strays(seed: int, crew: Crew, mishaps: Mishaps) -> Iterator[Row]:
    """What is said of each stray, and whose it is."""
    place = make_place(seed, crew, Noise(), mishaps)
    proposals = find_strays(place.reckoning()).proposals
    asked = {reader_name(reader) + "/" + number for (_, reader), number in place.numbers.keyed.items()}
    found = {proposal.stray for proposal in proposals}
    swaps = {
        reader_name(reader) + "/" + number
        for one, two, reader in place.numbers.swapped
        for number in (place.numbers.of[one], place.numbers.of[two])
    }
    if swaps:
        yield Row("swapped numbers found", float(len(swaps & found)) / len(swaps))
    if asked - swaps:
        yield Row("wrong numbers found", float(len((asked - swaps) & found)) / len(asked - swaps))
    for proposal in proposals:
        owners = [place.owner[one.punch] for one in proposal.punches]
        owner = max(set(owners), key=owners.count)
        truth = NOBODY if owner < 0 else person_name(owner)
        chances = {one.person: one.probability for one in proposal.candidates} | {NOBODY: proposal.nobody}
        for who, chance in chances.items():
            yield Row(WORDED if proposal.is_rough else PRINTED, chance, float(who == truth))
        best = max(chances, key=chances.__getitem__)
        yield Row("likeliest right", float(best == truth))
        if truth != NOBODY:
            yield Row("somebody's strays, as good as certain", float(best != NOBODY and proposal.is_plain))
        if proposal.is_plain or (best == NOBODY and chances[best] >= PLAIN):
            who = f"{'nobody' if best == NOBODY else 'a person'}{', a word' if proposal.is_rough else ''}"
            yield Row(f"{CERTAIN}, {who}", PLAIN_ROUGH if proposal.is_rough else PLAIN, float(best == truth))


def thresholds(seed: int, crew: Crew, size: float) -> Iterator[Row]:
    """Thresholds moved at one reader, and said to be; the other readers' were not."""
    changes = (Change("threshold", 0, BEGINS, size),) if size else ()
    hands = find_hands(make_place(seed, crew, Noise(), changes=changes).reckoning())
    told = {one.reader for one in hands.issues if one.code == "threshold_moved"}
    if size:
        yield Row("threshold moved: found", float(reader_name(0) in told))
    yield Row("thresholds said to be moved that were not", 0.0, len(told - {reader_name(0)} if size else told))
    mine = hands.alarms.filter(pl.col("chart").is_in(["hand", "reader", "reader_drift"]))
    yield Row("alarms of scores, a workplace", float("nan"), mine.height)


def clocks(seed: int, crew: Crew, mishaps: Mishaps) -> Iterator[Row]:
    """Readers' clocks said to be off, and those that are."""
    place = make_place(seed, crew, Noise(), mishaps)
    health = find_hands(place.reckoning()).health.filter(pl.col("kind") == "clock")
    off = health.filter(pl.col("reader") == reader_name(0)) if mishaps.clock else health.clear()
    yield Row("clocks called off that are right", 0.0, health.height - off.height)
    if mishaps.clock:
        yield Row("clocks off that are called so", float(off.height > 0), 1.0)
        for row in off.head(1).iter_rows(named=True):
            yield Row("how far off: interval holds", float(row["low"] <= mishaps.clock * 60 <= row["high"]), 0.95)
