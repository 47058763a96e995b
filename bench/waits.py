"""What a person waits for: pages from nothing and after a decision, decisions themselves, whole commands."""

from __future__ import annotations

import gc
import re
import resource
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

import httpx
import polars as pl
from bench.workplaces import ACCEPTED, NOW, ready, workplace
from starlette.testclient import TestClient

from evenhand.jobs.workspace import Workspace, open_workspace
from evenhand.store import frames
from evenhand.web.allocation import return_large_blocks
from evenhand.web.app import create_app
from evenhand.web.doorkeeper import Doorkeeper

SIZES = (300, 10_000)
TARGETS = {
    ("Today from nothing", 300): "0.2 s",
    ("Today from nothing", 10_000): "2 s",
    ("a decision and its page, p95", 300): "0.2 s",
    ("a decision and its page, p95", 10_000): "0.5 s",
    ("Today after a correction", 10_000): "0.5 s",
    ("Hands from nothing", 300): "0.5 s",
    ("Hands from nothing", 10_000): "8 s",
    ("peak memory of the server", 10_000): "1.5 GB",
}
SAID = {"author": "R. Hale", "reason": "bench"}


class Spent(NamedTuple):
    """How long something took by the clock, and of one processor, programs that it started among it [s]."""

    clock: float
    processor: float

    def then(self, other: Spent) -> Spent:
        """Return both, one after the other."""
        return Spent(self.clock + other.clock, self.processor + other.processor)


def main() -> None:
    """Print each wait beside its target, each size in a process of its own."""
    if len(sys.argv) > 1:
        measure(int(sys.argv[1]))
        return
    for people in SIZES:
        subprocess.run([sys.executable, "-m", "bench.waits", str(people)], check=True)


def measure(people: int) -> None:
    """Print the waits of one workplace."""
    with workplace(people) as folder:
        _commands(people, folder)
        workspace = open_workspace(folder / "workspace")
        _pages(people, workspace)
        workspace.close()


def _commands(people: int, folder: Path) -> None:
    at = ("-w", str(folder / "workspace"))
    moment = ("--as-of", NOW.isoformat())
    started = _spent(lambda: _run("--help"))
    say(people, "evenhand --help, the whole command", started)
    for words in (("today", *moment), ("hours", *moment), ("hours", "why", _somebody(folder), "2026-11-12")):
        say(people, f"evenhand {' '.join(words[:2] if words[0] == 'hours' else words[:1])}", _spent(_run, *at, *words))
    if people == min(SIZES):
        empty = ready(folder / "empty")
        empty.close()
        files = [str(path) for path in sorted((folder / "files").iterdir())]
        spent = _spent(_take, folder / "empty", files)
        say(people, f"{len(files)} files taken, the whole command", spent)


def _somebody(folder: Path) -> str:
    """Return the first person on the roster who has not left."""
    workspace = open_workspace(folder / "workspace")
    try:
        with workspace.store.reading() as conn:
            return str(frames.people(conn).filter(pl.col("left_on").is_null())["person"].min())
    finally:
        workspace.close()


def _pages(people: int, workspace: Workspace) -> None:
    from evenhand.jobs.warm import warm

    return_large_blocks()  # as the server does while it starts
    warm()
    client = _entered(workspace)
    say(people, "Today from nothing", _spent(client.get, "/"))
    for address in ("/", "/people", "/readers", "/hours", "/hand-off"):
        client.get(address)
        waits = sorted(_spent(client.get, address) for _ in range(20))
        say(people, f"{address} kept, p95", waits[18])
    say(people, "Hands from nothing", _spent(client.get, "/hands"))
    say(people, "Strays from nothing", _spent(client.get, "/strays"))
    token = _token(client)
    _decide(people, client, token, workspace)
    _memory(people)


