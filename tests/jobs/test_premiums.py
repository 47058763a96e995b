"""Hours owed beside time worked: struck and entered with who and why, in pay, in the note, and in a store made anew.

Sources: 11 Cal.5th 58 (2021): a record that shows no meal period raises a presumption that evidence may rebut; Labor
Code 226.7(c): an hour at the regular rate for a workday with a missed meal period, and one for missed rest periods.
"""

from __future__ import annotations

import csv
import json
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from pathlib import Path

import jsonschema
import polars as pl
import pytest
from click.testing import CliRunner

from evenhand.cli import evenhand
from evenhand.jobs.closed import adjust
from evenhand.jobs.correct import CorrectionRequest, civil_instant, correct
from evenhand.jobs.handoff import hand_off
from evenhand.jobs.json_forms import schema_of
from evenhand.jobs.premiums import PremiumRequest, decide_premium, preview_premium, struck_between
from evenhand.jobs.rebuild import rebuild
from evenhand.jobs.reckoning import reckon_day, reckon_period
from evenhand.jobs.take import take_files
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.store.settings import write_settings
from evenhand.terms.records import Refusal
from evenhand.terms.said import say_struck
from evenhand.terms.settings import PayPeriod, SiteRules

D = Decimal
DAY, NOW = date(2026, 3, 19), datetime(2026, 3, 23, 17, tzinfo=UTC)
FILES = {
    "readers.csv": "reader,site,zone\nHALL,Cannery,America/Los_Angeles\n",
    "people.csv": "person,name,number,site,hourly_rate\nP1,Ida Marlow,4101,Cannery,20.00\n",
    "punches.csv": (
        "reader,number,time,direction\nHALL,4101,2026-03-19 08:00:00,in\nHALL,4101,2026-03-19 16:00:00,out\n"
    ),
}
STRIKE = PremiumRequest("strike", "P1", DAY, "meal", "Ada Quill", "ate at 12, three colleagues say so")
REST = PremiumRequest("owe", "P1", DAY, "rest", "Ada Quill", "none was given", D(1))


@pytest.fixture
def cannery(tmp_path: Path) -> Workspace:
    for name, text in FILES.items():
        (tmp_path / name).write_text(text)
    made = create_workspace(tmp_path / "workspace", "Cannery", period=PayPeriod(date(2026, 3, 15)))
    take_files(made, [tmp_path / name for name in FILES])
    rules = {"Cannery": SiteRules("Cannery", "America/Los_Angeles", "california")}
    write_settings(made.settings_file, replace(made.settings, sites=rules))
    return made


def decide(workspace: Workspace, asked: PremiumRequest) -> tuple[D, D | None, D, D | None]:
    made = decide_premium(workspace, reckon_day(workspace, NOW, asked.workday), asked, as_of=NOW)
    seen = made.foreseen
    # What was foreseen is what a new look at the store finds.
    again = reckon_day(workspace, NOW, asked.workday).person_pay("P1", asked.workday)
    assert again.total == seen.pay_after
    return seen.hours_before, seen.pay_before, seen.hours_after, seen.pay_after


def test_a_presumed_hour_is_struck_an_owed_one_entered_and_the_record_let_count_again(cannery: Workspace) -> None:
    # Eight hours at 20.00 without a meal period: 160.00 and an hour of 20.00 presumed. A rest period's hour: 20.00
    # more.
    assert decide(cannery, STRIKE) == (D(1), D("180.00"), D(0), D("160.00"))
    assert decide(cannery, REST) == (D(0), D("160.00"), D(1), D("180.00"))
    owed = reckon_day(cannery, NOW, DAY).person_day("P1", DAY).premiums
    assert owed.select("workday", "kind", "hours", "says", "cites").rows() == [
        (DAY, "rest", D(1), "entered by Ada Quill: none was given", "Cal. Labor Code 226.7(c)")
    ]
    assert decide(cannery, replace(STRIKE, action="presume")) == (D(0), D("180.00"), D(1), D("200.00"))
    # What is entered takes the place of what the record presumes, and is not added to it.
    assert decide(cannery, replace(REST, kind="meal")) == (D(1), D("200.00"), D(1), D("200.00"))


@pytest.mark.parametrize(("kind", "other"), [("rest", "meal"), ("meal", "rest")])
def test_in_california_one_hour_a_workday_is_owed_of_a_kind(cannery: Workspace, kind: str, other: str) -> None:
    # Labor Code 226.7(c); United Parcel Service v. Superior Court, 196 Cal.App.4th 57 (2011): one for meal periods and
    # one for rest periods of a workday, however many were missed.
    with pytest.raises(Refusal) as refused:
        decide(cannery, replace(REST, kind=kind, hours=D(3)))
    assert str(refused.value) == (
        f"3 h of {kind} cannot be owed for 2026-03-19. In California one hour is owed, however many {kind} periods "
        f"were missed, and another for {other} periods (Labor Code 226.7(c); 196 Cal.App.4th 57); give 1, and "
        f"enter {other} by itself."
    )
    # It is "one additional hour of pay", so a part of one cannot be owed either.
    with pytest.raises(
        Refusal, match=rf"0\.5 h of {kind} cannot be owed for 2026-03-19. In California one hour is owed"
    ):
        decide(cannery, replace(REST, kind=kind, hours=D("0.5")))
    assert decide(cannery, replace(REST, kind="call_back", hours=D(3)))[2] == D(3)


