"""Commands speak the language that is chosen, the workplace's or the locale's, in this order."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from tests.untranslated import half_english, names_of, untranslated_lines

from evenhand.jobs.snapshot import take_snapshot
from evenhand.jobs.workspace import open_workspace

LOCALE = {"LC_ALL": "", "LC_MESSAGES": "", "LANG": "C.UTF-8"}


def run(
    *words: str, cwd: Path, stdin: str = "", columns: int = 160, **environment: str
) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "evenhand", *words],
        cwd=cwd,
        input=stdin,
        capture_output=True,
        text=True,
        env={**os.environ, **LOCALE, "COLUMNS": str(columns), **environment},
        check=False,
    )


@pytest.fixture(scope="module")
def places(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with a workspace that speaks no language of its own, `w`, and one that speaks Spanish, `es`."""
    folder = tmp_path_factory.mktemp("places")
    for name in ("w", "es"):
        assert run("new", name, "--zone", "America/Chicago", cwd=folder).returncode == 0
    settings = folder / "es/evenhand.toml"
    settings.write_text(settings.read_text().replace("[workplace]\n", '[workplace]\nlanguage = "es"\n', 1))
    return folder


@pytest.mark.parametrize(
    ("words", "environment", "speaks"),
    [
        ((), {}, "en"),
        (("--speak", "es"), {}, "es"),
        ((), {"EVENHAND_SPEAK": "es"}, "es"),
        (("--speak", "en"), {"EVENHAND_SPEAK": "es"}, "en"),
        (("-w", "es"), {}, "es"),
        (("-w", "es", "--speak", "en"), {}, "en"),
        (("-w", "es"), {"LANG": "en_US.UTF-8"}, "es"),
        ((), {"EVENHAND_WORKSPACE": "es"}, "es"),
        (("-w", "w"), {"LANG": "es_MX.UTF-8"}, "es"),
        # POSIX.1-2024, Base Definitions, 8.2: LC_ALL, else LC_MESSAGES, else LANG; an empty one counts as unset
        ((), {"LANG": "es"}, "es"),
        ((), {"LANG": "es_ES@euro"}, "es"),
        ((), {"LANG": "es_ES.UTF-8", "LC_MESSAGES": "en_GB.UTF-8"}, "en"),
        ((), {"LC_MESSAGES": "es_AR.UTF-8", "LC_ALL": "C"}, "en"),
        ((), {"LC_ALL": "es_CL.UTF-8", "LC_MESSAGES": "en_GB.UTF-8"}, "es"),
        ((), {"LANG": "fr_FR.UTF-8"}, "en"),
        ((), {"LANG": "est_EE.UTF-8"}, "en"),
    ],
)
def test_the_language_is_the_one_chosen_else_the_workplaces_else_the_locales(
    places: Path, words: tuple[str, ...], environment: dict[str, str], speaks: str
) -> None:
    answer = run(*words, "today", "--period", "May", cwd=places, **environment)
    assert answer.returncode == 2
    assert (
        answer.stderr
        == {
            "en": 'evenhand: --period "May" is no date; write it as 2026-11-09.\n',
            "es": "evenhand: --period «May» no es una fecha; escríbala como 2026-11-09.\n",
        }[speaks]
    )


def test_settings_that_cannot_be_read_choose_no_language_and_are_refused_as_such(places: Path, tmp_path: Path) -> None:
    (tmp_path / "evenhand.toml").write_text("[workplace\n")
    assert run("--help", cwd=tmp_path).stdout.startswith("Usage: evenhand")
    refused = run("today", cwd=tmp_path, LANG="es_PE.UTF-8")
    assert (refused.returncode, refused.stdout) == (2, "")
    assert "evenhand.toml" in refused.stderr


HELPS = """
import click
from evenhand.cli import evenhand
from evenhand.cli.speaking import Context, speak_help

def show(command, ctx):
    speak_help(command)
    print(command.get_help(ctx))
    for name in command.list_commands(ctx) if isinstance(command, click.Group) else ():
        part = command.get_command(ctx, name)
        show(part, Context(part, info_name=name, parent=ctx))

show(evenhand, Context(evenhand, info_name="evenhand"))
"""


