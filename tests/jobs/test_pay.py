"""Pay from files to payroll: money in the hand-off, before and after a correction, and what keeps it back."""

from __future__ import annotations

import csv
import json
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from pathlib import Path

import polars as pl
import pytest

from evenhand.jobs.correct import CorrectionRequest
from evenhand.jobs.reckoning import Reckoning, reckon_weeks
from evenhand.jobs.take import take_files
from evenhand.jobs.workspace import Workspace
from evenhand.store.settings import write_settings
from evenhand.terms.records import Refusal
from evenhand.terms.settings import SiteRules
from tests.jobs.asked import (
    audit_between,
    civil_instant,
    correct,
    find_today,
    hand_off,
    make_statement,
    pay_between,
    person_pay,
    preview_correction,
)
from tests.jobs.workplaces import made

NOW = datetime(2026, 11, 9, 14, 0, tzinfo=UTC)
WEEK = date(2026, 11, 1)
D = Decimal
MONEY = (("Person", "person"), ("Week", "workweek"), ("Double", "double_hours"), ("Pay", "total_pay"),
         ("Premium", "overtime_premium"))  # fmt: skip


def set_up(workspace: Workspace, **changed: object) -> Workspace:
    write_settings(workspace.settings_file, replace(workspace.settings, **changed))
    return workspace


def take(workspace: Workspace, name: str, text: str) -> None:
    path = workspace.directory.parent / name
    path.write_text(text)
    (receipt,) = take_files(workspace, [path])
    assert receipt.taken == text.count("\n") - 1  # type: ignore[union-attr]


def test_a_week_is_paid_at_the_rosters_rate(shared: Workspace) -> None:
    # 45 h at 18.25: 821.25 straight, 5 h x half of 18.25 = 45.625, rounded half up.
    seen = person_pay(shared, "P1", date(2026, 11, 4))
    assert seen.pay.lines.select("label", "amount").rows() == [
        ("hourly pay", D("821.25")),
        ("overtime, the half beyond straight pay", D("45.63")),
    ]
    assert seen.totals["total_pay"] == D("866.88")


def test_a_rate_on_file_takes_the_place_of_the_rosters_and_holds_from_its_day(workspace: Workspace) -> None:
    # Two days at the old rate on file, three at the new: 18 x 18 + 27 x 20 = 864, / 45 = 19.20, 5 x 9.60 = 48.00.
    take(workspace, "r.csv", "person,valid from,pay rate\nP1,2026-01-01,18.00\nP1,2026-11-04,20.00\n")
    totals = person_pay(workspace, "P1", WEEK).totals
    assert (totals["regular_rate"], totals["total_pay"]) == (D("19.2"), D(912))


def test_work_begun_at_a_reader_with_its_own_rate_is_paid_at_it(workspace: Workspace) -> None:
    # All of P1's work begins at the gate. 45 h at 30: 1,350 + 5 x 15 = 1,425.
    take(workspace, "r.csv", "person,valid from,pay rate,at reader\nP1,2026-01-01,18.00,\nP1,2026-01-01,30.00,GATE\n")
    assert person_pay(workspace, "P1", WEEK).totals["total_pay"] == D(1425)


def test_a_bonus_of_two_weeks_reopens_the_first(workspace: Workspace) -> None:
    # 90.00 for 25 October to 7 November, paid with the second week: its share 45 raises the rate by 1.00, so 5 h owe
    # 2.50 more than 45.625; the first week, without overtime, owes nothing.
    take(
        workspace,
        "e.csv",
        "person,earned from,earned to,kind,amount,label\nP1,2026-10-25,2026-11-07,bonus,90.00,output\n",
    )
    seen = person_pay(workspace, "P1", WEEK)
    assert seen.totals["overtime_premium"] == D("48.13")
    assert seen.totals["total_pay"] == D("821.25") + D("90.00") + D("48.13")


def test_a_correction_shows_pay_before_and_after(workspace: Workspace) -> None:
    # P3 at 17.00: 8 h are 136.00; with the missing punch at 16:10, 8 h 10 min more are 138.8333.
    at = civil_instant(workspace, "P3", "2026-11-04T16:10")
    seen = preview_correction(
        workspace, CorrectionRequest("add", "P3", "Ada", "forgot", at=at, direction="out"), as_of=NOW
    )
    assert (seen.pay_before, seen.pay_after) == (D("136.00"), D("274.83"))


