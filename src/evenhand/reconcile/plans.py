"""What is to be done at each reader, before it is put in order."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from evenhand.reconcile.concerned import Concerned
from evenhand.reconcile.of_readers import SUPERVISORS_NEEDED
from evenhand.reconcile.ordering import ReaderStep
from evenhand.terms.languages import sentence

__all__ = ["REMOVED", "Plan", "plans_for"]

Row = dict[str, Any]

NOT_BEFORE = sentence("{why}; not before a punch under {right} has been accepted there")
FIND_OUT = sentence("{why}; find out first whose punches arrive under it")
TWO_STAND = sentence("{call} is a supervisor of the site, and two should stand on each reader")

REMOVED = ("leaver_enrolled", "unknown_enrolment", "release_ended")
"""The kinds of discrepancy whose numbers come off the reader."""


@dataclass
class Plan:
    """What is to be done at one reader: one enrolment and one removal at most for each number."""

    reader: str
    enrolled: dict[str, Row]
    hands: int
    steps: dict[tuple[str, bool], ReaderStep] = field(default_factory=dict)
    is_guarded: bool = False

    def __post_init__(self) -> None:
        """Note whether somebody there may enrol others."""
        self.is_guarded = any(row["is_supervisor"] for row in self.enrolled.values())

    def add(self, step: ReaderStep) -> None:
        """Add the act unless there is one for the number already; `hands` is how many the reader then holds."""
        key = (step.number, step.action == "remove")
        if key in self.steps:
            return
        self.steps[key] = step
        self.is_guarded |= step.action == "enrol_supervisor"
        self.hands += -1 if step.action == "remove" else int(step.number not in self.enrolled)


def plans_for(of: Concerned, entries: dict[str, Row]) -> dict[str, Plan]:
    """Return the plan of each reader; `entries` are the readers' rows."""
    plans = {}
    for reader, entry in entries.items():
        plans[reader] = Plan(reader, of.enrolled[reader], of.counts.get(reader, 0))
        _add_steps(of, entry, of.found.get(reader, []), plans[reader])
    _place_all(of, entries, plans)
    return plans


def _enrolment(of: Concerned, person: str, why: str, *, present: bool = False) -> ReaderStep:
    supervisor = bool(of.entries[person]["is_supervisor"])
    return ReaderStep(
        "enrol_supervisor" if supervisor else "enrol_again" if present else "enrol", of.number(person), person, why
    )


def _can_take(of: Concerned, entry: Row, person: str) -> bool:
    number, digits = of.number(person), entry["max_digits"]
    if person in of.another_way:
        return False
    return bool(number) and number in of.alone and (digits is None or len(number) <= digits)


def _add_steps(of: Concerned, entry: Row, found: list[Row], plan: Plan) -> None:
    strays = {row["number"] for row in found if row["kind"] == "unattributed_punches"}
    for row in found:
        kind, number, person = row["kind"], row["number"], row["person"]
        if kind in ("wrong_number", "lost_zeros") and number in plan.enrolled:
            _exchange(of, entry, row, plan)
        elif kind == "shared_number":
            if row["other"] not in of.another_way:
                plan.add(_enrolment(of, row["other"], row["evidence"], present=True))
            if _can_take(of, entry, person) and of.number(person) not in plan.enrolled:
                plan.add(_enrolment(of, person, row["evidence"]))
        elif kind == "supervisor_mismatch" and person not in of.another_way:
            plan.add(_enrolment(of, person, row["evidence"], present=True))
        elif kind in REMOVED:
            why = FIND_OUT.format(why=row["evidence"]) if number in strays else row["evidence"]
            plan.add(ReaderStep("remove", number, person, why))
    if any(row["kind"] == "few_supervisors" for row in found):
        _add_supervisors(of, entry, found, plan)


def _exchange(of: Concerned, entry: Row, row: Row, plan: Plan) -> None:
    right, person = row["other"], row["person"]
    roster_lost_them = row["kind"] == "lost_zeros" and len(right) < len(row["number"])
    if roster_lost_them or not _can_take(of, entry, person):
        return
    if right not in plan.enrolled:
        plan.add(_enrolment(of, person, row["evidence"]))
    seen = NOT_BEFORE.format(why=row["evidence"], right=right)
    plan.add(ReaderStep("remove", row["number"], person, seen, instead=right))


def _add_supervisors(of: Concerned, entry: Row, found: list[Row], plan: Plan) -> None:
    doubtful = {row["number"] for row in found if row["kind"] == "shared_number"}
    standing = {
        number
        for number, row in plan.enrolled.items()
        if row["is_supervisor"] and number not in doubtful and number in of.alone
    }
    standing -= {step.number for step in plan.steps.values() if step.action == "enrol_again"}
    standing |= {step.number for step in plan.steps.values() if step.action == "enrol_supervisor"}
    for person in of.supervisors(entry["site"]):
        if len(standing) >= SUPERVISORS_NEEDED:
            return
        number = of.number(person)
        if number not in standing and _can_take(of, entry, person):
            why = TWO_STAND.format(call=of.entries[person]["call"])
            plan.add(ReaderStep("enrol_supervisor", number, person, why))
            standing.add(number)


def _place_all(of: Concerned, entries: dict[str, Row], plans: dict[str, Plan]) -> None:
    """Enrol whoever is enrolled nowhere at the one reader of the site that most of the department is on."""
    familiar: dict[Any, list[str]] = {}
    for row in of.found.get(None, []):
        if row["kind"] != "not_enrolled":
            continue
        person, number = row["person"], row["number"]
        site, department = of.entries[person]["site"], of.entries[person]["department"]
        there = [name for name, entry in entries.items() if site is None or entry["site"] == site]
        if any((number, False) in plans[name].steps for name in there):
            continue
        guarded = tuple(plans[name].is_guarded for name in there)
        if (site, department, guarded) not in familiar:
            familiar[site, department, guarded] = _by_familiarity(of, plans, there, department)
        for name in familiar[site, department, guarded]:
            capacity = entries[name]["capacity"]
            has_room = capacity is None or plans[name].hands < capacity
            if has_room and _can_take(of, entries[name], person):
                plans[name].add(_enrolment(of, person, row["evidence"]))
                break


def _by_familiarity(of: Concerned, plans: dict[str, Plan], there: list[str], department: str | None) -> list[str]:
    def rank(name: str) -> tuple[bool, int, int, str]:
        mates = of.mates.get((name, department), 0) if department else 0
        return (not plans[name].is_guarded, -mates, -of.counts.get(name, 0), name)

    return sorted(there, key=rank)
