"""A person's statement: every line numbered, all of their own record, nothing of anybody else's."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest

from evenhand.jobs import statement
from evenhand.jobs.correct import CorrectionRequest
from evenhand.jobs.statement import statement_pdf
from evenhand.jobs.workspace import Workspace, open_workspace
from evenhand.terms.records import Refusal
from tests.jobs import workplaces
from tests.jobs.asked import civil_instant, correct, make_statement
from tests.printed import texts
from tests.untranslated import untranslated_lines

NOW = datetime(2026, 11, 9, 14, 0, tzinfo=UTC)


@pytest.fixture
def workspace(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Workspace]:
    monkeypatch.setattr(workplaces, "PEOPLE", workplaces.PEOPLE.replace("Ida Marlow", "Zoë Łąkowska #Núñez"))
    opened = workplaces.made(tmp_path)
    yield opened
    opened.close()


def rows(content: dict[str, Any]) -> list[dict[str, Any]]:
    return [row for week in content["weeks"] for day in week["days"] for row in day["rows"]] + [
        row for week in content["weeks"] for row in week["pay"]
    ]


def test_lines_are_numbered_from_one_without_a_gap(workspace: Workspace) -> None:
    content = make_statement(workspace, "P1", as_of=NOW).content
    numbers = sorted(row["no"] for row in rows(content))
    assert numbers == list(range(1, len(numbers) + 1))


def test_every_punch_step_class_and_sum_is_on_it(workspace: Workspace) -> None:
    content = make_statement(workspace, "P1", as_of=NOW).content
    (week,) = content["weeks"]
    assert week["days"][0]["title"] == "Sunday 1 November 2026"
    assert len(week["days"]) == 7
    friday = week["days"][5]["rows"]
    assert [row["kind"] for row in friday] == ["punch"] * 4 + ["step"] * 2 + ["paid"] * 2
    assert (friday[4]["time"], friday[-2]["time"], friday[-1]["time"]) == ("+0:20", "4:00", "5:00")
    assert "29 CFR 785.18" in friday[4]["rule"]
    assert [row["amount"] for row in week["pay"]] == ["821.25", "45.63"]
    assert content["total"] == "866.88"


def test_a_day_without_punches_can_be_disputed_too(workspace: Workspace) -> None:
    saturday = make_statement(workspace, "P1", as_of=NOW).content["weeks"][0]["days"][6]["rows"]
    assert [(row["kind"], row["what"]) for row in saturday] == [("none", "Nothing recorded")]


def test_open_questions_stand_on_their_day(workspace: Workspace) -> None:
    wednesday = make_statement(workspace, "P3", as_of=NOW).content["weeks"][0]["days"][3]["rows"]
    assert "A punch at 08:00 begins something that nothing ended. When did it end?" in [
        row["what"] for row in wednesday
    ]


def test_nothing_of_other_people_is_on_it(workspace: Workspace) -> None:
    at = civil_instant(workspace, "P3", "2026-11-04T16:00")
    correct(
        workspace, CorrectionRequest("add", "P3", "Ada Byrne", "seen by R. Okoro", at=at, direction="out"), as_of=NOW
    )
    printed = repr(make_statement(workspace, "P3", as_of=NOW).content)
    assert "added by a correction" in printed
    for other in ("Byrne", "Okoro", "Łąkowska", "P1", "P2", "0042"):
        assert other not in printed


def test_the_period_asked_for_is_the_one_printed(workspace: Workspace) -> None:
    made = make_statement(workspace, "P2", as_of=NOW, period_day=date(2026, 10, 28))
    assert (made.first, made.last) == (date(2026, 10, 25), date(2026, 10, 31))
    assert made.content["total"] == "21.00"  # one hour before midnight


def test_somebody_unknown_is_refused(workspace: Workspace) -> None:
    with pytest.raises(Refusal, match='nobody on the roster answers to "P9"'):
        make_statement(workspace, "P9", as_of=NOW)


def test_the_pages_hold_names_with_accents_and_read_nothing_as_markup(workspace: Workspace) -> None:
    text = "".join(texts(statement_pdf(make_statement(workspace, "P1", as_of=NOW))))
    for words in ("Zoë Łąkowska #Núñez", "866.88", "What I dispute", "29 USC 207(a)(1)", "not legal advice"):
        assert words in text


def test_it_names_the_rules_in_force_in_its_weeks_and_begins_them_as_these_do(workspace: Workspace) -> None:
    # 29 CFR 778.104, 778.302: a workweek stands under the rules with which it begins.
    with workspace.settings_file.open("a") as settings:
        settings.write(
            '\n[site.Mill]\nzone = "America/New_York"\nworkweek_starts = "Monday 00:00"\n'
            '\n[[site.Mill.from]]\ndate = 2026-11-01\njurisdiction = "california"\nworkweek_starts = "Sunday 00:00"\n'
        )
    reopened = open_workspace(workspace.directory)
    content = make_statement(reopened, "P1", as_of=NOW).content
    assert content["rules"] == "california, workweek from Sunday 00:00 America/New_York, times not rounded"
    assert [week["days"][0]["title"] for week in content["weeks"]] == ["Sunday 1 November 2026"]
    reopened.close()


@pytest.mark.parametrize("person", ["P1", "P3"])
def test_it_is_said_whole_in_spanish(workspace: Workspace, person: str) -> None:
    papers = [make_statement(workspace, person, as_of=NOW, language=one) for one in ("en", "es")]
    english, spanish = (texts(statement_pdf(one)) for one in papers)
    known = ("Zoë Łąkowska #Núñez", "America/New_York", "us_federal", "CFR")  # a citation goes on in a line of its own
    alike = untranslated_lines(english, spanish, known)
    assert {line for line in alike if not re.fullmatch(r"[0-9a-f ]+", line)} == set()  # the ledger's head, in groups
    said = " ".join(" ".join(spanish).split())
    assert "Detalle de horas y pago" in said
    assert "Confirmo estas horas." in said
    assert papers[0].content["total"] == papers[1].content["total"]  # the same figures, in other words


def test_it_is_in_the_language_that_its_person_read_the_policy_in(
    workspace: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(statement, "spoken_languages", lambda _: {"P3": "es"})
    assert make_statement(workspace, "P3", as_of=NOW).language == "es"
    assert make_statement(workspace, "P1", as_of=NOW).language == "en"
