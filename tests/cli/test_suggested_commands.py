"""Commands that sentences suggest can be run as they stand, but for who decides and why."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

from tests.cli.test_doors import run

READERS = "reader,site,zone\nGATE,Mill,America/Chicago\n"
PEOPLE = "person,name,number,site\nP1,Ada Quill,0041,Mill\nP2,Ben Rook,0042,Mill\nP3,Cy Lund,0043,Mill\n"
LOG = "reader,number,at\n" + "".join(f"GATE,{number},2026-03-09 08:0{number % 10}:05\n" for number in (41, 42, 43))
AS_WRITTEN = """table = "punches"
form = "delimited"
delimiter = ","
header = 1
[columns]
reader = "reader"
number = "number"
at = "at"
"""
BY = ("--author", "Ada", "--reason", "a test")
FILES = ["readers.csv", "people.csv", "log.csv"]


def suggested(text: str) -> list[str]:
    """Return the words of the one command `evenhand takes again ...` that a text suggests."""
    [command] = set(re.findall(r"`evenhand (takes again [^`]+)`", re.sub(r"\s+", " ", text)))
    return shlex.split(command.replace("NAME", "Ada").replace("WHY", "zeros"))


def test_what_a_finding_a_take_back_and_a_change_of_zone_suggest_can_be_run(tmp_path: Path) -> None:
    for name, text in zip(FILES, (READERS, PEOPLE, LOG), strict=True):
        (tmp_path / name).write_text(text)
    run("new", "mill", cwd=tmp_path)
    (tmp_path / "as_written.toml").write_text(AS_WRITTEN)
    assert run("-w", "mill", "take", "--yes", *FILES[:2], cwd=tmp_path).returncode == 0
    assert run("-w", "mill", "take", "--layout", "as_written.toml", FILES[2], cwd=tmp_path).returncode == 0
    today = run("-w", "mill", "today", "--as-of", "2026-03-20T12:00Z", cwd=tmp_path).stdout
    done = run("-w", "mill", *suggested(today), "--yes", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    back = run("-w", "mill", "takes", "back", "3", "--author", "Ada", "--reason", "a test", "--yes", cwd=tmp_path)
    assert run("-w", "mill", *suggested(back.stdout), "--yes", cwd=tmp_path).returncode == 0
    (tmp_path / "readers.csv").write_text(READERS.replace("Chicago", "Denver"))
    moved = run("-w", "mill", "take", "--yes", "readers.csv", cwd=tmp_path).stdout.replace("again N", "again 3")
    assert run("-w", "mill", *suggested(moved), "--yes", cwd=tmp_path).returncode == 0


def test_nobody_is_asked_about_a_decision_that_nobody_makes(tmp_path: Path) -> None:
    (tmp_path / "readers.csv").write_text(READERS)
    run("new", "mill", cwd=tmp_path)
    run("-w", "mill", "take", "--yes", "readers.csv", cwd=tmp_path)
    for words in (["back", "1", "--reason", "a test"], ["again", "1", "--reason", "a test", "--author", " "]):
        done = run("-w", "mill", "takes", *words, cwd=tmp_path)
        assert (done.returncode, done.stdout) == (2, "")
        assert "made by somebody and for a reason" in done.stderr
    low = run("-w", "mill", "strays", "confirm", "--least-probability", "0.5", *BY, cwd=tmp_path)
    assert (low.returncode, low.stdout) == (2, "")
    assert low.stderr.startswith("evenhand: a threshold of 0.5 confirms what is not sure")