def test_a_missing_punch_is_told_beside_all_pay(shared: Workspace) -> None:
    seen = person_pay(shared, "P3", WEEK)
    assert (seen.total, seen.missing_punches) == (D("136.00"), 1)
    assert seen.total_says == "without what 1 missing punch would pay"
    [says] = seen.open
    assert says.startswith("no punch out after Wed 4 Nov, 08:00, so that its time is in no line; about ")
    whole = person_pay(shared, "P1", WEEK)
    assert (whole.missing_punches, whole.total_says, whole.open) == (0, "", [])


def test_what_rests_on_a_missing_rate_is_not_known_and_not_nought(workspace: Workspace) -> None:
    take(workspace, "r.csv", "person,valid from,valid to,pay rate\nP1,2026-01-01,2026-11-04,18.00\n")
    seen = person_pay(workspace, "P1", WEEK)
    # 27 h are paid at 18.00; on what the other two days pay the regular rate, and so overtime, rests
    assert seen.pay.lines.select("label", "rate", "amount").rows() == [
        ("hourly pay", D("18"), D("486")),
        ("overtime, the half beyond straight pay", None, None),
    ]
    assert (seen.total, seen.totals["overtime_premium"]) == (None, None)


def test_payroll_gets_money_where_its_columns_ask_for_it_with_a_control_total(workspace: Workspace) -> None:
    asked = set_up(workspace, handoff_columns=MONEY)
    at = civil_instant(workspace, "P3", "2026-11-04T16:00")
    correct(asked, CorrectionRequest("add", "P3", "Ada", "forgot", at=at, direction="out"), as_of=NOW)
    off = hand_off(asked, as_of=NOW, author="Ada")
    with off.csv.open(encoding="utf-8-sig", newline="") as file:
        rows = {row["Person"]: row for row in csv.DictReader(file)}
    # P2 works 8 h of the night in this workweek at 21.00; P3 16 h at 17.00.
    assert [rows[person]["Pay"] for person in ("P1", "P2", "P3")] == ["866.88", "168.00", "272.00"]
    assert rows["P1"]["Premium"] == "45.63"
    totals = {one.field: one.printed for one in off.files[0].total.columns}
    assert totals == {"double_hours": D(0), "total_pay": D("1306.88"), "overtime_premium": D("45.63")}
    assert "  Pay               1306.88 as printed" in off.note.read_text(encoding="utf-8")
    with asked.store.reading() as conn:
        kept = json.loads(str(conn.exec_driver_sql("SELECT totals FROM handoffs").scalar()))
    assert [one["printed"] for one in kept["files"][0]["columns"]] == ["0.00", "1306.88", "45.63"]


def test_pay_that_is_not_known_keeps_a_file_with_money_back(workspace: Workspace) -> None:
    take(workspace, "r.csv", "person,valid from,valid to,pay rate\nP2,2026-01-01,2026-10-31,22.00\n")
    assert not any(
        finding.blocks_pay for finding in find_today(workspace, NOW).findings if finding.code == "rate_missing"
    )
    asked = set_up(workspace, handoff_columns=MONEY)
    found = [finding for finding in find_today(asked, NOW).blockers if finding.code == "rate_missing"]
    assert [finding.person for finding in found] == ["P2"]
    # The eight hours of P2 would be in no column of such a file.
    needed = r'8.00 hours of ordinary time to 1 person whose pay is not known \(give a rate, or add "ordinary_hours"\)'
    with pytest.raises(Refusal, match=needed):
        hand_off(asked, as_of=NOW, despite=True)
    hours = (("Normal", "ordinary_hours"), ("Over", "overtime_hours"))
    off = hand_off(set_up(asked, handoff_columns=(*MONEY, *hours)), as_of=NOW, despite=True)
    with off.csv.open(encoding="utf-8-sig", newline="") as file:
        assert {row["Person"]: row["Pay"] for row in csv.DictReader(file)}["P2"] == ""
    assert off.files[0].total.rows_without_money == 1
    assert "1 rows are empty, since pay is not known" in off.note.read_text(encoding="utf-8")


