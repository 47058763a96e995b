"""The public retention schedule on paper and as text: in the workplace's language, and nothing left in English."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from click.testing import CliRunner

from evenhand.cli import evenhand
from evenhand.jobs.schedule import Schedule, schedule_of, schedule_text, write_schedule
from evenhand.jobs.snapshot import take_snapshot
from evenhand.jobs.workspace import Workspace, open_workspace
from evenhand.records.retention import LAWS
from evenhand.store.settings import write_settings
from evenhand.terms.settings import SiteRules
from tests.printed import texts
from tests.untranslated import ENGLISH, untranslated_lines

NOW = datetime(2026, 11, 9, 14, 0, tzinfo=UTC)
AS_OF = ("--as-of", NOW.isoformat())
PLACES = sorted({law.place for law in LAWS} | {"AQ"})  # Antarctica, of which no law is on file
LAWS_CALLED = (
    # laws as they call themselves
    *("Tex. Bus. & Com. Code", "Cal. Bus. & Prof. Code", "Ill. Adm. Code", "Tex. Admin. Code", "Cal. Labor Code"),
    *("N.Y. Labor Law", "Tims v. Black Horse Carriers", "rule 7", "ILCS", "RCW", "CFR", "CCR", "NRS", "NAC", "WAC"),
    *("U.S.C.", "Arbeitszeitgesetz (ArbZG)", "EStG", "BGB", "IL"),
)


@pytest.fixture
def schedule(workspace: Workspace) -> Schedule:
    """The schedule of a workplace with a site in each place whose laws are on file."""
    sites = {f"Site-{place}": SiteRules(f"Site-{place}", "UTC", place=place) for place in PLACES}
    write_settings(workspace.settings_file, replace(workspace.settings, sites=sites))
    opened = open_workspace(workspace.directory)
    made = schedule_of(take_snapshot(opened, NOW.date()), as_of=NOW)
    opened.close()
    return made


def test_text_and_paper_are_said_whole_in_spanish(schedule: Schedule, tmp_path: Path) -> None:
    names = ("Mill", *(f"Site-{place}" for place in PLACES), *PLACES, *LAWS_CALLED)
    told = {}
    for language in ("en", "es"):
        write_schedule(schedule, tmp_path / "schedule.pdf", language=language)
        told[language] = texts((tmp_path / "schedule.pdf").read_bytes()), [schedule_text(schedule, language=language)]
    for english, spanish in zip(told["en"], told["es"], strict=True):
        assert untranslated_lines(english, spanish, names) == set()
        said = re.sub("|".join(map(re.escape, LAWS_CALLED)), "", "\n".join(spanish))
        assert [line for line in said.splitlines() if ENGLISH.search(line)] == []
    (pages, (text,)) = told["es"]
    assert "3 años desde el último uso, lo que llegue antes" in text
    assert not re.search(r"\b(?:a|de) el\b", text)  # Diccionario panhispánico de dudas, «el»: they contract, al and del
    assert "página 1 de" in pages[0]
    # the same laws, on the same paper
    assert [pages[0].count(law.cites) + text.count(law.cites) for law in LAWS if law.cites == "740 ILCS 14/15(a)"] == [
        2
    ]


def test_it_speaks_the_language_of_the_settings_and_json_stays_english(workspace: Workspace, tmp_path: Path) -> None:
    def asked(*options: str) -> str:
        ran = CliRunner().invoke(evenhand, ["-w", str(workspace.directory), "retention", "schedule", *options, *AS_OF])
        assert ran.exit_code == 0, ran.output
        return ran.stdout

    assert asked().startswith("Retention schedule of Mill\nAs of Mon 9 Nov 2026. This schedule is public")
    in_english = asked("--json")
    write_settings(workspace.settings_file, replace(workspace.settings, language="es"))
    assert asked().startswith(
        "Calendario de conservación de Mill\nA fecha de lun 9 nov 2026. Este calendario es público"
    )
    assert asked("--json") == in_english
    asked("--to", str(tmp_path / "schedule.pdf"))
    assert "Para qué" in texts((tmp_path / "schedule.pdf").read_bytes())[0]
