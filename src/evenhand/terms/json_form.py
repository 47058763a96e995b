"""The one JSON form of everything that is printed for scripts, and its schema, both from the declared records.

An instant is a text with its offset, such as `2026-03-04T12:53:00Z`, a day `2026-03-04`, a duration whole seconds, and
money a text with all its digits. Every name stands always; what is not known is null.

Source: JSON Schema, draft 2020-12, https://json-schema.org/draft/2020-12
"""

from __future__ import annotations

import dataclasses
import types
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints, is_typeddict

from evenhand.terms.columns import Column, Frame, Kind, Table

__all__ = ["Either", "Row", "RowsOf", "as_json_value", "json_schema"]

DRAFT = "https://json-schema.org/draft/2020-12/schema"
INSTANTS = ("at", "starts", "ends")
"""Whole numbers under these names, and under names that end in `_at`, are instants [s since 1970-01-01T00:00:00Z]."""


@dataclass(frozen=True)
class Row:
    """A row of a declared table, with some of its columns where they are named and with more columns beside them."""

    table: Table
    names: tuple[str, ...] = ()
    more: tuple[Column, ...] = ()

    @property
    def columns(self) -> tuple[Column, ...]:
        """Return the columns that the row has."""
        chosen = tuple(self.table.column(name) for name in self.names) if self.names else self.table.columns
        return chosen + self.more


@dataclass(frozen=True)
class RowsOf:
    """A list of rows, as `Row` is one."""

    table: Table
    names: tuple[str, ...] = ()
    more: tuple[Column, ...] = ()


@dataclass(frozen=True)
class Either:
    """One of several forms."""

    forms: tuple[Any, ...]


# ---- values


def as_json_value(value: Any) -> Any:
    """Return records, frames and their mixtures as what JSON knows."""
    if isinstance(value, Frame):
        return [as_json_value(row) for row in value.iter_rows(named=True)]
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return as_json_value(_fields(value))
    if isinstance(value, tuple) and hasattr(value, "_asdict"):
        return as_json_value(value._asdict())
    if isinstance(value, Mapping):
        return {str(key): _named(key, item) for key, item in value.items()}
    if isinstance(value, (set, frozenset)):
        return [as_json_value(item) for item in sorted(value)]
    if isinstance(value, (list, tuple)):
        return [as_json_value(item) for item in value]
    if isinstance(value, datetime):
        return value.astimezone(UTC).isoformat().replace("+00:00", "Z")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Decimal):
        return f"{value:f}"
    return str(value) if hasattr(value, "__fspath__") else value


def _fields(record: Any) -> dict[str, Any]:
    return {field.name: getattr(record, field.name) for field in dataclasses.fields(record)}


def _named(name: object, value: Any) -> Any:
    if _is_instant(name) and isinstance(value, int) and not isinstance(value, bool):
        value = datetime.fromtimestamp(value, UTC)
    return as_json_value(value)


def _is_instant(name: object) -> bool:
    return isinstance(name, str) and (name in INSTANTS or name.endswith("_at"))


# ---- schema

# Not every validator knows the format; the pattern holds all of them to an offset.
INSTANT = {"type": "string", "format": "date-time", "pattern": r"T.*(Z|[+-]\d\d:\d\d)$"}
KINDS: dict[Kind, dict[str, Any]] = {
    "text": {"type": "string"},
    "date": {"type": "string", "format": "date"},
    "instant": INSTANT,
    "seconds": {"type": "integer"},
    "count": {"type": "integer"},
    "score": {"type": "number"},
    "yes_no": {"type": "boolean"},
    "money": {"type": "string", "pattern": r"^-?\d+(\.\d+)?$"},
}
SCALARS: dict[Any, dict[str, Any]] = {
    str: KINDS["text"],
    int: KINDS["count"],
    float: KINDS["score"],
    bool: KINDS["yes_no"],
    date: KINDS["date"],
    datetime: INSTANT,
    Decimal: KINDS["money"],
    None: {"type": "null"},
    types.NoneType: {"type": "null"},
    Any: {},
    object: {},
}

