"""Write down what people decide: corrections, rejections, answers; nothing here is ever changed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import sqlalchemy as sa

from evenhand.store.presentations import keep_presentations
from evenhand.store.written import add_row, change_row, erase_row

__all__ = [
    "add_corrections",
    "add_premium_decision",
    "add_rejection",
    "add_row",
    "add_settled",
    "change_row",
    "decide_alone",
    "erase_row",
]


def decide_alone(conn: sa.Connection) -> None:
    """Let nobody else add a correction, a rejection, an answer or a hand-off until the transaction ends.

    So what it checks stays true, and a higher number is never there before a lower one.
    """
    if conn.dialect.name != "sqlite":  # which has one writing transaction at a time
        conn.exec_driver_sql(
            "LOCK TABLE corrections, premium_decisions, rejected_attributions, settled, handoffs, adjustments, rounds, "
            "consent_policies, consent_decisions, signoffs, disputes, dispute_answers, "
            "suggestions, suggestion_answers, practices, own_steps "
            "IN SHARE ROW EXCLUSIVE MODE"
        )


def add_corrections(conn: sa.Connection, rows: Iterable[Mapping[str, Any]]) -> list[int]:
    """Add corrections (CORRECTIONS without their numbers) and return their running numbers.

    The presentation that each is made on is kept beside it.
    """
    made = [(add_row(conn, "corrections", row), row["punch"]) for row in rows]
    keep_presentations(conn, {number: punch for number, punch in made if punch is not None and punch >= 0})
    return [number for number, _ in made]


def add_rejection(
    conn: sa.Connection,
    *,
    reader: str,
    number: str,
    person: str,
    is_withdrawn: bool,
    author: str,
    reason: str,
    made_at: int,
) -> int:
    """Add that punches are not a person's, or that they may be again (REJECTED_ATTRIBUTIONS); returns its number."""
    values = {
        "reader": reader,
        "number": number,
        "person": person,
        "is_withdrawn": int(is_withdrawn),
        "author": author,
        "reason": reason,
        "made_at": made_at,
    }
    return add_row(conn, "rejected_attributions", values)


def add_premium_decision(conn: sa.Connection, row: Mapping[str, Any]) -> int:
    """Add what somebody said of hours owed (PREMIUM_DECISIONS without its number) and return its running number."""
    hours = row["hours"]
    return add_row(conn, "premium_decisions", {**row, "hours": None if hours is None else str(hours)})


def add_settled(
    conn: sa.Connection,
    *,
    finding: str,
    author: str,
    reason: str,
    made_at: int,
    says: str | None = None,
    is_withdrawn: bool = False,
) -> int:
    """Add the answer to a finding, or that it is open again (SETTLED), and return its running number."""
    values = {
        "finding": finding,
        "author": author,
        "reason": reason,
        "made_at": made_at,
        "says": says,
        "is_withdrawn": int(is_withdrawn),
    }
    return add_row(conn, "settled", values)
