"""Import and compile, while a server starts, what its first pages would wait for."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from evenhand import law, twin
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.strays import find_strays
from evenhand.jobs.today import find_today
from evenhand.jobs.workspace import create_workspace
from evenhand.store.taking import FileTaken, taking
from evenhand.terms.sources import ENROLMENTS, PEOPLE, PUNCHES, READERS, SCHEDULES

__all__ = ["warm"]

FEW = 100


def warm() -> None:
    """Work everything out once for a small invented workplace, which is forgotten again."""
    import numpy as np

    law.load_passes()
    made = twin.workplace(1, people=FEW, weeks=2)
    now = datetime.combine(made.first + timedelta(days=made.days + 1), datetime.min.time(), UTC)
    with TemporaryDirectory() as folder:
        workspace = create_workspace(Path(folder) / "warm", made.name)
        for table in (READERS, PEOPLE, ENROLMENTS, SCHEDULES, PUNCHES):
            frame = getattr(made, table.name)
            source = FileTaken(table.name, table.name, "", int(now.timestamp()))
            with taking(workspace.store, source, table, frame, np.arange(frame.height) + 2):
                pass
        reckoning = reckon_period(workspace, now)
        find_today(reckoning)
        find_strays(reckoning)
        workspace.close()