def test_what_was_struck_is_told_where_the_day_is_explained(cannery: Workspace) -> None:
    decide(cannery, STRIKE)
    [struck] = struck_between(reckon_day(cannery, NOW, DAY).snapshot, "P1", DAY, DAY)
    assert say_struck(struck).startswith("Struck: ")
    assert say_struck(struck).endswith(f"by {STRIKE.author}: {STRIKE.reason}")
    shown = CliRunner().invoke(evenhand, ["--workspace", str(cannery.directory), "hours", "why", "P1", str(DAY)])
    assert say_struck(struck) in shown.output
    for words in (("hours", "why", "P1", str(DAY)), ("pay", "P1", str(DAY))):
        told = CliRunner().invoke(evenhand, ["--workspace", str(cannery.directory), *words, "--json"])
        value = json.loads(told.stdout)
        jsonschema.validate(value, schema_of(" ".join(words[:-2])))
        assert [
            (row["workday"], row["kind"], row["action"], row["author"], row["reason"]) for row in value["struck"]
        ] == [("2026-03-19", "meal", "strike", STRIKE.author, STRIKE.reason)]
    decide(cannery, replace(STRIKE, action="presume"))
    assert struck_between(reckon_day(cannery, NOW, DAY).snapshot, "P1", DAY, DAY) == []


def test_what_was_decided_is_in_the_note_of_the_file_and_in_a_store_made_anew(cannery: Workspace) -> None:
    decide(cannery, STRIKE)
    decide(cannery, REST)
    assert rebuild(cannery, True, as_of=NOW).differing == 0
    rebuild(cannery, False, author="Ada Quill", as_of=NOW)
    after = reckon_day(cannery, NOW, DAY).person_pay("P1", DAY)
    assert (after.total, after.week.hours.premiums["kind"].to_list()) == (D("180.00"), ["rest"])
    handed = hand_off(
        cannery, reckon_period(cannery, NOW, DAY), as_of=NOW, period_day=DAY, author="Ada Quill", despite=True
    )
    note = handed.note.read_text(encoding="utf-8")
    assert "P1, 2026-03-19, meal: struck: ate at 12, three colleagues say so (Ada Quill)" in note
    assert "P1, 2026-03-19, rest: 1 h owed: none was given (Ada Quill)" in note


def test_hours_entered_for_a_week_that_lost_every_punch_are_said_in_the_note(cannery: Workspace) -> None:
    other = cannery.directory.parent / "others.csv"
    other.write_text(FILES["people.csv"] + "P2,Rob Astle,4102,Cannery,22.75\n")
    punches = cannery.directory.parent / "of-another.csv"
    punches.write_text(FILES["punches.csv"].replace("4101", "4102"))
    take_files(cannery, [other, punches])
    decide(cannery, REST)
    decide(cannery, STRIKE)
    said = "P1, 2026-03-19, rest: 1 h owed: none was given (Ada Quill)"
    heading = "are NOT in the file, since nothing is left of what was"

    def note(**given: str) -> list[str]:
        looked = reckon_period(cannery, NOW, DAY)
        told = {"as_of": NOW, "period_day": DAY, "author": "Ada Quill", "despite": True}
        return hand_off(cannery, looked, **told, **given).note.read_text(encoding="utf-8").splitlines()

    before = note()
    assert f"  {said}" in before
    assert not any(heading in line for line in before)
    attributed = reckon_day(cannery, NOW, DAY).attribution.attributed
    for punch in attributed.filter(pl.col("person") == "P1")["punch"]:
        left_out = CorrectionRequest("leave_out", "P1", "Ada Quill", "was not there", punch=punch)
        correct(cannery, reckon_day(cannery, NOW, DAY), left_out, as_of=NOW)
    after = note(replace_why="was not there")
    assert [line.strip() for line in after if said in line] == [said]
    assert any(heading in line for line in after[: after.index(f"  {said}")])


