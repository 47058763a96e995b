"""Rounds in the store."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic import command

from evenhand.store import Store, frames, open_store
from evenhand.store.migrations.upgrade import config
from evenhand.store.revision import revision
from evenhand.store.rounds import add_outcomes, add_round, move_items
from evenhand.terms.rounds import ROUND_ITEMS

HEADER = {
    "round": "r1",
    "title": "New press hall",
    "day": date(2026, 3, 9),
    "asked": "{}",
    "author": "Ida",
    "made_at": 100,
}
ITEMS = ROUND_ITEMS.rows(
    {
        "item": f"r1-{n}",
        "round": "r1",
        "reader": "GATE",
        "position": n,
        "action": "enrol",
        "number": f"00{n}",
        "language": "es",
    }
    for n in (1, 2)
)


def _outcome(name: str, item: str = "r1-1", result: str = "enrolled", at: int = 200) -> dict[str, object]:
    return {"outcome": name, "item": item, "result": result, "author": "Sol", "made_at": at, "received_at": at + 5}


@pytest.fixture
def with_round(store: Store) -> Store:
    with store.writing() as conn:
        add_round(conn, HEADER, ITEMS)
    return store


def test_a_round_comes_back_as_it_was_kept(with_round: Store) -> None:
    with with_round.reading() as conn:
        assert frames.rounds(conn).to_dicts() == [HEADER]
        assert frames.round_items(conn, "r1").equals(ITEMS)
        assert frames.round_items(conn, "r2").is_empty()


def test_an_outcome_sent_twice_is_kept_once(with_round: Store) -> None:
    for expected in (2, 0):
        with with_round.writing() as conn:
            assert add_outcomes(conn, [_outcome("a"), _outcome("b", "r1-2")]) == expected
    with with_round.writing() as conn:
        assert add_outcomes(conn, [_outcome("a", result="cannot"), _outcome("c")]) == 1
    with with_round.reading() as conn:
        kept = frames.outcomes(conn, "r1")
    assert kept.select("outcome", "result").rows() == [("a", "enrolled"), ("b", "enrolled"), ("c", "enrolled")]


def test_an_outcome_of_no_item_is_refused_and_none_is_ever_changed(with_round: Store) -> None:
    with pytest.raises(sa.exc.IntegrityError), with_round.engine.begin() as conn:
        add_outcomes(conn, [_outcome("a", "r9-1")])
    with with_round.writing() as conn:
        add_outcomes(conn, [_outcome("a")])
    for sql in ("UPDATE outcomes SET result = 'cannot'", "DELETE FROM outcomes", "DELETE FROM rounds"):
        with pytest.raises(sa.exc.DBAPIError, match="never changed"), with_round.engine.begin() as conn:
            conn.execute(sa.text(sql))


def test_what_is_to_be_done_may_be_moved(with_round: Store) -> None:
    with with_round.reading() as conn:
        before = revision(conn)
    moved = ITEMS.with_columns(position=3 - ITEMS["position"], starts_at=ITEMS["position"] * 60)
    with with_round.writing() as conn:
        move_items(conn, moved)
    with with_round.reading() as conn:
        assert frames.round_items(conn, "r1").select("item", "position", "starts_at").rows() == [
            ("r1-1", 2, 60),
            ("r1-2", 1, 120),
        ]
        assert revision(conn).changed_since(before) == {"round_items"}


def test_a_store_of_before_there_were_rounds_gets_them_and_keeps_what_it_has(tmp_path: Path) -> None:
    path = tmp_path / "old.sqlite"
    engine = sa.create_engine(f"sqlite:///{path}")
    with engine.begin() as conn:
        settings = config()
        settings.attributes["connection"] = conn
        command.upgrade(settings, "0001")
        conn.execute(sa.text("INSERT INTO settled VALUES (1, 'unproved/North', 'Ida', 'known', 5)"))
    engine.dispose()
    opened = open_store(path)
    with opened.reading() as conn:
        assert frames.settled(conn)["finding"].to_list() == ["unproved/North"]
        assert frames.rounds(conn).is_empty()
    opened.close()
