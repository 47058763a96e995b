"""A store that holds something in every table, all of it written through the store's own doors."""

from __future__ import annotations

import itertools
from datetime import date
from decimal import Decimal
from typing import Any

import polars as pl
import sqlalchemy as sa

from evenhand.store import Store, decisions
from evenhand.store.handed_off import add_adjustment, add_handoff
from evenhand.store.ledger_check import prove
from evenhand.store.ledger_log import LedgerFault
from evenhand.store.ledger_tables import row_tables
from evenhand.store.refused import add_refused
from evenhand.store.rounds import add_outcomes, add_round, move_items
from evenhand.store.settings_stated import state_settings
from evenhand.store.standing import add_take_decision
from evenhand.store.tables import PUNCH_SHIFT, STORED
from evenhand.store.written import add_row
from evenhand.terms.handed_off import HANDED_OFF, PRINTED
from evenhand.terms.ledger.head import Head
from evenhand.terms.rounds import ROUND_ITEMS
from evenhand.terms.tables import REJECTS
from tests.store.rows import list_readers, punch, take

DAY = date(2026, 1, 5)
HEADER = {"round": "r1", "title": "Hall", "day": DAY, "asked": "{}", "author": "Ida", "made_at": 1_768_000_000}
ITEM = {"round": "r1", "reader": "GATE", "action": "enrol", "language": "es"}
ITEMS = ROUND_ITEMS.rows({**ITEM, "item": f"r1-{n}", "position": n, "number": f"00{n}"} for n in (1, 2))
OUTCOME = {"outcome": "o1", "item": "r1-1", "result": "enrolled", "author": "Sol", "made_at": 9, "received_at": 10}
LISTED = {"name": "Ada Quill", "is_supervisor": False, "site": "Mill"}


def fill(store: Store) -> None:
    """Write something into every table, in the order in which a workplace would."""
    _take_files(store)
    _decide(store)
    with store.writing() as conn:
        add_round(conn, HEADER, ITEMS)
    with store.writing() as conn:
        move_items(conn, ITEMS.head(1).with_columns(position=pl.lit(7)))
    with store.writing() as conn:
        add_outcomes(conn, [OUTCOME])
    with store.writing() as conn:
        state_settings(conn, {"evenhand.toml": "[workplace]", "layouts/log.toml": 'name = "log"'})
    for table in row_tables():
        with store.writing() as conn:
            if conn.scalar(sa.select(sa.func.count()).select_from(STORED[table])) == 0:
                add_row(conn, table, invented_row(table))


def _take_files(store: Store) -> None:
    list_readers(store)
    take(store, "people", [{"person": "P1", "number": "1041", **LISTED}, {"person": "P2", "number": "2041", **LISTED}])
    take(store, "people", [{"person": "P1", "number": "1042", **LISTED}])
    take(store, "enrolments", [{"reader": "GATE", "number": "1041"}, {"reader": "GATE", "number": "2041"}])
    take(store, "schedules", [{"person": "P1", "starts_at": 1, "ends_at": 2}])
    take(store, "consent", [{"person": "P1", "given_on": DAY}])
    take(store, "rates", [{"person": "P1", "valid_from": DAY, "amount": Decimal("17.50")}])
    take(
        store,
        "earnings",
        [{"person": "P1", "earned_from": DAY, "earned_to": DAY, "kind": "bonus", "amount": Decimal(5)}],
    )
    take(store, "punches", [punch(0, score=61.5), punch(1, "2041"), punch(480, direction="out")])
    take(store, "punches", [punch(0, score=61.5, outcome="accepted"), punch(500, "2041", direction=None)])


def _decide(store: Store) -> None:
    said = {"author": "Ida", "reason": "she was there", "made_at": 1_767_700_000}
    with store.writing() as conn:
        newest = conn.scalar(sa.select(sa.func.max(STORED["punches"].c["take"]))) or 0
        first = (newest - 1 << PUNCH_SHIFT) + 2
        correction = {"action": "direct", "punch": first, "person": "P1", "direction": "in", **said}
        decisions.add_corrections(conn, [correction])
        decisions.add_rejection(conn, reader="GATE", number="2041", person="P1", is_withdrawn=False, **said)
    with store.writing() as conn:
        decisions.add_settled(conn, finding="unproved/North", says="no proof", **said)
    of = {"period": (DAY, DAY), "author": "Ida", "made_at": 1_767_800_000}
    with store.writing() as conn:
        file = add_handoff(
            conn,
            HANDED_OFF.empty(),
            figures=PRINTED.empty(),
            file="hours.csv",
            digest="d",
            totals="{}",
            despite="[]",
            files={"hours.csv": "ab" * 32},
            money=(),
            **of,
        )
    with store.writing() as conn:
        add_adjustment(conn, HANDED_OFF.empty(), handoff=file, way="elsewhere", reason="late", **of)
    with store.writing() as conn:
        add_take_decision(conn, action="rebuild", author="Ben", reason="", made_at=1_767_900_000)
    with store.writing() as conn:
        add_refused(conn, newest, REJECTS.rows([{"line": 9, "column": "at", "seen": "25:00", "reason": "no time"}]))


COUNTED = itertools.count(1)


def invented_row(table: str) -> dict[str, Any]:
    """Return a row for a table of which the store's doors are not known here."""
    row: dict[str, Any] = {}
    for column in STORED[table].columns:
        if column.primary_key and column.autoincrement:
            continue
        row[column.name] = f"{column.name} {next(COUNTED)}" if isinstance(column.type, sa.Text) else 1
    return row


def proved(store: Store, held: Head | None = None) -> list[LedgerFault]:
    """Return what is not as the ledger says."""
    with store.reading() as conn:
        log, faults = prove(conn)
    if held is not None and (held.size > log.size or log.head(held.size) != held):
        faults.append(LedgerFault("the head held outside is another"))
    return faults
