"""Workplaces to measure on: 300 or 10,000 invented people with twelve weeks of punches, all files taken."""

from __future__ import annotations

import os
import shutil
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

from evenhand import twin
from evenhand.jobs.demo import SITES
from evenhand.jobs.take import Answers, Receipt, take_files
from evenhand.jobs.workspace import Workspace, create_workspace, open_workspace
from evenhand.store.settings import write_settings
from evenhand.terms.settings import PayPeriod

FIRST = date(2026, 8, 23)
NOW = datetime(2026, 11, 16, 13, tzinfo=UTC)
"""The Monday after the last week: the period that payroll waits for is full of punches."""

SEED = 1
"""What workplaces are invented from."""
ACCEPTED = "accepted"
"""Heads the column that says what became of a hand; where a log holds one word there, what it is is asked."""

NO_ANSWERS = Answers()
KEPT = "EVENHAND_BENCH_KEPT"
"""Names a folder in which workplaces are kept between runs; without it each run makes its own."""


@contextmanager
def workplace(people: int, *, weeks: int = 12) -> Iterator[Path]:
    """Yield the folder of a workplace: its `files`, and a `workspace` that may be written to."""
    kept = os.environ.get(KEPT)
    with tempfile.TemporaryDirectory(prefix="evenhand-bench-") as temporary:
        folder = Path(temporary)
        source = Path(kept) / str(people) if kept else folder / "made"
        if not (source / "whole").exists():
            _make(source, people, weeks)
        shutil.copytree(source / "workspace", folder / "workspace")
        (folder / "files").symlink_to(source / "files")
        yield folder


def _make(folder: Path, people: int, weeks: int) -> None:
    shutil.rmtree(folder, ignore_errors=True)
    (folder / "files").mkdir(parents=True)
    invented = twin.workplace(SEED, first=FIRST, weeks=weeks, people=people, readers=40 if people > 1_000 else 8)
    for name, content in twin.files(invented).items():
        (folder / "files" / name).write_bytes(content)
    workspace = ready(folder / "workspace")
    began = time.perf_counter()
    taken = taken_whole(workspace, sorted((folder / "files").iterdir()))
    rows = sum(one.read for one in taken)
    target = "25 s" if people > 1_000 else "2 s"
    spent = time.perf_counter() - began
    print(f"{people:,} people, seed {SEED}: {len(taken)} files, {rows:,} rows taken in {spent:.1f} s (target {target})")
    workspace.close()
    (folder / "whole").touch()


def taken_whole(workspace: Workspace, files: Sequence[Path], *, answers: Answers = NO_ANSWERS) -> list[Receipt]:
    """Take every file, answering what is asked of the column that says what became of a hand.

    Raises RuntimeError where one is not taken: a workplace that lacks a reader's log measures another one.
    """
    receipts: list[Receipt] = []
    for path, taken in zip(files, take_files(workspace, files, answers=answers), strict=True):
        if isinstance(taken, Receipt):
            receipts.append(taken)
            continue
        question = taken.question
        if question is None or f"({ACCEPTED})" not in question.asks:
            raise RuntimeError(f"{path.name} was not taken: {taken.reason}")
        receipts += taken_whole(workspace, [path], answers=Answers(maps={question.subject: "outcome"}))
    return receipts


def ready(directory: Path) -> Workspace:
    """Return a new workspace with the rules of the demonstration's sites: one rounds, one is left open."""
    made = create_workspace(directory, "bench", period=PayPeriod(FIRST, 1, 36 * 3600), is_invented=True)
    write_settings(made.settings_file, replace(made.settings, sites=SITES))
    made.close()
    return open_workspace(directory)
