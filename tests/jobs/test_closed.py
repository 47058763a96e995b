"""Periods that were handed off: what changed since, and that each change is made good once, by file or adjustment."""

from __future__ import annotations

import csv
import sqlite3
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import polars as pl
import pytest

from evenhand.jobs import handoff
from evenhand.jobs.closed import Adjusted, adjust, closed_periods, list_closed
from evenhand.jobs.correct import CorrectionRequest
from evenhand.jobs.handoff import HandedOff, settle_closed
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.settling import settle
from evenhand.jobs.take import take_files
from evenhand.jobs.today import find_today
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.store import decisions, frames
from evenhand.store.settings import write_settings
from evenhand.terms.closing import change_in_short, changes_in_words, changes_of_people
from evenhand.terms.payroll import ON_EARNINGS
from evenhand.terms.records import Refusal
from tests.jobs.asked import civil_instant, correct, hand_off
from tests.jobs.workplaces import copied

H = 3600
FIRST, SECOND, THIRD = date(2026, 11, 1), date(2026, 11, 8), date(2026, 11, 15)
NOW = datetime(2026, 11, 17, 14, tzinfo=UTC)  # P2 is the last closed
LATER = NOW + timedelta(days=7)  # P3 is
READERS = "reader,site,zone\nGATE,Mill,America/New_York\n"
PEOPLE = "person,name,number,site,hourly rate\nP1,Ida Marlow,0042,Mill,20\nP2,Rui Okoro,7315,Mill,30\n"
MONEY = (
    *(("Person", "person"), ("Week", "workweek"), ("Ordinary", "ordinary_hours")),
    *(("Overtime", "overtime_hours"), ("Pay", "total_pay")),
)

OF_P1, OF_P2 = (["P1", "2026-11-01", "40.00", "0.00", "800.00"], ["P2", "2026-11-01", "40.00", "0.00", "1200.00"])


def log(days: Sequence[date], numbers: Sequence[str] = ("0042", "7315"), ends: str = "16:00:00") -> str:
    rows = ["reader,number,at,direction"]
    for day in days:
        for number in numbers:
            rows += [f"GATE,{number},{day} 08:00:00,in", f"GATE,{number},{day} {ends},out"]
    return "\n".join(rows) + "\n"


def week(first: date) -> list[date]:
    return [first + timedelta(days=n) for n in range(1, 6)]


def _make(folder: Path) -> Workspace:
    mill = create_workspace(folder / "mill", "Mill")
    days = [*week(FIRST), *week(SECOND), *week(THIRD)]
    for name, text in (("readers.csv", READERS), ("people.csv", PEOPLE), ("log.csv", log(days))):
        (folder / name).write_text(text)
        take_files(mill, [folder / name])
    return mill


@pytest.fixture
def mill(tmp_path: Path) -> Workspace:
    return copied(tmp_path, "closed-mill", _make)


def take(mill: Workspace, name: str, text: str) -> None:
    file = mill.directory.parent / name
    file.write_text(text)
    [receipt] = take_files(mill, [file])
    assert receipt.rejected == 0, receipt


def in_money(mill: Workspace) -> None:
    write_settings(mill.settings_file, replace(mill.settings, handoff_columns=MONEY))


def handed(mill: Workspace, day: date, now: datetime = LATER, **given: Any) -> HandedOff:
    return hand_off(mill, as_of=now, period_day=day, despite=True, **given)


def changed(mill: Workspace) -> dict[date, list[tuple[str, str]]]:
    reckoning = reckon_period(mill, LATER)
    return {
        one.first: [(who.person, change_in_short(who)) for who in changes_of_people(one.changes, {})]
        for one in closed_periods(reckoning)
    }


def rows_of(made: HandedOff) -> list[list[str]]:
    return list(csv.reader(made.csv.read_text(encoding="utf-8-sig").splitlines()))[1:]


def adjusted(mill: Workspace, day: date, **given: Any) -> Any:
    said = {"author": "Ada", "reason": "the log came late", "as_of": LATER}
    return adjust(mill, reckon_period(mill, LATER), day, **{**said, **given})


def test_nothing_has_changed_in_a_period_that_was_just_handed_off(mill: Workspace) -> None:
    made = handed(mill, FIRST)
    assert changed(mill) == {FIRST: []}
    assert made.replaces == ""
    with pytest.raises(Refusal) as twice:
        handed(mill, FIRST)
    assert str(twice.value).startswith(
        "Sun 1 to Sat 7 Nov 2026 was handed off already, in hours-2026-11-01-to-2026-11-07.csv, and nothing has"
    )


