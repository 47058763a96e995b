"""What the files for payroll and their note say, word by word, and what their digest covers."""

from __future__ import annotations

import csv
import re
import textwrap
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import polars as pl
import pytest

from evenhand.jobs import handoff
from evenhand.jobs.handoff import HandedOff
from evenhand.jobs.payroll_sample import check_sample
from evenhand.jobs.reckoning import Reckoning, reckon_period
from evenhand.jobs.take import take_files
from evenhand.jobs.today import Today, find_today
from evenhand.jobs.workspace import Workspace, open_workspace
from evenhand.store.ledger import head as head_as_of
from evenhand.store.settings import write_settings
from evenhand.terms.cautions import OF_HANDOFF, SIGNED
from evenhand.terms.ledger.head import head_of
from evenhand.terms.records import Refusal
from tests.jobs.asked import hand_off, settle
from tests.jobs.workplaces import made

NOW = datetime(2026, 11, 9, 14, tzinfo=UTC)
MISSING = "missing_punch/P3/2026-11-04"


@pytest.fixture(scope="module")
def mill(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workspace]:
    opened = made(tmp_path_factory.mktemp("mill"))
    yield opened
    opened.close()


def lines_of(made: HandedOff) -> list[str]:
    return made.note.read_text(encoding="utf-8").split("\n")


def test_the_note_says_what_was_written_under_which_rules_and_despite_what(mill: Workspace) -> None:
    made = hand_off(mill, as_of=NOW, despite=True, author="Ada")
    head = re.search(r"Ledger's head([\d:\s0-9a-f]*?)as it was", made.note.read_text(encoding="utf-8"))[1]
    [finding] = find_today(reckon_period(mill, NOW)).blockers
    before = head_of(head)
    with mill.store.reading() as conn:
        assert before == head_as_of(conn, before.size)
    root = before.root.hex()
    assert lines_of(made) == [
        "Mill: hours for payroll, 2026-11-01 to 2026-11-07",
        "Written Mon 9 Nov 2026, 09:00 (America/New_York) by Ada",
        "",
        "Files            hours-2026-11-01-to-2026-11-07.csv, hours-2026-11-01-to-2026-11-07.xlsx (the same rows)",
        "Rows             3",
        "People           3",
        # P1 40 and 5 over it, P2 eight after midnight of Saturday, P3 one day of eight
        "  Ordinary hours     56.00 as printed; 201600 seconds exactly",
        "  Overtime hours     5.00 as printed; 18000 seconds exactly",
        "  Double-time hours  0.00 as printed; 0 seconds exactly",
        "  Worked, together   61.00 as printed",
        "",
        f"Sources          SHA-256 {made.digest}",
        "                 over the punches, weeks, roster, rates, earnings, corrections and settings the file was",
        "                 computed from",
        f"Ledger's head    {before.size}:",
        *(
            "                 " + " ".join(root[place : place + 4] for place in range(start, start + 32, 4))
            for start in (0, 32)
        ),
        "                 as it was before these files were written. Held by whoever does not look after the store,",
        "                 it shows with `evenhand ledger verify --head` that nothing from before was altered since.",
        "                 The files and this note are told of by an entry that follows: verify them with --file.",
        "",
        "Each figure is rounded once, half up, from exact seconds or from the cents of its pay lines; a total is the",
        "sum of the figures as printed, so that the file adds up to it.",
        "Hours are paid under:",
        "  Mill: us_federal, workweek from Sunday 00:00 America/New_York, times not rounded",
        "",
        "Written despite 1 open findings:",
        f"  {finding.says}  [{MISSING}]",
        "",
        "Of the hours of 3 people: 0 confirmed by the person, 0 approved by a supervisor, 0 disputed and not answered",
        "yet, 0 changed since they were signed, 3 without a word of the person.",
        *textwrap.wrap(SIGNED, 110),
        "",
        OF_HANDOFF,
        "",
    ]


