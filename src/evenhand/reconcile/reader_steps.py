"""The steps at each reader that make it agree with the roster."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import date
from typing import Any

from evenhand.reconcile.concerned import Concerned, concerned_by
from evenhand.reconcile.ordering import HeldNumbers, in_safe_order
from evenhand.reconcile.plans import REMOVED, Plan, plans_for
from evenhand.reconcile.roster import roster_on
from evenhand.terms.columns import Frame
from evenhand.terms.tables import READER_STEPS

__all__ = ["reader_steps"]

Row = dict[str, Any]


def reader_steps(
    people: Frame,
    readers: Frame,
    enrolments: Frame,
    discrepancies: Frame,
    *,
    as_of: date,
    another_way: Collection[str] = (),
) -> Frame:
    """Return READER_STEPS: for each reader, by position, what makes it agree with the roster on that day.

    No removal takes one of the last two supervisors off a reader, at no point is one without any once it has had one,
    and none is filled beyond its capacity.
    What cannot be done so (nobody on the roster may enrol others, no place left, number too long) is left out and
    stays a discrepancy. A person enrolled nowhere is enrolled at the one reader most of the department is on.
    Those in `another_way` clock without a hand, and are enrolled nowhere.
    """
    of = concerned_by(roster_on(people, as_of), readers, enrolments, discrepancies, frozenset(another_way))
    entries = {row["reader"]: row for row in readers.iter_rows(named=True)}
    plans = plans_for(of, entries)
    return READER_STEPS.rows(
        step for reader, entry in entries.items() for step in _steps(of, entry, of.found.get(reader, []), plans[reader])
    )


def _steps(of: Concerned, entry: Row, found: list[Row], plan: Plan) -> Iterator[Row]:
    gone = frozenset(row["number"] for row in found if row["kind"] in REMOVED)
    authority = {number: bool(row["is_supervisor"]) for number, row in plan.enrolled.items()}
    untouched = of.counts.get(plan.reader, 0) - len(authority)
    held = HeldNumbers(authority, gone, None if entry["capacity"] is None else entry["capacity"] - untouched)
    for position, step in enumerate(in_safe_order(list(plan.steps.values()), held), start=1):
        named = of.entries[step.person] if step.person else plan.enrolled.get(step.number, {})
        yield {
            "reader": entry["reader"],
            "position": position,
            "action": step.action,
            "number": step.number,
            "person": step.person,
            "name": named.get("name"),
            "why": step.why,
        }
