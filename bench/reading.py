"""How long a million punches take to become a frame, beside the same columns of a Parquet file."""

from __future__ import annotations

import os
import tempfile
import time
import uuid
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
import polars as pl
import sqlalchemy as sa
from bench.store import READER_COUNT, SEED, punch_log

from evenhand.store import Store, frames, open_store
from evenhand.store.taking import FileTaken, taking
from evenhand.terms.sources import PUNCHES, READERS

SERVER = os.environ.get("EVENHAND_TEST_POSTGRES", "")
REPEATS = 5


def bench_reading(rows: int = 1_000_000) -> None:
    """Print the milliseconds to read `rows` punches from each database, the best of some, and those of Parquet."""
    print(f"seed {SEED}")
    log = punch_log(rows)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "evenhand.sqlite"
        print(f"{rows:,} punches as one frame, by reader and time; the best of {REPEATS}")
        store = open_store(path)
        read, sqlite_ms = _bench(store, log, "SQLite")
        store.close()
        read.write_parquet(Path(folder) / "punches.parquet")
        parquet_ms = _best_ms(lambda: pl.read_parquet(Path(folder) / "punches.parquet"))
        print(
            f"  Parquet, the same columns, in order already: {parquet_ms:.0f} ms; SQLite {sqlite_ms / parquet_ms:.1f} x"
        )
        if SERVER:
            with _database() as address:
                store = open_store(address)
                again, server_ms = _bench(store, log, "PostgreSQL")
                assert again.equals(read)
                print(f"  PostgreSQL {server_ms / parquet_ms:.1f} x Parquet")
                store.close()
        else:
            print("  PostgreSQL: not measured; EVENHAND_TEST_POSTGRES names no server")


def _bench(store: Store, log: pl.DataFrame, name: str) -> tuple[pl.DataFrame, float]:
    names = [f"R{place:02d}" for place in range(READER_COUNT)]
    listed = READERS.frame({"reader": names, "site": ["Mill"] * READER_COUNT, "zone": ["UTC"] * READER_COUNT})
    for table, rows in ((READERS, listed), (PUNCHES, log)):
        with taking(
            store, FileTaken(f"{table.name}.csv", table.name, "", 0), table, rows, np.arange(2, rows.height + 2)
        ):
            pass

    def read() -> pl.DataFrame:
        with store.reading() as conn:
            return frames.recorded(conn)

    whole_ms = _best_ms(read)
    frame = read()
    assert frame.height == log.height
    middle = int(np.median(frame["at"]))

    def read_a_week() -> None:
        with store.reading() as conn:
            frames.recorded(conn, since=middle, until=middle + 7 * 86_400)

    print(f"  {name}: {whole_ms:.0f} ms; one week of the year {_best_ms(read_a_week):.0f} ms")
    return frame, whole_ms


@contextmanager
def _database() -> Iterator[str]:
    """Yield the address of a database of this run's own, dropped at the end."""
    url = sa.make_url(SERVER).set(drivername="postgresql+psycopg")
    server = sa.create_engine(url, isolation_level="AUTOCOMMIT")
    name = f"evenhand_{uuid.uuid4().hex}"
    with server.connect() as conn:
        conn.exec_driver_sql(f"CREATE DATABASE {name}")
    try:
        yield url.set(database=name).render_as_string(hide_password=False)
    finally:
        with server.connect() as conn:
            conn.exec_driver_sql(f"DROP DATABASE {name} WITH (FORCE)")
        server.dispose()


def _best_ms(work: Callable[[], object]) -> float:
    def once() -> float:
        begun = time.perf_counter()
        work()
        return (time.perf_counter() - begun) * 1000

    return min(once() for _ in range(REPEATS))


if __name__ == "__main__":
    bench_reading()
