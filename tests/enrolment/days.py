"""Enrolment days for the tests, and what every plan of one must keep to, checked without the planner."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from evenhand.enrolment.planning.plan import DayPlan, EnrolmentDay, plan_day
from evenhand.enrolment.tables import COSTS, STANDING, STATIONS, VISITS


@dataclass(frozen=True)
class Day:
    """`supervisors` and `people` map a person to (readers, minutes by slot; None where the person cannot come).

    A supervisor is enrolled on each of the readers; another person on one of them.
    """

    places: dict[str, int]
    supervisors: dict[str, tuple[list[str], list[int | None]]]
    people: dict[str, tuple[list[str], list[int | None]]]
    standing: tuple[tuple[str, str], ...] = ()

    @property
    def slots(self) -> int:
        minutes = [minutes for _, minutes in (self.supervisors | self.people).values()]
        return max((len(of) for of in minutes), default=1)

    def day(self, **rules) -> EnrolmentDay:
        return EnrolmentDay(*self.frames(), slots=self.slots, **rules)

    def frames(self):
        visits, costs, visit = [], [], 0
        for person, (readers, _) in self.supervisors.items():
            for reader in readers:
                visits.append((visit, person, reader, True, True))
                visit += 1
        for person, (readers, _) in self.people.items():
            visits += [(visit, person, reader, False, True) for reader in readers]
            visit += 1
        for person, (_, minutes) in (self.supervisors | self.people).items():
            costs += [(person, slot, cost) for slot, cost in enumerate(minutes) if cost is not None]
        return (
            VISITS.rows(dict(zip(VISITS.names, row, strict=True)) for row in visits),
            STATIONS.rows({"reader": reader, "places": most} for reader, most in self.places.items()),
            STANDING.rows({"reader": reader, "person": person} for reader, person in self.standing),
            COSTS.rows(dict(zip(COSTS.names, row, strict=True)) for row in costs),
        )

    def planned(self, *, seconds: float = 8.0, **rules) -> DayPlan:
        return plan_day(self.day(**rules), seconds=seconds)


def faults(day: Day, planned: DayPlan, *, attended: bool) -> list[str]:
    """Return every way in which a plan breaks what an enrolment day must keep to."""
    found = []
    rows = planned.plan.to_dicts()
    minutes = {person: of for person, (_, of) in (day.supervisors | day.people).items()}
    taken = Counter((row["reader"], row["slot"]) for row in rows)
    found += [
        f"{reader} is over its places in slot {slot}" for (reader, slot), n in taken.items() if n > day.places[reader]
    ]
    at_once = Counter((row["person"], row["slot"]) for row in rows)
    found += [f"{person} is in two places in slot {slot}" for (person, slot), n in at_once.items() if n > 1]
    for row in rows:
        if minutes[row["person"]][row["slot"]] is None:
            found.append(f"{row['person']} is called away when that is not possible")
        first = [other["slot"] for other in rows if other["reader"] == row["reader"] and other["is_supervisor"]] + [
            -1 for reader, _ in day.standing if reader == row["reader"]
        ]
        if not row["is_supervisor"] and not any(slot < row["slot"] for slot in first):
            found.append(f"{row['person']} comes before any supervisor at {row['reader']}")
    if attended:
        found += _unattended(day, planned)
    return found


def _unattended(day: Day, planned: DayPlan) -> list[str]:
    found = []
    rows = planned.plan.to_dicts()
    stands = {(row["reader"], row["slot"]): row["person"] for row in planned.attended.to_dicts()}
    since = {(row["reader"], row["person"]): row["slot"] for row in rows if row["is_supervisor"]}
    since |= dict.fromkeys(day.standing, -1)
    for row in rows:
        who = stands.get((row["reader"], row["slot"]))
        if not row["is_supervisor"] and who is None:
            found.append(f"nobody attends {row['reader']} in slot {row['slot']}")
    for (reader, slot), who in stands.items():
        if since.get((reader, who), slot) >= slot:
            found.append(f"{who} attends {reader} in slot {slot} without standing on it")
        if any(row["person"] == who and row["slot"] == slot for row in rows):
            found.append(f"{who} attends and enrols at once")
    at_once = Counter((who, slot) for (_, slot), who in stands.items())
    return found + [f"{who} attends two readers in slot {slot}" for (who, slot), n in at_once.items() if n > 1]
