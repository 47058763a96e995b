"""Columns that belong to nothing: birthdays, accounts, remarks, running numbers and their like."""

from __future__ import annotations

import random
from collections.abc import Callable

from bench.corpus.sheets import Sheet
from bench.corpus.workplaces import Person
from bench.corpus.writing import Field, Writer

__all__ = ["extras"]


def extras(w: Writer, table: str, sheet: Sheet, count: int) -> list[Field]:
    """Return columns that belong to nothing."""
    rng, rows = w.rng, len(sheet.truth)
    about = sheet.people

    def filled(get: Callable[[Person], object]) -> list[object]:
        return [get(one) for one in about] if about else []

    def boss(one: Person) -> str:
        lead = w.place.people[_drawn(one.person) % min(3, len(w.place.people))]
        return f"{lead.given} {lead.family}"

    serial_from = rng.randint(1, 90_000)
    made: dict[str, Callable[[], list[object]]] = {
        "running": lambda: [w.count(at + 1) for at in range(rows)],
        "remark": lambda: [rng.choice(w.place.parts["remarks"]) if rng.random() < 0.2 else "" for _ in range(rows)],
        "checksum": lambda: [f"{(serial_from * (at + 7) * 7919) % 65_536:04X}" for at in range(rows)],
    }
    if about:
        made |= {
            "birthday": lambda: filled(lambda one: w.day(one.birthday)),
            "email": lambda: filled(lambda one: f"{one.given[:1]}.{one.person}@example.org".lower().replace(" ", "")),
            "account": lambda: filled(lambda one: f"{_drawn(one.person + one.family) % 10**10:010d}"),
            "boss": lambda: filled(boss),
            "age": lambda: filled(lambda one: w.count(2026 - one.birthday.year)),
            "title": lambda: filled(lambda one: one.title),
        }
        if table == "people" and any("department" in one.uses for one in sheet.fields):
            made["cost"] = lambda: filled(lambda one: str(4_000 + _drawn(one.department) % 900))
        if table in {"punches", "enrolments"} and not any("name" in one.uses for one in sheet.fields):
            made["name"] = lambda: filled(lambda one: f"{one.family}, {one.given}")
        if table == "enrolments":
            made.pop("name", None)
        if table in {"punches", "schedules"}:
            made["department"] = lambda: filled(lambda one: one.department)
            if table == "punches":
                made["person"] = lambda: filled(lambda one: one.person)
    weights = {"running": 2.0, "name": 4.0, "remark": 2.0, "birthday": 1.5, "boss": 1.5, "department": 2.0}
    chosen: list[Field] = []
    names = list(made)
    while names and len(chosen) < count:
        concept = rng.choices(names, [weights.get(name, 1.0) for name in names])[0]
        names.remove(concept)
        try:
            header = w.header(concept)
        except LookupError:
            continue
        chosen.append(Field(header, made[concept](), (), right=concept in {"running", "age"}))  # type: ignore[arg-type]
    return chosen


def _drawn(text: str) -> int:
    """Return a number that a text always gives."""
    return random.Random(text).randrange(1 << 30)