def test_a_late_log_is_a_finding_with_the_difference_per_person_and_day(mill: Workspace) -> None:
    in_money(mill)
    handed(mill, FIRST)
    take(mill, "late.csv", log([date(2026, 11, 7)], ["0042"], ends="12:00:00"))
    assert changed(mill) == {FIRST: [("P1", "+4:00 h worked, +120.00")]}  # past 40 hours: 4 h x 20 x 1.5
    [finding] = [one for one in find_today(reckon_period(mill, LATER)).blockers if one.code == "closed_period_changed"]
    assert finding.key == "closed_period_changed/1/P1/2026-11-01"
    assert finding.says == ("Ida Marlow (P1): +4:00 h worked, +120.00 since Sun 1 to Sat 7 Nov 2026 was handed off.")
    assert finding.evidence == (
        "Payroll has hours-2026-11-01-to-2026-11-07.csv.",
        "Sat 7 Nov: overtime +4:00 h",
        "pay of the week from Sun 1 Nov: base pay +80.00, overtime premium +40.00",
    )
    with pytest.raises(Refusal, match="settled on Hand-off"):
        settle(mill, reckon_period(mill, LATER), [finding.key], author="Ada", reason="so", as_of=LATER)


def test_an_answer_that_a_store_holds_hides_no_change_of_a_closed_period(mill: Workspace) -> None:
    in_money(mill)
    handed(mill, FIRST)
    take(mill, "late.csv", log([date(2026, 11, 7)], ["0042"], ends="12:00:00"))
    key = "closed_period_changed/1/P1/2026-11-01"
    with mill.store.writing() as conn:  # as a version may have let it be settled
        decisions.add_settled(conn, finding=key, author="Ada", reason="so", made_at=1)

    def said() -> list[str]:
        return [one.says for one in find_today(reckon_period(mill, LATER)).blockers if one.key == key]

    span = "since Sun 1 to Sat 7 Nov 2026 was handed off."
    assert said() == [f"Ida Marlow (P1): +4:00 h worked, +120.00 {span}"]
    adjusted(mill, FIRST)
    assert said() == []
    take(mill, "later.csv", log([date(2026, 11, 1)], ["0042"], ends="10:00:00"))
    assert said() == [f"Ida Marlow (P1): +2:00 h worked, +60.00 {span}"]  # past 40 hours: 2 h x 20 x 1.5


def test_a_replacing_file_holds_what_is_owed_and_the_old_one_stays(mill: Workspace) -> None:
    in_money(mill)
    first = handed(mill, FIRST)
    old = first.csv.read_bytes()
    take(mill, "late.csv", log([date(2026, 11, 7)], ["0042"], ends="12:00:00"))
    with pytest.raises(Refusal, match="1 person has changed since; replace that file"):
        handed(mill, FIRST)
    made = handed(mill, FIRST, replace_why="the log of Saturday came late")
    assert (made.csv.name, made.replaces, made.number) == ("hours-2026-11-01-to-2026-11-07-2.csv", first.csv.name, 2)
    with pytest.raises(Refusal, match=r"written by .* for this reason already, and nothing has changed since"):
        handed(mill, FIRST, replace_why="the log of Saturday came late")
    assert first.csv.read_bytes() == old
    assert rows_of(first) == [OF_P1, OF_P2]
    assert rows_of(made) == [["P1", "2026-11-01", "40.00", "4.00", "920.00"], OF_P2]
    note = made.note.read_text(encoding="utf-8")
    assert (
        "Replaces         hours-2026-11-01-to-2026-11-07.csv, which counts no longer: the log of Saturday came late\n"
        "  Ida Marlow (P1): +4:00 h worked, +120.00\n"
        "    Sat 7 Nov: overtime +4:00 h\n"
        "    pay of the week from Sun 1 Nov: base pay +80.00, overtime premium +40.00\n"
    ) in note
    assert changed(mill) == {FIRST: []}


