"""Kill hand-offs at random and at chosen moments, and look whether files and record are ever there by halves.

`python -m bench.kills_handoff [TIMES]`, or `python -m bench.kills handoff [TIMES]`, prints where they were stopped and
what was found. Once a command has run again, either the record and all its files are there, each with the digest on
record, or nothing is; nothing half written lies beside them, and what was handed off before is untouched.

A hand-off reckons for long and writes for a moment. So the program says when it begins to write and when all is in
place, nine in ten are stopped by the clock from there on, and each is counted by what the program had said last.
"""

from __future__ import annotations

import hashlib
import json
import shutil
import subprocess
import sys
import tempfile
import textwrap
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from random import Random
from statistics import median

from evenhand.jobs.handoff import hand_off
from evenhand.jobs.ledger import verify
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.take import take_files
from evenhand.jobs.workspace import create_workspace, open_workspace
from evenhand.store import frames

__all__ = ["IN_WRITING", "MOMENTS", "RANDOM", "Killed", "Lengths", "kill", "kill_often", "lengths_of", "make"]

NOW = datetime(2026, 11, 17, 14, tzinfo=UTC)
BEFORE = date(2026, 11, 4)
RANDOM = "at random"
IN_WRITING = "at random in the writing"
MOMENTS = {
    "once one file lies beside its place": "before",
    "once all files lie beside their places": "before",
    "before the commit": "before",
    "after the commit": "after",
    "once one file is in place": "after",
}
"""Where a hand-off is stopped, and what is then there once a command has run again."""

# The moment is made a fault of the very function that ends then; everything else is the program as it is.
DOING = """
    import os, signal, sys
    from contextlib import contextmanager
    from datetime import UTC, datetime
    from pathlib import Path

    import sqlalchemy as sa

    from evenhand.jobs import handoff
    from evenhand.jobs.handoff import hand_off
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.workspace import open_workspace
    from evenhand.store import handing

    folder, moment = sys.argv[1:3]
    workspace, now = open_workspace(folder), datetime(2026, 11, 17, 14, tzinfo=UTC)

    def killing(*given, **named):
        os.kill(os.getpid(), signal.SIGKILL)

    def killed_after(where, name):
        real = getattr(where, name)
        def done(*given, **named):
            real(*given, **named)
            killing()
        setattr(where, name, done)

    def on_write(what):
        return lambda conn: what() if conn.get_execution_options().get("writes") else None

    if moment == "once one file lies beside its place":
        killed_after(handing, "write_beside")
    if moment == "once all files lie beside their places":
        killed_after(handing, "sync_folder")
    if moment == "before the commit":
        sa.event.listen(workspace.store.engine, "commit", on_write(killing))
    if moment == "after the commit":
        handing.put_in_place = killing
    if moment == "once one file is in place":
        killed_after(Path, "replace")

    real_handing = handoff.handing

    @contextmanager
    def said(*given):
        print("writing", flush=True)
        with real_handing(*given) as conn:
            yield conn
        print("written", flush=True)

    handoff.handing = said

    print("ready", flush=True)
    hand_off(workspace, reckon_period(workspace, now), as_of=now, author="Ada", despite=True)
    print("done", flush=True)
"""

READERS = "reader,site,zone\nGATE,Mill,America/Chicago\n"
PEOPLE = "person,name,number,site,hourly rate\nP1,Ada Quill,0041,Mill,20\nP2,Ben Rook,0042,Mill,18.50\n"


@dataclass(frozen=True)
class Killed:
    """Where a hand-off was stopped, whether it was (it may have ended first), and what of it was found."""

    moment: str
    is_killed: bool
    found: str
    struck: str


@dataclass(frozen=True)
class Lengths:
    """How long a hand-off takes up to its writing, and how long it writes [s]."""

    reckoning_s: float
    writing_s: float


def _log() -> str:
    rows = ["reader,number,at,direction"]
    for day in (*range(2, 7), *range(9, 14)):
        for number in ("0041", "0042"):
            rows += [f"GATE,{number},2026-11-{day:02d} 08:00:00,in", f"GATE,{number},2026-11-{day:02d} 16:00:00,out"]
    return "\n".join(rows) + "\n"


def make(folder: Path) -> Path:
    """Make a workspace with two closed weeks, of which the first is handed off."""
    workspace = create_workspace(folder / "mill")
    for name, text in (("readers.csv", READERS), ("people.csv", PEOPLE), ("log.csv", _log())):
        (folder / name).write_text(text, encoding="utf-8")
    take_files(workspace, [folder / name for name in ("readers.csv", "people.csv", "log.csv")])
    reckoning = reckon_period(workspace, NOW, BEFORE)
    hand_off(workspace, reckoning, as_of=NOW, period_day=BEFORE, author="Ada", despite=True)
    workspace.close()
    return folder


