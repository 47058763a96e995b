"""How long a log of a million punches takes to be kept with its source, taken back, brought back and folded anew."""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from bench.take import HEADER, READERS, SEED, log_lines

from evenhand.jobs.incoming import Incoming, read_incoming
from evenhand.jobs.keep import keep
from evenhand.jobs.known import Known
from evenhand.jobs.rebuild import rebuild
from evenhand.jobs.take import take_file
from evenhand.jobs.takes import foresee_back, layout_of, read_again, take_back
from evenhand.jobs.workspace import create_workspace
from evenhand.layouts import Answers, Layout, read

__all__ = ["bench_takes"]

NOW = datetime(2027, 1, 1, tzinfo=UTC)
LOG = {name: (name,) for name in ("reader", "number", "at", "direction", "outcome", "score")}


def bench_takes(rows: int = 1_000_000) -> None:
    """Print the seconds that each deed takes with one log of `rows` punches, and their ratios to reading it."""
    print(f"seed {SEED}")
    said = {"author": "bench", "reason": "to measure", "as_of": NOW}
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        workspace = create_workspace(folder / "mill")
        listed = "reader,site,zone\n" + "".join(f"{name},Mill,{zone}\n" for name, zone in READERS.items())
        (folder / "readers.csv").write_text(listed, encoding="utf-8")
        (folder / "log.csv").write_text(HEADER + "".join(log_lines(rows)), encoding="utf-8")
        take_file(workspace, folder / "readers.csv", answers=Answers())
        incoming = read_incoming(folder / "log.csv")
        layout = Layout("punches", "delimited", LOG, delimiter=",", header=1, date_order="ymd")
        known = Known(workspace)

        def reading() -> object:
            file = Incoming(incoming.name, incoming.content, incoming.sha256).file
            return read(file, layout, zones=known.surroundings().reader_zones)

        taken = read(incoming.file, layout, zones=known.surroundings().reader_zones)
        bare = _told("read into typed columns", reading)
        for name, deed in (
            ("stored with its source (target 5 s)", lambda: keep(known, incoming, layout, None, taken)),
            ("compressed into its source", lambda: _source_alone(workspace.sources.folder / "alone", incoming)),
            ("taken back, foreseen", lambda: foresee_back(workspace, 2, as_of=NOW)),
            ("taken back", lambda: take_back(workspace, 2, **said)),  # type: ignore[arg-type]
            ("brought back", lambda: read_again(workspace, 2, layout_of(workspace, 2), **said)),  # type: ignore[arg-type]
            ("rebuilt and compared", lambda: rebuild(workspace, is_try=True, as_of=NOW)),
        ):
            _told(name, deed, bare)
        workspace.close()


def _source_alone(folder: Path, incoming: Incoming) -> None:
    from evenhand.store.sources import Sources

    folder.mkdir()
    Sources(folder).put(incoming.sha256, incoming.content)
    for path in (*folder.iterdir(), folder):
        path.unlink() if path.is_file() else path.rmdir()


def _told(name: str, deed: Callable[[], object], bare: float | None = None) -> float:
    begun, used = time.perf_counter(), time.process_time()
    deed()
    took, used = time.perf_counter() - begun, time.process_time() - used
    ratio = "" if bare is None else f", {used / bare:.1f} x the processor time of reading it"
    print(f"{name}: {took:.2f} s, of the processor {used:.2f} s{ratio}")
    return used


if __name__ == "__main__":
    bench_takes(int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000)
