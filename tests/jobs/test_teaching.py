"""Supervisors' enrolments are counted from rounds and punches, and shifts without anybody who can are found."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from evenhand.enrolment.planning.plan import DayPlan
from evenhand.enrolment.tables import ATTENDED, LEFT_OUT, PLAN
from evenhand.enrolment.teaching.results import Result, write_result
from evenhand.jobs.enrolling import PlannedRound
from evenhand.jobs.practice import keep_practice, practice_round
from evenhand.jobs.reckoning import Reckoning, reckon_period
from evenhand.jobs.take import Receipt, take_files
from evenhand.jobs.teaching import SupervisorWork, see_work, work_of
from evenhand.jobs.teaching_cover import ShiftUncovered, lacking_in_plan, see_cover
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.records.codes import checked
from evenhand.store.rounds import add_outcomes, add_round
from evenhand.terms.records import Refusal
from evenhand.terms.rounds import ROUND_ITEMS
from evenhand.terms.zones import day_start

ZONE = "America/New_York"
NOW = datetime(2026, 11, 16, 15, tzinfo=UTC)
THEMES = tuple(practice_round().themes)
READERS = f"reader,site,place,zone,max_digits,capacity\nGATE,Mill,Gate,{ZONE},4,100\n"
PEOPLE = "person,name,number,site,is_supervisor\n" + "".join(
    f"P{n},{name},{4100 + n},Mill,{'yes' if n < 3 else 'no'}\n"
    for n, name in enumerate(("Rui Okoro", "Ida Marlow", "Lena Fisk", "Omar Vale", "Tess Arden", "Bo Lind"), start=1)
)
ENROLMENTS = "reader,number,name,is_supervisor,enrolled_on\n" + "".join(
    f"GATE,{4100 + n},,{'yes' if n < 3 else 'no'},2026-01-05\n" for n in range(1, 7)
)
# Lena and Omar by day with Rui, Tess and Bo by night with nobody
SHIFTS = {1: "06:00 14:00", 3: "06:00 14:00", 4: "06:00 14:00", 5: "22:00 23:59", 6: "22:00 23:59"}
SCHEDULES = "person,starts_at,ends_at\n" + "".join(
    f"P{n},2026-11-{day:02} {span.split()[0]},2026-11-{day:02} {span.split()[1]}\n"
    for day in (9, 10, 11)
    for n, span in SHIFTS.items()
)
PUNCHES = "reader,number,time,direction,score\n" + "".join(
    f"GATE,{4100 + n},2026-10-{day:02} 08:00:00,in,{score}\n"
    for day in range(1, 11)
    for n, score in ((1, 10), (2, 20), (3, 30), (4, 40))
)
FIRST = "GATE,4103,2026-10-13 08:00:00,in,35\nGATE,4140,2026-10-12 12:30:00,in,12\n"


@dataclass(frozen=True)
class Tapped:
    """An enrolment of the round at the gate on 12 October, at noon."""

    n: int
    author: str
    number: str
    day: int = 12


TAPPED = (
    Tapped(1, "Rui Okoro", "4103"),  # proved the next day
    Tapped(2, "rui okoro ", "4104"),  # never proved: the hand stands under 4140
    Tapped(3, "Ida Marlow", "4105"),  # never proved
    Tapped(4, "Ida Marlow", "4105", day=20),  # enrolled again eight days later
    Tapped(5, "Somebody Else", "4106"),
)


@pytest.fixture
def mill(tmp_path: Path) -> Workspace:
    workspace = create_workspace(tmp_path / "mill", "Mill")
    files = {
        "readers": READERS,
        "people": PEOPLE,
        "enrolments": ENROLMENTS,
        "schedules": SCHEDULES,
        "punches": PUNCHES + FIRST,
    }
    paths = []
    for name, text in files.items():
        paths.append(tmp_path / f"{name}.csv")
        paths[-1].write_text(text)
    for receipt in take_files(workspace, paths):
        assert isinstance(receipt, Receipt), receipt
    header = {"round": "r", "title": "Gate", "day": date(2026, 10, 12), "asked": "{}", "author": "Sol", "made_at": 1}
    items = ROUND_ITEMS.rows(
        {
            "item": f"r-{one.n}",
            "round": "r",
            "reader": "GATE",
            "position": one.n,
            "action": "enrol",
            "number": one.number,
            "language": "en",
        }
        for one in TAPPED
    )
    with workspace.store.writing() as conn:
        add_round(conn, header, items)
    with workspace.store.writing() as conn:
        add_outcomes(
            conn,
            (
                {
                    "outcome": f"o{one.n}",
                    "item": f"r-{one.n}",
                    "result": "enrolled",
                    "presentations": 3,
                    "author": one.author,
                    "made_at": day_start(ZONE, date(2026, 10, one.day), 12 * 3600),
                    "received_at": 1,
                }
                for one in TAPPED
            ),
        )
    return workspace


def reckoned(mill: Workspace) -> Reckoning:
    return reckon_period(mill, NOW)


def of(mill: Workspace, person: str) -> SupervisorWork:
    return work_of(reckoned(mill), person)


def practised(mill: Workspace, person: str, well: tuple[str, ...] = THEMES) -> None:
    code = checked(write_result(Result(1, date(2026, 11, 10), well), THEMES))
    keep_practice(mill, person, code, way="code", author="Sol", as_of=NOW)


def test_enrolments_are_counted_by_who_tapped_them(mill: Workspace) -> None:
    rui, ida = of(mill, "P1").work, of(mill, "P2").work
    assert (rui.enrolled, rui.told, rui.proved, rui.other_number, rui.again) == (2, 2, 1, 1, 0)
    assert (ida.enrolled, ida.told, ida.proved, ida.other_number, ida.again) == (2, 2, 0, 0, 1)


def test_supervisors_stand_by_name_whatever_they_did(mill: Workspace) -> None:
    assert [one.who.name for one in see_work(reckoned(mill))] == ["Ida Marlow", "Rui Okoro"]


def test_a_first_score_lies_among_those_accepted_at_the_site(mill: Workspace) -> None:
    # of 42 accepted at the site (ten each of 10, 20, 30 and 40, one of 12, the first one of 35) lie 31 below 35, and
    # itself counts half
    scores = of(mill, "P1").scores
    assert scores
    assert (scores.median, scores.count, scores.usual_count) == (pytest.approx(31.5 / 42), 1, 1)
    assert of(mill, "P2").scores is None


def test_a_practice_says_what_went_well(mill: Workspace) -> None:
    practised(mill, "P2", THEMES[1:])
    (practice,) = of(mill, "P2").practices
    assert practice.not_well == ("Supervisors first, and two on every reader",)
    assert (of(mill, "P2").reasons, of(mill, "P2").can) == ((), True)


def test_of_whoever_did_nothing_lately_it_is_not_known_yet(mill: Workspace) -> None:
    assert "has not practised yet" in of(mill, "P2").not_known
    assert (of(mill, "P2").reasons, of(mill, "P2").can) == ((), False)
    assert of(mill, "P1").can


def test_nobody_else_is_a_supervisor(mill: Workspace) -> None:
    with pytest.raises(Refusal, match="no supervisor"):
        of(mill, "P3")


def test_shifts_without_anybody_who_can_are_found(mill: Workspace) -> None:
    (gate,) = see_cover(reckoned(mill))
    assert (gate.can, gate.again, gate.not_known) == (("Rui Okoro",), (), ("Ida Marlow",))
    assert gate.shifts == 12
    # Rui is there by day; by night six shifts have nobody, and no supervisor of the site whom to show
    assert gate.uncovered == (ShiftUncovered("22:00", "23:59", 6, 6, ()),)


def test_where_nobody_can_whoever_is_there_is_proposed(mill: Workspace) -> None:
    undone = {"outcome": "u", "item": "r-1", "result": "undone", "author": "Rui Okoro", "received_at": 1}
    with mill.store.writing() as conn:  # what Rui enrolled is taken back
        add_outcomes(conn, [undone | {"made_at": day_start(ZONE, date(2026, 10, 13), 0)}])
    (gate,) = see_cover(reckoned(mill))
    assert (gate.can, gate.not_known) == ((), ("Ida Marlow", "Rui Okoro"))
    assert [(one.begins, one.alone, one.show) for one in gate.uncovered] == [
        ("06:00", 6, ("Rui Okoro",)),
        ("22:00", 6, ()),
    ]


def plan(*stands: str | None) -> PlannedRound:
    items = ROUND_ITEMS.rows(
        {
            "item": f"n-{place}",
            "round": "n",
            "reader": "GATE",
            "position": place,
            "starts_at": day_start(ZONE, date(2026, 11, 18), (8 + place) * 3600),
            "action": "enrol",
            "number": "4106",
            "language": "en",
            "stands": one,
        }
        for place, one in enumerate(stands)
    )
    planned = DayPlan(PLAN.empty(), ATTENDED.empty(), LEFT_OUT.empty(), 0, 0)
    return PlannedRound("", ZONE, items, planned, LEFT_OUT.empty())


def test_a_plan_says_where_nobody_stands_by_who_can(mill: Workspace) -> None:
    said = lacking_in_plan(reckoned(mill), plan("Rui Okoro", "Ida Marlow", "Ida Marlow", None))
    assert len(said) == 2
    assert said[0].startswith("At GATE from 09:00 Ida Marlow stands by, of whom it is not known yet (has not practised")
    assert said[0].endswith("let Ida Marlow practise before that day, or have Rui Okoro stand by, who can.")
    assert said[1].startswith("At GATE from 11:00 nobody stands by")


def test_a_plan_with_somebody_who_can_throughout_lacks_nothing(mill: Workspace) -> None:
    assert lacking_in_plan(reckoned(mill), plan("Rui Okoro", "Rui Okoro")) == []


def test_nothing_on_file_is_nothing_to_tell(tmp_path: Path) -> None:
    empty = create_workspace(tmp_path / "empty", "Empty")
    assert see_work(reckoned(empty)) == []
    assert see_cover(reckoned(empty)) == []
