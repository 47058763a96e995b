"""The people, numbers and enrolments that steps at readers can be about: few of all there are."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import polars as pl

from evenhand.reconcile.of_readers import able_supervisors
from evenhand.reconcile.roster import holders_now
from evenhand.terms.columns import Frame

__all__ = ["ACTED_ON", "Concerned", "concerned_by"]

Row = dict[str, Any]

ACTED_ON = (
    "few_supervisors",
    "leaver_enrolled",
    "lost_zeros",
    "not_enrolled",
    "release_ended",
    "shared_number",
    "supervisor_mismatch",
    "unknown_enrolment",
    "unattributed_punches",
    "wrong_number",
)
"""The kinds of discrepancy from which steps at readers follow."""


@dataclass(frozen=True)
class Concerned:
    """What is known of whoever and whatever the discrepancies name, and of every supervisor.

    `entries` are rows of the roster, `alone` the numbers with one holder who has not left, `able` the supervisors who
    can be enrolled, in the roster's order. `enrolled` holds by reader and number the rows concerned and those with
    authority; `counts` says how many hands each reader holds in all, `mates` how many of each department.
    Those in `another_way` give no hand.
    """

    entries: dict[str, Row]
    alone: frozenset[str]
    able: tuple[str, ...]
    enrolled: dict[str, dict[str, Row]]
    counts: dict[str, int]
    mates: dict[tuple[str, str], int]
    found: dict[str | None, list[Row]]
    another_way: frozenset[str] = frozenset()

    def number(self, person: str) -> str:
        """Return the person's number, or '' where the roster has none."""
        return str(self.entries[person]["number"] or "")

    def supervisors(self, site: str | None) -> Iterator[str]:
        """Yield who is employed at the site, may enrol others, and alone holds a number."""
        for person in self.able:
            if site is None or self.entries[person]["site"] in (None, site):
                yield person


def concerned_by(
    roster: Frame,
    readers: Frame,
    enrolments: Frame,
    discrepancies: Frame,
    another_way: frozenset[str] = frozenset(),
) -> Concerned:
    """Return what steps for these discrepancies can be about; `roster` is that of `roster_on`."""
    acting = discrepancies.filter(pl.col("kind").is_in(ACTED_ON))
    holders = holders_now(roster)
    able = able_supervisors(roster, holders)
    named = pl.concat([acting["person"], acting["other"], able["person"]]).unique()
    people = roster.filter(pl.col("person").is_in(named.implode()))
    numbers = pl.concat([acting["number"], acting["other"], people["number"]]).unique()
    rows = enrolments.filter(pl.col("number").is_in(numbers.implode()) | pl.col("is_supervisor"))
    enrolled: dict[str, dict[str, Row]] = {reader: {} for reader in readers["reader"]}
    for row in rows.select("reader", "number", "name", "is_supervisor").iter_rows(named=True):
        enrolled.setdefault(row["reader"], {})[row["number"]] = row
    found: dict[str | None, list[Row]] = {}
    for row in acting.iter_rows(named=True):
        found.setdefault(row["reader"], []).append(row)
    return Concerned(
        entries={row["person"]: row for row in people.iter_rows(named=True)},
        alone=frozenset(
            holders.filter(pl.col("number").is_in(numbers.implode()), pl.col("holders").list.len() == 1)["number"]
        ),
        able=tuple(able["person"]),
        enrolled=enrolled,
        counts=dict(enrolments.group_by("reader").len().iter_rows()),
        mates=_mates(roster, holders, enrolments) if None in found else {},
        found=found,
        another_way=another_way,
    )


def _mates(roster: Frame, holders: Frame, enrolments: Frame) -> dict[tuple[str, str], int]:
    departments = holders.join(roster.select("department", holder="person"), on="holder")
    there = enrolments.join(departments.drop_nulls("department"), on="number")
    return {(reader, name): count for reader, name, count in there.group_by("reader", "department").len().iter_rows()}
