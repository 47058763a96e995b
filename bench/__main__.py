"""Run every measurement, one program after the other, so that none warms or crowds the next."""

from __future__ import annotations

import os
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
        if subprocess.run(program, cwd=here.parent, env=environment, check=False).returncode:
            failed.append(path.stem)
    if failed:
        sys.exit(f"could not be measured: {', '.join(failed)}")


if __name__ == "__main__":
    main()