def test_double_time_without_a_column_for_it_is_refused(tmp_path: Path) -> None:
    rows = ["reader,number,at,direction", "GATE,0042,2026-11-03 06:00:00,in", "GATE,0042,2026-11-03 19:00:00,out"]
    opened = made(tmp_path, rows)
    rules = {"Mill": SiteRules("Mill", "America/New_York", "california")}
    asked = set_up(opened, sites=rules, handoff_columns=(("Person", "person"), ("Normal", "ordinary_hours")))
    # 13 hours without a meal: 8 ordinary, 4 at one and a half, 1 at double time (Labor Code 510), and an hour for the
    # meal period (226.7); roster rates are on file, so all of it is known in money too.
    with pytest.raises(Refusal) as refusal:
        hand_off(asked, as_of=NOW, despite=True)
    assert str(refusal.value) == (
        "evenhand.toml [handoff.columns] has no columns for all that is owed; left out would be "
        '4.00 hours of overtime to 1 person (add "overtime_hours"); '
        '1.00 hours of double time to 1 person (add "double_hours"); '
        '1.00 hours of meal premium to 1 person (add "meal_premium_hours").'
    )
    plain = hand_off(set_up(opened, handoff_columns=()), as_of=NOW, despite=True)
    with plain.csv.open(encoding="utf-8-sig", newline="") as file:
        [row] = csv.DictReader(file)
    assert {name: row[name] for name in list(row)[4:]} == {
        "Ordinary hours": "8.00", "Overtime hours": "4.00", "Double-time hours": "1.00", "Meal premium hours": "1.00",
    }  # fmt: skip
    opened.close()


def test_a_week_without_hours_pays_nothing(shared: Workspace) -> None:
    seen = person_pay(shared, "P3", date(2026, 10, 20))
    assert (seen.total, seen.open, seen.totals) == (D("0.00"), [], {})
    at = civil_instant(shared, "P3", "2026-10-20T16:00")
    asked = CorrectionRequest("add", "P3", "Ada", "forgot", at=at, direction="out")
    foreseen = preview_correction(shared, asked, as_of=NOW)
    assert (foreseen.pay_before, foreseen.pay_after) == (D("0.00"), D("0.00"))


def test_what_a_salary_pays_for_a_week_without_hours_is_not_known(workspace: Workspace) -> None:
    salary = "person,valid from,pay rate,plan,salary for,covers hours\nP3,2026-01-01,800,salary_fixed,week,40\n"
    take(workspace, "r.csv", salary)
    seen = person_pay(workspace, "P3", date(2026, 10, 20))
    assert seen.total is None
    assert seen.open == ["what a salary pays for a week without hours is not worked out here; payroll says what it is"]
    statement = make_statement(workspace, "P3", as_of=NOW, period_day=date(2026, 10, 20)).content
    assert (statement["total"], statement["weeks"][0]["total"]) == (None, None)
    at = civil_instant(workspace, "P3", "2026-10-20T16:00")
    asked = CorrectionRequest("add", "P3", "Ada", "forgot", at=at, direction="out")
    assert preview_correction(workspace, asked, as_of=NOW).pay_before is None


def test_everybodys_pay_is_the_same_alone_and_together(shared: Workspace) -> None:
    together = pay_between(shared, WEEK, WEEK).weeks
    for person in ("P1", "P2", "P3"):
        alone = pay_between(shared, WEEK, WEEK, people=[person]).weeks
        assert alone.equals(together.filter(together["person"] == person))


def test_rounding_that_always_takes_is_found_and_said(tmp_path: Path) -> None:
    # Eight weeks of five days, 08:00 to 16:07 to the quarter hour: seven minutes a day, 4 h 40 min in 40 days.
    rows = ["reader,number,at,direction"]
    for week in range(8):
        for day in range(5):
            worked = date(2026, 9, 14) + timedelta(days=7 * week + day)
            rows += [f"GATE,0042,{worked} 08:00:00,in", f"GATE,0042,{worked} 16:07:00,out"]
    opened = made(tmp_path, rows)
    rounded = set_up(opened, sites={"Mill": SiteRules("Mill", "America/New_York", rounding_s=900)})
    audit = audit_between(rounded, date(2026, 9, 13), date(2026, 11, 1))
    (row,) = audit.rows.filter(audit.rows["level"] == "person").rows(named=True)
    assert (row["name"], row["total_s"], row["money"]) == ("P1", -16_800, D("-85.17"))  # 4.6667 h x 18.25 = 85.1667
    assert row["overtime_money"] == D("-127.75")  # each week 40:35 worked, 40:00 paid: all of it was overtime
    (found,) = (one for one in find_today(rounded, NOW).findings if one.code == "rounding_not_neutral")
    assert found.says == "The rounding rule has taken 4 h 40 min from Ida Marlow (P1) in 40 days."
    assert found.stake.law == "29 CFR 785.48(b)"
    plain = set_up(opened, sites={"Mill": SiteRules("Mill", "America/New_York")})
    assert not audit_between(plain, date(2026, 9, 13), date(2026, 11, 1)).is_rounded
    opened.close()


