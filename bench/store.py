"""How long storing takes, beside the least that SQLite needs for the same rows."""

from __future__ import annotations

import sqlite3
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from evenhand.store import frames, open_store
from evenhand.store.taking import FileTaken, taking
from evenhand.terms.columns import Frame
from evenhand.terms.sources import PUNCHES, READERS

READER_COUNT = 20
BARE_TABLE = (
    "CREATE TABLE punches (reader TEXT NOT NULL, at INTEGER NOT NULL, number TEXT NOT NULL, direction TEXT NOT NULL, "
    "outcome TEXT NOT NULL, score REAL, line INTEGER NOT NULL, PRIMARY KEY (reader, at, number, line)) "
    "STRICT, WITHOUT ROWID"
)

SEED = 7
"""What punches are drawn from."""


def bench_store(rows: int = 1_000_000) -> None:
    """Print the seconds to store `rows` punches, to store them again, to read them, and the ratio to bare SQLite."""
    frame, lines = punch_log(rows), np.arange(2, rows + 2)
    with tempfile.TemporaryDirectory() as folder:
        bare = _seconds(lambda: _bare(Path(folder) / "bare.sqlite", frame))
        store = open_store(Path(folder) / "store.sqlite")
        names = [f"R{place:02d}" for place in range(READER_COUNT)]
        listed = READERS.frame({"reader": names, "site": ["Mill"] * READER_COUNT, "zone": ["UTC"] * READER_COUNT})

        def take(digest: str) -> None:
            with taking(store, FileTaken("log.csv", digest, "", 0), PUNCHES, frame, lines):
                pass

        with taking(store, FileTaken("readers.csv", "r", "", 0), READERS, listed, np.arange(2, READER_COUNT + 2)):
            pass
        first, again = _seconds(lambda: take("a")), _seconds(lambda: take("b"))

        def read() -> None:
            with store.reading() as conn:
                assert frames.recorded(conn).height

        print(f"{rows:,} punches: bare sorted executemany {bare:.2f} s")
        print(f"  stored in {first:.2f} s (target 5 s), {first / bare:.2f} x bare; all known in {again:.2f} s")
        print(f"  read as a frame in {_seconds(read):.2f} s")
        store.close()


def punch_log(rows: int) -> Frame:
    """Return `rows` punches (PUNCHES) of one year at READER_COUNT readers, in the order of time."""
    rng = np.random.default_rng(SEED)
    return PUNCHES.frame(
        {
            "reader": rng.choice([f"R{place:02d}" for place in range(READER_COUNT)], rows),
            "number": rng.integers(10_000, 99_999, rows).astype(str),
            "at": np.sort(rng.integers(1_735_689_600, 1_767_225_600, rows)) // 60 * 60,
            "direction": rng.choice(["in", "out"], rows),
            "outcome": np.full(rows, "accepted"),
            "score": rng.integers(5, 90, rows).astype(float),
        }
    )


def _bare(path: Path, frame: Frame) -> None:
    ordered = frame.with_row_index("line").sort("reader", "at", "number", "line")
    ordered = ordered.select("reader", "at", "number", "direction", "outcome", "score", "line")
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute(BARE_TABLE)
    connection.execute("BEGIN IMMEDIATE")
    connection.executemany("INSERT INTO punches VALUES (?, ?, ?, ?, ?, ?, ?)", ordered.iter_rows())
    connection.execute("COMMIT")
    connection.close()


def _seconds(work: Callable[[], None]) -> float:
    begun = time.perf_counter()
    work()
    return time.perf_counter() - begun


if __name__ == "__main__":
    print(f"seed {SEED}")
    bench_store()
