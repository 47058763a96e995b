"""The examples of the documentation, run as they stand there: the files given, the commands, and what they print."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from tests.cli.test_doors import run

DOCS = Path(__file__).parents[2] / "docs"
EXAMPLES = ("commands.md", "takes.md")
BLOCK = re.compile(r"^```(\w+)(?: (\S+))?\n(.*?)^```$", re.DOTALL | re.MULTILINE)


def plain(text: str) -> list[str]:
    return [line.rstrip() for line in text.splitlines() if line.strip()]


@pytest.mark.parametrize("page", EXAMPLES)
def test_what_is_shown_is_what_happens(page: str, tmp_path: Path) -> None:
    ran = 0
    for kind, name, body in BLOCK.findall((DOCS / page).read_text(encoding="utf-8")):
        if name:
            (tmp_path / name).write_text(body, encoding="utf-8")
        for command, shown in re.findall(r"^\$ evenhand (.*)\n((?:(?!\$ ).*\n)*)", body, re.MULTILINE):
            assert kind == "console"
            answer = run(*shlex.split(command), cwd=tmp_path)
            assert plain(answer.stdout + answer.stderr) == plain(shown), command
            ran += 1
    assert ran
