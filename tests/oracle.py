"""Hold hours against the minute-by-minute oracle for as many random person-weeks as asked for.

`make oracle` runs a million: each jurisdiction, clocks that change, odd beginnings of workday and workweek, lost,
double and swapped punches, marked, unmarked and half marked readers. Ends with 1 at the first person that differs,
made smaller and printed.
"""

from __future__ import annotations

import argparse
import os
import random
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

import polars as pl

from evenhand.law import compute_hours
from evenhand.terms.settings import Policy, SiteRules
from evenhand.terms.tables import ATTRIBUTED
from tests.law import oracle, oracle_states
from tests.law.test_against_oracle import STARTS, invent_person, invent_settings

__all__ = ["Batch", "Differing", "hold", "invent"]

PEOPLE = 100
"""People under one set of rules: the room works them out in one go, the oracle one by one."""

DEFAULT_WEEKS = 1_000_000


@dataclass(frozen=True)
class Batch:
    """Some people under one set of rules, and what the law asks for of each beside the punches."""

    settings: oracle.Settings
    rules: SiteRules
    policy: Policy
    people: Sequence[list[oracle.Press]]
    told: Sequence[oracle_states.Told]


@dataclass(frozen=True)
class Differing:
    """A person whose hours differ, with what the oracle expects and what the room says, by workweek [min]."""

    batch: Batch
    person: int
    expected: oracle_states.Amounts
    found: oracle_states.Amounts


def invent(seed: int, people: int = PEOPLE) -> Batch:
    """Return a batch; the same seed makes the same."""
    rng = random.Random(seed)
    zone = rng.choice(list(STARTS))
    first = rng.choice(STARTS[zone])
    settings, rules, policy = invent_settings(rng, zone)
    if rng.random() < 0.6 and not settings.california:
        law = rng.choice(list(oracle_states.LAWS))
        weekday_before = first - timedelta(days=(first.weekday() - settings.week_day) % 7 + 14)
        rules = SiteRules(rules.site, zone, law, rules.workweek_day, rules.workweek_s, rules.rounding_s)
        if law == "us_eight_and_eighty":
            rules = replace(rules, fortnight=weekday_before)
        if law == "us_public_safety":
            kind, days = rng.choice(list(oracle_states.PUBLIC_SAFETY))
            rules = replace(rules, public_safety=kind, work_period_days=days, work_period=weekday_before)
    # One person in two works on for a second stretch of eight days, so that fourteen days are full.
    longer = first + timedelta(days=8)
    drawn = [
        invent_person(rng, zone, first) + (invent_person(rng, zone, longer) if rng.random() < 0.5 else [])
        for _ in range(people)
    ]
    invented = [presses for presses in drawn if presses]
    cents = [rng.choice([None, 1500, 1799, 1800, 2500]) for _ in invented]
    begins, period = rules.fortnight or rules.work_period or date.min, (rules.public_safety, rules.work_period_days)
    told = [oracle_states.Told(rate, begins, period) for rate in cents]
    return Batch(settings, rules, policy, invented, told)


def expected_of(batch: Batch, person: int) -> oracle_states.Amounts:
    """Return what the oracle makes of a person's punches."""
    presses = batch.people[person]
    if batch.rules.jurisdiction in oracle_states.LAWS:
        return oracle_states.hours(presses, batch.settings, batch.rules.jurisdiction, batch.told[person])
    return oracle.hours(presses, batch.settings)[0]


