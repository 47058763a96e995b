"""Rounding that does not average out for a site or a person."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import as_duration, counted

CHECK = Check(
    code="rounding_not_neutral",
    title="Rounding does not average out",
    why="Rounding is accepted only while it pays, over time, for all the time actually worked (29 CFR 785.48(b)). A "
    "rule that is even on paper takes time where schedules and habits put most punches on one side of it.",
    next_step="Compare the rule with the schedule; stop rounding at the site (rounding_minutes = 0), or pay the "
    "difference.",
)

ALARM = 0.05


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per site or person for whom chance does not explain what rounding gave or took.

    Chances are adjusted for the number of sites or people looked at.
    """
    rows = facts.rounding.filter(pl.col("adjusted") < ALARM, pl.col("level").is_in(["site", "person"]))
    for row in rows.sort("level", "name").iter_rows(named=True):
        of_person = row["level"] == "person"
        who = call(facts, row["name"]) if of_person else f"site {row['name']}"
        minutes = abs(row["total_s"]) // 60
        did = "taken" if row["total_s"] < 0 else "given"
        told = as_duration(60 * minutes)
        where = "from" if row["total_s"] < 0 else "to"
        yield Finding(
            code=CHECK.code,
            subject=row["name"] if of_person else f"site {row['name']}",
            person=row["name"] if of_person else None,
            says=f"The rounding rule has {did} {told} {where} {who} in {counted(row['days'], 'day')}.",
            evidence=tuple(_evidence(row)),
            stake=Stake(minutes=minutes if row["total_s"] < 0 else 0, people=row["people"], law="29 CFR 785.48(b)"),
            next_step=CHECK.next_step,
            details={"site": (facts.sites.get(row["name"]) or "") if of_person else row["name"]},
        )


def _evidence(row: dict[str, Any]) -> Iterator[str]:
    low, high = row["day_low_s"], row["day_high_s"]
    interval = "" if low is None else f" (95 % interval {low:+.0f} to {high:+.0f} s)"
    yield f"{counted(row['punches'], 'punch', 'punches')}: {row['per_day_s']:+.0f} s of paid time a day{interval}."
    yield f"Chance of this or more if rounding were neutral: {row['adjusted']:.2g} ({row['test']}, adjusted)."
    if row["money"] is not None:
        more = f"{row['overtime_money']:+.2f} with overtime weeks at time and a half"
        yield f"Worth {row['money']:+.2f} at straight rates, {more}."
