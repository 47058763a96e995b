"""What readers' lists told of hands, now and before, and what was presented under which number."""

from __future__ import annotations

import json
from collections.abc import Collection
from datetime import date
from typing import Any

import polars as pl
import sqlalchemy as sa

from evenhand.store.tables import STORED
from evenhand.store.whole_columns import read_columns
from evenhand.terms.columns import Frame
from evenhand.terms.files_told import ENROLMENT_HISTORY, HANDS_REPLACED, LAST_SEEN, PRESENTED_UNDER
from evenhand.terms.sources import ENROLMENTS

__all__ = ["enrolment_history", "hands_replaced", "last_seen", "presented"]

MOST_NAMED = 10_000  # numbers named one by one in a query


def enrolment_history(conn: sa.Connection) -> Frame:
    """Return every enrolment ever listed, with the list that shows it no longer (ENROLMENT_HISTORY)."""
    stored, told, gone = STORED["enrolments"], STORED["takes"].alias("told"), STORED["takes"].alias("went")
    columns: list[sa.ColumnElement[Any]] = [stored.c[name] for name in ("reader", "number", "name", "enrolled_on")]
    columns += [told.c.taken_at.label("told_at"), stored.c.gone]
    columns += [gone.c.file.label("gone_file"), gone.c.taken_at.label("gone_at")]
    joined = stored.join(told, stored.c["take"] == told.c["take"]).outerjoin(gone, stored.c.gone == gone.c["take"])
    return read_columns(conn, ENROLMENT_HISTORY, sa.select(*columns).select_from(joined)).sort("reader", "number")


def hands_replaced(conn: sa.Connection) -> Frame:
    """Return the hands of which lists have said something else since (HANDS_REPLACED), by reader, number and time.

    A list that has another name or day beside the number, or has the number again after one that had not, shows that
    the hand before is no more; one that tells neither and says something else of the number shows nothing of it.
    """
    changes, takes, stored = STORED["changes"].c, STORED["takes"].c, STORED["enrolments"].c
    rows = conn.execute(
        sa.select(changes.row_key, changes.was, takes["take"], takes.file, takes.taken_at)
        .join_from(STORED["changes"], STORED["takes"], changes["take"] == takes["take"])
        .where(changes.table == "enrolments")
        .order_by(changes.change.desc())
    ).all()
    said = conn.execute(sa.select(*(stored[name] for name in ENROLMENTS.names))).mappings() if rows else ()
    after = {(row["reader"], row["number"]): dict(row) for row in said}
    found = []
    for row_key, was, take, file, taken_at in rows:
        key = json.loads(row_key)
        at = (key["reader"], key["number"])
        then = after[at]
        before = after[at] = {**then, **json.loads(was)}
        is_anew = before == then or any(before[name] != then[name] for name in ("name", "enrolled_on"))
        if before["name"] or is_anew or before["enrolled_on"] is None:
            list_of = {"gone": take, "gone_file": file, "gone_at": taken_at} if before["name"] or is_anew else {}
            day = date.fromisoformat(before["enrolled_on"]) if before["enrolled_on"] else None
            found.append({**key, "name": before["name"], "enrolled_on": day, **list_of})
    return HANDS_REPLACED.rows(found[::-1])


def last_seen(conn: sa.Connection, numbers: Collection[str]) -> Frame:
    """Return the last presentation under each of these numbers at each reader (LAST_SEEN)."""
    if not numbers:
        return LAST_SEEN.empty()
    stored = STORED["punches"].c
    last = sa.func.max(stored.at).label("last_at")
    rows = sa.select(stored.reader, stored.number, last).group_by(stored.reader, stored.number)
    if len(numbers) <= MOST_NAMED:
        rows = rows.where(stored.number.in_(list(numbers)))
    return read_columns(conn, LAST_SEEN, rows).sort("reader", "number")


def presented(conn: sa.Connection, numbers: Collection[str]) -> Frame:
    """Return every presentation under these numbers (PRESENTED_UNDER), by reader, number and time."""
    if not numbers:
        return PRESENTED_UNDER.empty()
    stored = STORED["punches"].c
    rows = sa.select(stored.reader, stored.number, stored.at, stored.outcome)
    if len(numbers) <= MOST_NAMED:
        rows = rows.where(stored.number.in_(list(numbers)))
    found = read_columns(conn, PRESENTED_UNDER, rows).sort("reader", "number", "at")
    return found.filter(pl.col("number").is_in(list(numbers)))
