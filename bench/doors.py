"""What a user waits for at the doors: a command's start, a small site's hours, a page over ten thousand people."""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from evenhand import twin
from evenhand.jobs.take import take_files
from evenhand.jobs.workspace import Workspace, create_workspace

NOW = datetime(2026, 11, 16, 13, 0, tzinfo=UTC)


def main() -> None:
    """Print each wait beside its yardstick."""
    bare = _command_s(["-c", "pass"])
    shown = _command_s(["-m", "evenhand", "--help"])
    print(f"evenhand --help: {shown:.3f} s, python alone {bare:.3f} s (target 0.15 s)")
    with tempfile.TemporaryDirectory() as folder:
        small = _workspace(Path(folder) / "small", people=100, weeks=2)
        opened = _command_s(["-m", "evenhand", "-w", str(small.directory), "settle", "no/such", "--reason", "none"])
        hours = _command_s(["-m", "evenhand", "-w", str(small.directory), "hours", "--week", "2026-10-04", "--json"])
        print(
            f"hours of 100 people for a week, the whole command: {hours:.2f} s; "
            f"a command that opens the workspace and looks at Today: {opened:.2f} s"
        )
        large = _workspace(Path(folder) / "large", people=10_000, weeks=2)
        _pages(large)


def _workspace(directory: Path, *, people: int, weeks: int) -> Workspace:
    invented = twin.workplace(3, people=people, weeks=weeks, readers=max(8, people // 250))
    exports = directory / "exports"
    exports.mkdir(parents=True)
    paths = []
    for name, content in twin.files(invented).items():
        paths.append(exports / name)
        paths[-1].write_bytes(content)
    workspace = create_workspace(directory / "workspace", "bench", "America/Chicago")
    take_files(workspace, paths)
    return workspace


def _pages(workspace: Workspace) -> None:
    from starlette.testclient import TestClient

    from evenhand.web.app import create_app
    from evenhand.web.doorkeeper import Doorkeeper

    keeper = Doorkeeper()
    client = TestClient(create_app(workspace, now=lambda: NOW, keeper=keeper), base_url="http://127.0.0.1:8765")
    client.get(f"/enter/{keeper.invite()}", follow_redirects=False)
    for address in ("/", "/people", "/readers", "/hours?week=2026-10-04"):
        first = _once(lambda address=address: client.get(address).raise_for_status())
        waits = sorted(_once(lambda address=address: client.get(address).raise_for_status()) for _ in range(40))
        print(
            f"{address}: p95 {waits[37] * 1000:.0f} ms over 10,000 people (target 100 ms); "
            f"{first:.2f} s the first time after something changed"
        )


def _command_s(words: list[str]) -> float:
    return min(
        _once(lambda: subprocess.run([sys.executable, *words], capture_output=True, check=False)) for _ in range(5)
    )


def _once(work: Callable[[], object]) -> float:
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


if __name__ == "__main__":
    main()