def test_an_adjustment_stands_in_the_next_periods_file_in_rows_of_its_own(mill: Workspace) -> None:
    in_money(mill)
    handed(mill, FIRST)
    take(mill, "late.csv", log([date(2026, 11, 7)], ["0042"], ends="12:00:00"))
    decided = adjusted(mill, FIRST)
    assert (decided.people, decided.seconds, decided.amount) == (("P1",), 4 * H, Decimal("120.00"))
    assert changed(mill) == {FIRST: []}  # decided, so not asked again
    with pytest.raises(Refusal, match="nothing has changed in Sun 1 to Sat 7 Nov 2026"):
        adjusted(mill, FIRST)
    made = handed(mill, SECOND)
    assert rows_of(made) == [
        ["P1", "2026-11-08", "40.00", "0.00", "800.00"],
        ["P1", "2026-11-01", "0.00", "4.00", "120.00"],
        ["P2", "2026-11-08", "40.00", "0.00", "1200.00"],
    ]
    assert "Adjusts          2026-11-01 to 2026-11-07: the log came late (Ada)" in made.note.read_text(encoding="utf-8")
    assert [row[1:3] for row in rows_of(handed(mill, THIRD))] == [["2026-11-15", "40.00"]] * 2  # carried once
    assert changed(mill) == {FIRST: [], SECOND: [], THIRD: []}


def test_what_waits_for_the_next_file_is_listed_until_it_is_carried(mill: Workspace) -> None:
    handed(mill, FIRST)
    take(mill, "late.csv", log([date(2026, 11, 7)], ["0042"], ends="12:00:00"))

    def waiting() -> list[tuple[date, list[str]]]:
        listed = list_closed(reckon_period(mill, LATER))
        return [(one.first, [change_in_short(who) for who in one.waiting]) for one in listed]

    assert waiting() == [(FIRST, [])]
    adjusted(mill, FIRST)
    assert waiting() == [(FIRST, ["+4:00 h worked"])]
    handed(mill, SECOND)
    assert waiting() == [(SECOND, []), (FIRST, [])]


@pytest.mark.parametrize("lost", ["handoff_lines", "handoffs", "adjustment_lines", "adjustments"])
def test_a_store_that_lost_what_payroll_was_told_is_damaged_and_tells_nothing_again(mill: Workspace, lost: str) -> None:
    handed(mill, FIRST)
    take(mill, "late.csv", log([date(2026, 11, 7)], ["0042"], ends="12:00:00"))
    adjusted(mill, FIRST)
    with sqlite3.connect(mill.directory / "evenhand.sqlite") as conn:
        for (name,) in conn.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            conn.execute(f"DROP TRIGGER {name}")
        conn.execute(f"DELETE FROM {lost}")
    for telling in (lambda: handed(mill, SECOND), lambda: adjusted(mill, FIRST)):
        with pytest.raises(Refusal, match=r"is damaged: of (hand-off|adjustment) 1 it does not hold both.*a backup"):
            telling()


def test_replacing_after_adjusting_tells_nothing_twice(mill: Workspace) -> None:
    in_money(mill)
    handed(mill, FIRST)
    take(mill, "late.csv", log([date(2026, 11, 7)], ["0042"], ends="12:00:00"))
    adjusted(mill, FIRST)
    handed(mill, SECOND)
    take(mill, "later.csv", log([date(2026, 11, 1)], ["7315"], ends="10:00:00"))
    assert changed(mill)[FIRST] == [("P2", "+2:00 h worked, +90.00")]
    again = handed(mill, FIRST, replace_why="another log")
    # P1's four hours are in the second period's file
    assert rows_of(again) == [OF_P1, ["P2", "2026-11-01", "40.00", "2.00", "1290.00"]]
    second = handed(mill, SECOND, replace_why="payroll lost it")
    assert ["P1", "2026-11-01", "0.00", "4.00", "120.00"] in rows_of(
        second
    )  # what the old one carried, the new one does
    assert changed(mill) == {FIRST: [], SECOND: []}


def test_what_waits_is_in_the_file_that_replaces_its_period_and_in_no_other(mill: Workspace) -> None:
    handed(mill, FIRST)
    take(mill, "late.csv", log([date(2026, 11, 7)], ["0042"], ends="12:00:00"))
    adjusted(mill, FIRST)
    again = handed(mill, FIRST, replace_why="rather so")
    assert [row[5] for row in rows_of(again)] == ["4.00", "0.00"]
    assert [row[3] for row in rows_of(handed(mill, SECOND))] == ["2026-11-08"] * 2