def test_the_note_says_that_nothing_is_open_what_was_settled_and_what_has_no_pay(tmp_path: Path) -> None:
    mill = made(tmp_path)
    roster = tmp_path / "roster.csv"
    roster.write_text("person,name,number,site,hourly_rate\nP3,Lena Fisk,2290,,\n")
    take_files(mill, [roster])
    columns = (("Person", "person"), ("Hours", "paid_hours"), ("Over", "overtime_hours"), ("Pay", "total_pay"))
    write_settings(mill.settings_file, replace(mill.settings, handoff_columns=columns, zone="America/New_York"))
    for key in sorted(finding.key for finding in find_today(reckon_period(mill, NOW)).blockers):
        settle(mill, key, author="Bo", reason=f"seen {key[:4]}", as_of=NOW)
    note = lines_of(hand_off(mill, as_of=NOW))
    assert note[1] == "Written Mon 9 Nov 2026, 09:00 (America/New_York) by Ada"
    # 45 h at 18.25 and half of it five times: 866.88; P2 8 h at 21.00: 168.00; P3 works 8 h at no rate
    assert note[6:9] == [
        "  Hours             61.00 as printed; 219600 seconds exactly",
        "  Over              5.00 as printed; 18000 seconds exactly",
        "  Pay               1034.88 as printed; 1 rows are empty, since pay is not known: see `evenhand today`",
    ]
    rules = "us_federal, workweek from Sunday 00:00 America/New_York, times not rounded"
    after = note.index("Hours are paid under:")
    assert sorted(note[after + 1 : after + 3]) == [f"  Mill: {rules}", f"  no site: {rules}"]
    settled = note.index("Settled findings, all periods:")
    assert note[after + 3 : settled] == ["", "No open finding keeps this period from payroll.", ""]
    assert f"  {MISSING}: seen miss (Bo)" in note[settled + 1 :]
    mill.close()


@pytest.mark.parametrize("in_money", [False, True])
def test_a_file_in_hours_is_asked_for_what_a_salary_pays_and_the_note_names_who_has_no_row(
    tmp_path: Path, *, in_money: bool
) -> None:
    # 29 CFR 778.113, 778.114: what a salary pays does not follow from hours. P1 works, P9 does not.
    mill = made(tmp_path)
    people, rates = tmp_path / "more.csv", tmp_path / "rates.csv"
    people.write_text("person,name,number,site\nP9,Ode Vance,2299,Mill\n")
    rates.write_text(
        "person,valid_from,amount,plan,covers_hours\nP1,2026-01-01,800,salary_fixed,40\n"
        "P9,2026-01-01,900,salary_fluctuating,\nP2,2026-01-01,20,hourly,\n"
    )
    take_files(mill, [people, rates])
    if in_money:
        columns = (("Person", "person"), ("Pay", "total_pay"), ("Hours", "recorded_hours"))
        write_settings(mill.settings_file, replace(mill.settings, handoff_columns=columns))
    else:
        hours_alone = (
            ("Person", "person"),
            ("Week", "workweek"),
            ("Hours", "ordinary_hours"),
            ("Over", "overtime_hours"),
        )
        mine = mill.settings
        write_settings(mill.settings_file, replace(mine, handoff_columns=hours_alone))
        with pytest.raises(Refusal, match=r'of salary to 1 person \(add "base_pay"\)'):
            hand_off(mill, as_of=NOW, despite=True, author="Ada")
        write_settings(mill.settings_file, mine)
    made_file = hand_off(mill, as_of=NOW, despite=True, author="Ada")
    note = lines_of(made_file)
    absent = note.index("On a salary and without hours, so without a row; whether it is owed is payroll's to say:")
    assert note[absent + 1] == "  Ode Vance (P9)"
    told = "On a salary, which hours alone do not tell; columns of base_pay and overtime_premium would:"
    assert told not in note
    if not in_money:
        rows = list(csv.DictReader(made_file.csv.read_text(encoding="utf-8-sig").splitlines()))
        assert [row["Base pay"] for row in rows if row["Person"] == "P1"] == ["900.00"]  # 45 h, five of them beside it
    mill.close()


CHANGED_SITE = """
[site.Mill]
zone = "America/New_York"
workweek_starts = "Monday 00:00"

[[site.Mill.from]]
date = 2026-11-01
jurisdiction = "california"
workweek_starts = "Sunday 00:00"
"""


def test_the_note_names_the_rules_in_force_in_the_period(tmp_path: Path) -> None:
    # 29 CFR 778.104, 778.302: each workweek stands alone, under the rules with which it begins.
    mill = made(tmp_path)
    with mill.settings_file.open("a") as settings:
        settings.write(CHANGED_SITE)
    mill.close()
    mill = open_workspace(tmp_path / "mill")
    note = lines_of(hand_off(mill, as_of=NOW, despite=True, author="Ada"))
    after = note.index("Hours are paid under:")
    assert note[after + 1] == "  Mill: california, workweek from Sunday 00:00 America/New_York, times not rounded"
    assert not [line for line in note if "us_federal" in line]
    mill.close()


