"""The removals at each reader that can be done now, in an order that never leaves it without a supervisor who stays."""

from __future__ import annotations

import polars as pl

from evenhand.reconcile.ordering import HeldNumbers, ReaderStep, in_safe_order
from evenhand.terms.columns import Frame
from evenhand.terms.tables import READER_STEPS

__all__ = ["removal_steps"]


def removal_steps(enrolments: Frame, due: Frame) -> Frame:
    """Return the removals (READER_STEPS) that leave every reader a supervisor who stays, by reader and position.

    `enrolments` are ENROLMENTS as listed now; `due` has reader, number, person, name and why of each hand that must go.
    What would take the last one off is left out, until somebody else is enrolled as one.
    """
    rows = []
    for (reader,), hands in due.sort("reader", "number").partition_by("reader", as_dict=True).items():
        listed = enrolments.filter(pl.col("reader") == reader)
        authority = dict(listed.select("number", pl.col("is_supervisor").fill_null(value=False)).iter_rows())
        told = {row["number"]: row for row in hands.to_dicts() if row["number"] in authority}
        steps = [ReaderStep("remove", number, row["person"], row["why"]) for number, row in told.items()]
        held = HeldNumbers(authority, frozenset(told), None)
        rows += [
            {
                "reader": reader,
                "position": position,
                "action": "remove",
                "number": step.number,
                "person": step.person,
                "name": told[step.number]["name"],
                "why": step.why,
            }
            for position, step in enumerate(in_safe_order(steps, held), start=1)
        ]
    return READER_STEPS.rows(rows)
