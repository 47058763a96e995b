"""Four people deciding and eight looking at once: nothing lost, no fault, and how long a page takes them."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import threading
import time
from pathlib import Path
from typing import Any

import httpx
import polars as pl
from bench.workplaces import NOW, workplace

from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.workspace import open_workspace
from evenhand.store import frames

DECIDING, LOOKING, PEOPLE = 4, 8, 300
SECONDS = float(os.environ.get("EVENHAND_BENCH_SECONDS", "120"))
PAGES = ("/", "/hours", "/people", "/readers", "/strays", "/hand-off")


def main() -> None:
    """Print waits and losses of two minutes, from when every page has been looked at once."""
    with workplace(PEOPLE) as folder:
        workspace = folder / "workspace"
        server = subprocess.Popen(
            [
                sys.executable,
                "-m",
                "evenhand",
                "-w",
                str(workspace),
                "serve",
                "--port",
                "0",
                "--as-of",
                NOW.isoformat(),
            ],
            stdout=subprocess.PIPE,
            text=True,
        )
        try:
            _crowd(workspace, _address(server))
        finally:
            server.terminate()
            server.wait()


def _address(server: subprocess.Popen[str]) -> str:
    assert server.stdout is not None
    for line in server.stdout:
        if found := re.search(r"http://\S+/enter/\S+", line):
            return found[0]
    raise RuntimeError("the server did not start")


def _crowd(workspace: Path, invitation: str) -> None:
    base = invitation.partition("/enter/")[0]
    first = _client(base)
    first.get(invitation)
    jar = dict(first.cookies)
    opened_s = _look_once(first)
    days = _open_days(workspace)
    waits: list[float] = []
    faults: list[str] = []
    made: list[int] = []
    ends = time.monotonic() + SECONDS
    lock = threading.Lock()

    def ask(client: httpx.Client, method: str, address: str, **form: Any) -> httpx.Response | None:
        began = time.perf_counter()
        try:
            answer = client.request(method, address, **form)
        except httpx.HTTPError as fault:
            with lock:
                faults.append(repr(fault))
            return None
        with lock:
            waits.append(time.perf_counter() - began)
            if answer.status_code >= 500:
                faults.append(f"{answer.status_code} {answer.request.url}")
        return answer

    def find_today(place: int) -> None:
        with _client(base, jar) as client:
            while time.monotonic() < ends:
                place += 1
                ask(client, "GET", PAGES[place % len(PAGES)])

    def decide(mine: list[tuple[str, str]]) -> None:
        with _client(base, jar) as client:
            token = re.search(r'name="form_token" value="([^"]+)"', client.get("/hand-off").text)
            assert token
            for person, day in mine:
                if time.monotonic() >= ends:
                    return
                form = {"action": "add", "on": day, "at": "23:10", "direction": "out", "which": "first"}
                signed = {**form, "author": "R. Hale", "reason": "bench", "form_token": token[1]}
                answer = ask(client, "POST", f"/hours/{person}/{day}/correct", data=signed)
                if answer is not None:
                    with lock:
                        if answer.status_code == 303:
                            made.append(1)
                        elif answer.status_code < 500:  # the others are faults already
                            faults.append(f"{answer.status_code} {answer.request.url}: not decided")
                ask(client, "GET", f"/hours/{person}/{day}")

    threads = [threading.Thread(target=find_today, args=(place,)) for place in range(LOOKING)]
    threads += [threading.Thread(target=decide, args=(days[place::DECIDING],)) for place in range(DECIDING)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    if not made:
        sys.exit(
            f"nobody decided anything in {SECONDS:.0f} s, so nothing was measured: {len(waits)} answers, {faults[:3]}"
        )
    waits.sort()
    opened = open_workspace(workspace)
    with opened.store.reading() as conn:
        kept = frames.corrections(conn).height
    opened.close()
    print(
        f"{PEOPLE} people, {DECIDING} deciding and {LOOKING} looking for {SECONDS:.0f} s: {len(waits)} answers, "
        f"{len(made)} decisions answered, {kept} kept, {len(faults)} faults {faults[:3] or ''}"
    )
    print(f"each page looked at once before, by one person alone: {opened_s:.1f} s")
    print(f"median {waits[len(waits) // 2]:.3f} s (target 0.3), p95 {waits[int(0.95 * len(waits))]:.3f} s (target 1)")
    if kept != len(made) or faults:
        sys.exit("something was lost or failed")


def _look_once(client: httpx.Client) -> float:
    """Look at every page once; return how long that took [s].

    What a page needs for the first time since the start is worked out once (`bench.waits` times it): on a busy machine
    that alone may outlast the time in which people are to decide.
    """
    began = time.perf_counter()
    for page in PAGES:
        client.get(page).raise_for_status()
    return time.perf_counter() - began


def _client(base: str, jar: dict[str, str] | None = None) -> httpx.Client:
    return httpx.Client(base_url=base, headers={"origin": base}, cookies=jar, timeout=120)


def _open_days(workspace: Path) -> list[tuple[str, str]]:
    opened = open_workspace(workspace)
    asked = reckon_period(opened, NOW).hours.questions.filter(pl.col("kind") == "missing_out").sort("person", "at")
    opened.close()
    days = [(person, time.strftime("%Y-%m-%d", time.gmtime(at))) for person, at in asked.select("person", "at").rows()]
    return list(dict.fromkeys(days))


if __name__ == "__main__":
    main()
