"""Somebody went out at one site and came in at another within hours: if that was travel, it was work.

To be silent is the worse mistake: unpaid work shows nowhere else. So it asks, and keeps no pay back: most of what is
asked about is a meal on the way.
"""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, clock, deadline
from evenhand.terms.civil_days import civil_days
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.zones import DAY_S, day_start

__all__ = ["CHECK", "find"]

LONGEST_S = 4 * 3600
"""Time off at one site before the work at another is no longer on the way: common practice, no source."""

LAW = "29 CFR 785.38"

CHECK = Check(
    code="travel_unpaid",
    title=told("Time between two sites is not paid"),
    why=told(
        "Going from one job site to another during the workday is work and has to be paid (29 CFR 785.38). The "
        "punches cannot tell it from a meal or from time that was the person's own."
    ),
    next_step=told("Ask the person; leave out the two punches between if it was travel, or settle it with the reason."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person and day of the period with unpaid time between two sites."""
    if facts.readers["site"].n_unique() < 2:
        return
    trips = _trips(facts)
    for (person, day), rows in trips.group_by("person", "day", maintain_order=True):
        seconds, who = int(rows["away_s"].sum()), call(facts, str(person))
        legs = [
            told(
                "out at {leaves} ({left}) at {clock}, in at {comes} ({came}) at {clock2}",
                leaves=leaves,
                left=left,
                clock=clock(facts, since, zone),
                comes=comes,
                came=came,
                clock2=clock(facts, until, zone),
            )
            for leaves, left, since, comes, came, until, zone in rows.select(LEG).iter_rows()
        ]
        yield Finding(
            code=CHECK.code,
            subject=str(person),
            day=day,
            person=str(person),
            says=told(
                "{who} changed sites on {day}; {seconds:duration} between are unpaid.",
                who=who,
                day=day,
                seconds=seconds,
            ),
            evidence=(told("{says:begun}.", says=told("{legs:joined}", legs=legs)),),
            stake=Stake(minutes=seconds // 60, people=1, deadline=deadline(facts), law=LAW),
            next_step=told(
                "Ask {who}: on Hours, leave out the two punches between if it was travel, or settle this "
                "with the reason if it was a meal or their own time.",
                who=who,
            ),
            details={"punches": [punch for row in rows.select("before", "punch").iter_rows() for punch in row]},
        )


LEG = ("left_at", "left_site", "since", "reader", "site", "at", "zone")


def _trips(facts: Facts) -> Frame:
    """Return the times off between two sites in the period: person, day, away_s, and both punches with their places."""
    zones = facts.zones_of_people().select("person", home="zone")
    sites = facts.readers.select("reader", "site")
    # A day more on either side, for zones that are ahead or behind.
    since = day_start(facts.zone, facts.period.first) - DAY_S
    until = day_start(facts.zone, facts.period.last) + 2 * DAY_S
    near = facts.attributed.filter(pl.col("at") >= since, pl.col("at") < until)
    sited = near.select("punch", "person", "reader", "at", "direction").join(sites, on="reader", how="left")
    # Most people are at one site only, and need not be put in order.
    at_several = sited.group_by("person").agg(pl.col("site").n_unique()).filter(pl.col("site") > 1)
    placed = (
        sited.join(at_several.select("person"), on="person", how="semi")
        .join(zones, on="person", how="left")
        .sort("person", "at", "punch")
    )
    placed = placed.with_columns(zone=pl.col("home").fill_null(facts.zone))
    days = placed.with_columns(day=civil_days(placed["at"], placed["zone"])).with_columns(
        before=pl.col("punch").shift().over("person", "day"),
        left_at=pl.col("reader").shift().over("person", "day"),
        left_site=pl.col("site").shift().over("person", "day"),
        since=pl.col("at").shift().over("person", "day"),
        went=pl.col("direction").shift().over("person", "day"),
        place=pl.int_range(pl.len()).over("person", "day"),
    )
    # Where the readers write no direction, every second punch of a day is an end.
    comes = pl.col("direction").fill_null(pl.when(pl.col("place") % 2 == 0).then(pl.lit("in")).otherwise(pl.lit("out")))
    goes = pl.col("went").fill_null(pl.when(pl.col("place") % 2 == 0).then(pl.lit("out")).otherwise(pl.lit("in")))
    away = pl.col("at") - pl.col("since")
    return days.with_columns(away_s=away).filter(
        pl.col("site") != pl.col("left_site"),
        comes == "in",
        goes == "out",
        away.is_between(1, LONGEST_S),
        pl.col("day").is_between(facts.period.first, facts.period.last),
    )
