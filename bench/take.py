"""How long it takes to turn a log of a million punches into typed columns, beside a bare read of the clean file."""

from __future__ import annotations

import random
import time
from collections.abc import Callable
from datetime import datetime, timedelta

import polars as pl

from evenhand.layouts import KnownCells, SourceFile, propose, read

READERS = {f"Gate {n}": ("America/Chicago", "Europe/Madrid")[n % 2] for n in range(20)}
HEADER = "reader,number,at,direction,outcome,score\n"

SEED = 7
"""What rows are drawn from; bad ones from the next."""


def log_lines(rows: int) -> list[str]:
    """Return the lines of an invented log, oldest first, a punch every 20 seconds."""
    draw = random.Random(SEED)
    start = datetime(2026, 1, 5, 6)
    readers = list(READERS)
    return [
        f"{draw.choice(readers)},{draw.randrange(10_000):05d},{start + timedelta(seconds=20 * at):%Y-%m-%d %H:%M:%S},"
        f"{('in', 'out')[at % 2]},accepted,{draw.randrange(5, 90)}\n"
        for at in range(rows)
    ]


def spoil(lines: list[str], share: float) -> list[str]:
    """Return the lines with a share of them made bad, in ways that files are bad."""
    draw = random.Random(SEED + 1)
    ways: list[Callable[[str], str]] = [
        lambda line: line.replace("2026", "26x6"),
        lambda line: line.rsplit(",", 2)[0] + "\n",
        lambda line: "Nowhere," + line.split(",", 1)[1],
        lambda line: line.replace(",in,", ",sideways,").replace(",out,", ",sideways,"),
        lambda line: '"' + line,
        lambda line: line.replace(",0", ",A", 1),
    ]
    return [draw.choice(ways)(line) if draw.random() < share else line for line in lines]


def best_of(runs: int, work: Callable[[], object]) -> float:
    """Return the shortest time [s] of several runs."""
    times = []
    for _ in range(runs):
        begun = time.perf_counter()
        work()
        times.append(time.perf_counter() - begun)
    return min(times)


def bench_take_columns(rows: int = 1_000_000) -> float:
    """Print the time of a bare read of the clean file, that of our reading with 1 % bad rows, and return the ratio."""
    lines = log_lines(rows)
    clean = (HEADER + "".join(lines)).encode()
    bad = (HEADER + "".join(spoil(lines, 0.01))).encode()
    layout = propose(SourceFile("log.csv", bad), known=KnownCells(readers=list(READERS))).layout
    taken = read(SourceFile("log.csv", bad), layout, zones=READERS)
    assert taken.read == rows
    bare = best_of(3, lambda: pl.read_csv(clean))
    ours = best_of(3, lambda: read(SourceFile("log.csv", bad), layout, zones=READERS))
    print(
        f"{rows:,} rows, {taken.rejects.height:,} refused with their line: bare Polars read of the clean file "
        f"{bare:.3f} s, typed columns {ours:.3f} s, ratio {ours / bare:.1f} (target 5)"
    )
    return ours / bare


if __name__ == "__main__":
    print(f"seeds {SEED} and {SEED + 1}")
    bench_take_columns()
