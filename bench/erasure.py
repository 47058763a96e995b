"""How much work an erasure is, the look and the deed, beside reading every kept source through once.

At 300 and at 10,000 people; `python -m bench.erasure [PEOPLE]` prints processor time, so that it tells the same on a
machine that does other things. Reading each kept source is the least that any erasure has to do: the person may stand
in any of them.
"""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime

import polars as pl
from bench.workplaces import workplace

from evenhand.jobs.erasable import Erasable
from evenhand.jobs.erasure import ALL, erase
from evenhand.jobs.foreseen_erasure import look_at_erasure
from evenhand.jobs.leavers import clocked_now, leavers_of
from evenhand.jobs.workspace import Workspace, open_workspace
from evenhand.layouts import SourceFile
from evenhand.store import frames
from evenhand.store.standing import standing

SIZES = (300, 10_000)
LATER = datetime(2040, 1, 2, 14, tzinfo=UTC)
"""Long after any day through which records of the workplace's weeks must stay."""
TARGET_S = 60


def main() -> None:
    """Print what an erasure costs, each size in a process of its own."""
    if len(sys.argv) > 1:
        measure(int(sys.argv[1]))
        return
    for people in SIZES:
        subprocess.run([sys.executable, "-m", "bench.erasure", str(people)], check=True)


def measure(people: int) -> None:
    """Print what it costs to erase one person of a workplace."""
    with workplace(people) as folder:
        workspace = open_workspace(folder / "workspace")
        try:
            _measure(people, workspace)
        finally:
            workspace.close()


def _measure(people: int, workspace: Workspace) -> None:
    person = _leaver(workspace)
    read_s = _spent(lambda: _read_through(workspace))
    asked = {"author": "R. Hale", "reason": "bench", "despite_others": True, "reword": [ALL]}
    seen: list[Erasable] = []
    look_s = _spent(lambda: seen.append(look_at_erasure(workspace, person, as_of=LATER)))
    erase_s = _spent(lambda: erase(workspace, person, as_of=LATER, seen=seen[0], **asked))  # type: ignore[arg-type]
    both_s = look_s + erase_s
    print(
        f"{people:>6,} people: one looked at in {look_s:.1f} s and erased as seen in {erase_s:.1f} s of one processor "
        f"(target {TARGET_S} s for both), {both_s / read_s:.1f} times reading every kept source through "
        f"({read_s:.2f} s)",
        flush=True,
    )


def _leaver(workspace: Workspace) -> str:
    """Return somebody whom no reader holds any more, of whom there is most."""
    ready = [one.person for one in leavers_of(clocked_now(workspace, LATER)) if one.state == "may_go"]
    with workspace.store.reading() as conn:
        keyed = frames.recorded(conn).group_by("number").len()
        people = frames.people(conn).filter(pl.col("person").is_in(ready))
    most = people.join(keyed, on="number", how="left").sort("len", descending=True, nulls_last=True)
    return str(most["person"][0])


def _read_through(workspace: Workspace) -> None:
    with workspace.store.reading() as conn:
        takes = standing(conn)
    for one in takes:
        if one.layout is None:
            continue
        file = SourceFile(one.file, workspace.sources.read(one.sha256, one.file))
        if file.is_workbook:
            [file.sheet(name) for name in file.sheet_names]
        else:
            file.lines()


def _spent(deed: Callable[[], object]) -> float:
    began = time.process_time()
    deed()
    return time.process_time() - began


if __name__ == "__main__":
    main()
