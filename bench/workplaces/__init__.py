"""Workplaces to measure on: 300 or 10,000 invented people with twelve weeks of punches, all files taken."""

from __future__ import annotations

import os
import shutil
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

from evenhand import twin
from evenhand.jobs.demo import SITES
from evenhand.jobs.take import take_files
from evenhand.jobs.workspace import Workspace, create_workspace, open_workspace
from evenhand.store.settings import write_settings
from evenhand.terms.settings import PayPeriod

FIRST = date(2026, 8, 23)
NOW = datetime(2026, 11, 16, 13, tzinfo=UTC)
"""The Monday after the last week: the period that payroll waits for is full of punches."""

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
    invented = twin.workplace(1, first=FIRST, weeks=weeks, people=people, readers=40 if people > 1_000 else 8)
    for name, content in twin.files(invented).items():
        (folder / "files" / name).write_bytes(content)
    workspace = ready(folder / "workspace")
    began = time.perf_counter()
    taken = take_files(workspace, sorted((folder / "files").iterdir()))
    rows = sum(getattr(one, "read", 0) for one in taken)
    target = "25 s" if people > 1_000 else "2 s"
    spent = time.perf_counter() - began
    print(f"{people:,} people: {len(taken)} files, {rows:,} rows taken in {spent:.1f} s (target {target})", flush=True)
    workspace.close()
    (folder / "whole").touch()


def ready(directory: Path) -> Workspace:
    """Return a new workspace with the rules of the demonstration's sites: one rounds, one is left open."""
    made = create_workspace(directory, "bench", period=PayPeriod(FIRST, 1, 36 * 3600))
    write_settings(made.settings_file, replace(made.settings, sites=SITES))
    made.close()
    return open_workspace(directory)
