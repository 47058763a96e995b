"""Whoever alters the store by hand, past its triggers, is found: in every table, and in every field of an entry."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
import sqlalchemy as sa

from evenhand.store import Store, ledger_log, open_store
from evenhand.store.ledger import head, size
from evenhand.store.ledger_tables import LEDGER, OF_TAKES, OWN, RUNNING, row_tables
from evenhand.store.tables import STORED
from evenhand.store.written import add_row
from evenhand.terms.ledger import entries
from evenhand.terms.ledger.canonical import canonical
from evenhand.terms.ledger.merkle import leaf_hash, levels
from tests.store.filled import fill, invented_row, proved

COVERED = sorted([*row_tables(), *OF_TAKES, "punch_parts"])
# Numbers that a fold gives anew are not sealed; by which number a part is kept says nothing either.
LEFT_OUT = {(table, column) for table, column in RUNNING.items()} | {("punch_parts", "part")}
COLUMNS = [
    (table, column.name)
    for table in COVERED
    for column in STORED[table].columns
    if (table, column.name) not in LEFT_OUT
]


@contextmanager
def by_hand(store: Store) -> Iterator[sa.Connection]:
    """Yield a connection that no trigger and no foreign key stops, and undo nothing."""
    with store.engine.connect() as conn:
        conn.execution_options(writes=True)
        if store.is_embedded:
            conn.connection.driver_connection.execute("PRAGMA foreign_keys = OFF")  # type: ignore[union-attr]
        with conn.begin():
            if store.is_embedded:
                for name in conn.scalars(sa.text("SELECT name FROM sqlite_master WHERE type = 'trigger'")).all():
                    conn.exec_driver_sql(f"DROP TRIGGER {name}")
            else:
                conn.exec_driver_sql("SET LOCAL session_replication_role = replica")
            yield conn
        conn.execution_options(writes=False)


@pytest.fixture
def whole(address: str | Path) -> Iterator[Store]:
    store = open_store(address)
    fill(store)
    assert proved(store) == []
    yield store
    store.close()


@pytest.fixture
def back(whole: Store) -> Callable[[str], None]:
    """Bring a table back to what it was, so that the next alteration is looked at alone."""
    tables = {**STORED, **LEDGER}
    with whole.reading() as conn:
        kept = {
            name: [dict(row) for row in conn.execute(sa.select(table)).mappings()] for name, table in tables.items()
        }

    def restore(name: str) -> None:
        with by_hand(whole) as conn:
            conn.execute(tables[name].delete())
            conn.execute(tables[name].insert(), kept[name])

    return restore


def altered(value: object, column: sa.Column[Any]) -> object:
    if isinstance(value, bytes):
        return value[:-1] + bytes([value[-1] ^ 1])
    if isinstance(value, str):
        return f"{value}x"
    if isinstance(value, int | float):
        return value + 1
    return "x" if isinstance(column.type, sa.Text) else b"x" if isinstance(column.type, sa.LargeBinary) else 1


def alter(conn: sa.Connection, table: sa.Table, name: str, row: dict[str, Any]) -> None:
    is_it = [table.c[column.name] == row[column.name] for column in table.primary_key.columns]
    altering = table.update().where(*is_it)
    value = altered(row[name], table.c[name])
    try:
        with conn.begin_nested():
            found = conn.execute(altering.values({name: value}))
    except sa.exc.IntegrityError:  # it would have the number of another
        assert isinstance(value, int)
        found = conn.execute(altering.values({name: value + 1_000}))
    assert found.rowcount == 1


def first_row(conn: sa.Connection, table: sa.Table) -> dict[str, Any]:
    found = conn.execute(sa.select(table)).mappings().first()
    assert found is not None, f"nothing stands in {table.name}"
    return dict(found)


def test_something_stands_in_every_table_and_each_is_sealed(whole: Store) -> None:
    with whole.reading() as conn:
        empty = [name for name in COVERED if not conn.execute(sa.select(STORED[name])).first()]
    assert empty == []
    assert {*STORED} == {*COVERED, *OWN}


def test_every_field_of_every_table_that_is_altered_is_found_and_named(
    whole: Store, back: Callable[[str], None]
) -> None:
    missed = []
    for name, column in COLUMNS:
        with by_hand(whole) as conn:
            alter(conn, STORED[name], column, first_row(conn, STORED[name]))
        found = proved(whole)
        # A punch is held against its part too, so that either may be named beside the other.
        if not any(fault.table == name and fault.says and fault.row for fault in found):
            missed.append((name, column, found))
        back(name)
    assert [(name, column) for name, column, _ in missed] == []
    assert proved(whole) == []


def test_a_row_that_is_taken_out_of_any_table_is_found(whole: Store, back: Callable[[str], None]) -> None:
    for name in COVERED:
        table = STORED[name]
        with by_hand(whole) as conn:
            row = first_row(conn, table)
            conn.execute(
                table.delete().where(*(table.c[key.name] == row[key.name] for key in table.primary_key.columns))
            )
        assert name in {fault.table for fault in proved(whole)}, name
        back(name)


def test_a_row_that_is_put_into_any_table_past_the_ledger_is_found(whole: Store, back: Callable[[str], None]) -> None:
    for name in COVERED:
        table = STORED[name]
        with by_hand(whole) as conn:
            row = first_row(conn, table)
            key = list(table.primary_key.columns)[-1]
            value = row[key.name] + 1_000 if isinstance(row[key.name], int) else f"{row[key.name]}x"
            alone = {
                name: f"{row[name]}x"
                for index in table.indexes
                if index.unique
                for name in [one.name for one in index.columns]
            }
            conn.execute(table.insert().values({**row, **alone, key.name: value}))
        assert name in {fault.table for fault in proved(whole)}, name
        back(name)


def test_two_rows_that_change_places_are_found(whole: Store, back: Callable[[str], None]) -> None:
    with whole.writing() as conn:
        add_row(conn, "settled", {**invented_row("settled"), "finding": "b"})
    with by_hand(whole) as conn:
        for was, now in ((1, -1), (2, 1), (-1, 2)):
            conn.exec_driver_sql(f"UPDATE settled SET settlement = {now} WHERE settlement = {was}")
    assert [(fault.table, fault.row) for fault in proved(whole)] == [("settled", "[1]"), ("settled", "[2]")]


LEDGER_COLUMNS = [(table.name, column.name) for table in LEDGER.values() for column in table.columns]


def test_every_field_of_the_ledger_that_is_altered_is_found(whole: Store, back: Callable[[str], None]) -> None:
    """Of every row of the ledger; which number an author's row has says nothing."""
    missed = []
    for name, column in LEDGER_COLUMNS:
        if (name, column) == ("ledger_authors", "author"):
            continue
        with whole.reading() as conn:
            rows = [dict(row) for row in conn.execute(sa.select(LEDGER[name])).mappings()]
        for row in (rows[0], rows[len(rows) // 2], rows[-1]):
            with by_hand(whole) as conn:
                superseded = name == "ledger_rows" and column == "salt" and _is_superseded(conn, row)
                alter(conn, LEDGER[name], column, row)
            # A salt under which nothing is sealed any more proves nothing, whatever it is.
            if not superseded and not proved(whole):
                missed.append((name, column, row))
            back(name)
    assert [(name, column) for name, column, _ in missed] == []


def _is_superseded(conn: sa.Connection, row: dict[str, Any]) -> bool:
    rows = LEDGER["ledger_rows"].c
    same = rows.table == row["table"], rows.row_key == row["row_key"], rows.entry > row["entry"]
    return conn.execute(sa.select(rows.entry).where(*same)).first() is not None


@pytest.mark.parametrize("name", ["at", "entry", "form", "kind", "rows", "says", "who"])
def test_every_member_of_an_entry_that_is_altered_is_found_and_the_entry_is_named(whole: Store, name: str) -> None:
    import json

    with by_hand(whole) as conn:
        table = LEDGER["ledger"]
        handed = sa.select(table.c.entry, table.c.content).where(table.c.content.contains("hand-off"))
        at, content = conn.execute(handed).one()
        said = json.loads(content)
        said[name] = {"other": 1} if isinstance(said[name], dict) else [] if name == "who" else 7
        text = canonical(said).decode()
        assert text != content
        conn.execute(table.update().where(table.c.entry == at).values(content=text))
    assert proved(whole)[0].entry == at


def test_entries_of_an_earlier_form_stay_valid_and_those_of_no_form_are_found(
    address: str | Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as earlier:
        earlier.setattr(entries, "FORM", 1)
        store = open_store(address)
        fill(store)
    with store.reading() as conn:
        count = size(conn)
    assert proved(store) == []
    with store.writing() as conn:
        add_row(conn, "settled", invented_row("settled"))
    assert proved(store) == []
    with by_hand(store) as conn:
        texts = contents_of(conn)
        assert all(f'"form":{2 if entry == count else 1},' in text for entry, text in enumerate(texts))
        texts[3] = texts[3].replace('"form":1,', '"form":3,')
        rewrite(conn, texts)
    [fault] = proved(store)
    assert fault.says.startswith("Entry 3 was altered")
    store.close()


def test_every_entry_of_many_that_is_altered_is_named_and_no_other(
    whole: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Entries are looked at many at once, and one by one where one of them is not as it should be."""
    monkeypatch.setattr(ledger_log, "AT_ONCE", 4)
    assert proved(whole) == []
    with by_hand(whole) as conn:
        table = LEDGER["ledger"]
        conn.execute(table.update().where(table.c.entry.in_([1, 6])).values(leaf=b"x"))
        conn.execute(LEDGER["ledger_rows"].delete().where(LEDGER["ledger_rows"].c.entry == 9))
        conn.execute(table.delete().where(table.c.entry == 5))
    altered = {fault.entry for fault in proved(whole) if fault.table in ("", *row_tables(), *OF_TAKES)}
    assert altered >= {1, 5, 6, 9}
    assert not altered & {0, 2, 3, 4, 7, 8, 10}


@pytest.mark.parametrize(
    ("table", "row", "says"),
    [
        ("ledger", {"entry": -1, "content": "x", "leaf": b"x"}, "Entry -1 was put in: the first is entry 0."),
        (
            "ledger_nodes",
            {"level": 0, "position": 2, "hash": b"x"},
            "Node 2 of level 0 was put in: the tree has none on that level.",
        ),
        (
            "ledger_rows",
            {"entry": -1, "ordinal": 0, "table": "settled", "row_key": "[1]", "salt": b"x", "digest": b"x"},
            "ledger_rows seals row [1] of settled in entry -1, which is missing.",
        ),
    ],
)
def test_what_is_put_in_before_the_first_entry_is_found(
    whole: Store, table: str, row: dict[str, object], says: str
) -> None:
    with by_hand(whole) as conn:
        conn.execute(LEDGER[table].insert().values(row))
    assert [fault.says for fault in proved(whole)] == [says]


def rewrite(conn: sa.Connection, contents: list[str]) -> None:
    """Do what somebody would who knows how the ledger is made: hash everything again."""
    for name in ("ledger", "ledger_nodes"):
        conn.execute(LEDGER[name].delete())
    leaves = [leaf_hash(content.encode()) for content in contents]
    rows = [{"entry": n, "content": text, "leaf": leaves[n]} for n, text in enumerate(contents)]
    conn.execute(LEDGER["ledger"].insert(), rows)
    nodes = [
        {"level": level, "position": position, "hash": hashed}
        for level, hashes in enumerate(levels(leaves))
        for position, hashed in enumerate(hashes)
        if level
    ]
    conn.execute(LEDGER["ledger_nodes"].insert(), nodes)


def contents_of(conn: sa.Connection) -> list[str]:
    table = LEDGER["ledger"].c
    return list(conn.scalars(sa.select(table.content).order_by(table.entry)))


@pytest.mark.parametrize("is_hashed_again", [False, True])
@pytest.mark.parametrize("deed", ["removed", "reordered", "put in between", "put at the end"])
def test_entries_that_are_removed_reordered_or_put_in_are_found(whole: Store, deed: str, is_hashed_again: bool) -> None:
    with by_hand(whole) as conn:
        texts = contents_of(conn)
        if deed == "removed":
            del texts[5]
        elif deed == "reordered":
            texts[5], texts[6] = texts[6], texts[5]
        elif deed == "put in between":
            texts.insert(5, texts[6])
        else:
            texts.append(texts[6])
        if is_hashed_again:
            rewrite(conn, texts)
        else:
            conn.execute(LEDGER["ledger"].delete())
            leaves = [{"entry": n, "content": t, "leaf": leaf_hash(t.encode())} for n, t in enumerate(texts)]
            conn.execute(LEDGER["ledger"].insert(), leaves)
    found = proved(whole)
    assert found
    assert found[0].entry == (len(texts) - 1 if deed == "put at the end" else 5)


def test_an_end_that_is_cut_off_with_all_that_belongs_to_it_is_found_by_a_head_held_outside(whole: Store) -> None:
    with whole.writing() as conn:
        number = add_row(conn, "settled", invented_row("settled"))
    with whole.reading() as conn:
        held = head(conn)
    with by_hand(whole) as conn:
        last = held.size - 1
        texts = contents_of(conn)
        conn.execute(STORED["settled"].delete().where(STORED["settled"].c.settlement == number))
        for table in ("ledger", "ledger_rows"):
            conn.execute(LEDGER[table].delete().where(LEDGER[table].c.entry == last))
        rewrite(conn, texts[:-1])
    found = proved(whole, held)
    assert [fault.says for fault in found if fault.table not in ("ledger_authors",)] == [
        "the head held outside is another"
    ]
    assert proved(whole) == []


def test_a_whole_ledger_that_is_made_anew_is_found_by_a_head_held_outside(whole: Store) -> None:
    """What no check of the store by itself can find: somebody who alters a row, its seal and every hash above it."""
    import hashlib
    import json

    from evenhand.terms.ledger.canonical import digest, row_text

    with whole.reading() as conn:
        held = head(conn)
    with by_hand(whole) as conn:
        conn.exec_driver_sql("UPDATE settled SET reason = 'another' WHERE settlement = 1")
        rows = LEDGER["ledger_rows"]
        of_row = rows.c.table == "settled", rows.c.row_key == "[1]"
        entry, salt = conn.execute(sa.select(rows.c.entry, rows.c.salt).where(*of_row)).one()
        row = dict(conn.execute(sa.text("SELECT * FROM settled WHERE settlement = 1")).mappings().one())
        made = hashlib.sha256(salt + row_text("settled", "[1]", row)).digest()
        conn.execute(rows.update().where(*of_row).values(digest=made))
        texts = contents_of(conn)
        said = json.loads(texts[entry])
        said["rows"]["settled"]["sha256"] = digest(made)
        texts[entry] = canonical(said).decode()
        rewrite(conn, texts)
    assert proved(whole) == []
    assert [fault.says for fault in proved(whole, held)] == ["the head held outside is another"]


def test_a_ledger_that_was_emptied_is_not_begun_again(address: str | Path) -> None:
    store = open_store(address)
    fill(store)
    with by_hand(store) as conn:
        for table in LEDGER.values():
            conn.execute(table.delete())
    store.close()
    again = open_store(address)
    assert proved(again)[0].says == "The ledger is empty, where its first entry was."
    again.close()
