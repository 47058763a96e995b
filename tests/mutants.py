"""Plant one fault at a time in a room and count those that the room's own tests see.

    make mutants                                        # a sample of 60 faults of each room, always the same ones
    make mutants OF="--rooms law pay --sample 200 --seed 7"
    make mutants OF="--sample 0"                        # every fault: hours

Faults are mutmut's: an operator turned, a number moved, an argument left out, a condition negated. Kernels
run uncompiled meanwhile, since what carries a fault cannot be compiled. Each room is tried in a copy of the tree under
build/mutants. tests/mutants.md says of each survivor of the sample why it does not matter.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

from scipy.stats import beta

ROOT = Path(__file__).parents[1]
COPIES = ROOT / "build" / "mutants"
MUTMUT = Path(sys.executable).with_name("mutmut")
FAILED, OUT_OF_TIME = {1, 3, -11}, {24, 36, 152, -9, -24}  # how pytest or the system ended a run that saw the fault
KILLED = FAILED | OUT_OF_TIME
UNTESTED = 33
# Slow to import, safe to fork once imported, and nothing that pytest rewrites.
PRELOADED = ("numpy", "scipy.stats", "scipy.optimize", "polars", "sqlalchemy")
BOUNDS = {
    "POLARS_MAX_THREADS": "1",
    "OPENBLAS_NUM_THREADS": "1",
    "EVENHAND_TEST_DRAWING": "planted",
    "PYTHONDONTWRITEBYTECODE": "",  # or each fault's tests compile the room and themselves again, which takes longest
}


@dataclass(frozen=True)
class Room:
    """Where faults are planted, the tests that must see them, and those left out: what compiles, or tests the tests."""

    planted: tuple[str, ...]
    tests: tuple[str, ...]
    without: str = ""


DECISIONS = ("decisions", "correct", "stray_decisions", "strays", "overtaken", "pay_week", "handoff")
ROOMS = {
    "law": Room(
        ("src/evenhand/law/*",), ("tests/law", "tests/published/hours"), "compiled or policies_keep or weeks_drawn"
    ),
    "pay": Room(("src/evenhand/pay/*",), ("tests/pay", "tests/published/pay")),
    "reconcile": Room(("src/evenhand/reconcile/*",), ("tests/reconcile",)),
    "linkage": Room(("src/evenhand/linkage/*",), ("tests/linkage", "tests/published/strays")),
    "decisions": Room(
        tuple(f"src/evenhand/jobs/{name}.py" for name in ("correct", "stray_decisions", "overtaken", "handoff")),
        tuple(f"tests/jobs/test_{name}.py" for name in DECISIONS),
    ),
}


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--rooms", nargs="+", choices=ROOMS, default=list(ROOMS))
    asked.add_argument("--sample", type=int, default=60, help="faults of each room; 0 plants every one")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--at-once", type=int, default=os.cpu_count() or 1, help="faults tried at once")
    given = asked.parse_args()
    for name in given.rooms:
        copy = copied(name, ROOMS[name])
        planted = _plant(copy, ROOMS[name], given.at_once)
        sample = sorted(planted)
        if 0 < given.sample < len(planted):
            sample = sorted(random.Random(given.seed).sample(sample, given.sample))
        _report(name, copy, len(planted), _tried(copy, sample, given.at_once))


def copied(name: str, room: Room) -> Path:
    """Return a fresh copy of what is in the repository, in which mutmut knows this room alone."""
    copy = COPIES / name
    shutil.rmtree(copy, ignore_errors=True)
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True)
    for file in filter(None, listed.stdout.split("\0")):
        if (ROOT / file).is_file():
            (copy / file).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(ROOT / file, copy / file)
    settings = {
        "source_paths": ["src"],
        "only_mutate": list(room.planted),
        "also_copy": ["bench", "docs", "README.md", "LICENSE", "Makefile"],
        "pytest_add_cli_args_test_selection": list(room.tests),
        "pytest_add_cli_args": [
            "-p",
            "no:cacheprovider",
            *(["-k", f"not ({room.without})"] if room.without else []),
        ],
        "process_isolation": "forkserver",  # a run of the tests starts threads of Polars, which a fork would lose
        "forkserver_warmup": "import",
        "preload_modules_file": "preloaded.txt",
        # Most of the time that a quick test needs is that of collecting it, ten times as long on a busy machine, and
        # what is cut off would pass for seen. Seconds, and how many times as long as the tests themselves.
        "timeout_constant": 40,
        "timeout_multiplier": 4,
    }
    (copy / "preloaded.txt").write_text("\n".join(PRELOADED))
    written = "".join(f"{key} = {json.dumps(value)}\n" for key, value in settings.items())
    with (copy / "pyproject.toml").open("a") as file:
        file.write(f"\n[tool.mutmut]\n{written}")
    return copy


def _run(copy: Path, at_once: int, names: list[str]) -> str:
    command = [str(MUTMUT), "run", "--max-children", str(at_once), *names]
    run = subprocess.run(command, cwd=copy, env=os.environ | BOUNDS, capture_output=True, text=True, check=False)
    said = (run.stdout + run.stderr).splitlines()
    return "\n".join(line for line in said if line[:1] not in set("⠋⠙⠹⠸⠼⠴⠦⠧⠇⠏"))  # what turns while one waits


def _outcomes(copy: Path) -> dict[str, int | None]:
    """Return what came of each planted fault, by its name."""
    found: dict[str, int | None] = {}
    for file in (copy / "mutants").rglob("*.meta"):
        found |= json.loads(file.read_text())["exit_code_by_key"]
    return found


def _plant(copy: Path, room: Room, at_once: int) -> set[str]:
    """Plant every fault, see which tests reach it, and return their names; none is tried yet."""
    said = _run(copy, at_once, ["none is called this"])
    planted = set(_outcomes(copy))
    if not planted or not (copy / "mutants" / "mutmut-stats.json").is_file():
        sys.exit(
            f"no fault could be planted in {copy}; the room's tests must pass there, which shows:\n{said[-3000:]}\n"
            f"cd {copy / 'mutants'} && PYTHONPATH=src MUTANT_UNDER_TEST= python -m pytest -x {' '.join(room.tests)}"
            + (f" -k 'not ({room.without})'" if room.without else "")
        )
    return planted


def _tried(copy: Path, names: list[str], at_once: int) -> dict[str, int]:
    """Return what came of each of these faults; those that no test reaches are not run."""
    reached = json.loads((copy / "mutants" / "mutmut-stats.json").read_text())["tests_by_mangled_function_name"]
    run = [name for name in names if reached.get(name.partition("__mutmut_")[0])]
    said = _run(copy, at_once, run) if run else ""
    found = _outcomes(copy)
    if any(found[name] is None for name in run):
        sys.exit(f"the faults in {copy} could not be tried:\n{said[-3000:]}")
    return {name: UNTESTED if name not in run else int(found[name] or 0) for name in names}


def _report(room: str, copy: Path, planted: int, tried: dict[str, int]) -> None:
    seen = sum(outcome in KILLED for outcome in tried.values())
    by_time = sum(outcome in OUT_OF_TIME for outcome in tried.values())
    missed = len(tried) - seen
    # Clopper and Pearson 1934: an interval that covers the share in at least 95 of 100 samples.
    low = beta.ppf(0.025, seen, missed + 1) if seen else 0.0
    high = beta.ppf(0.975, seen + 1, missed) if missed else 1.0
    print(
        f"{room}: {seen} of {len(tried)} seen, {by_time} of them by time, "
        f"{seen / len(tried):.0%} ({low:.0%} to {high:.0%}), of {planted} planted"
    )
    for name, outcome in tried.items():
        if outcome not in KILLED:
            print(f"\n-- {name}{': no test reaches it' if outcome == UNTESTED else ''}")
            shown = subprocess.run([str(MUTMUT), "show", name], cwd=copy, capture_output=True, text=True, check=False)
            print("\n".join(line for line in shown.stdout.splitlines() if line[:1] in "-+@ " and line.strip()))
    print(flush=True)


if __name__ == "__main__":
    main()
