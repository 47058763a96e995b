"""Change the plan while the day runs: who has been enrolled stays, who did not turn up is moved or let go."""

from __future__ import annotations

from collections.abc import Collection, Mapping

import polars as pl

from evenhand.enrolment.planning.plan import Planned, plan_day
from evenhand.enrolment.tables import LEFT_OUT
from evenhand.terms.columns import Frame

__all__ = ["plan_rest"]


def plan_rest(
    planned: Planned,
    visits: Frame,
    stations: Frame,
    standing: Frame,
    costs: Frame,
    *,
    slots: int,
    now: int,
    done: Collection[int],
    absent: Collection[str] = (),
    seconds: float = 8.0,
    crews: Mapping[str, str | None] | None = None,
    crew_most: int | None = None,
    attended: bool = True,
    change_minutes: int = 15,
) -> Planned:
    """Return the plan of the slots from `now` on, once the visits in `done` have been made.

    Supervisors among them hold authority from now on. People in `absent` do not come today and are left out;
    whoever merely missed the slot is planned again. Moving somebody who has been told a later slot costs
    `change_minutes`, so that the plan stays as it is where it can.
    """
    made = planned.plan.filter(pl.col("visit").is_in(list(done)))
    have = made.filter("is_supervisor").select("reader", "person")
    rest = visits.join(made.select("visit"), on="visit", how="anti")
    gone = rest.filter(pl.col("person").is_in(list(absent)) & pl.col("is_needed"))
    ahead = planned.plan.filter((pl.col("slot") >= now) & ~pl.col("visit").is_in(list(done)))
    changed = plan_day(
        rest.filter(~pl.col("person").is_in(list(absent))),
        stations,
        pl.concat([standing, have]).unique(maintain_order=True),
        costs.filter((pl.col("slot") >= now) & ~pl.col("person").is_in(list(absent))),
        slots=slots,
        seconds=seconds,
        crews=crews,
        crew_most=crew_most,
        attended=attended,
        told=ahead,
        change_minutes=change_minutes,
    )
    missing = [
        {"person": person, "reader": None, "why": "did not come today; plan another day."}
        for person in gone["person"].unique(maintain_order=True)
    ]
    return Planned(
        changed.plan,
        changed.attended,
        pl.concat([changed.left_out, LEFT_OUT.rows(missing)]),
        changed.minutes,
        changed.bound,
    )
