"""Open the store and bring its tables up to date; transactions that read and transactions that write."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import sqlalchemy as sa
from sqlalchemy import event

from evenhand.store.faults import refusing
from evenhand.store.ledger import append, begin_ledger
from evenhand.store.migrations import HEAD
from evenhand.store.owner_only import make_file
from evenhand.store.parts import add_missing
from evenhand.store.settings_stated import SettingsTexts, state_settings
from evenhand.store.soundness import HeldOpen, check_database
from evenhand.store.tables import STORED
from evenhand.store.written import Written
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = ["BUSY_S", "Connection", "Store", "open_store"]

Connection = sa.Connection

# A take publishes a million rows in about two seconds; whoever waits longer than this waits for something stuck.
BUSY_S = 30.0
FIRST_WITH_LEDGER = "0015"


@dataclass(frozen=True)
class Store:
    """An open store; `where` names it in sentences for the user.

    `settings` reads the texts of the workspace's settings, which the ledger states before what is written under them.
    `mended` are the takes whose punches somebody had altered in `punch_parts`, which were made anew on opening it.
    Where it `only_looks`, as of another time than the machine's, nothing is written.
    """

    engine: sa.Engine
    where: str
    held: HeldOpen | None = None
    settings: SettingsTexts | None = None
    mended: tuple[int, ...] = ()
    only_looks: bool = False

    @property
    def is_embedded(self) -> bool:
        """Whether the store is a SQLite file."""
        return self.engine.dialect.name == "sqlite"

    @contextmanager
    def reading(self) -> Iterator[sa.Connection]:
        """Yield a connection on one unchanging view of the store."""
        with refusing(self.where), self.engine.connect() as conn:
            if not self.is_embedded:
                conn.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)
            with conn.begin():
                yield conn

    @contextmanager
    def writing(self) -> Iterator[sa.Connection]:
        """Yield a connection in one transaction that is committed at the end, or undone by any exception.

        Raises Refusal where the store only looks.
        """
        self.refuse_looking()
        with refusing(self.where), self.engine.connect() as conn, write(conn, self._settings_now()):
            yield conn

    @contextmanager
    def write(self, conn: sa.Connection) -> Iterator[None]:
        """Hold one write transaction on a connection that is in none, which ends with an entry of the ledger."""
        self.refuse_looking()
        with write(conn, self._settings_now()):
            yield

    def refuse_looking(self) -> None:
        """Raise Refusal where the store only looks, so that nothing bears a time at which it was not written."""
        if self.only_looks:
            raise Refusal(
                told(
                    "--as-of only looks: what is written bears the time at which it is written, by the machine's "
                    "clock; do it without --as-of. Nothing was changed."
                )
            )

    def _settings_now(self) -> Mapping[str, str] | None:
        return self.settings() if self.settings else None

    @contextmanager
    def trying(self) -> Iterator[sa.Connection]:
        """Yield a connection in one transaction that is always undone, so that a deed can be looked at."""
        with refusing(self.where), self.engine.connect() as conn:
            conn.execution_options(writes=True)
            try:
                with conn.begin() as transaction:
                    yield conn
                    transaction.rollback()
            finally:
                conn.execution_options(writes=False)

    def close(self) -> None:
        """Close every connection."""
        self.engine.dispose()
        if self.held is not None:
            self.held.release()


@contextmanager
def write(conn: sa.Connection, settings: Mapping[str, str] | None = None) -> Iterator[None]:
    """Hold one write transaction on a connection that is in none, which ends with an entry of the ledger.

    Where `settings` (file and text) are not those last stated, an entry before it states them.
    """
    written = Written()
    conn.execution_options(writes=True, written=written)
    try:
        with conn.begin():
            yield
            if settings is not None:
                conn.execution_options(written=(stated := Written()))
                state_settings(conn, settings)
                append(conn, stated)
            append(conn, written)
    finally:
        conn.execution_options(writes=False, written=None)


def open_store(url_or_path: str | Path, *, busy_s: float = BUSY_S, settings: SettingsTexts | None = None) -> Store:
    """Return the store at a path (SQLite, made where there is none) or at a PostgreSQL address, up to date.

    `busy_s` is how long to wait for another program's write [s], `settings` reads what the ledger is to state of the
    workspace's settings. What a stopped program left open is looked through first.

    Raises Refusal where the store is newer than this program, damaged, locked, not writable, or cannot be
    reached.
    """
    text = str(url_or_path)
    url = sa.make_url(text) if "://" in text else sa.URL.create("sqlite", database=text)
    if url.drivername in ("postgresql", "postgres"):
        url = url.set(drivername="postgresql+psycopg")
    where = url.database if url.drivername == "sqlite" else url.render_as_string(hide_password=True)
    held = None
    if url.drivername == "sqlite":
        _check_writable(Path(where or ""))
        held = HeldOpen(Path(where or "")) if Path(where or "").parent.is_dir() else None
        if where:
            make_file(Path(where))  # what SQLite writes beside it is as its own file may be read
    store = Store(_engine(url, busy_s), where or text, held, settings)
    try:
        with refusing(store.where):
            if held is not None and held.is_left_over:
                with store.engine.connect() as conn:
                    check_database(conn, store.where)
            store = replace(store, mended=tuple(_bring_up_to_date(store)))
        if held is not None:
            held.let_in()
    except BaseException:
        store.close()
        raise
    return store


def _check_writable(path: Path) -> None:
    # SQLite opens a file that may only be read without a word, and fails at the first write.
    for place in (path, path.parent):
        if place.exists() and not os.access(place, os.W_OK):
            raise Refusal(
                told("{place} may only be read; allow writing to the store's file and to its folder.", place=place)
            )


def _engine(url: sa.URL, busy_s: float) -> sa.Engine:
    if url.get_backend_name() != "sqlite":
        try:
            return sa.create_engine(url, hide_parameters=True)
        except (ModuleNotFoundError, sa.exc.NoSuchModuleError) as fault:
            raise Refusal(
                told(
                    "{where} cannot be used as a store; give a postgresql:// address and install evenhand with its "
                    "`team` extra.",
                    where=url.render_as_string(hide_password=True),
                )
            ) from fault
    # A fault names the statement, never the values of people that it was to store.
    engine = sa.create_engine(url, connect_args={"timeout": busy_s, "isolation_level": None}, hide_parameters=True)

    @event.listens_for(engine, "connect")
    def _settle(connection: Any, _record: object) -> None:
        for pragma in ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON", "recursive_triggers = ON"):
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def _begin(conn: sa.Connection) -> None:
        # IMMEDIATE waits for its turn; a plain BEGIN that turns to writing later is refused at once instead.
        conn.exec_driver_sql("BEGIN IMMEDIATE" if conn.get_execution_options().get("writes") else "BEGIN")

    return engine


def _bring_up_to_date(store: Store) -> list[int]:
    """Bring the tables to the newest version; return the takes whose parts had to be made anew though it was that."""
    with store.engine.connect() as conn, write(conn):
        version = _version(conn)
        if version == HEAD:
            return add_missing(conn)
        if version is None and not STORED.keys().isdisjoint(sa.inspect(conn).get_table_names()):
            raise Refusal(
                told(
                    "{where} holds tables of evenhand, and no longer which version they are of (the row of "
                    "alembic_version is gone); put back a backup of it.",
                    where=store.where,
                )
            )
        from evenhand.store.migrations.upgrade import is_known, upgrade

        if version is not None and not is_known(version):
            raise Refusal(
                told(
                    "{where} was written by a newer evenhand (its tables are at version {version}, this program "
                    "knows {head}); install the newer program.",
                    where=store.where,
                    version=version,
                    head=HEAD,
                )
            )
        upgrade(conn)
        if version is None or version < FIRST_WITH_LEDGER:
            begin_ledger(conn)
        add_missing(conn)
        return []


def _version(conn: sa.Connection) -> str | None:
    if not sa.inspect(conn).has_table("alembic_version"):
        return None
    version: str | None = conn.scalar(sa.text("SELECT version_num FROM alembic_version"))
    return version