def test_a_change_that_is_taken_back_comes_to_nothing(mill: Workspace) -> None:
    handed(mill, FIRST)
    at = civil_instant(mill, "P1", "2026-11-02T18:00")
    number, _ = correct(mill, CorrectionRequest("add", "P1", "Ada", "stayed", at=at, direction="in"), as_of=LATER)
    out = civil_instant(mill, "P1", "2026-11-02T19:00")
    correct(mill, CorrectionRequest("add", "P1", "Ada", "stayed", at=out, direction="out"), as_of=LATER)
    assert changed(mill)[FIRST] == [("P1", "+1:00 h worked")]
    adjusted(mill, FIRST)
    correct(mill, CorrectionRequest("leave_out", "P1", "Ada", "no", punch=-number), as_of=LATER)
    correct(mill, CorrectionRequest("leave_out", "P1", "Ada", "no", punch=-number - 1), as_of=LATER)
    assert changed(mill)[FIRST] == [("P1", "-1:00 h worked")]
    adjusted(mill, FIRST)
    assert [row[3] for row in rows_of(handed(mill, SECOND))] == ["2026-11-08"] * 2


def test_a_rate_a_rule_and_a_roster_are_told_and_what_is_made_good_elsewhere_is_not_told_again(mill: Workspace) -> None:
    in_money(mill)
    handed(mill, FIRST)
    take(mill, "rates.csv", "person,valid_from,amount\nP1,2026-11-01,21\n")
    assert changed(mill)[FIRST] == [("P1", "+40.00")]
    assert adjusted(mill, FIRST, way="elsewhere", people=["P1"]).way == "elsewhere"
    assert changed(mill)[FIRST] == []
    settings = mill.settings
    write_settings(mill.settings_file, replace(settings, policy=replace(settings.policy, call_back_s=0, trifle_s=0)))
    assert changed(mill)[FIRST] == []
    take(mill, "people.csv", PEOPLE.replace("7315", "7316") + "P3,Uma Holt,7315,Mill,30\n")
    assert changed(mill)[FIRST] == [("P2", "-40:00 h worked, -1200.00"), ("P3", "+40:00 h worked, +1200.00")]
    again = handed(mill, FIRST, replace_why="the number was not theirs")
    assert rows_of(again)[0] == OF_P1  # 40.00 more were paid elsewhere
    assert [row[0] for row in rows_of(again)] == [OF_P1[0], "P3"]


def test_whoever_settles_what_they_did_not_see_is_refused(mill: Workspace) -> None:
    handed(mill, FIRST)
    take(mill, "late.csv", log([date(2026, 11, 7)], ["0042"], ends="12:00:00"))
    reckoning = reckon_period(mill, LATER)
    [seen] = closed_periods(reckoning)
    take(mill, "later.csv", log([date(2026, 11, 1)], ["7315"], ends="10:00:00"))
    with pytest.raises(Refusal, match="has changed again since this was shown"):
        adjusted(mill, FIRST, seen=seen.digest)
    with pytest.raises(Refusal, match="taken or decided in the meantime"):
        adjust(mill, reckoning, FIRST, author="Ada", reason="so", as_of=LATER)
    with mill.store.reading() as conn:
        assert frames.adjustments(conn).is_empty()


def test_what_changed_keeps_the_next_period_from_payroll_until_it_is_settled(mill: Workspace) -> None:
    handed(mill, FIRST)
    take(mill, "late.csv", log([date(2026, 11, 7)], ["0042"], ends="12:00:00"))
    with pytest.raises(Refusal, match=r"Ida Marlow \(P1\): \+4:00 h worked since"):
        hand_off(mill, as_of=LATER, period_day=SECOND)
    adjusted(mill, FIRST)
    hand_off(mill, as_of=LATER, period_day=SECOND)


def test_a_day_is_said_in_words() -> None:
    assert changes_in_words(changes_of_people(_changes(), {})[0]) == [
        "Mon 2 Nov: meal premium +1:00 h, ordinary time -0:30:05 h",
        "pay of the week from Sun 1 Nov: base pay -10.03, overtime on a later payment +5.00",
    ]