def test_a_period_is_refused_in_a_sentence_that_says_what_to_do(tmp_path: Path) -> None:
    mill = made(tmp_path)
    with pytest.raises(Refusal) as open_period:
        hand_off(mill, as_of=NOW, period_day=date(2026, 11, 9))
    assert str(open_period.value) == (
        "the period Sun 8 to Sat 14 Nov 2026 has not ended, the last workweek that begins in it ends on "
        "Sun 15 Nov 2026, 00:00 (America/New_York); hand it off after that."
    )
    with pytest.raises(Refusal) as by_nobody:
        hand_off(mill, as_of=NOW, author=" ", despite=True)
    assert str(by_nobody.value) == "a period is handed off by somebody; say who."
    with pytest.raises(Refusal) as blocked:
        hand_off(mill, as_of=NOW)
    [finding] = find_today(reckon_period(mill, NOW)).blockers
    assert str(blocked.value) == (
        f"1 finding keeps Sun 1 to Sat 7 Nov 2026 from payroll, the first: {finding.says} "
        "See `evenhand today --period 2026-11-01`; settle or correct them, or say that it is written despite them."
    )
    with pytest.raises(Refusal) as empty:
        hand_off(mill, as_of=NOW, period_day=date(2026, 10, 20), despite=True)
    assert str(empty.value) == ("nobody has hours in Sun 18 to Sat 24 Oct 2026; take that period's punch logs first.")


def digest_of(reckoning: Reckoning, today: Today, **changed: Any) -> str:
    return handoff._digest(replace(reckoning.snapshot, **changed), today)


def test_the_digest_covers_what_the_hours_rest_on_and_nothing_else(mill: Workspace) -> None:
    reckoning = reckon_period(mill, NOW)
    today, of = find_today(reckoning), reckoning.snapshot
    stands = digest_of(reckoning, today)
    correction = {"correction": 1, "action": "add", "punch": None, "at": 1, "direction": "in"}
    said = {"author": "Ada", "reason": "seen", "made_at": 1}
    earned = {"earned_from": date(2026, 11, 2), "earned_to": date(2026, 11, 3), "kind": "bonus", "amount": "5.00"}
    rate = {"valid_from": date(2026, 1, 1), "reader": "", "pay_rate": "9.00"}

    def one(table: pl.DataFrame, **row: Any) -> pl.DataFrame:
        return pl.DataFrame([{name: row.get(name) for name in table.columns}], schema=table.schema, strict=False)

    def with_row(name: str, **row: Any) -> str:
        return digest_of(reckoning, today, **{name: one(getattr(of, name), **row)})

    for name, row in (("corrections", {**correction, **said}), ("earnings", earned), ("rates", rate)):
        assert with_row(name, person="P1", **row) != stands, name
        # P9 has no hours in the period
        assert with_row(name, person="P9", **row) == stands, name
    late = earned | {"earned_from": date(2026, 11, 8), "earned_to": date(2026, 11, 9)}
    assert with_row("earnings", person="P1", **late) == stands
    last = earned | {"earned_from": date(2026, 11, 7), "earned_to": date(2026, 11, 7)}
    assert with_row("earnings", person="P1", **last) != stands
    assert digest_of(reckoning, today, settings_text=of.settings_text + " ") != stands
    renamed = today.people.with_columns(name=pl.when(pl.col("person") == "P1").then(pl.lit("Ida")).otherwise("name"))
    assert digest_of(reckoning, replace(today, people=renamed)) != stands
    stranger = today.people.with_columns(person=pl.lit("P9")).head(1)
    assert digest_of(reckoning, replace(today, people=pl.concat([today.people, stranger]))) == stands


def test_each_punch_that_hours_or_a_question_rest_on_is_in_the_digest(mill: Workspace) -> None:
    reckoning = reckon_period(mill, NOW)
    today = find_today(reckoning)
    stands, hours = digest_of(reckoning, today), today.hours
    [asked] = hours.questions["punch"].to_list()
    in_week = hours.classed.filter(pl.col("person") == "P1")
    used = {asked, in_week["punch_in"][0], in_week["punch_out"][-1]}
    for punch in hours.attributed["punch"]:
        moved = hours.attributed.with_columns(
            at=pl.when(pl.col("punch") == punch).then(pl.col("at") + 1).otherwise("at")
        )
        changed = digest_of(reckoning, replace(today, hours=replace(hours, attributed=moved)))
        if punch in used:
            assert changed != stands
    beyond = hours.attributed.head(1).with_columns(punch=pl.lit(999_999, pl.Int64))
    more = pl.concat([hours.attributed, beyond])
    assert digest_of(reckoning, replace(today, hours=replace(hours, attributed=more))) == stands


def test_an_empty_sample_is_refused_and_not_compared(mill: Workspace) -> None:
    with pytest.raises(Refusal, match=r"^sample\.csv is empty; give a sample with a header"):
        check_sample(reckon_period(mill, NOW).snapshot, "sample.csv", b"\r\n")