def _decide(people: int, client: TestClient, token: str, workspace: Workspace) -> None:
    corrections = iter(_open_days(client, workspace))
    person, day, form = next(corrections)
    address = f"/hours/{person}/{day}"
    say(people, "a correction's preview", _spent(client.get, f"{address}/correct", params=form))
    made = _spent(lambda: client.post(f"{address}/correct", data={**form, **SAID, "form_token": token}))
    say(people, "a correction and the day's page", made.then(_spent(client.get, address)))
    say(people, "Today after a correction", _spent(client.get, "/"))
    waits = []
    for _ in range(200 if people > 1_000 else 60):
        person, day, form = next(corrections)
        address = f"/hours/{person}/{day}"
        made = _spent(client.post, f"{address}/correct", data={**form, **SAID, "form_token": token})
        waits.append(made.then(_spent(client.get, address)))
    waits.sort()
    say(people, "a decision and its page, p95", waits[int(0.95 * len(waits))])
    say(people, "a decision and its page, median", waits[len(waits) // 2])
    stray = next(iter(re.findall(r'href="/strays/([^"]+)"><span class="number">', client.get("/strays").text)), None)
    best = re.search(r'name="person" value="([^"]+)"', client.get(f"/strays/{stray}").text) if stray else None
    if best:
        form = {**SAID, "person": best[1], "form_token": token}
        say(people, "a stray confirmed", _spent(lambda: client.post(f"/strays/{stray}/confirm", data=form)))
        say(people, "Strays after it", _spent(client.get, "/strays"))
    settled = {**SAID, "key": _first_key(client), "form_token": token}
    say(
        people,
        "a finding settled, and Today",
        _spent(lambda: client.post("/settle", data=settled)).then(_spent(client.get, "/")),
    )
    off = {"author": "R. Hale", "despite": "yes", "form_token": token}
    say(people, "the hand-off written", _spent(lambda: client.post("/hand-off", data=off)))


def _open_days(client: TestClient, workspace: Workspace) -> Iterator[tuple[str, str, dict[str, str]]]:
    """Yield days of the period with a punch missing, and the form that adds one an hour after noon."""
    reckonings = client.app.state.reckonings  # type: ignore[attr-defined]
    asked = reckonings.current().hours.questions.filter(pl.col("kind") == "missing_out").sort("person", "at")
    days = [(person, time.strftime("%Y-%m-%d", time.gmtime(at))) for person, at in asked.select("person", "at").rows()]
    for person, day in dict.fromkeys(days):
        yield person, day, {"action": "add", "on": day, "at": "23:10", "direction": "out", "which": "first"}


def _first_key(client: TestClient) -> str:
    found = re.search(r'name="key" value="([^"]+)"', client.get("/").text)
    assert found, "Today offers nothing to settle"
    return found[1]


def _entered(workspace: Workspace) -> TestClient:
    keeper = Doorkeeper()
    base = "http://127.0.0.1:8765"
    client = TestClient(
        create_app(workspace, now=lambda: NOW, keeper=keeper),
        base_url=base,
        headers={"origin": base},
        follow_redirects=False,
    )
    client.get(f"/enter/{keeper.invite()}")
    return client


def _token(client: TestClient) -> str:
    found = re.search(r'name="form_token" value="([^"]+)"', client.get("/hand-off").text)
    assert found, "the page holds no form"
    return found[1]


def _memory(people: int) -> None:
    gc.collect()
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024**2
    _line(people, "peak memory of the server", f"{peak:8.2f} GB")


def _run(*words: str) -> None:
    done = subprocess.run([sys.executable, "-m", "evenhand", *words], capture_output=True, text=True, check=False)
    if done.returncode:
        raise RuntimeError(done.stderr[-2000:])


def _take(into: Path, files: list[str]) -> None:
    """Take the files as somebody does who answers what is asked: a column of one word says what became of a hand."""
    take = [sys.executable, "-m", "evenhand", "-w", str(into), "take", "--yes"]
    done = subprocess.run([*take, *files], capture_output=True, text=True, check=False)
    asked = re.findall(rf"(\S+\.csv): what is column (\d+) \({ACCEPTED}\)\?", done.stderr)
    for name, column in asked:
        mapped = [file for file in files if Path(file).name == name]
        done = subprocess.run(
            [*take, "--map", f"{column}=outcome", *mapped], capture_output=True, text=True, check=False
        )
        if done.returncode:
            break
    if done.returncode:
        raise RuntimeError(f"files were not taken whole:\n{done.stdout[-1000:]}{done.stderr[-1000:]}")


def _spent(work: Callable[..., object], *given: object, **named: object) -> Spent:
    began, processor = time.perf_counter(), _processor()
    done = work(*given, **named)
    spent = Spent(time.perf_counter() - began, _processor() - processor)
    if isinstance(done, httpx.Response) and done.status_code >= 400:
        raise RuntimeError(f"{done.request.url}: {done.status_code} {done.text[-400:]}")
    return spent


def _processor() -> float:
    own, ended = resource.getrusage(resource.RUSAGE_SELF), resource.getrusage(resource.RUSAGE_CHILDREN)
    return own.ru_utime + own.ru_stime + ended.ru_utime + ended.ru_stime


def say(people: int, what: str, spent: Spent) -> None:
    """Print one wait beside its target."""
    _line(people, what, f"{spent.clock:8.3f} s ({spent.processor:.3f} of a processor)")


def _line(people: int, what: str, figure: str) -> None:
    target = TARGETS.get((what, people))
    print(f"{people:>7,} people  {what:40} {figure}" + (f"  (target {target})" if target else ""), flush=True)


if __name__ == "__main__":
    main()
