"""What an access report is made of: parts with rows, each row as plain values under declared columns."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from evenhand.terms.columns import Column

__all__ = ["AccessPart"]


@dataclass(frozen=True)
class AccessPart:
    """One part of the report: its columns, and its rows in order. `name` is what its tables are covered under."""

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[dict[str, Any], ...]
    note: str = ""
