"""Everything a workplace prints is on the one paper that its settings say, or that is usual where it lies."""

from __future__ import annotations

from pathlib import Path

import pytest

from evenhand.jobs.access_printed import write_access
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.statement_files import print_statement
from tests.printed import sizes
from tests.web.conftest import MILL_AS_OF, copied, serving

LETTER, A4 = (612, 792), (595, 842)  # points: 8.5 x 11 inches; 210 x 297 mm (ISO 216)
SHEETS = ("/hours/P1/statement.pdf", "/people/P1/held.pdf", "/number-slips.pdf?site=Mill")


def test_one_setting_says_the_paper_of_every_sheet_and_page(
    mill_directory: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    workspace = copied(mill_directory, tmp_path_factory)
    with serving(workspace, MILL_AS_OF) as served, served.enter() as client:
        assert {sheet: sizes(client.get(sheet).content) for sheet in SHEETS} == {one: {LETTER} for one in SHEETS}
        assert 'data-paper="letter"' in client.get("/people").text
        look = client.get("/settings/change?table=workplace").text
        assert '<option value="a4">' in look
        file = workspace.settings_file
        file.write_text(file.read_text().replace("[workplace]\n", '[workplace]\npaper = "a4"\n'))
        assert {sheet: sizes(client.get(sheet).content) for sheet in SHEETS} == {one: {A4} for one in SHEETS}
        assert 'data-paper="a4"' in client.get("/people").text


def test_a_command_may_name_another_paper_for_one_print(
    mill_directory: Path, tmp_path_factory: pytest.TempPathFactory, tmp_path: Path
) -> None:
    workspace = copied(mill_directory, tmp_path_factory)
    reckoning = reckon_period(workspace, MILL_AS_OF)
    for paper, size in (("", LETTER), ("letter", LETTER), ("a4", A4)):
        print_statement(workspace, reckoning, tmp_path / "P1.pdf", "P1", as_of=MILL_AS_OF, paper=paper)
        write_access(workspace, "P1", tmp_path / "held.pdf", as_of=MILL_AS_OF, paper=paper)
        assert sizes((tmp_path / "P1.pdf").read_bytes()) == {size}
        assert sizes((tmp_path / "held.pdf").read_bytes()) == {size}
    workspace.close()
