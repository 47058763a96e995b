"""One invented site with two readers, and people whose days are written out by hand."""

from __future__ import annotations

from datetime import date
from typing import Any

import numpy as np
import polars as pl

from evenhand.linkage import Linkage, link
from evenhand.linkage.blocking import Pairs
from evenhand.linkage.roster import PeopleColumns, roster_of
from evenhand.linkage.strays import StrayColumns, group_strays
from evenhand.linkage.tables import DECIDED
from evenhand.terms.likeness.explain import explain
from evenhand.terms.settings import Policy
from evenhand.terms.sources import ENROLMENTS, PEOPLE, READERS, SCHEDULES
from evenhand.terms.tables import ATTRIBUTED, RECORDED

POLICY = Policy()
ZONES = {"GATE": "UTC", "DOCK": "UTC", "FAR": "UTC"}
MONDAY = 1_772_409_600  # 2026-03-02T00:00Z
DAY, HOUR = 86_400, 3600

READER_ROWS = READERS.rows(
    [
        {"reader": "GATE", "site": "Mill", "zone": "UTC"},
        {"reader": "DOCK", "site": "Mill", "zone": "UTC"},
        {"reader": "FAR", "site": "Quarry", "zone": "UTC"},
    ]
)

PEOPLE_ROWS: list[dict[str, Any]] = [
    {"person": "A", "name": "Ana Vell", "number": "4821", "site": "Mill"},
    {"person": "B", "name": "Ben Oor", "number": "7360", "site": "Mill"},
    {"person": "C", "name": "Cy Tamm", "number": "3057", "site": "Mill", "phone": "555-010-4281"},
    {"person": "D", "name": "Dee Quill", "number": "9914", "site": "Quarry"},
    {"person": "L", "name": "Lea Gone", "number": "6202", "site": "Mill", "left_on": date(2026, 2, 27)},
    *({"person": f"X{at}", "name": f"Other {at}", "number": str(2040 + 37 * at), "site": "Mill"} for at in range(20)),
]


def shifts(days: range, hour: int = 6) -> list[tuple[int, str]]:
    """In, out to the meal, in from it and out, an eight-hour shift from `hour` each day."""
    acts = ((0, "in"), (4, "out"), (4.5, "in"), (8, "out"))
    return [(MONDAY + DAY * day + int(HOUR * (hour + after)) - 240, way) for day in days for after, way in acts]


def stray(number: str, times: list[tuple[int, str]], reader: str = "GATE") -> list[dict[str, Any]]:
    return [{"reader": reader, "number": number, "at": at, "direction": way} for at, way in times]


def attributed(person: str, times: list[tuple[int, str]], reader: str = "GATE") -> list[dict[str, Any]]:
    return [{"person": person, "reader": reader, "zone": "UTC", "at": at, "direction": way} for at, way in times]


def everybody_else(days: range) -> list[dict[str, Any]]:
    return [row for at in range(20) for row in attributed(f"X{at}", shifts(days, 6 if at % 2 else 14))]


def linked(strays: list[dict[str, Any]], owns: list[dict[str, Any]], **more: Any) -> Linkage:
    people = PEOPLE.rows(more.pop("people", PEOPLE_ROWS))
    punches = RECORDED.rows(
        [
            {"punch": at, "outcome": "accepted", **{k: v for k, v in row.items() if k != "holder"}}
            for at, row in enumerate(strays)
        ]
    )
    held = [{"punch": 10_000 + at, **row} for at, row in enumerate(owns)]
    planned = more.pop("planned", {})
    schedules = SCHEDULES.rows(
        [
            {
                "person": who,
                "starts_at": MONDAY + DAY * day + HOUR * hour,
                "ends_at": MONDAY + DAY * day + HOUR * (hour + 8),
            }
            for who, (days, hour) in planned.items()
            for day in days
        ]
    )
    given = {
        "enrolments": ENROLMENTS.empty(),
        "refused": RECORDED.empty(),
        "policy": Policy(),
        "confirmed": DECIDED.empty(),
        "rejected": DECIDED.empty(),
    }
    holders = [row.get("holder") for row in strays]
    return link(
        punches.with_columns(holder=pl.Series(holders, dtype=pl.String)),
        roster=roster_of(people, READER_ROWS, ATTRIBUTED.rows(held), schedules),
        readers=READER_ROWS,
        explanations=explain(punches["number"], people),
        **{**given, **more},
    )


def strays_of(rows: list[dict[str, Any]], policy: Policy = POLICY) -> StrayColumns:
    """The strays of rows such as `stray` makes."""
    punches = RECORDED.rows([{"punch": at, **row} for at, row in enumerate(rows)])
    return group_strays(punches.with_columns(holder=pl.lit(None, pl.String)), ZONES, policy)


def roster(
    people: list[dict[str, Any]] | None = None,
    owns: list[dict[str, Any]] | None = None,
    planned: list[tuple[str, int, int]] | None = None,
) -> PeopleColumns:
    """A roster of rows; `planned` are (person, starts_at, ends_at)."""
    columns = ("person", "starts_at", "ends_at")
    return roster_of(
        PEOPLE.rows(PEOPLE_ROWS[:5] if people is None else people),
        READER_ROWS,
        ATTRIBUTED.rows([{"punch": 10_000 + at, **row} for at, row in enumerate(owns or [])]),
        SCHEDULES.rows([dict(zip(columns, one, strict=True)) for one in planned or []]),
    )


def every_pair(strays: StrayColumns, people: PeopleColumns) -> Pairs:
    """Every stray with everybody."""
    stray = np.repeat(np.arange(strays.size), people.size)
    return Pairs.of(stray, np.tile(np.arange(people.size), strays.size), strays.size)


def chances(linkage: Linkage, name: str) -> dict[str, float]:
    rows = linkage.candidates.filter(pl.col("stray") == name).select("person", "probability").rows()
    nobody = linkage.strays.filter(pl.col("stray") == name)["nobody"][0]
    return {**dict(rows), "nobody": nobody}
