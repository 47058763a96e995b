"""Kill erasures at random and at chosen moments, and look whether a person is ever erased by halves.

`python -m bench.kills_erasure [TIMES]`, or `python -m bench.kills erasure [TIMES]`, prints where they were stopped and
what was found. Once a command has run again, either everything is as it was and the person can be erased, or the person
is in no file of the workspace, and the store is the one that its sources make.
"""

from __future__ import annotations

import gzip
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
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from random import Random

from evenhand.jobs.erasure import erase
from evenhand.jobs.handoff import hand_off
from evenhand.jobs.rebuild import rebuild
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.take import take_files
from evenhand.jobs.workspace import Workspace, create_workspace, open_workspace
from evenhand.store import frames

__all__ = ["MOMENTS", "RANDOM", "Killed", "kill", "kill_often", "length_of", "make"]

NOW = datetime(2026, 11, 17, 14, tzinfo=UTC)
THEN = datetime(2021, 2, 16, 14, tzinfo=UTC)
RANDOM = "at random"
MOMENTS = {
    "once rows are cut out of the first source": "before",
    "once all is folded": "before",
    "once the first source is written anew": "before",
    "once a copy lies beside its place": "before",
    "before the commit": "before",
    "after the commit": "after",
    "once sources are swept": "after",
    "once the database is written anew": "after",
}
"""Where an erasure is stopped, and what is then there once a command has run again."""

# The moment is made a fault of the very function that ends then; everything else is the program as it is.
DOING = """
    import os, signal, sys
    from datetime import UTC, datetime
    from pathlib import Path

    import sqlalchemy as sa

    from evenhand import layouts
    from evenhand.jobs import cleared, erasure, foreseen_erasure
    from evenhand.jobs.workspace import open_workspace
    from evenhand.store import clearing
    from evenhand.store.sources import Sources

    folder, moment = sys.argv[1:3]
    workspace, now = open_workspace(folder), datetime(2026, 11, 17, 14, tzinfo=UTC)

    def killing(*given, **named):
        os.kill(os.getpid(), signal.SIGKILL)

    is_real = False  # the first fold is the look beforehand

    def killed_after(where, name, only_real=True):
        real = getattr(where, name)
        def done(*given, **named):
            found = real(*given, **named)
            if is_real or not only_real:
                killing()
            return found
        setattr(where, name, done)

    looking = erasure._erase
    def really(*given, **named):
        global is_real
        is_real = True
        return looking(*given, **named)
    erasure._erase = really

    def on_write(what):
        return lambda conn: what() if is_real and conn.get_execution_options().get("writes") else None

    if moment == "once rows are cut out of the first source":
        killed_after(layouts, "without")
    if moment == "once all is folded":
        killed_after(foreseen_erasure, "fold")
    if moment == "once the first source is written anew":
        killed_after(Sources, "put")
    if moment == "once a copy lies beside its place":
        killed_after(erasure, "write_beside")
    if moment == "before the commit":
        sa.event.listen(workspace.store.engine, "commit", on_write(killing))
    if moment == "after the commit":
        cleared.put_in_place = erasure.finish_erasing = killing
    if moment == "once sources are swept":
        killed_after(Sources, "sweep")
        erasure.tidy = lambda *given: None  # that of before, in which nothing is swept yet
    if moment == "once the database is written anew":
        killed_after(clearing, "_vacuum_file")

    print("ready", flush=True)
    erasure.erase(workspace, "P1002", author="Ada", reason="due", as_of=now)
    print("done", flush=True)
"""

READERS = "reader,site,zone\nGATE,Mill,America/Chicago\n"
PEOPLE = (
    "person,name,number,site,hourly rate,left on\n"
    "P1001,Ada Quill,410001,Mill,20,\nP1002,Ben Rook,420002,Mill,18.50,2021-03-01\nP1003,Cy Doe,430003,Mill,18,\n"
)
LISTED = "reader,number,name\nGATE,410001,Ada Quill\nGATE,420002,Ben Rook\nGATE,430003,Cy Doe\n"
NEEDLES = (b"Ben Rook", b"P1002", b"420002")


@dataclass(frozen=True)
class Killed:
    """Where an erasure was stopped, whether it was (it may have ended first), and what of it was found."""

    moment: str
    is_killed: bool
    found: str


