"""Run every measurement, one program after the other, so that none warms or crowds the next."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
from pathlib import Path


def main() -> None:
    """Run each measurement of this folder in a process of its own; end with 1 where one could not be made."""
    here = Path(__file__).parent
    failed = []
    alone = [path for path in here.glob("*.py") if not path.name.startswith("__")]
    for path in sorted([*alone, here / "adverse"]):
        print(f"\n== {path.stem}", flush=True)
        # as the command itself sets it
        environment = {"OPENBLAS_NUM_THREADS": "1"} | os.environ
        program = [sys.executable, "-m", f"bench.{path.stem}"]
        before = _processor()
        if subprocess.run(program, cwd=here.parent, env=environment, check=False).returncode:
            failed.append(path.stem)
        print(f"-- {path.stem}: {_processor() - before:.0f} s of one processor", flush=True)
    print(f"\nall of it: {_processor():.0f} s of one processor")
    if failed:
        sys.exit(f"could not be measured: {', '.join(failed)}")


def _processor() -> float:
    """Return the seconds of a processor that ended programs took, whatever else the machine did meanwhile."""
    ended = resource.getrusage(resource.RUSAGE_CHILDREN)
    return ended.ru_utime + ended.ru_stime


if __name__ == "__main__":
    main()
