"""What people said of their hands, and the policies they said it of: of everybody, or of some."""

from __future__ import annotations

from collections.abc import Collection

import sqlalchemy as sa

from evenhand.store.keyed_rows import keyed, keyed_by_identifier
from evenhand.store.tables import KEYED, STORED
from evenhand.terms.columns import Frame
from evenhand.terms.consent import CONSENT_DECISIONS, CONSENT_POLICIES, CONSENT_TAKES

__all__ = ["consent", "consent_decisions", "consent_policies", "consent_takes"]


def consent(conn: sa.Connection, of: Collection[str] | None = None) -> Frame:
    """Return the consents, by person and day: all, or those `of` some people."""
    return keyed_by_identifier(conn, KEYED["consent"], _whose(conn, STORED["consent"], of))


def consent_takes(conn: sa.Connection, of: Collection[str] | None = None) -> Frame:
    """Return which file told of each consent last (CONSENT_TAKES), by person and day: of all, or `of` some people."""
    stored = STORED["consent"]
    return keyed_by_identifier(conn, CONSENT_TAKES, _whose(conn, stored, of), of=stored)


def consent_policies(conn: sa.Connection) -> Frame:
    """Return the policy versions (CONSENT_POLICIES), in the order they were added."""
    return keyed(conn, CONSENT_POLICIES)


def consent_decisions(conn: sa.Connection, of: Collection[str] | None = None) -> Frame:
    """Return what people, or those `of` some, said of their hands as recorded here (CONSENT_DECISIONS), in order."""
    return keyed_by_identifier(conn, CONSENT_DECISIONS, _whose(conn, STORED["consent_decisions"], of))


def _whose(conn: sa.Connection, stored: sa.Table, people: Collection[str] | None) -> sa.ColumnElement[bool] | None:
    """Return which rows are about some people, also those written under the number that stood for one."""
    if people is None:
        return None
    roster = STORED["people"].c
    earlier = conn.scalars(sa.select(roster.person).where(roster.known_as.in_(list(people)))).all()
    return stored.c.person.in_([*people, *earlier])