def test_every_help_is_whole_in_spanish(places: Path) -> None:
    def helps(language: str) -> set[str]:
        environment = {**os.environ, **LOCALE, "LANG": language, "COLUMNS": "110"}
        made = subprocess.run(
            [sys.executable, "-c", HELPS], cwd=places, env=environment, capture_output=True, text=True, check=True
        )
        return set(made.stdout.splitlines())

    english, spanish = helps("C"), helps("es")
    assert len(spanish) > 500
    # what an option is called, and what it takes, is the same in both
    named = re.compile(r"^  (-\w, )?-(-[a-z]+)+( (\[.*\]|[A-Z=]+( RANGE)?))?|^  [a-z-]+$")
    alike = {named.sub("", line) for line in english & spanish}
    assert {line for line in alike if re.search("[a-z]{3}", line)} == set()


def test_what_the_command_line_itself_refuses_is_told_in_spanish(places: Path) -> None:
    for words, says in (
        (("tdoay",), "Error: No existe el comando 'tdoay'."),
        (("today", "--pereod", "x"), "Error: No existe la opción '--pereod'. ¿Quiso decir '--period'?"),
        (("today", "--most", "0"), "Error: Valor no válido para '--most': 0 no está en el intervalo x>=1."),
        (("today", "--most", "few"), "Error: Valor no válido para '--most': 'few' no es un número entero."),
        (("take",), "Error: Falta el argumento 'FILES...'."),
        (("settle", "key"), "Error: Falta la opción '--reason'."),
        (("--speak", "fr", "today"), "Error: Valor no válido para '--speak': 'fr' no es ninguno de estos: 'en', 'es'."),
        (("today", "--most"), "Error: La opción '--most' necesita un valor."),
    ):
        answer = run(*words, cwd=places, LANG="es_UY.UTF-8")
        assert answer.returncode == 2
        assert answer.stderr.splitlines()[-1] == says
        assert answer.stderr.startswith("Uso: evenhand") or len(answer.stderr.splitlines()) == 1


SHOWS = """
import io, json, sys
from click.testing import CliRunner
from evenhand.cli import evenhand

for words in json.load(sys.stdin):
    answer = CliRunner().invoke(evenhand, words)
    print(json.dumps({"code": answer.exit_code, "says": answer.output, "fault": repr(answer.exception)}))
"""
AS_OF = ("--as-of", "2026-11-16T13:00Z")
SHOWN = (
    ("today", *AS_OF),
    ("today", "--findings", "--most", "40", *AS_OF),
    ("takes",),
    ("strays", *AS_OF),
    ("strays", *AS_OF, "show", "STRAY"),
    ("missing", "list", *AS_OF),
    ("missing", "suggestions", "--all", *AS_OF),
    ("hours", *AS_OF),
    ("hours", "why", "PERSON", "2026-11-10"),
    ("settled",),
    ("signoff", "list", *AS_OF),
    ("handoff", "changes", *AS_OF),
    ("enrol", "list"),
    ("enrol", "coverage", *AS_OF),
    ("people", *AS_OF),
    ("readers", *AS_OF),
    ("supervisors", *AS_OF),
    ("teaching", *AS_OF),
    ("teaching", "cover", *AS_OF),
    ("numbers", *AS_OF),
    ("numbers", *AS_OF, "confusable"),
    ("consent", "list", *AS_OF),
    ("consent", "policies", *AS_OF),
    ("consent", "campaign", *AS_OF),
    ("leavers", *AS_OF),
    ("hold", "list"),
    ("ledger",),
    ("ledger", "verify"),
    ("layouts",),
    ("pay", "PERSON", "2026-11-10"),
    ("rounding", *AS_OF),
    ("hands", *AS_OF),
    ("dispute", "list", *AS_OF),
    ("steps", "list"),
    ("today", "--cases", *AS_OF),
    ("find", "gate", *AS_OF),
    ("find", "2026-11-10", *AS_OF),
    ("readers", "READER", *AS_OF),
    ("supervisors", *AS_OF, "succession", "SUPERVISOR"),
    ("hands", "findings"),
    ("hands", "person", "PERSON"),
    ("hands", "rates"),
    ("numbers", "allocate", "3"),
    ("numbers", "plan", "--digits", "6"),
    ("layouts", "fit", "FILE"),
    ("take", "--try", "FILE"),
    ("consent", "show", "PERSON", *AS_OF),
    ("leavers", *AS_OF, "show", "LEAVER"),
    ("leavers", *AS_OF, "round", "--dry-run", "--author", "Ada"),
    ("enrol", "plan", "2026-11-18", "--dry-run", "--author", "Ada", "--search-seconds", "1", *AS_OF),
    ("enrol", "queue", "READER"),
    ("ledger", "decisions"),
    ("erase", "--preview", "LEAVER", *AS_OF),
)
"""What commands show of the demonstration, each by words of its own."""
ALIKE = re.compile(
    # a finding's key, by which it is settled; a person with their identifier; a path
    r"[a-z_]+(/\S+)+|.*\(K\d{4}\)|\S*\.(toml|csv|xlsx|json)"
)
"""Lines that are the same in both languages: keys, names and files."""


