"""The demonstration as its user runs it, and files that nobody shaped for the tool."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest
from tests.cli.test_doors import run


@pytest.fixture(scope="module")
def shown(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    folder = tmp_path_factory.mktemp("whole")
    answer = run("demo", cwd=folder)
    assert answer.returncode == 0, answer.stderr
    return folder, answer.stdout


def test_the_demonstration_names_what_it_made(shown: tuple[Path, str]) -> None:
    folder, printed = shown
    for name in ("findings.json", "invented/truth", "workspace/handoff"):
        assert (folder / "demo" / name).exists()
        assert f"demo/{name}" in printed
    assert "serve --as-of" in printed
    assert "local codes, agreements and licensed counsel decide" in printed


def test_every_row_of_every_file_is_accounted_for(shown: tuple[Path, str]) -> None:
    folder, _ = shown
    files = sorted(str(path) for path in (folder / "demo/invented/files").iterdir())
    again = run("-w", "demo/workspace", "take", "--yes", "--json", *files, cwd=folder)
    receipts = json.loads(again.stdout)
    assert len(receipts) == len(files)
    for receipt in receipts:
        assert receipt["taken"] == 0, receipt  # the same files add nothing twice
        assert receipt["read"] == receipt["known"] + receipt["rejected"]


def test_planted_wrong_numbers_are_found_and_keep_pay_back(shown: tuple[Path, str]) -> None:
    folder, _ = shown
    with (folder / "demo/invented/truth/mistakes.csv").open(encoding="utf-8", newline="") as file:
        planted = [row for row in csv.DictReader(file) if row["kind"].startswith("wrong_number")]
    findings = json.loads((folder / "demo/findings.json").read_text(encoding="utf-8"))
    said = " ".join(finding["key"] for finding in findings)
    assert planted
    assert all(set(finding["stake"]) == {"minutes", "people", "deadline", "law"} for finding in findings)
    assert all(row["number"] in said for row in planted if row["person"]), planted
    assert all(finding["blocks_pay"] for finding in findings if finding["code"] == "unattributed_punches")


def test_the_file_for_payroll_adds_up_to_its_note(shown: tuple[Path, str]) -> None:
    folder, _ = shown
    handoff = folder / "demo/workspace/handoff"
    written = handoff / "hours-2026-11-08-to-2026-11-14.csv"
    with written.open(encoding="utf-8-sig", newline="") as file:
        hours = [row["Ordinary hours"] for row in csv.DictReader(file)]
    cents = sum(int(one.replace(".", "")) for one in hours)
    note = handoff / "hours-2026-11-08-to-2026-11-14-note.txt"
    assert f"Rows             {len(hours)}\n" in note.read_text(encoding="utf-8")
    assert f"  Ordinary hours     {cents // 100}.{cents % 100:02d} as printed" in note.read_text(encoding="utf-8")


def test_a_closed_period_changes_and_each_change_is_made_good_in_the_file_or_the_next(shown: tuple[Path, str]) -> None:
    folder, printed = shown
    handoff = folder / "demo/workspace/handoff"
    first, second = (handoff / f"hours-2026-11-01-to-2026-11-07{place}.csv" for place in ("", "-2"))
    assert first.exists()
    assert "Replaces         hours-2026-11-01-to-2026-11-07.csv" in second.with_name(
        second.name.replace(".csv", "-note.txt")
    ).read_text(encoding="utf-8")
    note = (handoff / "hours-2026-11-08-to-2026-11-14-note.txt").read_text(encoding="utf-8")
    assert note.count("Adjusts          2026-11-01 to 2026-11-07") == 2
    assert "hours-2026-11-01-to-2026-11-07-2.csv" in printed
    listed = run("-w", "demo/workspace", "handoff", "changes", "--as-of", "2026-11-16T13:00Z", cwd=folder)
    assert listed.stdout.count("nothing has changed since") == 2


def test_it_starts_over_only_in_a_folder_that_it_made(shown: tuple[Path, str], tmp_path: Path) -> None:
    (tmp_path / "letters.txt").write_text("dear all")
    answer = run("demo", str(tmp_path), cwd=shown[0])
    assert answer.returncode == 2
    assert "holds something else than a demonstration" in answer.stderr
    assert (tmp_path / "letters.txt").read_text() == "dear all"


ROSTER = """Empresa: Molino Viejo;;;;
Impreso el 12/11/2026;;;;
;;;;
Legajo;Apellido y nombre;Tarjeta;Turno;Ingreso
0101;Pérez, Ana;0042;Mañana;13/02/2019
0102;Gómez, Luis;1187;Mañana;01/03/2020
Total 2;;;;
"""
READERS = "name|site|tz|digits\nPORTON|Molino|America/Chicago|4\n"
LOG = "fecha hora tarjeta mov\n" + "".join(
    f"{day:02d}/11/26 {time}   {number} {way}\n"
    for day in (12, 13)
    for time, way in (("07:56 AM", "E"), ("12:02 PM", "S"), ("12:33 PM", "E"), ("04:31 PM", "S"))
    for number in ("0042", "1187")
)


def test_files_nobody_shaped_for_it_become_hours(tmp_path: Path) -> None:
    (tmp_path / "personal.csv").write_bytes(ROSTER.encode("cp1252"))
    (tmp_path / "relojes.txt").write_text(READERS)
    (tmp_path / "PORTON.log").write_text(LOG + "13/11/26 07:5")
    assert run("new", "w", "--zone", "America/Chicago", cwd=tmp_path).returncode == 0
    taken = run("-w", "w", "take", "--yes", "--json", "PORTON.log", "personal.csv", "relojes.txt", cwd=tmp_path)
    receipts = {one["table"]: one for one in json.loads(taken.stdout)}
    assert taken.returncode == 3, taken.stderr  # the row that was cut short is refused
    assert (receipts["punches"]["read"], receipts["punches"]["taken"], receipts["punches"]["rejected"]) == (17, 16, 1)
    assert receipts["people"]["taken"] == 2
    weeks = json.loads(run("-w", "w", "hours", "--week", "2026-11-08", "--json", cwd=tmp_path).stdout)
    # 07:56 to 12:02 and 12:33 to 16:31 are 4:06 and 3:58, two days: 16:08. The 31 minutes between are a meal.
    assert {(week["person"], week["ordinary_s"]) for week in weeks} == {("0101", 58_080), ("0102", 58_080)}


def test_the_exit_code_says_whether_all_of_it_some_of_it_or_nothing_was_taken(tmp_path: Path) -> None:
    (tmp_path / "readers.csv").write_text("reader,site,zone\nGATE,Mill,America/Chicago\n")
    (tmp_path / "log.csv").write_text("reader,number,at\nNOPE,0042,2026-11-02 08:00\nGATE,0042,0001-01-01 08:00\n")
    (tmp_path / "scan.pdf").write_bytes(b"%PDF-1.7\n" + bytes(range(256)))
    assert run("new", "w", cwd=tmp_path).returncode == 0

    def code(*files: str) -> tuple[int, str]:
        answer = run("-w", "w", "take", "--yes", *files, cwd=tmp_path)
        return answer.returncode, answer.stderr

    assert code("readers.csv") == (0, "")
    assert code("readers.csv") == (0, "")  # known already is not refused
    nothing, said = code("log.csv")
    assert nothing == 2
    assert "log.csv: nothing of it could be taken; the reason of each of its 2 rows stands in" in said
    assert code("scan.pdf")[0] == 2
    assert code("readers.csv", "log.csv", "scan.pdf")[0] == 3


def test_nobody_at_the_terminal_confirms_nothing(tmp_path: Path) -> None:
    (tmp_path / "readers.csv").write_text("reader,site,zone\nGATE,Mill,America/Chicago\n")
    assert run("new", "w", cwd=tmp_path).returncode == 0
    answer = run("-w", "w", "take", "readers.csv", cwd=tmp_path)
    assert answer.returncode == 2
    assert "give --yes to accept that" in answer.stderr
    assert list((tmp_path / "w/layouts").iterdir()) == []
