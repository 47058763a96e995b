"""The steps at each reader that make it agree with the roster, and what the reader holds once they are done."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

from evenhand.reconcile.ordering import Held, in_safe_order
from evenhand.reconcile.plans import Plan, plans_for
from evenhand.reconcile.roster import Roster, roster_on
from evenhand.terms.columns import Frame
from evenhand.terms.sources import ENROLMENTS
from evenhand.terms.tables import READER_STEPS

__all__ = ["apply_steps", "reader_steps"]

Row = dict[str, Any]


def reader_steps(people: Frame, readers: Frame, enrolments: Frame, discrepancies: Frame, *, as_of: date) -> Frame:
    """Return READER_STEPS: for each reader, by position, what makes it agree with the roster on that day.

    At no point is a reader without a supervisor once it has had one, and none is filled beyond its capacity.
    What cannot be done so (nobody on the roster may enrol others, no place left, number too long) is left out and
    stays a discrepancy. A person enrolled nowhere is enrolled at the one reader most of the department is on.
    """
    roster = roster_on(people, as_of)
    entries = {row["reader"]: row for row in readers.iter_rows(named=True)}
    enrolled: dict[str, dict[str, Row]] = {reader: {} for reader in entries}
    for row in enrolments.iter_rows(named=True):
        enrolled.setdefault(row["reader"], {})[row["number"]] = row
    found: dict[str | None, list[Row]] = {}
    for row in discrepancies.iter_rows(named=True):
        found.setdefault(row["reader"], []).append(row)
    plans = plans_for(roster, entries, enrolled, found)
    return READER_STEPS.rows(
        step
        for reader, entry in entries.items()
        for step in _steps(roster, entry, enrolled[reader], found.get(reader, []), plans[reader])
    )


def _steps(roster: Roster, entry: Row, enrolled: dict[str, Row], found: list[Row], plan: Plan) -> Iterator[Row]:
    gone = frozenset(row["number"] for row in found if row["kind"] in ("leaver_enrolled", "unknown_enrolment"))
    authority = {number: bool(row["is_supervisor"]) for number, row in enrolled.items()}
    held = Held(authority, gone, entry["capacity"])
    for position, act in enumerate(in_safe_order(list(plan.values()), held), start=1):
        named = roster.entries[act.person] if act.person else enrolled.get(act.number, {})
        yield {
            "reader": entry["reader"],
            "position": position,
            "action": act.action,
            "number": act.number,
            "person": act.person,
            "name": named.get("name"),
            "why": act.why,
        }


def apply_steps(enrolments: Frame, steps: Frame) -> Frame:
    """Return the enrolments once each reader's steps are done in their order (ENROLMENTS, by reader, number)."""
    held: dict[tuple[str, str], Row] = {
        (row["reader"], row["number"]): row for row in enrolments.select(ENROLMENTS.names).iter_rows(named=True)
    }
    for step in steps.sort("reader", "position").iter_rows(named=True):
        key = (step["reader"], step["number"])
        if step["action"] == "remove":
            held.pop(key, None)
        else:
            authority = step["action"] == "enrol_supervisor"
            held[key] = {"reader": key[0], "number": key[1], "name": step["name"], "is_supervisor": authority}
    return ENROLMENTS.rows(held.values()).sort("reader", "number")
