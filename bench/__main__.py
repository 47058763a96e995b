"""Run every measurement: what is counted several programs at once, then what is timed one program after the other.

All of it is to end within ten minutes on two cores, so that it is run: programs that would take longer by themselves
are given smaller sizes here, and are run whole by name (`python -m bench.kills`) or with `--as-documented`.
"""

from __future__ import annotations

import argparse
import os
import resource
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor, as_completed
from pathlib import Path

SIZES: dict[str, tuple[str, ...]] = {
    "adverse": ("--seeds", "1"),  # every kind once; three workplaces of each are what docs/claims.md quotes
    "erasure": ("300",),
    "hostile": (  # the dearest, and one of each manner; the others cost the start of a program each
        "million_rows",
        "most_columns_of_dates",
        "huge_number",
        "many_rows_claimed",
        "huge_json_number",
        "thousand_columns",
        "wide_sheet",
        "noise",
        "zip_bomb",
        "lying_zip_bomb",
        "entity_bomb",
        "deep_json",
        "open_quotes",
        "two_gib_of_zeros",
    ),
    "hours": ("--rows", "1500000"),  # ratios are those of ten million within a tenth, and growth is from one million on
    "intake": ("--limit", "500"),  # files are drawn in a fixed order, so that every form of file is among them
    "kills": ("12",),  # the chosen moments of each deed, and a few at random
    "kills_erasure": ("5",),
    "kills_handoff": ("5",),
    "kills_writers": ("9",),  # each way to draw a moment once
    "ledger": ("200000",),  # what is printed is a time per entry
    "scores": ("--rows", "1000000", "--sites", "1", "--weeks", "12", "--people", "300", "3000"),
    "strays": ("--seeds", "2", "--strays", "4000", "--people", "40000", "--workplaces", "300", "3000"),
    "takes": ("200000",),
    "waits": ("300",),  # of 10,000 people by name: that workplace alone takes minutes to be made and decided on
}
"""What each program is given here, where it would take more than its part of the ten minutes."""
COUNTED = frozenset(
    {
        "adverse",
        "hostile",
        "intake",
        "journeys",
        "kills",
        "kills_erasure",
        "kills_handoff",
        "kills_writers",
        "missing",
        "reading",
        "wording",
    }
)
"""Programs whose figures are counts, shares or memory, which are the same however much else the machine does.

The seconds that a journey takes are those of a busy machine here; by itself it tells those of a quiet one.
"""
BEGINS = 'if __name__ == "__main__":'
"""What a program holds that measures something by itself; other files are parts of such."""
HERE = Path(__file__).parent.parent
MOST_S = 600
CROWD_S = "15"
"""How long people decide and look at once [s]; two minutes by itself."""


def main() -> None:
    """Run each measurement of this folder in a process of its own; end with 1 where one could not be made."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--as-documented", action="store_true", help="sizes as each program has them by itself")
    given = asked.parse_args()
    began = time.perf_counter()
    files = [path for path in Path(__file__).parent.glob("*.py") if not path.name.startswith("__")]
    alone = {path.stem for path in files if BEGINS in path.read_text(encoding="utf-8")}
    programs = {name: _program(name, is_whole=given.as_documented) for name in sorted({*alone, "adverse"})}
    failed = []
    with ThreadPoolExecutor(os.cpu_count()) as beside:
        counted = {beside.submit(_run_beside, *programs.pop(name)): name for name in sorted(COUNTED & {*programs})}
        failed += [counted[done] for done in as_completed(counted) if done.result()]
    for name, (program, environment) in programs.items():
        before = _processor()
        print(f"\n== {' '.join(program[2:])}", flush=True)
        if subprocess.run(program, cwd=HERE, env=environment, check=False).returncode:
            failed.append(name)
        print(f"-- {name}: {_processor() - before:.0f} s of one processor", flush=True)
    by_the_clock = time.perf_counter() - began
    late = "" if given.as_documented or by_the_clock <= MOST_S else f", longer than the {MOST_S} s it is to take"
    print(f"\nall of it: {_processor():.0f} s of one processor, {by_the_clock:.0f} s by the clock{late}")
    if failed:
        sys.exit(f"could not be measured: {', '.join(failed)}")


def _program(name: str, *, is_whole: bool) -> tuple[list[str], dict[str, str]]:
    """Return how a program of this folder is run, and in which environment."""
    environment = {"OPENBLAS_NUM_THREADS": "1"} | os.environ  # as the command itself sets it
    sizes = () if is_whole else SIZES.get(name, ())
    if not is_whole:
        environment = {"EVENHAND_BENCH_SECONDS": CROWD_S} | environment
    return [sys.executable, "-m", f"bench.{name}", *sizes], environment


def _run_beside(program: list[str], environment: dict[str, str]) -> int:
    """Run a program beside others, print what it said when it has ended, and return with what it ended."""
    called = " ".join(program[2:])
    print(f"{called} begins", file=sys.stderr, flush=True)
    ended = subprocess.run(
        program, cwd=HERE, env=environment, check=False, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    )
    print(f"\n== {called}\n{ended.stdout}", end="", flush=True)
    return ended.returncode


def _processor() -> float:
    """Return the seconds of a processor that ended programs took, whatever else the machine did meanwhile."""
    ended = resource.getrusage(resource.RUSAGE_CHILDREN)
    return ended.ru_utime + ended.ru_stime


if __name__ == "__main__":
    main()
