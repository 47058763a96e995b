"""Rows of an invented paper mill, and short words for taking them."""

from __future__ import annotations

import itertools
from collections.abc import Collection
from typing import Any

import numpy as np

from evenhand.store import Store
from evenhand.store.taking import FileStored, FileTaken, taking
from evenhand.terms.sources import SOURCES

DIGESTS = itertools.count()
MORNING = 1_767_600_000  # 2026-01-05 08:00 UTC


def take(
    store: Store,
    table: str,
    rows: list[dict[str, Any]],
    given: Collection[str] | None = None,
    rejected: int = 0,
    digest: str = "",
    to_minute: bool = False,
) -> FileStored:
    source = FileTaken(f"{table}.csv", digest or f"digest {next(DIGESTS)}", "", MORNING, to_minute=to_minute)
    frame, lines = SOURCES[table].rows(rows), np.arange(2, len(rows) + 2)
    with taking(store, source, SOURCES[table], frame, lines, given=given, rejected=rejected) as kept:
        return kept


def punch(minute: int, number: str = "1041", **others: Any) -> dict[str, Any]:
    """Return a punch `minute` minutes after the morning began."""
    return {"reader": "GATE", "number": number, "at": MORNING + minute * 60, "direction": "in"} | others


def list_readers(store: Store) -> None:
    take(store, "readers", [{"reader": name, "site": "Mill", "zone": "America/Chicago"} for name in ("GATE", "DOCK")])