def test_a_split_shift_that_owes_nothing_is_told_in_no_file_first_late_or_replacing(cannery: Workspace) -> None:
    # IWC wage orders, section 4(C): an hour at the minimum wage, against which pay beyond that counts (Aleman v.
    # AirTouch, 209 Cal.App.4th 556, second hand): nine hours at 20.00 are paid enough beyond it.
    columns = {"who": "person", "of": "adjusts", "worked": "ordinary_hours", "split": "split_shift_hours"}
    columns |= {"over": "overtime_hours", "twice": "double_hours", "meal": "meal_premium_hours", "pay": "total_pay"}
    write_settings(cannery.settings_file, replace(cannery.settings, handoff_columns=tuple(columns.items())))
    later = NOW + timedelta(weeks=1)

    def told(day: date, replace_why: str | None = None) -> list[dict[str, str]]:
        looked = reckon_period(cannery, later, day)
        given = {"as_of": later, "period_day": day, "author": "Ada Quill", "despite": True}
        made = hand_off(cannery, looked, **given, replace_why=replace_why)
        return list(csv.DictReader(made.csv.read_text(encoding="utf-8-sig").splitlines()))

    def add(at: str, direction: str) -> None:
        seen = reckon_day(cannery, later, DAY)
        asked = CorrectionRequest("add", "P1", "Ada Quill", "came back", direction=direction)
        correct(cannery, seen, replace(asked, at=civil_instant(seen.snapshot, "P1", at)), as_of=later)

    first = told(DAY)
    add("2026-03-19T19:00", "in")
    add("2026-03-19T20:00", "out")
    assert "split_shift" in reckon_day(cannery, later, DAY).person_day("P1", DAY).premiums["kind"].to_list()
    adjust(cannery, reckon_period(cannery, later), DAY, author="Ada Quill", reason="late", as_of=later)
    carried = told(DAY + timedelta(weeks=1))
    assert [(row["of"], row["over"]) for row in carried] == [("2026-03-15", "1.00")]
    decide(cannery, STRIKE)
    replacing = told(DAY, "the meal period was taken")
    assert [row["over"] for row in replacing] == ["0.00"]
    assert {row["split"] for row in [*first, *carried, *replacing]} <= {"0.00", ""}


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        (replace(STRIKE, author=" "), "hours owed are decided about by somebody and for a reason; give both"),
        (replace(STRIKE, kind="rest"), "Ida Marlow is owed no hours of rest on 2026-03-19"),
        (replace(STRIKE, action="presume"), "nothing was decided about meal of Ida Marlow on 2026-03-19"),
        (replace(STRIKE, hours=D(1)), "hours are given where they are owed, and only there"),
        (replace(REST, hours=None), "hours are given where they are owed, and only there"),
        (replace(REST, hours=D(25)), "25 h cannot be owed for one workday"),
        (replace(REST, hours=D("NaN")), "NaN h cannot be owed for one workday"),
        (replace(REST, hours=D("sNaN")), "sNaN h cannot be owed for one workday"),
        (replace(REST, hours=D("Infinity")), "Infinity h cannot be owed for one workday"),
        (replace(REST, hours=D("1e400")), r"1E\+400 h cannot be owed for one workday"),
        (replace(REST, workday=date(2026, 3, 5)), "Ida Marlow worked nothing in the week of 2026-03-01"),
        # Labor Code 226.7(c): "for each workday that the meal or rest or recovery period is not provided"
        (replace(REST, workday=date(2026, 3, 21)), "Ida Marlow has no time on 2026-03-21, and a rest period is owed"),
        (replace(REST, kind="lunch"), "owe lunch is no decision"),
    ],
)
def test_a_decision_that_cannot_be_made_is_refused(cannery: Workspace, asked: PremiumRequest, sentence: str) -> None:
    with pytest.raises(Refusal, match=sentence):
        decide_premium(cannery, reckon_day(cannery, NOW, asked.workday), asked, as_of=NOW)


def test_a_second_decision_from_one_look_is_told_of_the_first(cannery: Workspace) -> None:
    seen = reckon_day(cannery, NOW, DAY)
    preview_premium(seen, STRIKE, as_of=NOW)
    decide(cannery, STRIKE)
    with pytest.raises(Refusal, match="Ada Quill has decided about these hours of Ida Marlow meanwhile"):
        decide_premium(cannery, seen, STRIKE, as_of=NOW)


def test_a_decision_after_the_week_was_corrected_is_told_so(cannery: Workspace) -> None:
    seen = reckon_day(cannery, NOW, DAY)
    at = civil_instant(seen.snapshot, "P1", "2026-03-19T12:00")
    asked = CorrectionRequest("add", "P1", "Bea", "went to eat", at=at, direction="out")
    correct(cannery, seen, asked, as_of=NOW)
    # What was seen is what counts, also where the reckoning knows of the correction already.
    for reckoning in (seen, reckon_day(cannery, NOW, DAY)):
        with pytest.raises(Refusal, match="Bea has corrected P1's 19 March meanwhile"):
            decide_premium(cannery, reckoning, STRIKE, as_of=NOW, last_seen=(0, 0))


def test_what_changes_is_told_over_the_workweek_with_its_pay(cannery: Workspace) -> None:
    (change,) = preview_premium(reckon_day(cannery, NOW, DAY), STRIKE, as_of=NOW).changes
    assert (change.first_week, change.last_week, change.file) == (date(2026, 3, 15), date(2026, 3, 15), None)
    assert [(one.kind, one.hours) for one in change.before.owed] == [("meal", D(1))]
    assert change.after.owed == ()
    assert (change.before.premium_pay, change.after.premium_pay) == (D("20.00"), D("0.00"))
    assert change.before.paid_s == change.after.paid_s == 8 * 3600
