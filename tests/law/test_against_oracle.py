"""The room and the minute-by-minute oracle agree on invented weeks of every kind."""

from __future__ import annotations

import random
from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import polars as pl
import pytest

from evenhand.law import compiling, compute_hours
from evenhand.terms.settings import Policy, SiteRules
from evenhand.terms.tables import ATTRIBUTED
from tests.law import oracle

STARTS = {
    "America/Chicago": [date(2026, 3, 5), date(2026, 10, 29), date(2026, 6, 11)],
    "America/New_York": [date(2026, 3, 6), date(2026, 10, 30)],
    "America/Los_Angeles": [date(2026, 3, 6), date(2026, 10, 30)],
    "America/Phoenix": [date(2026, 3, 5)],
    "America/St_Johns": [date(2026, 3, 6)],
    "Australia/Lord_Howe": [date(2026, 4, 2), date(2026, 10, 1)],
}
DAYS = {
    "day": [7 * 60, 12 * 60, 12 * 60 + 30, 15 * 60 + 30],
    "plain": [8 * 60, 16 * 60 + 30],
    "night": [19 * 60, 31 * 60],
    "broken": [6 * 60, 9 * 60, 9 * 60 + 12, 12 * 60, 12 * 60 + 25, 14 * 60],
    "split": [9 * 60, 13 * 60, 15 * 60, 19 * 60],
    "double": [6 * 60, 19 * 60 + 40],
}


def invent_person(rng: random.Random, zone: str, first: date) -> list[oracle.Press]:
    """Return eight days of one person's presentations with everything that goes wrong."""
    idle, marks = rng.choice([0.0, 0.15]), rng.choice(["none", "all", "some"])
    # The oracle tries every reading of a stretch, so weeks without a day off have kinds of day that end stretches.
    kinds = list(DAYS) if idle else ["day", "plain", "broken"]
    kind = rng.choice(kinds)
    zones = [ZoneInfo(zone), ZoneInfo(rng.choice(list(STARTS)))]
    presses = []
    for day in range(8):
        if rng.random() < idle:
            continue
        swaps = rng.random() < 0.1
        if rng.random() < 0.1:
            kind = rng.choice(kinds)
        midnight = datetime(first.year, first.month, first.day, tzinfo=zones[0]) + timedelta(days=day)
        for k, minute in enumerate(DAYS[kind]):
            wall = midnight + timedelta(minutes=minute + rng.randint(-9, 9))
            when = wall.astimezone(UTC).astimezone(zones[0 if rng.random() < 0.8 else 1])
            way = ("in", "out")[k % 2]
            if swaps and k in (1, 2):
                way = ("in", "out")[k - 1]
            if marks == "none" or (marks == "some" and rng.random() < 0.5):
                way = ""
            if rng.random() > 0.05:
                presses.append(oracle.Press(when, way))
            if rng.random() < 0.05:
                presses.append(oracle.Press(when + timedelta(minutes=rng.randint(0, 3)), rng.choice([way, ""])))
    return presses


def invent_settings(rng: random.Random, zone: str) -> tuple[oracle.Settings, SiteRules, Policy]:
    day, minute = rng.randrange(7), rng.choice([0, 0, 90, 150, 6 * 60, 23 * 60 + 30])
    california = rng.random() < 0.5
    rounding, double = 0 if california else rng.choice([0, 0, 5, 6, 15]), rng.choice([1, 2, 3])
    meal = rng.choice([30, 30, 21])
    alternative = rng.choice([0, 0, 9, 10, 12]) * 60 if california else 0
    scheduled = tuple(sorted(rng.sample(range(7), 4))) if 0 < alternative < 720 and rng.random() < 0.5 else ()
    told = oracle.Settings(
        zone, day, minute, rounding, double, meal=meal, california=california,
        alternative=alternative, care=alternative == 720, scheduled=scheduled,
    )  # fmt: skip
    jurisdiction = "california" if california else "us_federal"
    rules = SiteRules(
        "invented", zone, jurisdiction, day, minute * 60, rounding * 60, alternative * 60, scheduled, alternative == 720
    )
    return told, rules, Policy(repeat_gap_s=double * 60, meal_s=meal * 60)


def ask_room(presses: list[oracle.Press], rules: SiteRules, policy: Policy) -> tuple[Any, Any, Any]:
    attributed = ATTRIBUTED.rows(
        {
            "punch": k,
            "person": "P1",
            "reader": "R1",
            "zone": str(press.when.tzinfo),
            "at": int(press.when.timestamp()),
            "direction": press.way or None,
        }
        for k, press in enumerate(sorted(presses, key=lambda p: p.when.astimezone(UTC)))
    )
    found = compute_hours(attributed, rules, policy, keep_steps=False)
    weeks = {
        row["workweek"]: (row["recorded_s"], row["ordinary_s"], row["overtime_s"], row["double_s"])
        for row in found.weeks.iter_rows(named=True)
        if row["recorded_s"] or row["ordinary_s"]
    }
    asked = {(row["kind"], datetime.fromtimestamp(row["at"], UTC)) for row in found.questions.iter_rows(named=True)}
    meals, split = (set(found.premiums.filter(pl.col("kind") == kind)["workday"]) for kind in ("meal", "split_shift"))
    again = found.premiums.filter(pl.col("kind") == "reporting").select("workday", pl.col("hours") * 60)
    # Hours of pay are kept to the ten-thousandth, a third of a second.
    return weeks, asked, (meals, split, {(day, round(minutes)) for day, minutes in again.iter_rows()})


def check(seed: int) -> None:
    rng = random.Random(seed)
    zone = rng.choice(list(STARTS))
    presses = invent_person(rng, zone, rng.choice(STARTS[zone]))
    if not presses:
        return
    told, rules, policy = invent_settings(rng, zone)
    expected, asked = oracle.hours(presses, told)
    weeks, questions, owed = ask_room(presses, rules, policy)
    assert questions == asked, seed
    assert weeks == {week: tuple(60 * m for m in minutes) for week, minutes in expected.items()}, seed
    premiums = (oracle.meals_missed, oracle.splits, oracle.second_reports)
    assert owed == tuple(find(presses, told) if told.california else set() for find in premiums), seed


@pytest.mark.parametrize("batch", range(10))
def test_the_room_agrees_with_the_oracle_on_invented_weeks(batch: int) -> None:
    for seed in range(batch * 20, batch * 20 + 20):
        check(seed)


def test_the_compiled_room_agrees_with_the_oracle_too(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(compiling, "is_large", lambda _punches: True)
    for seed in range(1000, 1040):
        check(seed)
