"""Who decided about themselves, and what comes before a supervisor may go."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from evenhand.jobs.reckoning import Reckoning, reckon_period
from evenhand.jobs.succession import plan_succession
from evenhand.jobs.supervision import own_decisions, supervision_of
from evenhand.jobs.take import Receipt, take_files
from evenhand.jobs.today import find_today
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.store.decisions import add_corrections
from evenhand.store.settings import read_settings, write_settings
from evenhand.terms.records import Refusal

READERS = "reader,site,place,zone,max_digits,capacity\nGATE,Mill,Gate,America/New_York,4,100\n"
PEOPLE = """person,name,number,site,department,is_supervisor,hired_on,left_on
P1,Ida Marlow,0042,Mill,Milling,yes,2020-01-01,2026-11-27
P2,Rui Okoro,7315,Mill,Milling,yes,2020-01-01,
P3,Lena Fisk,2290,Mill,Packing,no,2020-01-01,
P4,Omar Vale,2291,Mill,Packing,no,2020-01-01,
P5,Tess Arden,2292,Mill,Packing,no,2020-01-01,
"""
ENROLMENTS = """reader,number,name,is_supervisor,enrolled_on
GATE,0042,Ida Marlow,yes,2020-01-02
GATE,7315,Rui Okoro,yes,2020-01-02
GATE,2290,Lena Fisk,no,2020-01-02
GATE,2291,Omar Vale,no,2020-01-02
"""
# Omar agreed, Lena and Tess did not
CONSENT = "person,given_on\n" + "".join(f"{person},2026-01-02\n" for person in ("P1", "P2", "P4"))
DAYS = "".join(
    f"GATE,{number},2026-11-{day:02} {time},{way}\n"
    for day in (9, 10, 11, 12)
    for number in ("0042", "7315", "2290", "2291")
    for time, way in (("08:00:00", "in"), ("16:00:00", "out"))
)
NOW = datetime(2026, 11, 16, 15, tzinfo=UTC)


@pytest.fixture
def mill(tmp_path: Path) -> Workspace:
    workspace = create_workspace(tmp_path / "mill", "Mill")
    files = {"readers": READERS, "people": PEOPLE, "enrolments": ENROLMENTS, "consent": CONSENT}
    paths = []
    for name, text in {**files, "punches": f"reader,number,time,direction\n{DAYS}"}.items():
        (tmp_path / f"{name}.csv").write_text(text)
        paths.append(tmp_path / f"{name}.csv")
    for receipt in take_files(workspace, paths):
        assert isinstance(receipt, Receipt), receipt
    return workspace


def reckoned(mill: Workspace) -> Reckoning:
    return reckon_period(mill, NOW)


def test_nothing_is_taken_off_before_two_others_are_proved(mill: Workspace) -> None:
    plan = plan_succession(reckoned(mill), "Ida")
    assert (plan.person, plan.leaves_on) == ("P1", date(2026, 11, 27))
    (gate,) = plan.readers
    assert (gate.stay, gate.falls_to, gate.lacks) == (("Rui Okoro (P2)",), 1, "")
    assert gate.successors["person"].to_list() == ["P4"], "a hand without a release is never proposed"
    assert gate.successors["presentations"].to_list() == [8]
    assert [step.split(" P")[0][:34] for step in gate.steps] == [
        "Name Omar Vale (P4) a supervisor o",
        "Enrol Omar Vale (P4) under 2291 ag",
        "Have Omar Vale (P4) key 2291 at GA",
        "Only now, with two others proved, ",
    ]
    assert "with Rui Okoro (P2) standing by" in gate.steps[1]
    assert "take 0042 (Ida Marlow) off GATE" in gate.steps[-1]


def test_where_nobody_can_follow_the_plan_says_so_and_takes_nothing_off(mill: Workspace, tmp_path: Path) -> None:
    (tmp_path / "left.csv").write_text(PEOPLE.replace("P4,Omar Vale,2291,Mill", "P4,Omar Vale,2291,Quay"))
    take_files(mill, [tmp_path / "left.csv"])
    (gate,) = plan_succession(reckoned(mill), "P1").readers
    assert gate.lacks.startswith("nobody else who may be enrolled is known to use GATE")
    assert not any("take 0042" in step for step in gate.steps)


def test_nobody_without_authority_hands_anything_over(mill: Workspace) -> None:
    with pytest.raises(Refusal, match=r"Lena Fisk \(P3\) may enrol others at no reader"):
        plan_succession(reckoned(mill), "Lena")


def test_both_are_proved_and_the_one_who_leaves_is_told(mill: Workspace) -> None:
    reckoning = reckoned(mill)
    assert supervision_of(reckoning)["state"].to_list() == ["proved", "proved"]
    keys = [one.key for one in find_today(reckoning).findings]
    assert "supervisor_leaving/P1" in keys
    assert "supervisors_unproved/GATE" not in keys


def test_who_decides_about_their_own_hours_is_known_by_name_or_by_the_settings(mill: Workspace) -> None:
    row = {"action": "add", "person": "P2", "punch": None, "at": 1_763_000_000, "direction": "in", "reason": "forgot"}
    row |= {"made_at": int(NOW.timestamp()), "withdraws": None, "holder": None}
    with mill.store.writing() as conn:
        add_corrections(
            conn,
            [
                {**row, "author": "rui okoro"},
                {**row, "author": "R. O.", "at": row["at"] + 60},
                {**row, "author": "Ida Marlow", "at": row["at"] + 120},
                {**row, "author": "P2", "at": row["at"] + 180},
            ],
        )
    assert own_decisions(reckoned(mill))["decision"].to_list() == ["1", "4"]
    settings = read_settings(mill.settings_file)
    write_settings(mill.settings_file, replace(settings, authors={"R. O.": "P2"}))
    assert read_settings(mill.settings_file).authors == {"R. O.": "P2"}
    assert own_decisions(reckoned(mill))["decision"].to_list() == ["1", "2", "4"]
    assert "decided_on_own/P2/correction/4" in [one.key for one in find_today(reckoned(mill)).findings]
