"""A check that words one kind of discrepancy between roster, readers and punches."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from typing import Any

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import with_days

__all__ = ["Disagreement", "Row", "Told", "by"]

Row = dict[str, Any]
Told = dict[str, Any]


@dataclass(frozen=True)
class Disagreement(Check):
    """A check whose code is the kind of discrepancy that it words; rows with the same values `by` are one finding.

    `subject`, `says` and `do` are written with {who}, {person}, {number}, {right} (the other number), {reader} and
    {readers} of those rows; what they need beyond that, `more` gives. Where `do` depends on the rows it is a function
    of them and of these words. `people` says how many are at stake; `most` is how many rows are told as evidence, to
    which `also` may add, and `beside` gives more details. Rows about numbers that another check tells of,
    `told_elsewhere`, are left out.
    """

    by: tuple[str, ...]
    subject: str
    says: str
    do: str | Callable[[Facts, list[Row], Told], str]
    law: str = ""
    most: int | None = None
    people: Callable[[Facts, list[Row]], int] = lambda facts, rows: 1
    more: Callable[[Facts, list[Row]], dict[str, str]] = lambda facts, rows: {}
    also: Callable[[Facts, list[Row]], tuple[str, ...]] = lambda facts, rows: ()
    told_elsewhere: Callable[[Facts], Collection[str]] = lambda facts: ()
    beside: Callable[[Facts, list[Row]], dict[str, Any]] = lambda facts, rows: {}

    def find(self, facts: Facts) -> Iterator[Finding]:
        """Yield a finding per group of discrepancies, in the order of the frame."""
        rows = facts.discrepancies_of(self.code).rows(named=True)
        if rows and (told := self.told_elsewhere(facts)):
            rows = [row for row in rows if row["number"] not in told and row["other"] not in told]
        for group in by(rows, *self.by).values():
            yield self._worded(facts, group)

    def _worded(self, facts: Facts, rows: list[Row]) -> Finding:
        first, readers = rows[0], sorted({row["reader"] for row in rows if row["reader"]})
        given = {
            "who": call(facts, first["person"]),
            "right": first["other"],
            "readers": told("{names:listed}", names=readers),
        }
        given |= {name: first[name] for name in ("person", "number", "reader")} | self.more(facts, rows)
        # what `do` returns holds names as people wrote them, which are not to be filled in again
        do = told(self.do, **given) if isinstance(self.do, str) else self.do(facts, rows, given)
        return Finding(
            code=self.code,
            subject=self.subject.format(**given),
            person=_shared(rows, "person"),
            reader=_shared(rows, "reader"),
            number=_shared(rows, "number"),
            says=told(self.says, **given),
            evidence=(
                *(told("{says:again}.", says=with_days(row["evidence"])) for row in rows[: self.most]),
                *self.also(facts, rows),
            ),
            stake=Stake(people=self.people(facts, rows), law=self.law),
            next_step=do,
            details={name: [row[column] for row in rows] for name, column in DETAILS.items()}
            | self.beside(facts, rows),
        )


DETAILS = {"people": "person", "numbers": "number", "readers": "reader"}


def _shared(rows: list[Row], column: str) -> str | None:
    """The value that all rows have, if it is one."""
    values = {row[column] for row in rows}
    return values.pop() if len(values) == 1 else None


def by(rows: list[Row], *columns: str) -> dict[tuple[Any, ...], list[Row]]:
    """Return the rows grouped by these columns, in order of appearance."""
    groups: dict[tuple[Any, ...], list[Row]] = {}
    for row in rows:
        groups.setdefault(tuple(row[column] for column in columns), []).append(row)
    return groups
