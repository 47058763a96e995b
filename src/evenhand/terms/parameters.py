"""The law's numbers: dated values with unit and citation.

Those that ship stand beside their rules, made by `dated`. A workplace's own come from files of its workspace, a table
per parameter: `meaning`, `unit`, and `values`, each with `from`, `value` and `cites`, in the order in which they took
effect.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from itertools import pairwise
from typing import Any

from evenhand.terms.records import Citation, Refusal

__all__ = ["Numbers", "OwnRules", "Parameter", "dated", "parse_parameters"]

PARAMETER_KEYS = {"meaning", "unit", "values"}
VALUE_KEYS = {"from", "value", "cites"}


@dataclass(frozen=True)
class Parameter:
    """A number of the law and its values by date of effect, earliest first."""

    name: str
    meaning: str
    unit: str
    values: tuple[tuple[date, int | tuple[int, ...], Citation], ...]

    def on(self, day: date) -> Any:
        """Return the value in force on `day`; raises Refusal before the first one."""
        found = self.in_force(day)
        if found is None:
            raise Refusal(
                f"{self.name}: no value is known for {day.isoformat()}, the first took effect on "
                f"{self.values[0][0].isoformat()}; leave earlier punches out."
            )
        return found[0]

    def in_force(self, day: date) -> tuple[Any, Citation] | None:
        """Return the value in force on `day` with its citation; None before the first one."""
        begun = [(value, cites) for since, value, cites in self.values if since <= day]
        return begun[-1] if begun else None

    def overridden(self, other: Parameter) -> Parameter:
        """Return this parameter with `other`'s values from the first of them on; what was in force before stays."""
        begins = other.values[0][0]
        return replace(self, values=(*(value for value in self.values if value[0] < begins), *other.values))


def dated(name: str, meaning: str, unit: str, *values: tuple[date, int | tuple[int, ...], str]) -> Parameter:
    """Return a parameter from its values, each with its date of effect and its source, earliest first."""
    return Parameter(
        name, meaning, unit, tuple((since, value, Citation(cites, since=since)) for since, value, cites in values)
    )


Numbers = Mapping[str, Mapping[str, Parameter]]
"""Numbers by rule, such as us_federal.overtime, and parameter."""


@dataclass(frozen=True)
class OwnRules:
    """A workplace's own jurisdiction: `based_on` names a shipped one, `files` hold parameters by file and name."""

    name: str
    based_on: str
    files: Mapping[str, Mapping[str, Parameter]] = field(default_factory=dict)


def parse_parameters(text: str, file: str) -> dict[str, Parameter]:
    """Return the parameters written in `text`; raises Refusal naming `file`, the key and what is wrong."""
    try:
        tables = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise Refusal(f"{file}: not readable as TOML ({error}); mend the file.") from error
    return {key: _parameter(key, table, file) for key, table in tables.items()}


def _parameter(key: str, table: Any, file: str) -> Parameter:
    if not isinstance(table, dict):
        raise Refusal(f"{file}: {key} is not a table; write [{key}] with meaning, unit and values.")
    _same_keys(key, table, PARAMETER_KEYS, file)
    values = tuple(_value(f"{key}.values", entry, file) for entry in table["values"])
    if not values:
        raise Refusal(f"{file}: {key} has no values; give at least one with its date of effect.")
    for (earlier, _, _), (later, _, _) in pairwise(values):
        if later <= earlier:
            raise Refusal(
                f"{file}: {key}.values overlap, {later.isoformat()} follows {earlier.isoformat()}; "
                "list each date of effect once, earliest first."
            )
    return Parameter(key, table["meaning"], table["unit"], values)


def _value(key: str, entry: Any, file: str) -> tuple[date, int | tuple[int, ...], Citation]:
    _same_keys(key, entry, VALUE_KEYS, file)
    since, seen, cites = entry["from"], entry["value"], entry["cites"]
    if type(since) is not date:
        raise Refusal(f"{file}: {key} has from = {since!r}; write a date such as 1940-10-24.")
    numbers = seen if isinstance(seen, list) else [seen]
    if not numbers or any(type(number) is not int or number < 0 for number in numbers):
        raise Refusal(f"{file}: {key} has value = {seen!r}; write whole numbers that are not negative.")
    if not cites:
        raise Refusal(f"{file}: {key} cites nothing; name the source of {seen!r}.")
    return since, tuple(seen) if isinstance(seen, list) else seen, Citation(cites, since=since)


def _same_keys(key: str, table: Mapping[str, Any], expected: set[str], file: str) -> None:
    for unknown in sorted(set(table) - expected):
        raise Refusal(f"{file}: {key} has the unknown key {unknown}; the keys are {', '.join(sorted(expected))}.")
    for missing in sorted(expected - set(table)):
        raise Refusal(f"{file}: {key} lacks {missing}; add it.")
