"""Publish a declared table as an open table schema.

Source: Table Schema (Data Package standard v2), https://datapackage.org/standard/table-schema/
"""

from __future__ import annotations

from typing import Any

from evenhand.terms.columns import Column, Kind, Table

__all__ = ["table_schema"]

FIELD_TYPES: dict[Kind, str] = {
    "text": "string",
    "date": "date",
    "instant": "datetime",
    "seconds": "integer",
    "count": "integer",
    "score": "number",
    "yes_no": "boolean",
    "money": "number",
}


def table_schema(table: Table) -> dict[str, Any]:
    """Return the table's schema as a Table Schema descriptor; units stand in the custom property `unit`."""
    descriptor: dict[str, Any] = {
        "name": table.name,
        "title": table.title,
        "fields": [_field(column) for column in table.columns],
        "missingValues": [""],
    }
    if table.key:
        descriptor["primaryKey"] = list(table.key)
    return descriptor


def _field(column: Column) -> dict[str, Any]:
    constraints: dict[str, Any] = {"required": True} if column.required else {}
    if column.allowed:
        constraints["enum"] = list(column.allowed)
    if column.minimum is not None:
        constraints["minimum"] = column.minimum
    field: dict[str, Any] = {
        "name": column.name,
        "type": FIELD_TYPES[column.kind],
        "description": column.meaning + ".",
    }
    if column.unit:
        field["unit"] = column.unit
    if constraints:
        field["constraints"] = constraints
    return field
