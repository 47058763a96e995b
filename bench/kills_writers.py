"""Kill every command that writes, before, within and after its writing, and look whether anything is done by halves.

`python -m bench.kills writers [TIMES] [+SKIPPED] [--store postgresql]` prints how often each was killed in which phase,
and what was found. PostgreSQL is the server that EVENHAND_TEST_POSTGRES names, as `tests/services.sh` starts one. Each
time, once the workspace is opened again, the ledger must be proved, every table hold as many rows as before or as
after, and nothing half written lie anywhere; the same command a minute later must end as if it had run once.

Every deed is done in a program forked from this one, which has loaded everything and run nothing: so a moment costs
what the command costs. What a command does first is written down once, step by step: each statement to the store, each
commit, and each file made, renamed or removed. Then it is stopped at a step drawn from a phase, or at any time.
"""

from __future__ import annotations

import importlib
import mmap
import os
import pickle
import pkgutil
import re
import shutil
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from itertools import cycle, islice
from pathlib import Path
from random import Random
from typing import Any

import click
import sqlalchemy as sa
from bench.kills_forked import PHASES, Step, Steps, ended, forked, phase_of, steps_begun
from bench.kills_workplace import NOW, WRITERS, Said, make_workplace, words_of

from evenhand import cli, jobs
from evenhand.cli import asked
from evenhand.jobs import ledger, rounds
from evenhand.jobs.workspace import open_workspace
from evenhand.store import frames
from evenhand.store.tables import metadata

__all__ = ["Killed", "bench_kills_of_writers", "kill_writers"]

ANY = "any time"
DRAWN = ("within", "after", ANY, "before", "within", "within", "after", ANY, "within")
"""From what the moments of a writer are drawn, in turn."""
LATER = timedelta(minutes=1)


@dataclass(frozen=True)
class State:
    """How many rows each table holds, and the names of all files in the workspace."""

    rows: dict[str, int]
    files: frozenset[str]

    @property
    def decided(self) -> dict[str, int]:
        """The rows without what the ledger states of settings and layouts, which it may state the next time."""
        return {name: count for name, count in self.rows.items() if name != "settings_texts" and "ledger" not in name}


@dataclass(frozen=True)
class Killed:
    """A writer, from what its moment was drawn, in which phase it was stopped ('' if it ended first), what was found.

    `said` is how the same command ended a minute later.
    """

    writer: str
    drawn: str
    phase: str
    found: str
    said: str


def _run(writer: str, said: Said, folder: Path, now: datetime) -> int:
    """Run the command of a writer in this program as of a time, and return its exit code."""

    class Clock(datetime):
        @classmethod
        def now(cls, tz: tzinfo | None = None) -> datetime:  # type: ignore[override]
            return now.astimezone(tz)

    words = words_of(writer, said, folder)
    os.environ |= {"EVENHAND_AUTHOR": "Ada", "TMPDIR": str(folder / "temporary")}
    if writer == "outcome":
        return _tap(folder, *words[1:], now=now)
    asked.datetime = Clock  # type: ignore[misc, attr-defined]
    sys.argv = ["evenhand", "-w", str(folder / "mill"), *words]
    try:
        cli.main()
    except SystemExit as ended:
        return int(ended.code or 0)
    raise AssertionError("the command did not end")


def _tap(folder: Path, round_name: str, item: str, *, now: datetime) -> int:
    """Send what a phone at a reader sends, and sends again until it hears that it was taken in."""
    said = {"outcome": "a1", "item": item, "result": "enrolled", "presentations": 3, "scores": "20 21 22"}
    said |= {"author": "Ida Marlow", "made_at": int(NOW.timestamp())}
    workspace = open_workspace(folder / "mill")
    try:
        taken = rounds.record_outcomes(workspace, round_name, [said], as_of=now)
    finally:
        workspace.close()
    click.echo(f"{taken.new} new, {taken.known} known already")
    return 2 if taken.rejected else 0


def _state(folder: Path) -> State:
    """Open the workspace, prove its ledger, and return its state; AssertionError where something is left or altered."""
    mill = folder / "mill"
    workspace = open_workspace(mill)
    try:
        proved = ledger.verify(workspace)
        assert proved.is_whole, f"the ledger is not proved: {proved.faults[:3]}"
        with workspace.store.reading() as conn:
            count = sa.func.count()
            rows = {
                name: int(conn.scalar(sa.select(count).select_from(one)) or 0) for name, one in metadata.tables.items()
            }
            takes = frames.takes(conn)["take"].sort().to_list()
    finally:
        workspace.close()
    files = frozenset(_named(str(path.relative_to(mill)), takes) for path in mill.rglob("*"))
    left = [name for name in files if name.endswith((".part", ".tmp", "-wal", "-shm", "-journal"))]
    left += [path.name for path in (folder / "temporary").iterdir()]
    assert not left, f"left half written: {left}"
    return State(rows, files)


