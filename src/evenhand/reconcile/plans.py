"""What is to be done at each reader, before it is put in order."""

from __future__ import annotations

from typing import Any

from evenhand.reconcile.ordering import Act
from evenhand.reconcile.readers_disagree import SUPERVISORS_NEEDED
from evenhand.reconcile.roster import Roster

__all__ = ["Plan", "plans_for"]

Row = dict[str, Any]
Plan = dict[tuple[str, bool], Act]  # one enrolment and one removal at most for each number


def plans_for(
    roster: Roster,
    entries: dict[str, Row],
    enrolled: dict[str, dict[str, Row]],
    found: dict[str | None, list[Row]],
) -> dict[str, Plan]:
    """Return the plan of each reader; `found` holds the discrepancies by reader."""
    plans = {reader: _acts(roster, entry, enrolled[reader], found.get(reader, [])) for reader, entry in entries.items()}
    for row in found.get(None, []):
        if row["kind"] == "not_enrolled":
            _place(roster, row, entries, enrolled, plans)
    return plans


def _add(plan: Plan, act: Act) -> None:
    plan.setdefault((act.number, act.action == "remove"), act)


def _enrolment(roster: Roster, person: str, why: str, *, present: bool = False) -> Act:
    supervisor = bool(roster.entries[person]["is_supervisor"])
    return Act(
        "enrol_supervisor" if supervisor else "enrol_again" if present else "enrol", roster.number(person), person, why
    )


def _can_take(roster: Roster, entry: Row, person: str) -> bool:
    number, digits = roster.number(person), entry["max_digits"]
    return bool(number) and len(roster.holders_now(number)) == 1 and (digits is None or len(number) <= digits)


def _acts(roster: Roster, entry: Row, enrolled: dict[str, Row], found: list[Row]) -> Plan:
    plan: Plan = {}
    strays = {row["number"] for row in found if row["kind"] == "unowned_punches"}
    for row in found:
        kind, number, person = row["kind"], row["number"], row["person"]
        if kind in ("wrong_number", "lost_zeros") and number in enrolled:
            _exchange(roster, entry, enrolled, row, plan)
        elif kind == "shared_number":
            _add(plan, _enrolment(roster, row["other"], row["evidence"], present=True))
            if _can_take(roster, entry, person) and roster.number(person) not in enrolled:
                _add(plan, _enrolment(roster, person, row["evidence"]))
        elif kind == "supervisor_mismatch":
            _add(plan, _enrolment(roster, person, row["evidence"], present=True))
        elif kind in ("leaver_enrolled", "unknown_enrolment"):
            first = "; find out first whose punches arrive under it" if number in strays else ""
            _add(plan, Act("remove", number, person, row["evidence"] + first))
    if any(row["kind"] == "few_supervisors" for row in found):
        _add_supervisors(roster, entry, enrolled, found, plan)
    return plan


def _exchange(roster: Roster, entry: Row, enrolled: dict[str, Row], row: Row, plan: Plan) -> None:
    right, person = row["other"], row["person"]
    roster_lost_them = row["kind"] == "lost_zeros" and len(right) < len(row["number"])
    if roster_lost_them or not _can_take(roster, entry, person):
        return
    if right not in enrolled:
        _add(plan, _enrolment(roster, person, row["evidence"]))
    _add(plan, Act("remove", row["number"], person, row["evidence"], instead=right))


def _add_supervisors(roster: Roster, entry: Row, enrolled: dict[str, Row], found: list[Row], plan: Plan) -> None:
    doubtful = {row["number"] for row in found if row["kind"] == "shared_number"}
    standing = {
        number
        for number, row in enrolled.items()
        if row["is_supervisor"] and number not in doubtful and len(roster.holders_now(number)) == 1
    }
    standing -= {act.number for act in plan.values() if act.action == "enrol_again"}
    standing |= {act.number for act in plan.values() if act.action == "enrol_supervisor"}
    for person in roster.supervisors(entry["site"]):
        if len(standing) >= SUPERVISORS_NEEDED:
            return
        number = roster.number(person)
        if number not in standing and _can_take(roster, entry, person):
            why = f"{roster.call(person)} is a supervisor of the site, and two should stand on each reader"
            _add(plan, Act("enrol_supervisor", number, person, why))
            standing.add(number)


def _place(
    roster: Roster,
    row: Row,
    entries: dict[str, Row],
    enrolled: dict[str, dict[str, Row]],
    plans: dict[str, Plan],
) -> None:
    person, number = row["person"], row["number"]
    site, department = roster.entries[person]["site"], roster.entries[person]["department"]
    there = [name for name, entry in entries.items() if site is None or entry["site"] == site]
    if any((number, False) in plans[name] for name in there):
        return

    def familiar(name: str) -> tuple[bool, int, int, str]:
        guarded = any(held["is_supervisor"] for held in enrolled[name].values())
        guarded = guarded or any(act.action == "enrol_supervisor" for act in plans[name].values())
        mates = [roster.holders_now(other) for other in enrolled[name]]
        same = sum(1 for held in mates if held and roster.entries[held[0]]["department"] == department)
        return (not guarded, -same if department else 0, -len(mates), name)

    for name in sorted(there, key=familiar):
        capacity = entries[name]["capacity"]
        planned = len(enrolled[name]) + sum(_change(act, enrolled[name]) for act in plans[name].values())
        if _can_take(roster, entries[name], person) and (capacity is None or planned < capacity):
            _add(plans[name], _enrolment(roster, person, row["evidence"]))
            return


def _change(act: Act, enrolled: dict[str, Row]) -> int:
    return -1 if act.action == "remove" else int(act.number not in enrolled)