def shown_in(language: str, workspace: Path) -> list[dict[str, str | int]]:
    def told(*words: str) -> Any:
        return json.loads(run("-w", str(workspace), *words, *AS_OF, "--json", cwd=workspace).stdout)

    given = {
        "STRAY": told("strays")["proposals"][0]["stray"],
        "PERSON": told("people")[3]["person"],
        "LEAVER": told("leavers")[0]["person"],
        "READER": told("readers")[0]["reader"],
        "SUPERVISOR": next(row["person"] for row in told("supervisors") if row["person"]),
        "FILE": str(next((workspace.parent / "invented/files").glob("enrolled_*"))),
    }
    asked = [["-w", str(workspace), *(given.get(word, word) for word in words)] for words in SHOWN]
    environment = {**os.environ, **LOCALE, "EVENHAND_SPEAK": language}
    done = subprocess.run(
        [sys.executable, "-c", SHOWS],
        input=json.dumps(asked),
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    return [json.loads(line) for line in done.stdout.splitlines()]


def left_english_in(workspace: Path) -> dict[str, set[str]]:
    """Return the lines that commands print alike in both languages, or with English words in Spanish ones.

    Names, keys, figures, files and what somebody wrote are left aside.
    """
    opened = open_workspace(workspace)
    snapshot = take_snapshot(opened, date(2026, 11, 1), date(2026, 11, 16))
    written = {
        row["reason"] for frame in (snapshot.corrections, snapshot.handoffs) for row in frame.iter_rows(named=True)
    }
    decided = json.loads(run("-w", str(workspace), "ledger", "decisions", "--json", cwd=workspace).stdout)
    written |= {row["reason"] for row in decided}
    names = names_of(opened, snapshot) | {one for one in written if one}
    found = {}
    for words, english, spanish in zip(SHOWN, shown_in("en", workspace), shown_in("es", workspace), strict=True):
        assert english["code"] == spanish["code"] == 0, (words, spanish)
        lines = [str(one["says"]).splitlines() for one in (english, spanish)]
        alike = untranslated_lines(["\n".join(lines[0])], ["\n".join(lines[1])], names)
        halves = half_english(lines[1], names)
        if left := {line for line in alike if not ALIKE.fullmatch(line)} | halves:
            found[" ".join(words)] = left
    return found


def test_what_commands_print_of_the_demonstration_is_in_spanish_but_for_names_and_figures(tmp_path: Path) -> None:
    assert run("demo", cwd=tmp_path).returncode == 0
    assert left_english_in(tmp_path / "demo/workspace") == {}