def kill(made: Path, moment: str, after_s: float | None = None) -> Killed:
    """Stop a hand-off in a copy of the workspace in `made`, and look at what it left; AssertionError where it is wrong.

    `after_s` is how long it is let run where the moment is any, from its beginning or from that of its writing [s].
    """
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / "killed"
        shutil.copytree(made, folder)
        is_killed, struck = _run(folder, moment, after_s)
        found = _look(folder / "mill", made / "mill")
        assert {"before": found == "before", "after": found == "after"}.get(struck, True), (
            f"{moment}: {struck}, {found}"
        )
        return Killed(moment, is_killed, found, struck)


def lengths_of(made: Path, times: int = 3) -> Lengths:
    """Return how long hand-offs take on this machine, as it is now, in programs that have just begun: the median."""
    reckoning, writing = [], []
    for _ in range(times):
        with tempfile.TemporaryDirectory() as scratch:
            folder = Path(scratch) / "whole"
            shutil.copytree(made, folder)
            with _doing(folder, "") as program:
                begun = time.perf_counter()
                _await(program, "writing")
                writes = time.perf_counter()
                _await(program, "written")
                reckoning.append(writes - begun)
                writing.append(time.perf_counter() - writes)
                _await(program, "done")
    return Lengths(median(reckoning), median(writing))


@contextmanager
def _doing(folder: Path, moment: str) -> Iterator[subprocess.Popen[bytes]]:
    """Begin a hand-off in a program of its own."""
    command = [sys.executable, "-c", textwrap.dedent(DOING), str(folder / "mill"), moment]
    with subprocess.Popen(command, stdout=subprocess.PIPE) as program:
        _await(program, "ready")
        yield program


def _await(program: subprocess.Popen[bytes], word: str) -> None:
    """Wait until the program says so."""
    assert program.stdout is not None
    assert program.stdout.readline() == f"{word}\n".encode()


def _run(folder: Path, moment: str, after_s: float | None) -> tuple[bool, str]:
    """Return whether the hand-off was stopped, and whether before, within or after its writing."""
    said = b""
    with _doing(folder, moment) as program:
        if moment == IN_WRITING:
            _await(program, "writing")
            said = b"writing\n"
        if after_s is not None:
            time.sleep(after_s)
            program.kill()
        assert program.stdout is not None
        said += program.stdout.read()
    assert program.returncode in (0, -9), f"{moment}: ended with {program.returncode}"
    struck = "after" if b"written" in said else "within" if b"writing" in said else "before"
    return program.returncode == -9, struck


def _look(mill: Path, before: Path) -> str:
    """Run the next command, which opens the workspace, and hold the files to the record; return what is there."""
    workspace = open_workspace(mill)
    try:
        with workspace.store.reading() as conn:
            records = frames.handoffs(conn)
        assert records.height in (1, 2), "a hand-off stands twice"
        named = {name: digest for text in records["files"] for name, digest in json.loads(text).items()}
        lying = {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in workspace.handoff.iterdir()}
        assert lying == named, f"on record {sorted(named)}, in the folder {sorted(lying)}"
        proved = verify(workspace)
        assert proved.is_whole, proved.faults
        for path in (before / "handoff").iterdir():
            assert path.read_bytes() == (workspace.handoff / path.name).read_bytes(), f"{path.name} was changed"
        if records.height == 1:
            hand_off(workspace, reckon_period(workspace, NOW), as_of=NOW, author="Ada", despite=True)
    finally:
        workspace.close()
    return "before" if records.height == 1 else "after"


def kill_often(times: int, seed: int = 1) -> Iterator[Killed]:
    """Kill hand-offs at every moment that was chosen and then by the clock, and yield what was found."""
    rng = Random(seed)
    with tempfile.TemporaryDirectory() as folder:
        made = make(Path(folder))
        lengths = lengths_of(made)
        for place in range(times):
            if place < len(MOMENTS):
                yield kill(made, [*MOMENTS][place])
            elif place % 10:
                yield kill(made, IN_WRITING, rng.uniform(0, lengths.writing_s))
            else:
                yield kill(made, RANDOM, rng.uniform(0, lengths.reckoning_s + lengths.writing_s))


def bench_kills_of_handoff(times: int = 200, seed: int = 1) -> None:
    """Print how often hand-offs were killed where, and what was found."""
    print(f"seed {seed}")
    killed = list(kill_often(times, seed))
    counted = Counter((one.moment, one.struck, one.found, one.is_killed) for one in killed)
    for (moment, struck, found, is_killed), count in sorted(counted.items()):
        stopped = f"killed {struck} writing" if is_killed else "ended first"
        print(f"{moment:<40} {stopped:<22} {'nothing there' if found == 'before' else 'all there':<14} {count:>4}")
    where = Counter(one.struck for one in killed if one.is_killed)
    print(
        f"{len(killed)} hand-offs, {where.total()} of them killed ({where['before']} before the writing, "
        f"{where['within']} within, {where['after']} after): all of the files with their record, or none"
    )


if __name__ == "__main__":
    bench_kills_of_handoff(*map(int, sys.argv[1:3]))