def _changes() -> Any:
    from evenhand.terms.handed_off import CLOSED_CHANGES

    def one(day: int, item: str, seconds: int, amount: str) -> dict[str, Any]:
        whose = {"person": "P1", "workweek": FIRST, "day": date(2026, 11, day), "item": item, "rate": None}
        money = {"amount_before": Decimal(0), "amount_after": Decimal(amount)}
        return {**whose, "seconds_before": 0, "seconds_after": seconds, **money}

    return CLOSED_CHANGES.rows(
        [
            one(2, "ordinary", -1805, "0"),
            one(2, "meal_premium", 3600, "0"),
            one(1, "base", 0, "-10.03"),
            one(1, "reopened", 0, "5.00"),
        ]
    )


def test_until_payrolls_deadline_a_new_file_replaces_the_periods_where_nobody_says(mill: Workspace) -> None:
    in_time = datetime(2026, 11, 16, 16, tzinfo=UTC)  # payroll wants it by noon of Monday, 17:00 in UTC
    late = in_time + timedelta(hours=2)
    handed(mill, SECOND, in_time)
    take(mill, "late.csv", log([SECOND + timedelta(days=6)], ["0042", "7315"], ends="12:00:00"))
    said = {"author": "Ada", "reason": "found in a drawer", "despite": True}
    ways = [{one.first: one.way for one in list_closed(reckon_period(mill, at))}[SECOND] for at in (in_time, late)]
    assert ways == ["replace", "adjust"]
    only = settle_closed(mill, reckon_period(mill, in_time), SECOND, people=["P1"], **said, as_of=in_time)
    assert isinstance(only, Adjusted)
    made = settle_closed(mill, reckon_period(mill, in_time), SECOND, **said, as_of=in_time)
    assert isinstance(made, HandedOff)
    assert made.replaces == "hours-2026-11-08-to-2026-11-14.csv"
    # also what was to wait for the next period's file stands in this one, and in its note
    assert [who.person for who in made.changes] == ["P1", "P2"]
    assert all(f"({who})" in made.note.read_text(encoding="utf-8") for who in ("P1", "P2"))
    take(mill, "later.csv", log([SECOND], ["7315"], ends="12:00:00"))
    assert isinstance(settle_closed(mill, reckon_period(mill, late), SECOND, **said, as_of=late), Adjusted)


def test_the_settings_choose_how_a_change_is_made_good_where_nobody_says(mill: Workspace) -> None:
    write_settings(mill.settings_file, replace(mill.settings, late_changes="replace"))
    handed(mill, FIRST)
    take(mill, "late.csv", log([date(2026, 11, 7)], ["0042"], ends="12:00:00"))
    said = {"author": "Ada", "reason": "late", "as_of": LATER, "despite": True}
    made = settle_closed(mill, reckon_period(mill, LATER), FIRST, **said)
    assert isinstance(made, HandedOff)
    assert made.replaces == "hours-2026-11-01-to-2026-11-07.csv"
    with pytest.raises(Refusal, match="replaces that of the whole period"):
        settle_closed(mill, reckon_period(mill, LATER), FIRST, way="replace", people=["P1"], **said)
    with pytest.raises(Refusal, match=r'"replace", "adjust" or "elsewhere", not "later"'):
        settle_closed(mill, reckon_period(mill, LATER), FIRST, way="later", **said)


def test_a_late_bonus_is_told_even_where_the_file_told_no_money(mill: Workspace) -> None:
    handed(mill, FIRST)
    take(mill, "bonus.csv", "person,earned_from,earned_to,kind,amount\nP1,2026-11-01,2026-11-07,bonus,100\n")
    assert changed(mill)[FIRST] == [("P1", "+100.00")]
    adjusted(mill, FIRST)
    rows = list(csv.DictReader(handed(mill, SECOND).csv.read_text(encoding="utf-8-sig").splitlines()))
    assert [(row["Person"], row["Week of"], row["Bonus"]) for row in rows if row["Bonus"] != "0.00"] == [
        ("P1", "2026-11-01", "100.00")
    ]


def test_figures_as_printed_add_up_to_what_the_whole_would_be_printed_as(mill: Workspace) -> None:
    # 20 s more on each of two days: 40.01 h after the first is 40.0056, after the second 40.0111: 40.01, then nothing
    handed(mill, FIRST)
    for name, day, seconds in (("a.csv", 2, 20), ("b.csv", 3, 20), ("c.csv", 4, 20)):
        rows = f"reader,number,at,direction\nGATE,0042,2026-11-{day:02d} 20:00:00,in\n"
        take(mill, name, rows + f"GATE,0042,2026-11-{day:02d} 20:01:{seconds:02d},out\n")
        adjusted(mill, FIRST)
    made = handed(mill, SECOND)
    told = [Decimal(row[5]) for row in rows_of(made) if row[3] == "2026-11-01"]
    # 4:00 past forty is nothing here: 3 x 80 s = 240 s of overtime, 0.0667 h
    assert sum(told) == Decimal("0.07")


