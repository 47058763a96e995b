"""The walls between rooms hold: a breach planted in a copy of the package is found under the name of its rule."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from collections import defaultdict
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "src" / "evenhand"
FLOORS = ["terms", "checks", "store", "jobs", "web", "cli"]  # the rooms lie above terms
ROOMS = sorted({path.name for path in PACKAGE.iterdir() if (path / "__init__.py").exists()} - set(FLOORS))
PURE = [*ROOMS, "checks", "terms"]
OUTSIDE = [
    *("time", "pathlib", "os", "importlib.resources", "threading", "concurrent.futures", "multiprocessing"),
    *("sqlite3", "sqlalchemy", "adbc_driver_sqlite", "socket", "starlette", "jinja2", "click", "logging", "random"),
]
DATABASES = ["sqlalchemy", "sqlite3", "psycopg", "adbc_driver_postgresql"]

PLANTED: dict[str, list[tuple[str, str]]] = {
    "floors": [
        *((room, f"evenhand.{other}") for room in ROOMS for other in ROOMS if room != other),
        *((floor, f"evenhand.{above}") for place, floor in enumerate(FLOORS) for above in FLOORS[place + 1 :]),
        *((room, f"evenhand.{above}") for room in ROOMS for above in FLOORS[1:]),
        *(("terms", f"evenhand.{room}") for room in ROOMS),
    ],
    "the store knows no rooms": [(room, f"evenhand.{below}") for room in ("store",) for below in (*ROOMS, "checks")],
    "doors know no rooms": [(door, f"evenhand.{room}") for door in ("web", "cli") for room in (*ROOMS, "checks")],
    "rooms are pure": [(room, module) for room in PURE for module in OUTSIDE],
    "only the store speaks to a database": [(room, module) for room in ("cli", "web", "jobs") for module in DATABASES],
    "jobs know no door": [
        (room, module) for room in ("jobs", "store") for module in ("click", "rich", "fastapi", "starlette")
    ],
}
CLOCKS = {
    "from datetime import datetime": "datetime.now()",
    "from datetime import UTC, datetime": "datetime.now(UTC)",
    "import datetime": "datetime.datetime.today()",
    "from datetime import date": "date.today()",
    "import time": "time.time()",
}


@pytest.fixture(scope="module")
def breached(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the package in which every planted import stands in a module of its own, and a folder is undeclared."""
    folder = tmp_path_factory.mktemp("breached")
    shutil.copytree(PACKAGE, folder / "evenhand", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", folder)
    lines = defaultdict(set)
    for planted in PLANTED.values():
        for room, module in planted:
            lines[room].add(f"import {module}\n")
    for room, imports in lines.items():
        (folder / "evenhand" / room / "planted.py").write_text("".join(sorted(imports)))
    (folder / "evenhand" / "undeclared").mkdir()
    (folder / "evenhand" / "undeclared" / "__init__.py").touch()
    return folder


@pytest.fixture(scope="module")
def report(breached: Path) -> dict[str, str]:
    """What the import linter says about each broken rule, by the rule's name."""
    linter = Path(sys.executable).with_name("lint-imports")
    command = [linter, "--no-cache", "--no-logo"]
    run = subprocess.run(command, cwd=breached, env={"PYTHONPATH": str(breached)}, capture_output=True, text=True)  # noqa: PLW1510
    assert run.returncode == 1, run.stderr
    parts = re.split(r"^(.+)\n-+\n", run.stdout.split("Broken contracts", 1)[1], flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


@pytest.mark.parametrize("rule", PLANTED)
def test_every_planted_import_is_found(rule: str, report: dict[str, str]) -> None:
    found = set(re.findall(r"- +evenhand\.(\w+)\.planted -> ([\w.]+) \(l\.", report[rule]))
    planted = {
        (room, module if module.startswith("evenhand") else module.split(".")[0]) for room, module in PLANTED[rule]
    }
    assert planted - found == set()


def test_a_folder_that_is_on_no_floor_is_found(report: dict[str, str]) -> None:
    assert "undeclared" in report["floors"]


def test_nothing_but_what_was_planted_breaks_a_rule(report: dict[str, str]) -> None:
    text = "".join(report.values())
    assert {line for line in re.findall(r"^- +(\S+) ->", text, re.MULTILINE) if ".planted" not in line} == set()


@pytest.mark.parametrize(("where", "what"), CLOCKS.items())
@pytest.mark.parametrize("room", ["terms/", "law/", "store/", "jobs/"])
def test_a_clock_that_is_read_is_found(where: str, what: str, room: str, tmp_path: Path) -> None:
    ruff = Path(sys.executable).with_name("ruff")
    name = PACKAGE / room / "planted.py"
    command = [ruff, "check", "--no-cache", "--output-format", "concise", "--stdin-filename", name, "-"]
    run = subprocess.run(command, input=f"{where}\n\nread = {what}\n", capture_output=True, text=True, cwd=ROOT)  # noqa: PLW1510
    assert "planted.py:3:8: TID251" in run.stdout


@pytest.mark.parametrize("room", ["terms/", "layouts/", "enrolment/"])
def test_a_file_that_is_opened_in_a_room_is_found(room: str) -> None:
    """The built-in `open` is imported from nowhere, so that it is the linter's, not the contracts', to find."""
    ruff = Path(sys.executable).with_name("ruff")
    command = [
        ruff,
        "check",
        "--no-cache",
        "--output-format",
        "concise",
        "--stdin-filename",
        PACKAGE / room / "a.py",
        "-",
    ]
    text = 'with open("words.po") as file:\n    read = file.read()\n'
    run = subprocess.run(command, input=text, capture_output=True, text=True, cwd=ROOT)  # noqa: PLW1510
    assert "a.py:1:6: PTH123" in run.stdout