def _named(file: str, takes: list[int]) -> str:
    """Return the name of a file; of rejected rows by which of the takes that there are is theirs, counted from 1.

    PostgreSQL gives no number twice, also where the take that was to have it was killed: the next has a higher one.
    """
    found = re.fullmatch(r"rejected/(\d{4,})-(.*)", file, re.DOTALL)
    return f"rejected/take {takes.index(int(found[1])) + 1}: {found[2]}" if found and int(found[1]) in takes else file


class Workplaces:
    """A workplace, as it was made, and the one copy of it in which a command is killed."""

    def __init__(self, folder: Path, server: str) -> None:
        self.made, self.copy, self.server = folder / "made", folder / "copy", server
        self.said: Said = {}

    def make(self) -> None:
        """Make the workplace, and its database where it has a server."""
        self.made.mkdir()
        self._on_server("DROP DATABASE IF EXISTS evenhand_kills WITH (FORCE)", "CREATE DATABASE evenhand_kills")
        store = sa.make_url(self.server).set(database="evenhand_kills").render_as_string(False) if self.server else ""
        self.said = self.told(lambda: make_workplace(self.made, store))
        self._on_server(
            "DROP DATABASE IF EXISTS evenhand_kills_made WITH (FORCE)",
            "ALTER DATABASE evenhand_kills RENAME TO evenhand_kills_made",
        )

    def renew(self) -> Path:
        """Make the copy anew, and return where it is."""
        shutil.rmtree(self.copy, ignore_errors=True)
        shutil.copytree(self.made, self.copy)
        (self.copy / "temporary").mkdir()
        self._on_server(
            "DROP DATABASE IF EXISTS evenhand_kills WITH (FORCE)",
            "CREATE DATABASE evenhand_kills TEMPLATE evenhand_kills_made",
        )
        return self.copy

    def settle(self) -> None:
        """Wait until the server has found that whoever was killed has gone."""
        asking = "SELECT count(*) FROM pg_stat_activity WHERE datname = 'evenhand_kills'"
        while self.server and self._on_server(asking):
            time.sleep(0.01)

    def told(self, work: Callable[[], Any]) -> Any:
        """Return what some work returns that is done in a program of its own; AssertionError with what it printed."""
        told = self.made.parent / "told"

        def telling() -> int:
            told.write_bytes(pickle.dumps(work()))
            return 0

        code, printed = self.ran(telling)
        assert code == 0, printed
        return pickle.loads(told.read_bytes())

    def ran(self, work: Callable[[], int]) -> tuple[int, str]:
        """Do some work in a program of its own, and return its exit code and the end of what it printed."""
        printed = self.made.parent / "printed"

        def printing() -> int:
            _print_to(printed)
            return work()

        return ended(forked(printing)), printed.read_text(encoding="utf-8")[-600:]

    def _on_server(self, *statements: str) -> int:
        found = 0
        if self.server:
            engine = sa.create_engine(self.server, isolation_level="AUTOCOMMIT", poolclass=sa.NullPool)
            with engine.connect() as conn:
                for statement in statements:
                    answer = conn.exec_driver_sql(statement)
                    found = int(answer.scalar_one()) if answer.returns_rows else 0
        return found


def _print_to(file: Path) -> None:
    """Have whatever this program prints written to a file."""
    held = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
    os.dup2(held, 1)
    os.dup2(held, 2)


@dataclass(frozen=True)
class Whole:
    """A command that was not stopped: its steps, its exit code, how long it took [s], and what it left."""

    steps: list[Step]
    code: int
    after: State


