"""Rates and earnings in either database: what a row leaves out is never equal to something else."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import sqlalchemy as sa
from alembic import command

from evenhand.store import Store, frames, open_store
from evenhand.store.migrations.upgrade import config
from tests.store.rows import take

FROM = date(2026, 1, 1)


def test_rates_for_all_work_and_for_one_reader_stand_side_by_side(store: Store) -> None:
    rows = [
        {"person": "P1", "valid_from": FROM, "amount": Decimal("18.25")},
        {"person": "P1", "valid_from": FROM, "amount": Decimal("26.00"), "reader": "DYE"},
    ]
    assert take(store, "rates", rows).taken == 2
    again = take(store, "rates", rows)
    assert (again.taken, again.known) == (0, 2)
    with store.reading() as conn:
        assert frames.rates(conn).select("reader", "amount").rows() == [("", Decimal("18.25")), ("DYE", Decimal(26))]


def test_earnings_keep_their_cents_and_their_days(store: Store) -> None:
    earned = {"person": "P1", "earned_from": FROM, "earned_to": date(2026, 1, 31), "kind": "bonus"}
    take(store, "earnings", [earned | {"amount": Decimal("0.0001")}, earned | {"kind": "piece", "units": 412}])
    with store.reading() as conn:
        stored = frames.earnings(conn)
    assert stored.select("kind", "amount", "units", "earned_to").rows() == [
        ("bonus", Decimal("0.0001"), None, date(2026, 1, 31)),
        ("piece", None, 412, date(2026, 1, 31)),
    ]


def test_a_store_of_before_there_were_rates_gets_their_tables(tmp_path: Path) -> None:
    path = tmp_path / "old.sqlite"
    engine = sa.create_engine(f"sqlite:///{path}")
    with engine.begin() as conn:
        settings = config()
        settings.attributes["connection"] = conn
        command.upgrade(settings, "0002")
    engine.dispose()
    opened = open_store(path)
    with opened.reading() as conn:
        assert frames.rates(conn).is_empty()
        assert frames.earnings(conn).is_empty()
    opened.close()
