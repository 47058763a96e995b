"""Plan the round that takes every hand due off its reader, none of which leaves a reader fewer than two supervisors."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

import polars as pl

from evenhand import reconcile
from evenhand.enrolment.rounds import round_items
from evenhand.enrolment.tables import ATTENDED, PLAN
from evenhand.jobs.enrolment_day import AskedDay
from evenhand.jobs.keeping_rounds import free_round_name, keep_round
from evenhand.jobs.leavers import clocked_now
from evenhand.jobs.workspace import Workspace
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence, told, unnamed
from evenhand.terms.records import Refusal

__all__ = ["RemovalRound", "plan_removals"]

WHY = sentence("must be gone by {due_on}: {rule} {since_on}, {law}")
"""Why a hand is on such a round, as its items keep it."""


@dataclass(frozen=True)
class RemovalRound:
    """A round of removals: its name (empty where it was not kept), its items, and what is left out, with why."""

    name: str
    items: Frame
    left_out: tuple[str, ...]


def plan_removals(workspace: Workspace, day: date, *, author: str, as_of: datetime, keep: bool = True) -> RemovalRound:
    """Return a round that takes every hand due off its reader, kept in the store unless `keep` is false.

    Removals that would leave a reader with fewer than two supervisors are left out and told. Raises Refusal where
    nothing is due.
    """
    if not author.strip():
        raise Refusal(told("a round is made by somebody; say who."))
    clocked = clocked_now(workspace, as_of)
    is_due = pl.col("purpose_ended").is_not_null() | (pl.col("day") < clocked.on)
    due = clocked.removals.filter(pl.col("state") == "held", is_due)
    if due.is_empty():
        raise Refusal(told("no hand is due that is not on a round already; `evenhand leavers` says how each stands."))
    of = clocked.of
    whose = of.people.select("person", "name")
    why = pl.format(unnamed(WHY), "day", "rule", "started_on", "cites")
    steps = reconcile.removal_steps(of.enrolments, due.join(whose, on="person").with_columns(why=why))
    left = due.join(steps, on=["reader", "number"], how="anti")
    name = free_round_name(of, day)
    items = round_items(name, PLAN.empty(), steps, ATTENDED.empty(), of.people, [], languages={})
    asked = AskedDay(day, sentence("Removals"), attended=False)
    if keep and items.height:
        keep_round(workspace, name, asked, author.strip(), as_of, items)
    left_out = tuple(
        told(
            "{number} at {reader} is the last supervisor's there: enrol another first.",
            number=row["number"],
            reader=row["reader"],
        )
        for row in left.iter_rows(named=True)
    )
    return RemovalRound(name if keep and items.height else "", items, left_out)
