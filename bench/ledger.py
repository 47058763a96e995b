"""What the ledger costs with a million entries: an append beside the bare write, proving all of it, and a proof.

`python -m bench.ledger [ENTRIES]`. Times are of the processor, since others may use the machine; where the disk is
waited for, it is said.
"""

from __future__ import annotations

import random
import secrets
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from statistics import median

import sqlalchemy as sa

from evenhand.store import Store, decisions, open_store
from evenhand.store.faults import refusing
from evenhand.store.ledger import hash_of, head
from evenhand.store.ledger_check import prove
from evenhand.store.ledger_entries import consistency_proof, inclusion_proof
from evenhand.terms.ledger.entries import Seal, entry_text, seal, who_digest
from evenhand.terms.ledger.merkle import leaf_hash, levels

MILLION = 1_000_000
TIMES = 1500  # transactions of each kind, in turns
AUTHORS = ("Ida Marlow", "Rui Okoro", "Lena Fisk")


def settled(number: int) -> dict[str, object]:
    """Return a row such as people write all day: an answer to a finding."""
    return {
        "finding": f"missing_punch/P{number % 900:03d}/2026-03-{1 + number % 28:02d}",
        "author": AUTHORS[number % 3],
        "reason": "was at the dentist, told beforehand",
        "made_at": 1_767_600_000 + number,
        "says": "A punch is missing.",
    }


@contextmanager
def _bare(store: Store) -> Iterator[sa.Connection]:
    """Yield the store's own transaction without the ledger: what is written is noted nowhere, and no entry follows."""
    with refusing(store.where), store.engine.connect() as conn, _begun(conn):
        yield conn


@contextmanager
def _begun(conn: sa.Connection) -> Iterator[None]:
    conn.execution_options(writes=True)
    try:
        with conn.begin():
            yield
    finally:
        conn.execution_options(writes=False)


def fill(store: Store, entries: int) -> None:
    """Write rows with an entry each, as the store writes them, in one transaction and in bulk."""
    salts = {name: secrets.token_bytes(16) for name in AUTHORS}
    who = {name: who_digest(salt, name) for name, salt in salts.items()}
    columns = ("settlement", "finding", "author", "reason", "made_at", "says", "is_withdrawn")
    with _bare(store) as conn:
        raw = conn.connection.driver_connection
        assert raw is not None
        leaves = [bytes(leaf) for (leaf,) in raw.execute("SELECT leaf FROM ledger")]
        first = len(leaves)
        for start in range(first, entries, 50_000):
            rows, logged, seals = [], [], []
            for entry in range(start, min(start + 50_000, entries)):
                row = {"settlement": entry, **settled(entry), "is_withdrawn": 0}
                one: Seal = seal("settled", f"[{entry}]", row, secrets.token_bytes(16))  # type: ignore[arg-type]
                text = entry_text(
                    entry,
                    at=1_767_600_000 + entry,
                    kind="settlement",
                    who=[who[str(row["author"])]],
                    seals=[one],
                    says={},
                )
                leaves.append(leaf_hash(text.encode()))
                rows.append(tuple(row[name] for name in columns))
                logged.append((entry, text, leaves[-1]))
                seals.append((entry, 0, "settled", one.key, one.salt, one.digest))
            raw.executemany(f"INSERT INTO settled ({', '.join(columns)}) VALUES (?, ?, ?, ?, ?, ?, ?)", rows)
            raw.executemany("INSERT INTO ledger VALUES (?, ?, ?)", logged)
            raw.executemany("INSERT INTO ledger_rows VALUES (?, ?, ?, ?, ?, ?)", seals)
        raw.executemany(
            "INSERT INTO ledger_authors (name, salt, digest) VALUES (?, ?, ?)",
            [(name, salts[name], who[name]) for name in AUTHORS],
        )
        for level, hashes in enumerate(levels(leaves)):
            if level:
                nodes = [(level, position, hashed) for position, hashed in enumerate(hashes)]
                raw.executemany("INSERT INTO ledger_nodes VALUES (?, ?, ?)", nodes)


def bench_append(store: Store) -> None:
    """Print what a transaction with its entry takes beside the same without one: the middle of many, done in turns."""
    spent: dict[str, list[tuple[float, float]]] = {"bare": [], "sealed": []}
    for number in range(TIMES):
        for name, writing in (("bare", lambda: _bare(store)), ("sealed", store.writing)):
            begun, on_clock = time.process_time(), time.perf_counter()
            with writing() as conn:
                decisions.add_settled(conn, **settled(number))  # type: ignore[arg-type]
            spent[name].append((time.process_time() - begun, time.perf_counter() - on_clock))
    for place, of in enumerate(("processor", "clock, with the disk")):
        bare, sealed = (median(one[place] for one in spent[name]) * 1e6 for name in ("bare", "sealed"))
        print(f"append, {of}: {sealed:.0f} µs beside {bare:.0f} µs bare: {sealed / bare:.2f} (yardstick 1.3)")


def bench_verify(store: Store) -> None:
    """Print how long it takes to prove all of it; the rows that were written bare are the ones to be found."""
    begun = time.process_time()
    with store.reading() as conn:
        log, faults = prove(conn)
        assert head(conn) == log.head()
    assert len(faults) == TIMES, faults[:3]
    assert all(fault.table == "settled" and "belongs to no entry" in fault.says for fault in faults)
    print(f"verify, {log.size:,} entries: {time.process_time() - begun:.1f} s of the processor (yardstick 10 s)")


def bench_proofs(store: Store) -> None:
    """Print how long a proof takes, and how many nodes it reads."""
    drawn = random.Random(SEED)

    def of(called: str, make: Callable[[sa.Connection], object]) -> None:
        begun = time.process_time()
        for _ in range(200):
            with store.reading() as conn:
                make(conn)
        each = (time.process_time() - begun) / 200 * 1000
        print(f"{called}: {each:.2f} ms of the processor (yardstick 5 ms)")

    with store.reading() as conn:
        now = head(conn).size
    of("proof that an entry is in it", lambda conn: inclusion_proof(conn, drawn.randrange(now)))
    of("proof that it goes on from fewer", lambda conn: consistency_proof(conn, drawn.randrange(1, now)))
    of("head", lambda conn: hash_of(conn, [(0, now)]))


SEED = 1
"""What the entries looked up are drawn from."""


def main(entries: int = MILLION) -> None:
    """Print every measurement on one store."""
    print(f"seed {SEED}")
    with tempfile.TemporaryDirectory() as folder:
        store = open_store(Path(folder) / "evenhand.sqlite")
        fill(store, entries)
        bench_append(store)
        bench_verify(store)
        bench_proofs(store)
        store.close()


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else MILLION)