def _log() -> str:
    rows = ["reader,number,at,direction,score"]
    for day in (date(2021, 2, 7) + timedelta(days=n) for n in range(8)):
        for number in ("410001", "420002", "430003"):
            rows += [f"GATE,{number},{day} 08:00:00,in,20.5", f"GATE,{number},{day} 16:00:00,out,21.5"]
    return "\n".join(rows) + "\n"


def make(folder: Path) -> Path:
    """Make a workspace in which somebody left long ago, was handed off to payroll, and is on no reader any more."""
    workspace = create_workspace(folder / "mill")
    files = {"readers.csv": READERS, "people.csv": PEOPLE, "listed.csv": LISTED, "log.csv": _log()}
    for name, text in files.items():
        (folder / name).write_text(text, encoding="utf-8")
    take_files(workspace, [folder / name for name in files])
    reckoning = reckon_period(workspace, THEN, date(2021, 2, 8))
    hand_off(workspace, reckoning, as_of=THEN, period_day=date(2021, 2, 8), author="Ben Rook", despite=True)
    (folder / "later.csv").write_text(LISTED.replace("GATE,420002,Ben Rook\n", ""), encoding="utf-8")
    take_files(workspace, [folder / "later.csv"])
    workspace.close()
    return folder


def kill(made: Path, moment: str, after_s: float | None = None) -> Killed:
    """Stop an erasure in a copy of the workspace in `made`, and look at what it left; AssertionError where it is wrong.

    `after_s` is how long it is let run where the moment is any [s].
    """
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / "killed"
        shutil.copytree(made, folder)
        is_killed = _run(folder, moment, after_s)
        return Killed(moment, is_killed, _look(folder / "mill"))


def length_of(made: Path) -> float:
    """Return how long an erasure takes on this machine, as it is now, in a program that has just begun [s]."""
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
    """Begin an erasure in a program of its own."""
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


def _look(mill: Path) -> str:
    """Run the next command, which opens the workspace, and return what is there; erase what was not erased."""
    workspace = open_workspace(mill)
    try:
        with workspace.store.reading() as conn:
            is_there = "P1002" in frames.people(conn)["person"]
            times = frames.erasures(conn).height
        assert times == (0 if is_there else 1), f"{times} erasures on record, and the person is there: {is_there}"
        if is_there:
            assert _named_in(workspace) >= set(NEEDLES), "something of the person is gone, and the person is not"
            erase(workspace, "P1002", author="Ada", reason="due", as_of=NOW)
        assert _named_in(workspace) == set(), f"still there: {_named_in(workspace)}"
        assert rebuild(workspace, is_try=True, as_of=NOW).differing == 0
        left = [path.name for path in workspace.directory.rglob("*.part")]
        assert not left, f"left beside: {left}"
    finally:
        workspace.close()
    return "before" if is_there else "after"


def _named_in(workspace: Workspace) -> set[bytes]:
    found = set()
    for path in workspace.directory.rglob("*"):
        if path.is_file():
            content = path.read_bytes()
            content += gzip.decompress(content) if path.suffix == ".gz" else b""
            found |= {needle for needle in NEEDLES if needle in content}
    return found


def kill_often(times: int, seed: int = 1) -> list[Killed]:
    """Kill erasures at every moment that was chosen and then at random, and return what was found."""
    rng = Random(seed)
    with tempfile.TemporaryDirectory() as folder:
        made = make(Path(folder))
        longest_s = length_of(made)
        plan = [*MOMENTS, *([RANDOM] * times)][:times]
        return [kill(made, moment, rng.uniform(0, longest_s) if moment == RANDOM else None) for moment in plan]


def bench_kills_of_erasure(times: int = 200) -> None:
    """Print how often erasures were killed where, and what was found."""
    print("seed 1")
    killed = kill_often(times, 1)
    counted = Counter((one.moment, one.found if one.is_killed else "ended first") for one in killed)
    for (moment, found), count in sorted(counted.items()):
        print(f"{moment:<42} {found:<12} {count}")
    stopped = sum(one.is_killed for one in killed)
    print(f"{len(killed)} erasures, {stopped} of them killed: nobody erased by halves")


if __name__ == "__main__":
    bench_kills_of_erasure(int(sys.argv[1]) if len(sys.argv) > 1 else 200)
