"""By what somebody is known in a workspace: identifiers, names, numbers; and which presentations are theirs."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass

import polars as pl

from evenhand import reconcile
from evenhand.store import frames
from evenhand.store.database import Connection
from evenhand.store.erasing import Traces
from evenhand.terms.columns import Frame
from evenhand.terms.settings import Settings

__all__ = ["Whom", "known_of", "name_forms"]

MINUTE_S = 60


@dataclass(frozen=True)
class Whom:
    """What is known of a person: the `traces`, `presentations` (reader, number, minute), and how many punches under
    their own numbers were `given` to others by hand, which are those people's records.
    """

    traces: Traces
    presentations: Frame
    given: int

    def is_theirs(self) -> pl.Expr:
        """Return whether a presentation under one of the person's own numbers stands with nobody else."""
        return pl.col("number").is_in(list(self.traces.numbers))


def known_of(conn: Connection, person: str, settings: Settings) -> Whom:
    """Return by what a person of the roster is known, looked for in everything that is stored."""
    people, changes = frames.people(conn), frames.changes(conn)
    ids = {person} | {one for one, known in frames.known_as(conn).items() if known == person}
    row = people.filter(pl.col("person") == person).row(0, named=True)
    held = _numbers_held(people, changes)
    mine = {number for who, number in held if who in ids}
    theirs = {number for who, number in held if who not in ids} | (set(people["person"].to_list()) - ids)
    enrolled = frames.enrolments_ever(conn)
    borne = {form.casefold() for form in name_forms(row["name"])}
    named = enrolled.filter(pl.col("name").str.to_lowercase().is_in(list(borne)))["number"].to_list()
    mine |= set(named) - theirs
    numbers, shared = frozenset(mine - theirs), frozenset(mine & theirs)
    others = {
        form.casefold()
        for name in people.filter(~pl.col("person").is_in(list(ids)))["name"]
        for form in name_forms(name)
    }
    names = tuple(form for form in name_forms(row["name"]) if form.casefold() not in others and _is_full(form))
    presentations, given = _presentations(conn, people, settings, ids, numbers, shared)
    return Whom(Traces(frozenset(ids), names, numbers, shared), presentations, given)


def name_forms(name: str) -> list[str]:
    """Return how a name may be written: as it is, family name last, family name first, with a comma."""
    parts = re.split(r"[\s,]+", name.strip())
    if len(parts) < 2:
        return [name.strip()]
    turned = [" ".join([parts[-1], *parts[:-1]]), " ".join([*parts[1:], parts[0]])]
    return list(dict.fromkeys([name.strip(), " ".join(parts), *turned, f"{parts[-1]}, {' '.join(parts[:-1])}"]))


def _is_full(form: str) -> bool:
    return " " in form.strip()


def _numbers_held(people: Frame, changes: Frame) -> set[tuple[str, str]]:
    """Return person and number of everybody, now and before any file changed it."""
    held: set[tuple[str, str]] = set(people.select("person", "number").drop_nulls().iter_rows())
    of_people = changes.filter(pl.col("table") == "people").select("row_key", "was")
    for row_key, was in of_people.iter_rows():
        if number := json.loads(was).get("number"):
            held.add((json.loads(row_key)["person"], number))
    return held


def _presentations(
    conn: Connection,
    people: Frame,
    settings: Settings,
    ids: Iterable[str],
    numbers: frozenset[str],
    shared: frozenset[str],
) -> tuple[Frame, int]:
    recorded, readers = frames.recorded(conn), frames.readers(conn)
    found = reconcile.attribute(recorded, people, readers, frames.corrections(conn), policy=settings.policy)
    whose = found.attributed.select("punch", "person")
    is_mine = pl.col("person").cast(pl.String).is_in(list(ids))
    mine, others = whose.filter(is_mine)["punch"], whose.filter(~is_mine)["punch"]
    of_numbers = recorded.filter(pl.col("number").is_in(list(numbers | shared)))
    holder = reconcile.holders(of_numbers, people, readers, settings.policy).cast(pl.String)
    held = of_numbers.filter(holder.is_in(list(ids)).fill_null(value=False))["punch"]
    sole = recorded.filter(pl.col("number").is_in(list(numbers)))["punch"]
    theirs = pl.concat([mine, held, sole]).unique()
    given = theirs.filter(theirs.is_in(others.implode()))
    rows = recorded.filter(pl.col("punch").is_in(theirs.implode()), ~pl.col("punch").is_in(others.implode()))
    minutes = rows.select("reader", "number", minute=pl.col("at") // MINUTE_S).unique()
    return minutes, given.len()
