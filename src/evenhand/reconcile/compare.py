"""Hold roster, readers' enrolments and punches against each other, and say where they disagree."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import chain
from typing import Any

from evenhand.reconcile.picture import Picture, Seen, picture
from evenhand.reconcile.readers_disagree import capacity, supervisors, too_long, unproved
from evenhand.reconcile.strays import unowned
from evenhand.terms.columns import Frame
from evenhand.terms.tables import CORRECTIONS, DISCREPANCIES

__all__ = ["compare"]

Row = dict[str, Any]


def compare(
    people: Frame,
    readers: Frame,
    enrolments: Frame,
    recorded: Frame,
    *,
    as_of: date,
    corrections: Frame | None = None,
) -> Frame:
    """Return DISCREPANCIES as of a civil day, by kind, reader, person and number; every row carries its evidence.

    `number` is the number at the reader (or on the roster, where no reader is concerned). `other` is the roster's
    number for it (wrong_number, lost_zeros) or the other person (shared_number). `punches` counts the accepted
    punches under that number at that reader.
    """
    given = CORRECTIONS.empty() if corrections is None else corrections
    facts = picture(people, readers, enrolments, recorded, given, as_of=as_of)
    finders = (_numbers, _not_enrolled, _enrolments, unowned, supervisors, capacity, too_long, unproved)
    rows = list(chain.from_iterable(find(facts) for find in finders))
    return DISCREPANCIES.rows(rows).sort("kind", "reader", "person", "number", "other", nulls_last=True)


def _numbers(facts: Picture) -> Iterator[Row]:
    roster = facts.roster
    for person in roster.here:
        if not roster.number(person):
            yield {
                "kind": "no_number",
                "person": person,
                "punches": 0,
                "evidence": f"the roster gives {roster.call(person)} no number to key",
            }
    for number in roster.holders:
        holders = roster.holders_now(number)
        for first, other in [(holders[0], other) for other in holders[1:]]:
            seen = [one for (_, keyed), one in facts.unowned.items() if keyed == number]
            yield {
                "kind": "shared_number",
                "person": first,
                "other": other,
                "number": number,
                **_together(seen),
                "evidence": f"the roster gives {number} to {roster.call(first)} and to {roster.call(other)}",
            }


def _together(seen: list[Seen]) -> Row:
    firsts = [one.first_at for one in seen if one.first_at is not None]
    lasts = [one.last_at for one in seen if one.last_at is not None]
    return {
        "punches": sum(one.punches for one in seen),
        "first_at": min(firsts, default=None),
        "last_at": max(lasts, default=None),
    }


def _not_enrolled(facts: Picture) -> Iterator[Row]:
    roster = facts.roster
    known: dict[str, set[str | None]] = {}
    for one in facts.standings:
        at = facts.readers.get(one.reader, {}).get("site")
        hands = roster.holders_now(one.number) if one.state in ("right", "shared") else (one.person,)
        for person in hands:
            if person:
                known.setdefault(person, set()).add(at)
    for person in roster.here:
        number, site = roster.number(person), roster.entries[person]["site"]
        if not number or (site in known.get(person, ()) if site else known.get(person)):
            continue
        there = sorted(name for name, row in facts.readers.items() if site is None or row["site"] == site)
        where = f"site {site}" if site else "any site"
        yield {
            "kind": "not_enrolled",
            "person": person,
            "number": number,
            "punches": 0,
            "evidence": f"{number} is on none of the readers of {where} ({', '.join(there)})"
            if there
            else f"{where} has no reader on which {number} could be enrolled",
        }


SAYS = {
    "wrong": ("wrong_number", "{number} at {reader} is the hand of {person}, whose number is {right}: {why}"),
    "zeros": ("lost_zeros", "{number} at {reader} is the hand of {person}, whose number is {right}: {why}"),
    "leaver": ("leaver_enrolled", "{number} is still enrolled at {reader}; {person}, who held it, left on {left}"),
    "other_hand": ("shared_number", "at {reader} {why}"),
    "unknown": ("unknown_enrolment", "{number} is enrolled at {reader}{named}, and nobody on the roster holds it{why}"),
}


def _enrolments(facts: Picture) -> Iterator[Row]:
    roster = facts.roster
    for one in facts.standings:
        if one.state not in SAYS:
            continue
        kind, words = SAYS[one.state]
        seen = facts.seen.get((one.reader, one.number), Seen())
        entry = roster.entries[one.person] if one.person else {}
        right = roster.number(one.person) if one.person else None
        says = words.format(
            number=one.number,
            reader=one.reader,
            person=roster.call(one.person) if one.person else "",
            right=right,
            left=entry.get("left_on"),
            named=f" with the name '{one.name}'" if one.name else "",
            why=f"; {one.why}" if one.state == "unknown" and one.why else one.why,
        )
        yield {
            "kind": kind,
            "reader": one.reader,
            "person": one.person,
            "number": one.number,
            "other": one.holder if one.state == "other_hand" else right if one.state in ("wrong", "zeros") else None,
            "punches": seen.punches,
            "first_at": seen.first_at,
            "last_at": seen.last_at,
            "evidence": says + (f"; {seen} {facts.when(one.reader, seen)}" if seen.punches else ""),
        }
