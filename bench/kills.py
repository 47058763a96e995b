"""Kill takes, backs, agains and rebuilds at random and at chosen moments, and look whether anything is left half done.

`python -m bench.kills [TIMES]` prints how often each deed was killed, where, and what was found; with the word
`handoff`, `erasure` or `writers` (all that write) before the number it kills those. Each time the store must be whole
as it was before or whole as it is after, the ledger must prove all of it, nothing may stand in it twice, and once a
command has run again nothing may lie beside it that the store does not name.
"""

from __future__ import annotations

import random
import shutil
import subprocess
import sys
import tempfile
import textwrap
import time
from collections import Counter
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from evenhand.jobs.ledger import verify
from evenhand.jobs.rebuild import rebuild
from evenhand.jobs.take import take_file, take_files
from evenhand.jobs.workspace import create_workspace, open_workspace
from evenhand.store import frames

__all__ = ["CHOSEN", "DEEDS", "RANDOM", "Killed", "after_of", "kill", "kill_often", "make"]

LONGEST_S = 0.15  # about how long a deed takes
NOW = datetime(2026, 12, 1, tzinfo=UTC)
DEEDS = ("take", "back", "again", "rebuild")
FOLDING = (
    "once it is decided",
    "once keyed rows are emptied",
    "once punches are taken out",
    "once all is folded",
    "once refused rows are written beside",
    "before the commit",
    "after the commit",
)
MOMENTS = {
    "take": (
        "once the source is written",
        "once refused rows are written beside",
        "before the commit",
        "after the commit",
    ),
    "back": FOLDING,
    "again": FOLDING,
    "rebuild": FOLDING,
}
"""Where a deed is stopped, beside any other place at random."""
CHOSEN = tuple((deed, moment) for deed in DEEDS for moment in MOMENTS[deed])
RANDOM = "at random"

# The moment is made a fault of the very function that ends then; everything else is the program as it is.
DOING = """
    import os, signal, sys
    from dataclasses import replace
    from datetime import UTC, datetime
    from pathlib import Path

    import sqlalchemy as sa

    from evenhand.jobs import beside, fold, keep, rebuild, retaking
    from evenhand.jobs.take import take_file
    from evenhand.jobs.takes import layout_of, read_again, take_back
    from evenhand.jobs.workspace import open_workspace
    from evenhand.store import folding, sources

    folder, deed, moment, file = sys.argv[1:5]
    workspace = open_workspace(folder)

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

    class Committed:
        is_so = False

    if moment == "once the source is written":
        killed_after(sources.Sources, "put")
    if moment == "once it is decided":
        killed_after(retaking, "add_take_decision")
        killed_after(rebuild, "set_aside")
    if moment == "once keyed rows are emptied":
        killed_after(folding, "empty_keyed")
    if moment == "once punches are taken out":
        killed_after(folding, "withdraw")
    if moment == "once all is folded":
        killed_after(retaking, "fold")
        killed_after(rebuild, "fold")
    if moment == "once refused rows are written beside":
        killed_after(keep, "write_beside")
        killed_after(beside, "replace_file")
    if moment == "before the commit":
        sa.event.listen(workspace.store.engine, "commit", on_write(killing))
    if moment == "after the commit":
        sa.event.listen(workspace.store.engine, "commit", on_write(lambda: setattr(Committed, "is_so", True)))
        sa.event.listen(workspace.store.engine, "begin", lambda conn: Committed.is_so and killing(), insert=True)
        real = Path.replace
        Path.replace = lambda path, to: killing() if Committed.is_so else real(path, to)

    said = {"author": "Ada", "reason": "a mistake", "as_of": datetime(2026, 12, 1, tzinfo=UTC)}
    print("ready", flush=True)
    if deed == "take":
        take_file(workspace, file)
    if deed == "back":
        take_back(workspace, 3, **said)
    if deed == "again":
        read_again(workspace, 3, replace(layout_of(workspace, 3), number_width=6), **said)
    if deed == "rebuild":
        rebuild.rebuild(workspace, False, as_of=said["as_of"])
    print("done", flush=True)
"""

READERS = "reader,site,zone\nGATE,Mill,America/Chicago\nDOCK,Mill,America/Chicago\n"
PEOPLE = "person,name,number,site\nP1,Ada,0041,Mill\nP2,Ben,0042,Mill\nP2,Bea,0042,Mill\n"


def _log(days: range) -> str:
    rows = ["reader,number,at,direction"]
    for day in days:
        for number in range(41, 81):
            rows += [f"GATE,{number:04d},2026-10-{day:02d} 08:00:{number % 60:02d},in"]
            rows += [f"DOCK,{number:04d},2026-10-{day:02d} 16:00:{number % 60:02d},out"]
        rows.append(f"LOFT,0041,2026-10-{day:02d} 17:00:00,out")
    return "\n".join(rows) + "\n"


Content = dict[str, object]


@dataclass(frozen=True)
class Killed:
    """A deed, where it was stopped, whether it was (it may have ended first), and what of it was found in the store."""

    deed: str
    moment: str
    is_killed: bool
    found: str


def make(folder: Path) -> Path:
    """Make a workspace with readers, a roster and two logs that overlap, beside a third that overlaps both."""
    workspace = create_workspace(folder / "mill")
    for name, text in (
        ("readers.csv", READERS),
        ("people.csv", PEOPLE),
        ("first.csv", _log(range(5, 10))),
        ("second.csv", _log(range(8, 13))),
        ("third.csv", _log(range(7, 16))),
    ):
        (folder / name).write_text(text, encoding="utf-8")
    take_files(workspace, [folder / name for name in ("readers.csv", "people.csv")])
    for name in ("first.csv", "second.csv"):
        take_file(workspace, folder / name)
    workspace.close()
    return folder