Told = Mapping[tuple[str, str], Any]


def json_schema(form: Any, title: str, told: Told | None = None) -> dict[str, Any]:
    """Return the JSON Schema of what has this form: a type, a record, or rows of a declared table.

    `told` says what a field holds whose annotation does not, by the names of its record and the field: a frame's rows.
    Raises TypeError where it is told nowhere.
    """
    made = _Schema(told or {})
    whole = made.of(form)
    return {"$schema": DRAFT, "title": title, **whole, "$defs": dict(sorted(made.records.items()))}


class _Schema:
    """Schemas by form; records are described once and referred to."""

    def __init__(self, told: Told) -> None:
        self.told = told
        self.records: dict[str, Any] = {}

    def of(self, form: Any) -> dict[str, Any]:
        """Return the schema of one form."""
        if isinstance(form, RowsOf):
            return {"type": "array", "items": self.of(Row(form.table, form.names, form.more))}
        if isinstance(form, Either):
            return {"anyOf": [self.of(one) for one in form.forms]}
        if isinstance(form, Row):
            return _object({column.name: _column(column) for column in form.columns}, form.table.title)
        if form in SCALARS:
            return SCALARS[form]
        if hasattr(form, "__fspath__"):
            return KINDS["text"]
        if isinstance(form, type) and get_origin(form) is None:
            return self._record(form)
        return self._composed(get_origin(form), get_args(form))

    def _composed(self, origin: Any, args: tuple[Any, ...]) -> dict[str, Any]:
        if origin is Literal:
            return {"enum": list(args)}
        if origin in (Union, types.UnionType):
            return {"anyOf": [self.of(arg) for arg in args]}
        if origin is tuple and args[-1:] != (Ellipsis,):
            items = [self.of(arg) for arg in args]
            return {"type": "array", "prefixItems": items, "items": False, "minItems": len(items)}
        if isinstance(origin, type) and issubclass(origin, Mapping):
            return {"type": "object", "additionalProperties": self.of(args[1])}
        if isinstance(origin, type) and issubclass(origin, Collection):
            return {"type": "array", "items": self.of(args[0])}
        raise TypeError(f"no JSON form is known for {origin}")

    def _record(self, record: type) -> dict[str, Any]:
        if not (dataclasses.is_dataclass(record) or is_typeddict(record) or hasattr(record, "_fields")):
            raise TypeError(f"no JSON form is known for {record}; tell what it holds")
        if record.__name__ not in self.records:
            self.records[record.__name__] = {}  # a record may hold its like
            fields = {name: self._field(record, name, hint) for name, hint in _annotated(record)}
            self.records[record.__name__] = _object(fields, _first_sentence(record))
        return {"$ref": f"#/$defs/{record.__name__}"}

    def _field(self, record: type, name: str, hint: Any) -> dict[str, Any]:
        if (record.__name__, name) in self.told:
            return self.of(self.told[record.__name__, name])
        if _is_instant(name):
            hint = datetime if hint is int else datetime | None if hint == int | None else hint
        return self.of(hint)


def _annotated(record: type) -> Iterator[tuple[str, Any]]:
    hints = get_type_hints(record)
    names = [field.name for field in dataclasses.fields(record)] if dataclasses.is_dataclass(record) else hints
    yield from ((name, hints[name]) for name in names)


def _object(properties: dict[str, Any], description: str) -> dict[str, Any]:
    return {
        "type": "object",
        "description": description,
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def _column(column: Column) -> dict[str, Any]:
    schema = {**KINDS[column.kind], "description": column.meaning + "."}
    if column.allowed:
        schema["enum"] = list(column.allowed)
    if column.required:
        return schema
    if "enum" in schema:
        schema["enum"] = [*schema["enum"], None]
    return schema | {"type": [schema["type"], "null"]}


def _first_sentence(record: type) -> str:
    return " ".join((record.__doc__ or "").split("\n\n")[0].split())
