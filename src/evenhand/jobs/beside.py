"""The files that lie beside the store and say what it says: sources, and the refused rows of each take."""

from __future__ import annotations

import re
from collections.abc import Collection
from pathlib import Path

from evenhand.jobs.workspace import Workspace
from evenhand.store.database import Connection
from evenhand.store.owner_only import FOLDER
from evenhand.store.refused import refused_rows, takes_with_refused
from evenhand.store.replacing import replace_file, sweep_halves
from evenhand.store.standing import standing
from evenhand.terms.columns import Frame
from evenhand.terms.csv_text import MARK, as_csv
from evenhand.terms.tables import REJECTS

__all__ = ["csv_of_refused", "forget_refused_files", "refused_path", "tidy"]

OF_TAKE = re.compile(r"(\d{4,})-.*\.csv", re.DOTALL)
LONGEST = 200  # bytes of a file's name, so that there is room for the take's number


def refused_path(workspace: Workspace, take: int, file: str) -> Path:
    """Return where the refused rows of a take stand, if it has any; no other take's stand there."""
    name = Path(file).name.encode()[:LONGEST].decode(errors="ignore")
    return workspace.rejected / f"{take:04d}-{name}.csv"


def csv_of_refused(rejects: Frame) -> bytes:
    """Return refused rows (REJECTS) as a file that spreadsheets open as it is meant."""
    return (MARK + as_csv(REJECTS.names, rejects.select(REJECTS.names).iter_rows())).encode()


def forget_refused_files(workspace: Workspace, conn: Connection, takes: Collection[int]) -> None:
    """Remove the files of these takes' refused rows, which `tidy` writes anew.

    They go before the store changes: whoever is stopped in between leaves none that say what no longer holds.
    """
    for one in standing(conn):
        if one.take in takes:
            refused_path(workspace, one.take, one.file).unlink(missing_ok=True)


def tidy(workspace: Workspace, conn: Connection | None = None) -> None:
    """Make the files beside the store say what it says, whatever was left behind; `Workspace.sources` must be held.

    A source that no take names is forgotten, as is what was half written; refused rows are written where they are
    missing. Files that takes of before left in the folder of rejected rows stay.
    """
    if conn is None:
        with workspace.store.reading() as reading:
            return tidy(workspace, reading)
    takes = standing(conn)
    workspace.sources.sweep({one.sha256 for one in takes})
    workspace.rejected.mkdir(mode=FOLDER, exist_ok=True)
    for folder in (workspace.rejected, workspace.layouts):
        sweep_halves(folder)
    expected = {refused_path(workspace, take, file): take for take, file in takes_with_refused(conn).items()}
    with_source = {one.take for one in takes if one.layout}
    for path in workspace.rejected.iterdir():
        named = OF_TAKE.fullmatch(path.name)
        if named and int(named[1]) in with_source and path not in expected:
            path.unlink(missing_ok=True)
    for path, take in expected.items():
        if not path.exists():
            replace_file(path, csv_of_refused(refused_rows(conn, take)))
    return None
