"""Several payrolls: everybody owed anything stands in exactly one file, and nobody's earnings are lost on the way."""

from __future__ import annotations

import csv
from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path

import pytest

from evenhand.jobs.handoff import HandedOff
from evenhand.jobs.take import take_files
from evenhand.jobs.workspace import Workspace
from evenhand.store.settings import write_settings
from evenhand.terms.payroll import ImportDefinition, PayrollColumn
from evenhand.terms.records import Refusal
from tests.jobs.asked import hand_off
from tests.jobs.workplaces import made

NOW = datetime(2026, 11, 9, 14, tzinfo=UTC)
COLUMNS = tuple(PayrollColumn(name, name) for name in ("person", "ordinary_hours", "overtime_hours"))
MILL = ImportDefinition("mill", "evenhand.toml [payroll.mill]", COLUMNS, sites=("Mill",), has_mark=False)
REST = ImportDefinition("rest", "evenhand.toml [payroll.rest]", COLUMNS, has_mark=False)


@pytest.fixture
def parted(tmp_path: Path) -> Workspace:
    """P1 and P2 at the mill, P3 at the quay."""
    mill = made(tmp_path)
    (tmp_path / "roster.csv").write_text("person,name,number,site\nP3,Lena Fisk,2290,Quay\n")
    take_files(mill, [tmp_path / "roster.csv"])
    return mill


def told(mill: Workspace, *payrolls: ImportDefinition) -> HandedOff:
    write_settings(mill.settings_file, replace(mill.settings, payrolls=payrolls, zone="America/New_York"))
    return hand_off(mill, as_of=NOW, despite=True)


def people_in(path: Path) -> dict[str, Decimal]:
    with path.open(encoding="utf-8", newline="") as file:
        return {row["person"]: Decimal(row["ordinary_hours"]) for row in csv.DictReader(file)}


def test_each_payroll_has_its_people_and_one_note_states_the_totals_of_all(parted: Workspace) -> None:
    done = told(parted, MILL, REST)
    assert [one.payroll for one in done.files] == ["mill", "rest"]
    assert [one.csv.name for one in done.files] == [
        "hours-2026-11-01-to-2026-11-07-mill.csv", "hours-2026-11-01-to-2026-11-07-rest.csv",
    ]  # fmt: skip
    assert people_in(done.files[0].csv) == {"P1": Decimal(40), "P2": Decimal(8)}
    assert people_in(done.files[1].csv) == {"P3": Decimal(8)}
    note = done.note.read_text(encoding="utf-8")
    assert note.count("Rows  ") == 2
    assert "  ordinary_hours    48.00 as printed" in note
    assert "  ordinary_hours    8.00 as printed" in note
    assert done.totals["printed_ordinary"] == "56.00"
    parted.close()


def test_people_whom_no_payroll_is_told_of_refuse_the_files(parted: Workspace) -> None:
    with pytest.raises(Refusal) as refusal:
        told(parted, MILL)
    assert str(refusal.value) == (
        "evenhand.toml [payroll]: no payroll is told of the site Quay, where P3 is owed pay; add the site to one, or "
        "let one name no sites."
    )
    assert list(parted.handoff.iterdir()) == []
    parted.close()


def test_what_somebody_earned_whom_no_roster_lists_refuses_the_file(tmp_path: Path) -> None:
    mill = made(tmp_path)
    (tmp_path / "e.csv").write_text(
        "person,earned from,earned to,kind,amount,label\nP1,2026-11-01,2026-11-07,bonus,5.00,a\n"
        "P9,2026-11-01,2026-11-03,bonus,90.00,b\n"
    )
    take_files(mill, [tmp_path / "e.csv"])
    with pytest.raises(
        Refusal, match=r"^P9 earned a bonus in the period, but is not on the roster, or at no site whose"
    ):
        hand_off(mill, as_of=NOW, despite=True)
    mill.close()
