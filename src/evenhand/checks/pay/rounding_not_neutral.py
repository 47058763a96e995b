"""Rounding that does not average out for a site or a person."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="rounding_not_neutral",
    title=told("Rounding does not average out"),
    why=told(
        "Rounding is accepted only while it pays, over time, for all the time actually worked "
        "(29 CFR 785.48(b)). A rule that is even on paper takes time where schedules and habits "
        "put most punches on one side of it."
    ),
    next_step=told(
        "Compare the rule with the schedule; stop rounding at the site (rounding_minutes = 0), or pay the difference."
    ),
)

ALARM = 0.05


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per site or person for whom chance does not explain what rounding gave or took.

    Chances are adjusted for the number of sites or people looked at.
    """
    rows = facts.rounding.filter(pl.col("adjusted") < ALARM, pl.col("level").is_in(["site", "person"]))
    for row in rows.sort("level", "name").iter_rows(named=True):
        of_person = row["level"] == "person"
        who = call(facts, row["name"]) if of_person else told("site {name}", name=row["name"])
        minutes = abs(row["total_s"]) // 60
        did = (
            sentence("The rounding rule has taken {time:duration} from {who} in {days:# day|# days}.")
            if row["total_s"] < 0
            else sentence("The rounding rule has given {time:duration} to {who} in {days:# day|# days}.")
        )
        yield Finding(
            code=CHECK.code,
            subject=row["name"] if of_person else f"site {row['name']}",
            person=row["name"] if of_person else None,
            says=told(did, time=60 * minutes, who=who, days=row["days"]),
            evidence=tuple(_evidence(row)),
            stake=Stake(minutes=minutes if row["total_s"] < 0 else 0, people=row["people"], law="29 CFR 785.48(b)"),
            next_step=CHECK.next_step,
            details={"site": (facts.sites.get(row["name"]) or "") if of_person else row["name"]},
        )


def _evidence(row: dict[str, Any]) -> Iterator[str]:
    low, high = row["day_low_s"], row["day_high_s"]
    interval = "" if low is None else told(" (95 % interval {low:+.0f} to {high:+.0f} s)", low=low, high=high)
    yield told(
        "{punches:# punch|# punches}: {per_day_s:+.0f} s of paid time a day{interval}.",
        punches=row["punches"],
        per_day_s=row["per_day_s"],
        interval=interval,
    )
    yield told(
        "Chance of this or more if rounding were neutral: {adjusted:.2g} ({test:again}, adjusted).",
        adjusted=row["adjusted"],
        test=row["test"],
    )
    if row["money"] is not None:
        more = told(
            "{overtime_money:+.2f} with overtime weeks at time and a half", overtime_money=row["overtime_money"]
        )
        yield told("Worth {money:+.2f} at straight rates, {more}.", money=row["money"], more=more)
