"""Run every measurement, one program after the other, so that none warms or crowds the next.

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
        "two_gib_of_prose_under_a_log",
    ),
    "hours": ("--rows", "1500000"),  # ratios are those of ten million within a tenth, and growth is from one million on
    "intake": ("--limit", "700"),  # files are drawn in a fixed order, so that every form of file is among them
    "kills": ("20",),  # the chosen moments of each deed, and a few at random
    "kills_erasure": ("8",),
    "kills_handoff": ("8",),
    "kills_writers": ("16",),
    "ledger": ("300000",),  # what is printed is a time per entry
    "scores": ("--rows", "1000000", "--sites", "1"),
    "strays": ("--seeds", "2", "--strays", "4000", "--people", "40000"),
    "takes": ("300000",),
}
"""What each program is given here, where it would take more than its part of the ten minutes."""
MOST_S = 600
CROWD_S = "30"
"""How long people decide and look at once [s]; two minutes by itself."""


def main() -> None:
    """Run each measurement of this folder in a process of its own; end with 1 where one could not be made."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--as-documented", action="store_true", help="sizes as each program has them by itself")
    given = asked.parse_args()
    here = Path(__file__).parent
    failed = []
    alone = [path for path in here.glob("*.py") if not path.name.startswith("__")]
    began = time.perf_counter()
    for path in sorted([*alone, here / "adverse"]):
        sizes = () if given.as_documented else SIZES.get(path.stem, ())
        print(f"\n== {' '.join((path.stem, *sizes))}", flush=True)
        # as the command itself sets it
        environment = {"OPENBLAS_NUM_THREADS": "1"} | os.environ
        if not given.as_documented:
            environment = {"EVENHAND_BENCH_SECONDS": CROWD_S} | environment
        program = [sys.executable, "-m", f"bench.{path.stem}", *sizes]
        before = _processor()
        if subprocess.run(program, cwd=here.parent, env=environment, check=False).returncode:
            failed.append(path.stem)
        print(f"-- {path.stem}: {_processor() - before:.0f} s of one processor", flush=True)
    by_the_clock = time.perf_counter() - began
    late = "" if given.as_documented or by_the_clock <= MOST_S else f", longer than the {MOST_S} s it is to take"
    print(f"\nall of it: {_processor():.0f} s of one processor, {by_the_clock:.0f} s by the clock{late}")
    if failed:
        sys.exit(f"could not be measured: {', '.join(failed)}")


def _processor() -> float:
    """Return the seconds of a processor that ended programs took, whatever else the machine did meanwhile."""
    ended = resource.getrusage(resource.RUSAGE_CHILDREN)
    return ended.ru_utime + ended.ru_stime


if __name__ == "__main__":
    main()
