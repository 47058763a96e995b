"""Where a reader itself falls short: supervisors, room, digits, enrolments never proved."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from evenhand.reconcile.picture import Picture, Seen

__all__ = ["SUPERVISORS_NEEDED", "capacity", "supervisors", "too_long", "unproved"]

SUPERVISORS_NEEDED = 2
NEARLY_FULL = 0.9

Row = dict[str, Any]


def supervisors(facts: Picture) -> Iterator[Row]:
    """Yield readers with fewer than two supervisors, and enrolments whose authority is not the roster's."""
    roster = facts.roster
    for reader, entry in facts.readers.items():
        enrolled = facts.on_reader[reader]
        standing = [one for one in enrolled if one.has_authority and one.state == "right" and _may(facts, one.person)]
        if len(standing) < SUPERVISORS_NEEDED:
            who = ", ".join(f"{one.number} {roster.call(str(one.person))}" for one in standing) or "nobody"
            could = [roster.call(person) for person in roster.supervisors(entry["site"])]
            told = "" if reader in facts.authority_told else "; its list does not say who may enrol others"
            yield {
                "kind": "few_supervisors",
                "reader": reader,
                "punches": 0,
                "evidence": f"{reader} lists {len(enrolled)} numbers, and as supervisors of the roster {who}{told}; "
                f"supervisors on the roster of site {entry['site']}: {_some(could)}",
            }
        if reader in facts.authority_told:
            yield from _mismatches(facts, reader)


def _some(names: list[str], most: int = 6) -> str:
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return (", ".join(names[:most]) or "nobody") + more


def _may(facts: Picture, person: str | None) -> bool:
    told = facts.roster.tells_supervisors
    return not told or bool(person and facts.roster.entries[person]["is_supervisor"])


def _mismatches(facts: Picture, reader: str) -> Iterator[Row]:
    roster = facts.roster
    if not roster.tells_supervisors:
        return
    for one in facts.on_reader[reader]:
        if one.state != "right" or one.person is None:
            continue
        by_roster = bool(roster.entries[one.person]["is_supervisor"])
        if by_roster == one.has_authority:
            continue
        says = "a supervisor on the roster but" if by_roster else "no supervisor on the roster but"
        yield {
            "kind": "supervisor_mismatch",
            "reader": reader,
            "person": one.person,
            "number": one.number,
            "punches": 0,
            "evidence": f"{roster.call(one.person)} is {says} enrolled at {reader} under {one.number} "
            f"{'with' if one.has_authority else 'without'} authority to enrol others",
        }


def capacity(facts: Picture) -> Iterator[Row]:
    """Yield readers at nine tenths of what they hold, or more."""
    for reader, entry in facts.readers.items():
        holds, enrolled = entry["capacity"], len(facts.on_reader[reader])
        if holds is not None and enrolled >= NEARLY_FULL * holds:
            yield {
                "kind": "near_capacity",
                "reader": reader,
                "punches": 0,
                "evidence": f"{reader} holds {holds} hands and {enrolled} are enrolled",
            }


def too_long(facts: Picture) -> Iterator[Row]:
    """Yield numbers longer than a reader of the person's site accepts."""
    roster = facts.roster
    for reader, entry in facts.readers.items():
        digits = entry["max_digits"]
        if digits is None:
            continue
        for person in roster.here:
            number = roster.number(person)
            if len(number) > digits and roster.works_at(person, entry["site"]):
                yield {
                    "kind": "too_long",
                    "reader": reader,
                    "person": person,
                    "number": number,
                    "punches": 0,
                    "evidence": f"{number} has {len(number)} digits and {reader} accepts {digits}",
                }


def unproved(facts: Picture) -> Iterator[Row]:
    """Yield enrolments of people on the roster under which that reader has not accepted a hand yet."""
    for one in facts.standings:
        if one.state == "right" and not facts.seen.get((one.reader, one.number), Seen()).punches:
            log = (
                "its log holds other numbers"
                if one.reader in facts.heard
                else "no punch of that reader has been taken yet"
            )
            yield {
                "kind": "unproved",
                "reader": one.reader,
                "person": one.person,
                "number": one.number,
                "punches": 0,
                "evidence": f"no hand has been accepted under {one.number} at {one.reader} in the logs looked at; "
                + log,
            }
