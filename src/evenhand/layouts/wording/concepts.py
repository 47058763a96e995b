"""Which declared column of which table a concept may be, and what words cost that stand beside one.

`FIELD_CONCEPTS` gives for each declared column how often files of its table have it, and what they call it there: a
concept, with the natural logarithm of how likely it is beside the plainest one (0 where none is written). Weights are
judgement, tried on made files.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from evenhand.layouts.wording.phrases import PHRASES

__all__ = ["BESIDE", "FIELD_CONCEPTS", "GENERIC", "Field"]

# Concepts that say nothing of what they are: a number of an unknown thing is no badge's, an unknown date no hire's.
GENERIC = frozenset(
    [
        "number",
        "identifier",
        "name",
        "date",
        "time",
        "moment",
        "type",
        "status",
        "label",
        "start",
        "end",
        "amount",
        "units",
        "valid_from",
        "valid_to",
    ]
)

# What a meaning costs that stands in a header beside a concept and changes little of it; any other says much more.
BESIDE: dict[str, float] = {
    "whole": 0.1,
    "flag": 0.1,
    "qualifier": 0.3,
    "degree": 0.2,
    "work": 0.4,
    "count": 0.3,
    "employee": 0.3,
    "punch": 0.3,
    "shift": 0.6,
    "number": 0.5,
    "name": 0.5,
    "identifier": 0.5,
    "code": 0.6,
    "date": 0.7,
    "time": 1.0,
    "zone": 1.5,
    "reader": 1.2,
    "clock": 1.0,
    "status": 1.0,
    "type": 1.2,
}


@dataclass(frozen=True)
class Field:
    """How often files of a table have this column, from 0 to 1, and by which concepts they call it, with weights."""

    share: float
    concepts: Mapping[str, float]


def _field(share: float, said: str) -> Field:
    """Return the field whose concepts `said` lists, each followed by its weight where that is not 0."""
    concepts: dict[str, float] = {}
    for one in said.split(","):
        name, _, weight = one.strip().partition(" ")
        concepts[name] = float(weight or 0)
    assert concepts.keys() <= PHRASES.keys(), concepts
    return Field(share, concepts)


_OF_PERSON = "person_id, person -0.7, own_number -0.5, identifier -0.7, number -2.5, keyed_number -3.5"
_OF_NUMBER = "keyed_number, number -0.4, own_number -1, identifier -0.8, person_id -2, person -2"

FIELD_CONCEPTS: dict[str, dict[str, Field]] = {
    "people": {
        "person": _field(0.75, "person_id, own_number -0.5, person -1.5, identifier -0.7, number -2"),
        "name": _field(0.97, "name, person -0.7, family_name -2, given_name -4"),
        "number": _field(0.8, "keyed_number, number -0.6, own_number -1.4, identifier -1.4"),
        "site": _field(0.6, "site, place -2"),
        "department": _field(0.5, "department, cost_centre -1.3"),
        "is_supervisor": _field(0.3, "supervisor, role -0.7, level -1.5, title -2, manager -1.5"),
        "hired_on": _field(0.5, "hired, work_start -0.3, start -1.5, time_in -2.5"),
        "left_on": _field(0.35, "left, work_end -0.3, end -1.5, time_out -2.5"),
        "phone": _field(0.25, "phone"),
        "address": _field(0.15, "address"),
        "hourly_rate": _field(0.2, "hourly_rate, amount -2"),
    },
    "readers": {
        "reader": _field(0.97, "reader, name -1, identifier -1, number -2, label -1.5"),
        "site": _field(0.9, "site, place -3"),
        "place": _field(0.6, "place, site -2, label -1.5, address -2.5"),
        "zone": _field(0.9, "zone"),
        "max_digits": _field(0.5, "digits, length -0.5, most -1.2"),
        "capacity": _field(0.4, "capacity, most -0.7"),
    },
    "enrolments": {
        "reader": _field(0.65, "reader, place -2, site -6, name -4"),
        "number": _field(0.99, _OF_NUMBER),
        "name": _field(0.7, "name, label -1, person -1, family_name -2"),
        "is_supervisor": _field(0.5, "supervisor, level, role -0.7, manager -1.5, title -2"),
        "enrolled_on": _field(0.6, "enrolled, date -0.7, change -2.5"),
        "presentations": _field(0.4, "presentations"),
    },
    "punches": {
        "reader": _field(0.7, "reader, place -2.5, site -2"),
        "number": _field(0.99, _OF_NUMBER),
        "at": _field(0.99, "moment, time -0.5, punch -1, date -1.5"),
        "direction": _field(0.7, "direction, type -0.6, punch -1, status -1"),
        "outcome": _field(0.4, "outcome, status -0.7, type -2.5"),
        "score": _field(0.35, "score"),
    },
    "schedules": {
        "person": _field(0.99, _OF_PERSON),
        "starts_at": _field(0.99, "start, work_start -0.3, time_in -3.5, hired -2"),
        "ends_at": _field(0.99, "end, work_end -0.3, time_out -3.5, left -2"),
    },
    "consent": {
        "person": _field(0.99, _OF_PERSON),
        "given_on": _field(0.99, "given, date -1.5"),
        "form": _field(0.6, "form"),
        "withdrawn_on": _field(0.6, "withdrawn"),
    },
    "rates": {
        "person": _field(0.99, _OF_PERSON),
        "valid_from": _field(0.99, "valid_from, start -0.7, date -1.5, hired -2"),
        "valid_to": _field(0.5, "valid_to, end -0.7, left -2"),
        "reader": _field(0.2, "reader, place -2"),
        "plan": _field(0.4, "plan"),
        "amount": _field(0.99, "hourly_rate, amount -1"),
        "salary_for": _field(0.3, "salary_for"),
        "covers_hours": _field(0.2, "covers_hours, sum -2"),
        "floor": _field(0.15, "floor"),
    },
    "earnings": {
        "person": _field(0.99, _OF_PERSON),
        "earned_from": _field(0.99, "earned_from, start -0.7, hired -1.5, valid_from -1.5"),
        "earned_to": _field(0.99, "earned_to, end -0.7, left -1.5, valid_to -1.5"),
        "kind": _field(0.99, "earning_kind, type -0.5"),
        "amount": _field(0.9, "amount -0.5"),
        "units": _field(0.4, "units"),
        "label": _field(0.4, "label, name -1, remark -2.5"),
    },
}
