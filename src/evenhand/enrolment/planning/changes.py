"""Change the plan while the day runs: who has been enrolled stays, who did not turn up is moved or let go."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

import polars as pl

from evenhand.enrolment.planning.plan import DayPlan, EnrolmentDay, plan_day
from evenhand.enrolment.tables import LEFT_OUT
from evenhand.terms.languages import sentence

__all__ = ["plan_rest"]

WITHOUT = sentence("comes only together with somebody who did not come today; plan another day.")


def plan_rest(
    planned: DayPlan,
    day: EnrolmentDay,
    *,
    now: int,
    done: Collection[int],
    absent: Collection[str] = (),
    seconds: float = 8.0,
    change_minutes: int = 15,
) -> DayPlan:
    """Return the plan of the slots from `now` on, once the visits in `done` have been made.

    Supervisors among them hold authority from now on. People in `absent` do not come today and are left out;
    whoever merely missed the slot is planned again. Moving somebody who has been told a later slot costs
    `change_minutes`, so that the plan stays as it is where it can.
    """
    made = planned.plan.filter(pl.col("visit").is_in(list(done)))
    have = made.filter("is_supervisor").select("reader", "person")
    comes = ~pl.col("person").is_in(list(absent))
    rest = day.visits.join(made.select("visit"), on="visit", how="anti")
    left = set(rest.filter(comes)["visit"])
    alone = {visit for ring in day.together if ring - left - set(done) for visit in ring & left}
    ahead = replace(
        day,
        visits=rest.filter(comes, ~pl.col("visit").is_in(list(alone))),
        together=tuple(ring for ring in day.together if ring <= left),
        standing=pl.concat([day.standing, have]).unique(maintain_order=True),
        costs=day.costs.filter((pl.col("slot") >= now) & comes),
    )
    told = planned.plan.filter((pl.col("slot") >= now) & ~pl.col("visit").is_in(list(done)))
    changed = plan_day(ahead, seconds=seconds, told=told, change_minutes=change_minutes)
    gone = rest.filter(~comes & pl.col("is_needed"))["person"].unique(maintain_order=True)
    missing = LEFT_OUT.rows(
        {"person": person, "why": sentence("did not come today; plan another day.")} for person in gone
    )
    without = rest.filter(pl.col("visit").is_in(list(alone)))["person"].unique(maintain_order=True)
    waits = LEFT_OUT.rows({"person": person, "why": WITHOUT} for person in without)
    return replace(changed, left_out=pl.concat([changed.left_out, missing, waits]))