BONUS = "person,earned_from,earned_to,kind,amount\nP1,2026-11-01,2026-11-07,bonus,100\n"


def long_week(mill: Workspace) -> None:
    """Have P1 work 44 hours in the first week."""
    take(mill, "saturday.csv", log([date(2026, 11, 7)], ["0042"], ends="12:00:00"))


def of_first_week(made: HandedOff) -> list[dict[str, str]]:
    rows = csv.DictReader(made.csv.read_text(encoding="utf-8-sig").splitlines())
    return [row for row in rows if (row["Person"], row["Week of"]) == ("P1", "2026-11-01")]


@pytest.mark.parametrize("rated", [True, False])
def test_overtime_on_a_late_bonus_is_told_in_money_where_the_week_was_told_in_hours(
    mill: Workspace, rated: bool
) -> None:
    # 29 CFR 778.209(c): 100.00 over 44 h, half of it for 4 h: 4.55. It follows from the hours alone, without any rate.
    if not rated:
        take(mill, "people.csv", PEOPLE.replace(",20\n", ",\n").replace(",30\n", ",\n"))
    long_week(mill)
    handed(mill, FIRST)
    assert changed(mill)[FIRST] == []
    take(mill, "bonus.csv", BONUS)
    assert changed(mill)[FIRST] == [("P1", "+104.55")]
    [listed] = [one for one in list_closed(reckon_period(mill, LATER)) if one.first == FIRST]
    assert changes_in_words(listed.changes[0]) == [
        "pay of the week from Sun 1 Nov: bonus +100.00, overtime premium on what was earned beside the hours +4.55"
    ]
    adjusted(mill, FIRST)
    assert changed(mill)[FIRST] == []
    made = handed(mill, SECOND)
    [row] = of_first_week(made)
    assert (row["Bonus"], row["Reopened pay"], row["Overtime hours"]) == ("100.00", "4.55", "0.00")
    assert "work none out on it again" in " ".join(made.note.read_text().split())


def test_a_bonus_that_one_file_told_with_its_hours_is_payrolls_until_the_hours_change(mill: Workspace) -> None:
    long_week(mill)
    take(mill, "bonus.csv", BONUS)
    [row] = of_first_week(handed(mill, FIRST))
    assert (row["Bonus"], row["Overtime hours"]) == ("100.00", "4.00")
    assert "Reopened pay" not in row
    assert changed(mill)[FIRST] == []
    # Four hours more, all overtime: 100.00 over 48 h, half of it for 8 h, is 8.33, of which 4.55 was payroll's to pay.
    take(mill, "sunday.csv", log([FIRST], ["0042"], ends="12:00:00"))
    assert changed(mill)[FIRST] == [("P1", "+4:00 h worked, +3.78")]


def test_a_replacing_file_leaves_overtime_on_a_bonus_to_payroll_as_the_first_did(mill: Workspace) -> None:
    long_week(mill)
    handed(mill, FIRST)
    take(mill, "bonus.csv", BONUS)
    settle_closed(mill, reckon_period(mill, LATER), FIRST, way="replace", author="Ada", reason="so", as_of=LATER,
                  despite=True)  # fmt: skip
    with mill.store.reading() as conn:
        file = mill.handoff / frames.handoffs(conn)["file"].to_list()[-1]
    rows = list(csv.DictReader(file.read_text(encoding="utf-8-sig").splitlines()))
    [row] = [row for row in rows if row["Person"] == "P1"]
    assert (row["Bonus"], row["Overtime hours"]) == ("100.00", "4.00")
    assert "Reopened pay" not in row
    assert changed(mill)[FIRST] == []
    # Taken back, bonus and overtime on it come to less.
    take(mill, "less.csv", BONUS.replace(",100", ",56"))
    assert changed(mill)[FIRST] == [("P1", "-46.00")]  # 44.00, and 44 / 44 x 4 / 2


