"""Which columns of a file are which of a table, taken together, and how likely that is beside every other way."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from heapq import nlargest
from itertools import product

from evenhand.layouts.assignment import assign
from evenhand.layouts.evidence.column import ColumnSeen
from evenhand.layouts.evidence.fit import fit_of
from evenhand.layouts.joined import Option, joined_options
from evenhand.layouts.wording.concepts import FIELD_CONCEPTS
from evenhand.terms.columns import Table

__all__ = ["Match", "Matching"]

Columns = Mapping[str, tuple[int, ...]]

MOST = 40  # columns that are thought of as one declared column, the likeliest
NOTICED = -4.0  # what is less likely is not thought of as another use of a column


@dataclass(frozen=True)
class Match:
    """Declared columns with the file's, from 0, and the logarithm of how likely the file is so, beside no table."""

    columns: Columns
    weight: float


@dataclass(frozen=True)
class Matching:
    """The columns of a file beside those of one table.

    `fixed` are declared columns whose source is known, `barred` columns of the file that are none of the table's.
    """

    table: Table
    seen: Sequence[ColumnSeen]
    fixed: Columns = field(default_factory=dict)
    barred: frozenset[int] = frozenset()

    @cached_property
    def worth(self) -> dict[str, dict[int, float]]:
        """Return what each column is worth to each declared one that it may be by itself, being missing worth 0."""
        fields = FIELD_CONCEPTS[self.table.name]
        joined = {name for group in self.options for option, _ in group for name in option}
        instants = {column.name for column in self.table.columns if column.kind == "instant"}
        worth: dict[str, dict[int, float]] = {}
        taken = self.barred.union(*self.fixed.values()) if self.fixed else self.barred
        for column in self.table.columns:
            if column.name in self.fixed or column.name in instants & joined or column.name in instants:
                continue
            bonus = _odds(fields[column.name].share)
            fits = [
                (value, one.position)
                for one in self.seen
                if one.position not in taken and (value := fit_of(one, self.table.name, column) + bonus) > NOTICED
            ]
            worth[column.name] = {at: value for value, at in nlargest(MOST, fits, key=lambda fit: (fit[0], -fit[1]))}
        return worth

    @cached_property
    def options(self) -> list[list[Option]]:
        """Return the ways in which declared columns may stand in several of the file's, with what they are worth."""
        fields = FIELD_CONCEPTS[self.table.name]
        taken = self.barred.union(*self.fixed.values()) if self.fixed else self.barred
        groups = []
        for group in joined_options(self.table, self.seen):
            free = [
                (option, fit + sum(_odds(fields[name].share) for name in option))
                for option, fit in group
                if not option.keys() & self.fixed.keys() and not taken.intersection(*[_all(option)])
            ]
            groups.append(sorted(free, key=lambda one: -one[1]))
        return groups

    @cached_property
    def floor(self) -> float:
        """Return how likely a file of the table is that has none of its columns, but for those that are fixed."""
        return sum(
            math.log(of.share if name in self.fixed else 1 - of.share)
            for name, of in FIELD_CONCEPTS[self.table.name].items()
        )

    @cached_property
    def best(self) -> Match:
        """Return the likeliest match."""
        return self.solve()

    def solve(self, without: Columns | None = None, given: Columns | None = None) -> Match:
        """Return the likeliest match in which no declared column is as in `without`, and those of `given` are."""
        without, given = without or {}, given or {}
        used = _all(given)
        worth = {
            name: {at: value for at, value in of_columns.items() if at not in used and without.get(name) != (at,)}
            for name, of_columns in self.worth.items()
            if name not in given
        }
        most = sum(max((value for value in of.values() if value > 0), default=0.0) for of in worth.values())
        best = Match({}, -math.inf)
        for chosen, gain in self._choices(without, given, used):
            if gain + most <= best.weight:
                break
            taken = _all(chosen)
            left = {
                name: {at: value for at, value in of_columns.items() if at not in taken}
                for name, of_columns in worth.items()
                if name not in chosen
            }
            found, sum_of = assign(left)
            if gain + sum_of > best.weight:
                best = Match({**chosen, **{name: (at,) for name, at in found.items()}}, gain + sum_of)
        columns = {**self.fixed, **given, **best.columns}
        ordered = {name: columns[name] for name in self.table.names if name in columns}
        return Match(ordered, best.weight + self.floor)

    def _choices(self, without: Columns, given: Columns, used: frozenset[int]) -> Iterator[Option]:
        """Yield what is chosen of each group together, what is worth most first."""
        free: list[list[Option]] = [
            [
                *(
                    (option, value)
                    for option, value in group
                    if not option.keys() & given.keys()
                    and not _all(option) & used
                    and not any(without.get(name) == sources for name, sources in option.items())
                ),
                ({}, 0.0),
            ]
            for group in self.options
        ]
        together = [
            ({name: sources for option, _ in each for name, sources in option.items()}, sum(v for _, v in each))
            for each in product(*free)
        ]
        yield from sorted(together, key=lambda one: -one[1])

    def likelihood_of(self, name: str) -> float:
        """Return how likely, from 0 to 1, the source of a declared column is beside every other one and none."""
        if name in self.fixed:
            return 1.0
        return _beside(self.best.weight, self.solve(without={name: self.best.columns[name]}).weight)

    def others(self, position: int) -> list[tuple[str, float]]:
        """Return what else a column may be, with the likelihood of each beside the best match."""
        if position in self.barred or any(position in sources for sources in self.fixed.values()):
            return []
        found = []
        for name, of_columns in self.worth.items():
            if position in of_columns and self.best.columns.get(name) != (position,):
                rest = self._without(name)
                if position in _all(rest.columns):
                    rest = self.solve(given={name: (position,)})
                found.append((name, _beside(rest.weight + of_columns[position], self.best.weight)))
        return sorted(found, key=lambda one: -one[1])

    def _without(self, name: str) -> Match:
        """Return the likeliest match in which a declared column is missing."""
        if name not in self.best.columns:
            return self.best
        if name not in self._lacking:
            self._lacking[name] = self.solve(given={name: ()})
        return self._lacking[name]

    @cached_property
    def _lacking(self) -> dict[str, Match]:
        return {}

    def missing(self) -> list[str]:
        """Return the required columns that the file seems not to have."""
        return [
            column.name for column in self.table.columns if column.required and column.name not in self.best.columns
        ]


def _beside(weight: float, other: float) -> float:
    return 1 / (1 + math.exp(min(700.0, other - weight)))


def _odds(share: float) -> float:
    return math.log(share / (1 - share))


def _all(columns: Columns) -> frozenset[int]:
    return frozenset(at for sources in columns.values() for at in sources)