class Killing:
    """Kills the commands of a workplace, each of which it has first let run to its end once."""

    def __init__(self, places: Workplaces, rng: Random) -> None:
        self.places, self.rng = places, rng
        self.mark = mmap.mmap(-1, 8)
        self.wholes: dict[str, Whole] = {}
        places.renew()
        self.before: State = places.told(lambda: _state(places.copy))

    def whole(self, writer: str) -> Whole:
        """Return what a command does where nobody stops it."""
        if writer not in self.wholes:
            folder = self.places.renew()
            steps, code = self.places.told(lambda: self._watched(writer, folder))
            assert code in (0, 3), f"{writer}: ended with {code}"
            self.places.settle()
            self.wholes[writer] = Whole(steps, code, self.places.told(lambda: _state(folder)))
        return self.wholes[writer]

    def _watched(self, writer: str, folder: Path, stop_at: int | None = None) -> tuple[list[Step], int]:
        steps = Steps(self.mark, stop_at, folder / "mill")
        steps.watch()
        code = _run(writer, self.places.said, folder, NOW)
        steps("ends")
        return steps.kept, code

    def kill(self, writer: str, drawn: str) -> Killed:
        """Stop a command at a step of a phase, or at any time, and look; AssertionError where it was done by halves."""
        whole, folder = self.whole(writer), self.places.renew()
        stop_at = None
        if drawn != ANY:
            stop_at = self.rng.choice([at for at in range(len(whole.steps)) if phase_of(whole.steps, at) == drawn])
        self.mark[:8] = bytes(8)

        def work() -> int:
            _print_to(Path(os.devnull))
            return self._watched(writer, folder, stop_at)[1]

        child = forked(work)
        if stop_at is None:
            time.sleep(self.rng.uniform(0, whole.steps[-1].after_s))
            os.kill(child, signal.SIGKILL)
        code = ended(child)
        where = f"{writer}, killed {drawn} at step {stop_at or steps_begun(self.mark)} of {len(whole.steps)}"
        assert code in (-signal.SIGKILL, whole.code), f"{where}: ended with {code}"
        self.places.settle()
        try:
            found, said = self._look(writer, whole, folder)
        except AssertionError as fault:
            raise AssertionError(f"{where}: {fault}") from None
        phase = phase_of(whole.steps, steps_begun(self.mark)) if code == -signal.SIGKILL else ""
        return Killed(writer, drawn, phase, found, said)

    def _look(self, writer: str, whole: Whole, folder: Path) -> tuple[str, str]:
        """Return whether a command was done, and how it ended when it was run again."""
        state: State = self.places.told(lambda: _state(folder))
        found = [
            name for name, one in (("before", self.before), ("after", whole.after)) if one.decided == state.decided
        ]
        assert found, f"neither before nor after: {_differing(self.before, state)}, {_differing(whole.after, state)}"
        strange = state.files - self.before.files - whole.after.files
        assert not strange, f"files of neither before nor after: {sorted(strange)}"
        code, printed = self.places.ran(lambda: _run(writer, self.places.said, folder, NOW + LATER))
        assert code in (0, 2, 3), f"run again it ended with {code}: {printed}"
        again: State = self.places.told(lambda: _state(folder))
        if writer == "rebuild" and found[0] == "after":  # one is not the other: both are kept as decided
            assert again.rows["take_decisions"] == whole.after.rows["take_decisions"] + 1
            return found[0], "done"
        assert again.rows == whole.after.rows, f"run again (it was {found[0]}): {_differing(whole.after, again)}"
        assert again.files == whole.after.files, f"run again: {sorted(again.files ^ whole.after.files)}"
        return found[0], {0: "done", 2: "refused as there already", 3: "done"}[code]


def _differing(expected: State, state: State) -> str:
    return ", ".join(
        f"{name} {expected.rows[name]} -> {rows}" for name, rows in state.rows.items() if rows != expected.rows[name]
    )


def kill_writers(
    times: int, server: str = "", skip: int = 0, tell: Callable[..., None] = print
) -> tuple[list[Killed], list[str]]:
    """Kill all writers in turn, and return what was found, and what was wrong."""
    for package in (cli, jobs):  # once, for every program that is forked
        for module in pkgutil.iter_modules(package.__path__):
            importlib.import_module(f"{package.__name__}.{module.name}")
    tell(f"seed {skip}")
    killed: list[Killed] = []
    wrong: list[str] = []
    with tempfile.TemporaryDirectory() as scratch:
        places = Workplaces(Path(scratch), server)
        places.make()
        killing = Killing(places, Random(skip))
        # Each time around every writer is drawn from the next.
        plan = [(w, DRAWN[(turn + at) % len(DRAWN)]) for turn in range(len(DRAWN)) for at, w in enumerate(WRITERS)]
        for number, (writer, drawn) in enumerate(islice(cycle(plan), skip, skip + times)):
            try:
                killed.append(killing.kill(writer, drawn))
                tell(f"{number + 1:>3} {killed[-1]}", flush=True)
            except AssertionError as fault:
                wrong.append(str(fault))
                tell(f"WRONG: {fault}", flush=True)
    return killed, wrong


def bench_kills_of_writers(words: Sequence[str]) -> None:
    """Print how often each writer was killed in which phase, and what was found."""
    server, times = "", next((int(word) for word in words if word.isdigit()), 200)
    skip = next((int(word.removeprefix("+")) for word in words if word.startswith("+")), 0)
    if "postgresql" in words:
        server = os.environ["EVENHAND_TEST_POSTGRES"]
        server = sa.make_url(server).set(drivername="postgresql+psycopg").render_as_string(hide_password=False)
    killed, wrong = kill_writers(times, server, skip)
    phases = (*PHASES, "")
    print(f"{'writer':<18}" + "".join(f"{phase or 'ended first':>12}" for phase in phases))
    for writer in WRITERS:
        counted = Counter(one.phase for one in killed if one.writer == writer)
        print(f"{writer:<18}" + "".join(f"{counted[phase]:>12}" for phase in phases))
    counted = Counter(one.phase for one in killed)
    print(f"{'all':<18}" + "".join(f"{counted[phase]:>12}" for phase in phases))
    for (phase, found, said), count in sorted(Counter((o.phase, o.found, o.said) for o in killed).items()):
        print(f"killed {phase or 'once ended':<10} found as {found:<7} run again: {said:<25} {count:>4}")
    if wrong:
        sys.exit(f"{len(wrong)} of {times} are wrong, first: {wrong[0]}")
    stopped = sum(bool(one.phase) for one in killed)
    print(f"{len(killed)} commands, {stopped} of them killed: every ledger proved, nothing by halves, nothing doubled")


if __name__ == "__main__":
    bench_kills_of_writers(sys.argv[1:])