def found_of(batch: Batch) -> list[oracle_states.Amounts]:
    """Return what the room makes of everybody's punches, in one go."""
    rows: list[dict[str, Any]] = []
    for person, presses in enumerate(batch.people):
        for press in sorted(presses, key=lambda p: p.when.astimezone(UTC)):
            zone, at = str(press.when.tzinfo), int(press.when.timestamp())
            rows.append(
                {"punch": len(rows), "person": f"P{person:04}", "reader": "R1", "zone": zone, "at": at,
                 "direction": press.way or None}
            )  # fmt: skip
    rates = pl.DataFrame(
        [
            (f"P{person:04}", date.min, date.max, told.cents * 100)
            for person, told in enumerate(batch.told)
            if told.cents is not None
        ],
        schema={"person": pl.String, "since": pl.Date, "until": pl.Date, "amount": pl.Int64},
        orient="row",
    )
    weeks = compute_hours(ATTRIBUTED.rows(rows), batch.rules, batch.policy, keep_steps=False, rates=rates).weeks
    found: list[oracle_states.Amounts] = [{} for _ in batch.people]
    names = ("person", "workweek", "recorded_s", "ordinary_s", "overtime_s", "double_s")
    for who, week, recorded, *paid in weeks.select(names).iter_rows():
        if recorded or paid[0]:
            found[int(who[1:])][week] = (recorded / 60, paid[0] / 60, paid[1] / 60, paid[2] / 60)
    return found


def hold(batch: Batch) -> tuple[Counter[str], Differing | None]:
    """Return the person-weeks held against each other, by jurisdiction, and the first person that differs."""
    weeks: Counter[str] = Counter()
    for person, found in enumerate(found_of(batch)):
        expected = expected_of(batch, person)
        weeks[batch.rules.jurisdiction] += len(expected)
        weeks["with overtime"] += sum(amounts[2] > 0 or amounts[3] > 0 for amounts in expected.values())
        if found != expected:
            return weeks, Differing(batch, person, expected, found)
    return weeks, None


def smaller(differing: Differing) -> Differing:
    """Return the person with as few punches as still differ, alone."""
    batch, who = differing.batch, differing.person
    presses, told = list(batch.people[who]), [batch.told[who]]

    def alone(mine: list[oracle.Press]) -> Differing | None:
        one = Batch(batch.settings, batch.rules, batch.policy, [mine], told)
        return hold(one)[1] if mine else None

    least = alone(presses) or differing
    at = 0
    while at < len(presses):
        fewer = presses[:at] + presses[at + 1 :]
        if (still := alone(fewer)) is not None:
            presses, least = fewer, still
        else:
            at += 1
    return least


def told_of(differing: Differing) -> Iterator[str]:
    """Yield a differing person in words: the rules, the punches, both results."""
    batch = differing.batch
    yield f"rules: {batch.rules}"
    yield f"policy: {batch.policy}; {batch.told[differing.person]}"
    for press in sorted(batch.people[differing.person], key=lambda p: p.when.astimezone(UTC)):
        yield f"  {press.when:%Y-%m-%d %H:%M %Z} {press.way}"
    yield f"expected [min]: {differing.expected}"
    yield f"found    [min]: {differing.found}"


def _hold_seed(seed: int) -> tuple[int, Counter[str], Differing | None]:
    return seed, *hold(invent(seed))


def main(argv: Sequence[str] | None = None) -> int:
    """Hold so many person-weeks; print how many of each jurisdiction, and the first that differs."""
    asked = argparse.ArgumentParser(prog="python -m tests.oracle", description=__doc__)
    asked.add_argument("--weeks", type=int, default=DEFAULT_WEEKS, help="person-weeks to hold (default: %(default)s)")
    asked.add_argument("--seed", type=int, default=1_000_000, help="of the first batch")
    asked.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    told = asked.parse_args(argv)
    weeks: Counter[str] = Counter()
    begun = datetime.now(tz=UTC)
    with ProcessPoolExecutor(told.processes) as pool:
        seeds = iter(range(told.seed, sys.maxsize))
        while sum(weeks.values()) - weeks["with overtime"] < told.weeks:
            for seed, held, differing in pool.map(_hold_seed, [next(seeds) for _ in range(4 * told.processes)]):
                weeks += held
                if differing is not None:
                    print(f"\nbatch {seed} differs:", *told_of(smaller(differing)), sep="\n")
                    return 1
            done = sum(weeks.values()) - weeks["with overtime"]
            print(f"\r{done:,} of {told.weeks:,} person-weeks agree", end="", flush=True)
    seconds = (datetime.now(tz=UTC) - begun).total_seconds()
    print(f"\r{done:,} person-weeks agree, {weeks.pop('with overtime'):,} with overtime, in {seconds:.0f} s:")
    for law, held in sorted(weeks.items()):
        print(f"  {law}: {held:,}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
