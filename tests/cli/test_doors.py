"""The command line as its user meets it: help, refusals, exit codes, and no traceback."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
from tests.jobs.workplaces import made

import evenhand as evenhand_package
from evenhand.cli import evenhand
from evenhand.cli.asked import LINE


def run(*words: str, cwd: Path, stdin: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "evenhand", *words],
        cwd=cwd,
        input=stdin,
        capture_output=True,
        text=True,
        env={**os.environ, "COLUMNS": "160"},
        check=False,
    )


@pytest.fixture(scope="module")
def workspace(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("doors")
    assert run("new", "w", "--zone", "America/Chicago", cwd=folder).returncode == 0
    return folder / "w"


def test_help_imports_nothing_heavy(tmp_path: Path) -> None:
    listed = subprocess.run(
        [
            sys.executable,
            "-c",
            "import sys, evenhand.cli as cli\n"
            "try: cli.evenhand(['--help'], standalone_mode=False)\n"
            "finally: print(sorted({'polars', 'numba', 'numpy', 'sqlalchemy', 'fastapi', 'rich'} & set(sys.modules)))",
        ],
        capture_output=True,
        text=True,
        check=True,
    )
    assert listed.stdout.strip().endswith("[]")


# What people write in their own words: kept with a decision, printed in notes and on sheets.
OWN_WORDS = {"author", "reason", "title", "workplace", "note", "answer", "why", "text", "says", "witness"}


def commands(command: click.Command, path: str = "") -> Iterator[tuple[str, click.Command]]:
    yield path, command
    if isinstance(command, click.Group):
        context = click.Context(command)
        for name in command.list_commands(context):
            inner = command.get_command(context, name)
            assert inner is not None
            yield from commands(inner, f"{path} {name}".strip())


def test_whatever_people_write_in_their_own_words_is_one_clean_line() -> None:
    taken = {
        (path, param.name): param.type
        for path, command in commands(evenhand)
        for param in command.params
        if param.name in OWN_WORDS
    }
    assert len(taken) > 20
    assert [named for named, kind in taken.items() if kind is not LINE] == []


@pytest.mark.parametrize("hidden", ["a\u202eb", "a\u2028b", "a\u200bb", "\x1b[31ma"])
def test_a_reason_that_could_turn_or_forge_what_stands_around_it_is_refused(workspace: Path, hidden: str) -> None:
    answer = run("-w", str(workspace), "settle", "X", "--author", "Ada", "--reason", hidden, cwd=workspace)
    assert answer.returncode == 2
    assert answer.stderr.startswith("evenhand: --reason “")
    assert "holds characters that do not show (U+" in answer.stderr
    assert hidden not in answer.stderr


def test_a_refusal_shows_what_was_written_without_obeying_it(workspace: Path) -> None:
    answer = run("-w", str(workspace), "enrol", "show", "a\u202e\x1b[2Jb", cwd=workspace)
    assert answer.returncode == 2
    assert 'there is no round "a\\u202e\\x1b[2Jb"' in answer.stderr


def test_outside_a_workspace_the_refusal_says_how_to_get_one(tmp_path: Path) -> None:
    answer = run("today", cwd=tmp_path)
    assert answer.returncode == 2
    assert "is not in a workspace; make one with `evenhand new DIR`" in answer.stderr
    assert answer.stdout == ""


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("hours", "why", "nobody", "2026-11-09"), 'nobody on the roster answers to "nobody"'),
        (("correct", "leave-out", "P1", "--punch", "9" * 20, "--reason", "twice"), "is not in the range"),
        (("hours", "why", "nobody", "9 Nov"), 'DAY "9 Nov" is no date; write it as 2026-11-09.'),
        (("today", "--as-of", "yesterday"), '--as-of "yesterday" is no time'),
        (("today", "--as-of", "2026-11-16T08:00"), "does not say its offset from UTC"),
        (("rounding", "--weeks", "0"), "--weeks 0 cannot be audited; give 1 to 520."),
        (("rounding", "--weeks", "9" * 11), "cannot be audited"),
        (("twin", "t", "--seed", "-1"), "-1 is not in the range x>=0"),
        (("demo", "t", "--seed", "-1"), "-1 is not in the range x>=0"),
        (("numbers", "allocate", "1", "--seed", "-1"), "-1 is not in the range x>=0"),
        (("handoff",), "handed off by somebody; say who"),
        (("handoff", "--author", "Ada"), "nobody has hours in"),
        (("settle", "nothing/at-all", "--author", "A", "--reason", "b"), 'there is no open finding "nothing/at-all"'),
        (("readers", "NOWHERE"), 'there is no reader "NOWHERE"'),
        (("take", "missing.csv"), "missing.csv does not exist"),
        (("schema", "shoes"), '"shoes" is no table that files give'),
        (("schema", "--json", "shoes"), '"shoes" prints no JSON; these do: demo, take'),
        (("layouts", "show", "shoes"), 'there is no kept layout "shoes"'),
    ],
)
def test_bad_words_get_one_sentence_and_exit_code_2(words: tuple[str, ...], sentence: str, workspace: Path) -> None:
    answer = run(*words, cwd=workspace)
    assert answer.returncode == 2
    assert sentence in answer.stderr
    assert "Traceback" not in answer.stderr


def test_a_workspace_is_not_made_twice(workspace: Path) -> None:
    answer = run("new", "w", cwd=workspace.parent)
    assert answer.returncode == 2
    assert "is a workspace already" in answer.stderr


def test_why_tells_apart_the_two_hours_that_clocks_show_twice(tmp_path: Path) -> None:
    # New York went back from 02:00 EDT to 01:00 EST on 1 November 2026 (15 USC 260a).
    made(tmp_path).close()
    night = run("-w", "mill", "hours", "why", "P2", "2026-11-01", cwd=tmp_path)
    assert "from 2026-11-01 00:00 EDT to 2026-11-01 03:00 EST" in night.stdout
    assert "03:30 EST" in night.stdout
    day = run("-w", "mill", "hours", "why", "P1", "2026-11-02", cwd=tmp_path)
    assert "17:00  out" in day.stdout
    assert "EST" not in day.stdout


def test_no_as_an_answer_does_nothing_says_so_and_is_no_interruption(tmp_path: Path) -> None:
    made(tmp_path).close()
    words = ("correct", "add", "P3", "--at", "2026-11-04T16:00", "--reason", "forgot", "--author", "Ada")
    answer = run("-w", "mill", *words, cwd=tmp_path, stdin="n\n")
    assert answer.returncode == 1
    assert answer.stderr.splitlines()[-1].endswith("evenhand: nothing was done.")
    assert run("-w", "mill", *words, cwd=tmp_path, stdin="y\n").stdout.splitlines()[-1].startswith("Correction 1 made")


COMPLETE = {
    # what the shell's own words are when its user has typed "evenhand takes b" or "evenhand take --da"
    "bash": {"_EVENHAND_COMPLETE": "bash_complete", "COMP_CWORD": "2"},
    "zsh": {"_EVENHAND_COMPLETE": "zsh_complete", "COMP_CWORD": "2"},
}


@pytest.mark.parametrize("shell", COMPLETE)
@pytest.mark.parametrize(("typed", "meant"), [("takes b", "back"), ("take --da", "--dates"), ("hours w", "why")])
def test_the_shell_completes_commands_and_options(shell: str, typed: str, meant: str, tmp_path: Path) -> None:
    settings = os.environ | COMPLETE[shell] | {"COMP_WORDS": f"evenhand {typed}"}
    answer = subprocess.run(
        [sys.executable, "-m", "evenhand"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        env=settings,
        check=False,
    )
    assert meant in re.split(r"[,\n]", answer.stdout)


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_the_documented_line_gives_each_shell_its_completion(shell: str, tmp_path: Path) -> None:
    settings = os.environ | {"_EVENHAND_COMPLETE": f"{shell}_source"}
    answer = subprocess.run(
        [sys.executable, "-m", "evenhand"], cwd=tmp_path, capture_output=True, text=True, env=settings, check=False
    )
    assert "_evenhand_completion" in answer.stdout
    documented = (Path(__file__).parents[2] / "docs/commands.md").read_text(encoding="utf-8")
    assert f"_EVENHAND_COMPLETE={shell}_source evenhand" in documented


def test_schema_prints_json(tmp_path: Path) -> None:
    answer = run("schema", "punches", cwd=tmp_path)
    assert [field["name"] for field in json.loads(answer.stdout)["fields"]] == [
        "reader",
        "number",
        "at",
        "direction",
        "outcome",
        "score",
    ]


def parts_of(command: click.Command, path: tuple[str, ...] = ()) -> Iterator[tuple[str, click.Command]]:
    if not isinstance(command, click.Group) or command.invoke_without_command:
        yield " ".join(path), command
    if isinstance(command, click.Group):
        ctx = click.Context(command)
        for name in command.list_commands(ctx):
            part = command.get_command(ctx, name)
            assert part is not None
            yield from parts_of(part, (*path, name))


PARTS = dict(parts_of(evenhand))
PRINT_NO_DATA = {
    "new": "makes a folder and says where it is",
    "serve": "runs until it is stopped",
    "watch": "runs until it is stopped",
    "enrol print": "writes PDF files for people",
    "consent policy example": "prints a file to begin with",
    "consent policy show": "prints a file as it was added",
    "steps example": "prints a file to begin with",
    "steps add": "keeps a file and says of which version it is",
    "steps list": "says in a line of each kind what its file holds, which steps show prints",
    "steps show": "prints a file as it was added",
    "steps print": "writes a PDF file for people",
}


@pytest.mark.parametrize("part", PARTS)
def test_what_prints_data_prints_json_too(part: str) -> None:
    options = {name for parameter in PARTS[part].params for name in parameter.opts}
    assert ("--json" in options) != (part in PRINT_NO_DATA)


@pytest.mark.parametrize("part", PARTS)
def test_options_and_what_may_be_chosen_are_written_with_hyphens(part: str) -> None:
    for parameter in PARTS[part].params:
        written = list(parameter.opts) if isinstance(parameter, click.Option) else []
        written += map(str, parameter.type.choices) if isinstance(parameter.type, click.Choice) else []
        assert not [word for word in written if "_" in word]


def test_every_option_that_a_sentence_names_is_one() -> None:
    parts = (evenhand, *PARTS.values())
    known = {"--help"} | {name for part in parts for parameter in part.params for name in parameter.opts}
    source = Path(evenhand_package.__file__).parent
    named = {
        (path.name, word)
        for path in source.rglob("*.py")
        for word in re.findall(r"(?<![-\w])--[a-z][a-z-]+", path.read_text(encoding="utf-8"))
    }
    assert len(named) > 50
    assert {one for one in named if one[1] not in known} == set()
