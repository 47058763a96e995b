"""Who of the supervisors can do their part at the reader."""

from __future__ import annotations

from dataclasses import dataclass

import polars as pl

from evenhand.jobs.reckoning import Reckoning
from evenhand.terms.records import Unknown

__all__ = ["Supervisor", "supervisor_of", "supervisors_named"]


@dataclass(frozen=True)
class Supervisor:
    """A supervisor of the roster."""

    person: str
    name: str
    site: str | None


def supervisors_named(reckoning: Reckoning) -> list[Supervisor]:
    """Return the supervisors of the roster who are here, by name."""
    here = reckoning.snapshot.people.filter(
        pl.col("is_supervisor").fill_null(value=False),
        (pl.col("left_on") >= reckoning.day).fill_null(value=True),
    )
    rows = here.sort("name", "person").select("person", "name", "site").iter_rows()
    return [Supervisor(person, name or person, site) for person, name, site in rows]


def supervisor_of(reckoning: Reckoning, person: str) -> Supervisor:
    """Return a supervisor by identifier; raises Unknown where the roster names no such supervisor."""
    for one in supervisors_named(reckoning):
        if one.person == person:
            return one
    raise Unknown(f'"{person}" is no supervisor on the roster; `evenhand people` lists everybody.')