def test_a_file_of_a_version_that_kept_no_such_record_has_no_overtime_on_its_bonus_told(
    mill: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = handoff.money_told
    monkeypatch.setattr(handoff, "money_told", lambda *given: real(*given) - {ON_EARNINGS})
    long_week(mill)
    take(mill, "bonus.csv", BONUS)
    handed(mill, FIRST)
    with mill.store.reading() as conn:
        assert not frames.handed_off_lines(conn, FIRST)["item"].str.starts_with(ON_EARNINGS).any()
    assert changed(mill)[FIRST] == []


def test_a_file_whose_last_punches_were_all_left_out_is_replaced_by_one_without_rows(tmp_path: Path) -> None:
    small = create_workspace(tmp_path / "small", "Mill")
    for name, text in (("readers.csv", READERS), ("people.csv", PEOPLE), ("log.csv", log([SECOND], ["0042"]))):
        (tmp_path / name).write_text(text)
        take_files(small, [tmp_path / name])
    told = hand_off(small, as_of=NOW, author="Ada", despite=True)
    assert told.csv.read_text(encoding="utf-8-sig").count("Ida Marlow") == 1
    for punch in reckon_period(small, NOW).attribution.attributed["punch"]:
        correct(small, CorrectionRequest("leave_out", "P1", "Ada", "a test of the reader", punch=punch), as_of=NOW)
    # What was told stands in the old file, and none of it is owed.
    replacing = settle_closed(
        small, reckon_period(small, NOW), SECOND, way="replace", despite=True, author="Ada", reason="a test", as_of=NOW
    )
    assert isinstance(replacing, HandedOff)
    assert (replacing.replaces, replacing.files[0].total.rows) == (told.csv.name, 0)
    assert len(replacing.csv.read_text(encoding="utf-8-sig").splitlines()) == 1  # its headers
    assert "Ida Marlow (P1): -8:00 h worked" in replacing.note.read_text(encoding="utf-8")
    (closed,) = list_closed(reckon_period(small, NOW))
    assert (closed.file, closed.changes) == (replacing.csv.name, ())
    # A first file of nothing is refused as before.
    with pytest.raises(Refusal, match="nobody has hours in Sun 1 to Sat 7 Nov 2026"):
        hand_off(small, as_of=NOW, period_day=FIRST, author="Ada", despite=True)
    small.close()


def evening(day: int, seconds: int) -> str:
    ends = datetime(2026, 11, day, 18) + timedelta(seconds=seconds)
    return f"reader,number,at,direction\nGATE,0042,2026-11-{day:02d} 18:00:00,in\nGATE,0042,{ends},out\n"


def test_a_hundredth_that_an_adjustment_printed_is_not_printed_again_by_a_file_that_replaces(mill: Workspace) -> None:
    # Overtime of 3,610 s prints as 1.00, of 7,227 s as 2.01: so 3,617 s more print as 1.01 beside the first file,
    # though alone as 1.00. What replaces that file prints what is left of 2.01.
    take(mill, "a.csv", evening(2, 3610))
    handed(mill, FIRST)
    take(mill, "b.csv", evening(3, 3617))
    adjusted(mill, FIRST)
    [carried] = of_first_week(handed(mill, SECOND))
    assert carried["Overtime hours"] == "1.01"
    [own] = of_first_week(handed(mill, FIRST, replace_why="the name was wrong"))
    assert own["Overtime hours"] == "1.00"
    # The file that carries it, written anew beside that, prints the same.
    [carried] = of_first_week(handed(mill, SECOND, replace_why="so"))
    assert carried["Overtime hours"] == "1.01"


def test_the_figures_that_each_file_printed_are_kept(mill: Workspace) -> None:
    # 3,610 s of overtime print as 1.00 and with 7,217 s more as 3.01: the adjustment's row prints 2.01.
    take(mill, "a.csv", evening(2, 3610))
    handed(mill, FIRST)
    take(mill, "b.csv", evening(3, 7217))
    adjusted(mill, FIRST)
    handed(mill, SECOND)
    with mill.store.reading() as conn:
        kept = frames.printed_figures(conn, FIRST)
    assert {number: figures["adjusts"].any() for number, figures in kept.items()} == {1: False, 2: True}
    figures = kept[2].filter(pl.col("adjusts"), pl.col("field") == "overtime_hours")
    assert figures.select("person", "workweek", "figure").rows() == [("P1", FIRST, Decimal("2.01"))]
