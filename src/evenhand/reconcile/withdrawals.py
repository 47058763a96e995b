"""Which corrections stand: a correction that takes another back is a row of its own, and may be taken back itself."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import polars as pl

from evenhand.terms.columns import Frame

__all__ = ["punch_of", "put_instead", "roots", "standing", "undone", "withdrawn_by"]

AT_ONCE = ("person", "author", "reason", "made_at")


def standing(corrections: Frame) -> Frame:
    """Return those of `corrections` (CORRECTIONS) that count, in their order: taken back by nothing that stands.

    Rows that take others back are not among them.
    """
    withdrawals = pl.col("action") == "withdraw"
    if not corrections.select(withdrawals.any()).item():
        return corrections
    return corrections.filter(~withdrawals, ~pl.col("correction").is_in(list(withdrawn_by(corrections))))


def withdrawn_by(corrections: Frame) -> dict[int, int]:
    """Return by which correction each is taken back, where that one stands; taking it back puts the first back."""
    rows = corrections.filter(pl.col("action") == "withdraw").sort("correction", descending=True)
    by: dict[int, int] = {}
    for number, withdrawn in rows.select("correction", "withdraws").iter_rows():
        if number not in by:  # the latest first: whatever may take this one back has been seen
            by[withdrawn] = number
    return by


def put_instead(rows: Mapping[int, Mapping[str, Any]], back: Mapping[str, Any]) -> Mapping[str, Any] | None:
    """Return what was put in the place of what `back` takes back, where that was a change; None where nothing was.

    `rows` are all corrections by number. A change is two rows made at once: one takes back, the next says it anew.
    """
    instead = rows.get(back["correction"] + 1)
    if instead is None or instead["action"] == "withdraw" or any(instead[name] != back[name] for name in AT_ONCE):
        return None
    return instead


def undone(corrections: Frame) -> frozenset[int]:
    """Return which corrections are taken back with nothing in their place: one that was changed is said anew."""
    by = withdrawn_by(corrections)
    rows = {row["correction"]: row for row in corrections.iter_rows(named=True)} if by else {}

    def is_undone(number: int) -> bool:
        back = rows.get(by.get(number, 0))
        if back is None:
            return False
        instead = put_instead(rows, back)
        return instead is None or is_undone(instead["correction"])

    return frozenset(number for number in by if is_undone(number))


def roots(corrections: Frame, numbers: list[int]) -> dict[int, int]:
    """Return for each of these corrections the one that says something of a punch: itself, or what it takes back."""
    rows = corrections.filter(pl.col("action") == "withdraw").select("correction", "withdraws")
    withdraws = dict(rows.iter_rows())
    found = {}
    for number in numbers:
        root = number
        while root in withdraws:
            root = withdraws[root]
        found[number] = root
    return found


def punch_of(corrections: Frame, number: int) -> int | None:
    """Return the punch that a correction is about, minus its number for an added one; None where there is none."""
    root = roots(corrections, [number])[number]
    rows = corrections.filter(pl.col("correction") == root).select("action", "punch").rows()
    if not rows:
        return None
    action, punch = rows[0]
    return -root if action == "add" else punch
