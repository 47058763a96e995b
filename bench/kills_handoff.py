"""Kill hand-offs at random and at chosen moments, and look whether files and record are ever there by halves.

`python -m bench.kills_handoff [TIMES]`, or `python -m bench.kills handoff [TIMES]`, prints where they were stopped and
what was found. Once a command has run again, either the record and all its files are there, each with the digest on
record, or nothing is; nothing half written lies beside them, and what was handed off before is untouched.
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

from evenhand.jobs.handoff import hand_off
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.take import take_files
from evenhand.jobs.workspace import create_workspace, open_workspace
from evenhand.store import frames

__all__ = ["MOMENTS", "RANDOM", "Killed", "kill", "kill_often", "length_of", "make"]

NOW = datetime(2026, 11, 17, 14, tzinfo=UTC)
BEFORE = date(2026, 11, 4)
RANDOM = "at random"
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
    from datetime import UTC, datetime
    from pathlib import Path

    import sqlalchemy as sa

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

    `after_s` is how long it is let run where the moment is any [s].
    """
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / "killed"
        shutil.copytree(made, folder)
        is_killed = _run(folder, moment, after_s)
        found = _look(folder / "mill", made / "mill")
        return Killed(moment, is_killed, found)


def length_of(made: Path) -> float:
    """Return how long a hand-off takes on this machine, as it is now, in a program that has just begun [s]."""
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / "whole"
        shutil.copytree(made, folder)
        with _doing(folder, "") as program:
            started = time.perf_counter()
            assert program.stdout is not None
            program.stdout.read()
            return time.perf_counter() - started


@contextmanager
def _doing(folder: Path, moment: str) -> Iterator[subprocess.Popen[bytes]]:
    """Begin a hand-off in a program of its own."""
    command = [sys.executable, "-c", textwrap.dedent(DOING), str(folder / "mill"), moment]
    with subprocess.Popen(command, stdout=subprocess.PIPE) as program:
        assert program.stdout is not None
        assert program.stdout.readline() == b"ready\n"
        yield program


def _run(folder: Path, moment: str, after_s: float | None) -> bool:
    with _doing(folder, moment) as program:
        if after_s is not None:
            time.sleep(after_s)
            program.kill()
        assert program.stdout is not None
        program.stdout.read()
    assert program.returncode in (0, -9), f"{moment}: ended with {program.returncode}"
    return program.returncode == -9


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
        for path in (before / "handoff").iterdir():
            assert path.read_bytes() == (workspace.handoff / path.name).read_bytes(), f"{path.name} was changed"
        if records.height == 1:
            hand_off(workspace, reckon_period(workspace, NOW), as_of=NOW, author="Ada", despite=True)
    finally:
        workspace.close()
    return "before" if records.height == 1 else "after"


def kill_often(times: int, seed: int = 1) -> list[Killed]:
    """Kill hand-offs at every moment that was chosen and then at random, and return what was found."""
    rng = Random(seed)
    with tempfile.TemporaryDirectory() as folder:
        made = make(Path(folder))
        longest_s = length_of(made)
        plan = [*MOMENTS, *([RANDOM] * times)][:times]
        return [kill(made, moment, _some_time(rng, longest_s) if moment == RANDOM else None) for moment in plan]


def _some_time(rng: Random, longest_s: float) -> float:
    """Return any moment of a hand-off, half of them within its last fifth, in which it writes [s]."""
    return longest_s * (rng.uniform(0.8, 1.05) if rng.random() < 0.5 else rng.random())


def bench_kills_of_handoff(times: int = 200) -> None:
    """Print how often hand-offs were killed where, and what was found."""
    killed = kill_often(times)
    counted = Counter((one.moment, one.found if one.is_killed else "ended first") for one in killed)
    for (moment, found), count in sorted(counted.items()):
        print(f"{moment:<40} {found:<12} {count}")
    stopped = sum(one.is_killed for one in killed)
    print(f"{len(killed)} hand-offs, {stopped} of them killed: all of the files with their record, or none")


if __name__ == "__main__":
    bench_kills_of_handoff(int(sys.argv[1]) if len(sys.argv) > 1 else 200)
