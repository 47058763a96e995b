"""What is declared is used, and what is used is declared."""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from importlib.metadata import distribution, packages_distributions
from pathlib import Path

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
MODULES = packages_distributions()

# What no line of code names, and who looks for it.
LOOKED_FOR = {
    "psycopg": "sqlalchemy, for the address of a PostgreSQL store",
    "pyarrow": "fastexcel, to tell which cells hold errors",
    "python-multipart": "fastapi, to read forms",
    "tzdata": "zoneinfo, where the machine has no zones of its own",
}


def normal(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def declared(requirements: list[str]) -> set[str]:
    return {normal(re.split(r"[\[<>=!~; ]", requirement)[0]) for requirement in requirements}


FOR_USE = declared(PROJECT["dependencies"]) | declared(PROJECT["optional-dependencies"]["team"])
FOR_WORK = declared(PROJECT["optional-dependencies"]["dev"])


def named(*folders: str) -> tuple[set[str], set[str]]:
    """Return the modules outside the standard library that the code imports, and those that its texts name."""
    imported: set[str] = set()
    in_texts: set[str] = set()
    for path in (path for folder in folders for path in (ROOT / folder).rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text())):
            match node:
                case ast.Import():
                    imported |= {alias.name.split(".")[0] for alias in node.names}
                case ast.ImportFrom(module=str(module), level=0):
                    imported.add(module.split(".")[0])
                case ast.Constant(value=str(text)):
                    in_texts.add(text.split(".")[0])
    return imported - sys.stdlib_module_names - {"evenhand", "tests", "bench"}, in_texts


def distributions(modules: set[str]) -> set[str]:
    return {normal(name) for module in modules for name in MODULES.get(module, [])}


def test_what_the_program_imports_is_declared() -> None:
    imported, _ = named("src")
    assert {module for module in imported if not distributions({module}) & FOR_USE} == set()


def test_what_the_tests_and_benches_import_is_declared() -> None:
    imported, _ = named("tests", "bench")
    assert {module for module in imported if not distributions({module}) & (FOR_USE | FOR_WORK)} == set()


def test_what_is_declared_for_use_is_used() -> None:
    imported, in_texts = named("src")
    assert FOR_USE - distributions(imported | in_texts) - set(LOOKED_FOR) == set()


def test_what_is_declared_for_work_on_the_program_is_used() -> None:
    imported, in_texts = named("tests", "bench")
    commands = (ROOT / "Makefile").read_text()
    entries = {name: distribution(name).entry_points for name in FOR_WORK}
    run = {name for name in FOR_WORK if any(f"/{one}" in commands for one in (name, *entries[name].names))}
    plugins = {name for name in FOR_WORK if "pytest11" in entries[name].groups}
    assert FOR_WORK - distributions(imported | in_texts) - run - plugins == set()


def test_what_builds_the_package_is_not_installed_for_use() -> None:
    builders = declared(tomllib.loads((ROOT / "pyproject.toml").read_text())["build-system"]["requires"])
    locked = {line.split("==")[0] for line in (ROOT / "requirements.lock").read_text().splitlines() if "==" in line}
    assert locked >= FOR_USE
    assert not builders & locked
