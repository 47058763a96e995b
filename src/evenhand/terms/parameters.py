"""The law's numbers: dated values with unit and citation.

Those that ship stand beside their rules, made by `dated`. A workplace's own come from files of its workspace.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from evenhand.terms.languages import told
from evenhand.terms.records import Citation, Refusal

__all__ = ["Numbers", "OwnRules", "Parameter", "dated"]


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
                told(
                    "{name}: no value is known for {day:iso}, the first took effect on {first:iso}; "
                    "leave earlier punches out.",
                    name=self.name,
                    day=day,
                    first=self.values[0][0],
                )
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