def test_a_work_period_counts_from_its_first_day_whichever_week_is_looked_at(tmp_path: Path) -> None:
    # 29 CFR 553.230(c), 553.231(b): four weeks of 60 hours are 240 in 28 days, 28 past 212, all in the fourth week.
    # Law enforcement: 69 past 171, 9 of them in the third.
    first = date(2026, 9, 13)
    days = [first + timedelta(days=7 * week + day) for week in range(4) for day in range(5)]
    rows = [f"GATE,0042,{day} {at},{way}" for day in days for at, way in (("06:00:00", "in"), ("18:00:00", "out"))]
    opened = made(tmp_path, ["reader,number,at,direction", *rows])
    for kind, overtime in (("fire_protection", [0, 0, 0, 28]), ("law_enforcement", [0, 0, 9, 60])):
        rules = SiteRules("Mill", "America/New_York", "us_public_safety", public_safety=kind,
                          work_period_days=28, work_period=first)  # fmt: skip
        placed = set_up(opened, sites={"Mill": rules})
        for week, hours in enumerate(overtime):
            begins = first + timedelta(days=7 * week)
            (row,) = reckon_weeks(placed, NOW, begins, begins).weeks_between(begins, begins).weeks.rows(named=True)
            assert row["overtime_s"] == hours * 3600
    opened.close()


def test_a_regular_rate_counts_from_its_periods_first_day_whichever_week_is_looked_at(tmp_path: Path) -> None:
    # 29 CFR 553.233: 60 h a week, 18.25 for three and 22.25 in the fourth: 4,620 / 240 = 19.25, of which 28 h owe half:
    # 269.50. By the workweek it would be 28 x 11.125 = 311.50.
    first = date(2026, 9, 13)
    days = [first + timedelta(days=7 * week + day) for week in range(4) for day in range(5)]
    rows = [f"GATE,0042,{day} {at},{way}" for day in days for at, way in (("06:00:00", "in"), ("18:00:00", "out"))]
    opened = made(tmp_path, ["reader,number,at,direction", *rows])
    take(opened, "r.csv", "person,valid from,pay rate\nP1,2026-01-01,18.25\nP1,2026-10-04,22.25\n")
    rules = SiteRules("Mill", "America/New_York", "us_public_safety", public_safety="fire_protection",
                      work_period_days=28, work_period=first)  # fmt: skip
    placed, last = set_up(opened, sites={"Mill": rules}), first + timedelta(days=21)
    for since in (first, last):
        paid = reckon_weeks(placed, NOW, since, last).pay_between(since, last).weeks
        assert paid.filter(pl.col("workweek") == last)["overtime_premium"].to_list() == [D("269.50")]
    assert person_pay(placed, "P1", last).totals["overtime_premium"] == D("269.50")
    opened.close()


def test_without_any_rate_pay_is_not_worked_out_unless_payroll_asks_for_it(shared: Workspace) -> None:
    reckoning = reckon_weeks(shared, NOW, WEEK, WEEK)
    people = reckoning.snapshot.people.with_columns(hourly_rate=pl.lit(None, pl.Decimal(18, 4)))
    bare = replace(reckoning.snapshot, people=people)
    assert Reckoning(bare, NOW).pay_between(WEEK, WEEK).weeks.is_empty()
    asked = replace(bare, settings=replace(bare.settings, handoff_columns=MONEY))
    found = Reckoning(asked, NOW).pay_between(WEEK, WEEK)
    assert set(found.faults["kind"]) == {"missing"}
    assert found.weeks["total_pay"].null_count() == found.weeks.height > 0