def after_of(made: Path, deed: str) -> Content:
    """Return what the store of the workspace in `made` says once the deed is done."""
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / "done"
        shutil.copytree(made, folder)
        assert not _run(folder, deed, "", None)
        return _content(folder / "mill")


def kill(made: Path, deed: str, moment: str, after: Content, after_s: float | None = None) -> Killed:
    """Stop a deed in a copy of the workspace in `made`, and look at what it left; AssertionError where it is wrong.

    `after` is what `after_of` says of the deed, `after_s` how long it is let run where the moment is any [s].
    """
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / "killed"
        shutil.copytree(made, folder)
        is_killed = _run(folder, deed, moment, after_s)
        content = _content(folder / "mill")
        found = [name for name, state in (("before", _content(made / "mill")), ("after", after)) if state == content]
        assert len(found) == 1, f"{deed} killed {moment}: neither whole before nor whole after"
        _look_again(folder)
        return Killed(deed, moment, is_killed, found[0])


def _run(folder: Path, deed: str, moment: str, after_s: float | None) -> bool:
    """Do the deed in a program of its own, and return whether it was killed."""
    with subprocess.Popen(
        [sys.executable, "-c", textwrap.dedent(DOING), str(folder / "mill"), deed, moment, str(folder / "third.csv")],
        stdout=subprocess.PIPE,
    ) as program:
        assert program.stdout is not None
        assert program.stdout.readline() == b"ready\n"
        if after_s is not None:
            time.sleep(after_s)
            program.kill()
        program.stdout.read()
    assert program.returncode in (0, -9), f"{deed}, {moment}: ended with {program.returncode}"
    return program.returncode == -9


def _content(mill: Path) -> Content:
    """Return all that the store says, without when it was said."""
    workspace = open_workspace(mill)
    held: Content = {}
    try:
        with workspace.store.reading() as conn:
            for name in ("people", "readers", "recorded", "changes"):
                held[name] = getattr(frames, name)(conn).rows()
            held["takes"] = frames.takes(conn).drop("taken_at").rows()
            held["decisions"] = frames.take_decisions(conn).drop("made_at").rows()
            held["refused"] = sorted(conn.exec_driver_sql("SELECT take, line, reason FROM refused_rows").all())
    finally:
        workspace.close()
    return held


def _look_again(folder: Path) -> None:
    """Run a command once more, and hold the store to its sources and the files beside it to the store."""
    workspace = open_workspace(folder / "mill")
    try:
        (folder / "other.csv").write_text(READERS + "LOFT,Mill,America/Chicago\n", encoding="utf-8")
        take_file(workspace, folder / "other.csv")
        proved = verify(workspace)
        assert proved.is_whole, proved.faults
        tried = rebuild(workspace, is_try=True, as_of=NOW)
        assert tried.differing == 0, tried.first
        with workspace.store.reading() as conn:
            takes = frames.takes(conn)
            twice = frames.recorded(conn).select("reader", "number", "at", "direction").is_duplicated().any()
        assert not twice, "a punch stands twice"
        named = {f"{sha256}.gz" for sha256 in takes["sha256"]} | {".lock"}
        assert {path.name for path in (folder / "mill/sources").iterdir()} == named
        refused = takes.filter(takes["refused"] > 0)
        expected = {f"{take:04d}-{file}.csv" for take, file in refused.select("take", "file").iter_rows()}
        assert {path.name for path in (folder / "mill/rejected").iterdir()} == expected
        for place in ("sources", "rejected", "layouts"):
            assert not list((folder / "mill" / place).glob(".*.part")), f"something half written lies in {place}"
    finally:
        workspace.close()


def kill_often(times: int, seed: int = 1) -> list[Killed]:
    """Kill the four deeds in turn, at every moment that was chosen and at random, and return what was found."""
    rng = random.Random(seed)
    plan = [*CHOSEN, *((DEEDS[place % 4], RANDOM) for place in range(times))][:times]
    with tempfile.TemporaryDirectory() as folder:
        made = make(Path(folder))
        after = {deed: after_of(made, deed) for deed in DEEDS}
        return [
            kill(made, deed, moment, after[deed], rng.uniform(0, LONGEST_S) if moment == RANDOM else None)
            for deed, moment in plan
        ]


def bench_kills(times: int = 200) -> None:
    """Print how often each deed was killed, and what was found."""
    print("seed 1")
    killed = kill_often(times, 1)
    counted = Counter((one.deed, one.moment, one.found if one.is_killed else "ended first") for one in killed)
    for (deed, moment, found), count in sorted(counted.items()):
        print(f"{deed:<8} {moment:<38} {found:<12} {count}")
    stopped = sum(one.is_killed for one in killed)
    print(f"{len(killed)} deeds, {stopped} of them killed: every store whole, nothing twice, nothing left behind")


if __name__ == "__main__":
    if "handoff" in sys.argv:
        from bench.kills_handoff import bench_kills_of_handoff

        bench_kills_of_handoff(*(int(word) for word in sys.argv[2:]))
    elif "writers" in sys.argv:
        from bench.kills_writers import bench_kills_of_writers

        bench_kills_of_writers(sys.argv[2:])
    elif "erasure" in sys.argv:
        from bench.kills_erasure import bench_kills_of_erasure

        bench_kills_of_erasure(*(int(word) for word in sys.argv[2:]))
    else:
        bench_kills(int(sys.argv[1]) if len(sys.argv) > 1 else 200)
