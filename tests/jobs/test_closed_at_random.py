"""Over random sequences of hand-offs, late changes, replacements and adjustments, payroll is told what is owed.

What files in force told, as it stands in the files themselves and not in our own ledger, adds up at the end to what a
workspace that never handed anything off before owes for the same periods: in seconds and cents, and in hours as
printed, each total of which is rounded once.
"""

from __future__ import annotations

import csv
import os
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from random import Random
from typing import Any

import polars as pl
import pytest

from evenhand.jobs import closed
from evenhand.jobs.closed import adjust, closed_periods
from evenhand.jobs.correct import CorrectionRequest
from evenhand.jobs.handoff import hand_off
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.take import take_files
from evenhand.jobs.takes import take_back
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.handed_off import in_force
from evenhand.store.settings import write_settings
from evenhand.terms.columns import Frame
from evenhand.terms.handed_off import HANDED_OFF_LINES
from tests.jobs.asked import civil_instant, correct
from tests.jobs.test_closed import FIRST, PEOPLE, SECOND, THIRD, _make
from tests.jobs.workplaces import copied

NOW = datetime(2026, 11, 24, 14, tzinfo=UTC)
PERIODS = (FIRST, SECOND, THIRD)
COLUMNS = (
    *(("Person", "person"), ("Week", "workweek"), ("Ordinary", "ordinary_seconds"), ("Over", "overtime_seconds")),
    *(
        ("Printed", "ordinary_hours"),
        ("Over printed", "overtime_hours"),
        ("Paid", "paid_hours"),
        ("Base", "base_pay"),
        ("Premium", "overtime_premium"),
    ),
    *(("Bonus", "earned_bonus"), ("Reopened", "reopened_pay"), ("Pay", "total_pay")),
)
FIGURES = ("Ordinary", "Over", "Printed", "Over printed", "Paid", "Pay")
Told = dict[tuple[str, str], tuple[Any, ...]]


class Sequence:
    """One workspace, and what was done to it, counted by kind."""

    def __init__(self, mill: Workspace, rng: Random) -> None:
        self.mill, self.rng, self.met = mill, rng, Counter[str]()
        self.takes: list[int] = []

    def step(self) -> None:
        """Do one thing at random; what cannot be done now is not."""
        changing = (self.late_log, self.correction, self.rate, self.bonus, self.roster, self.back)
        deed = self.rng.choice(
            [*changing, self.hand, self.replace, self.replace, self.adjust, self.adjust, self.adjust]
        )
        deed()

    def late_log(self) -> None:
        day = self.rng.choice(PERIODS) + timedelta(days=self.rng.choice([0, 6]))
        begins, number = self.rng.randrange(8, 14), self.rng.choice(["0042", "7315"])
        minutes, seconds = self.rng.randrange(60), self.rng.randrange(60)
        name = f"late-{len(self.takes)}-{self.rng.randrange(10**9)}.csv"
        rows = f"reader,number,at,direction\nGATE,{number},{day} {begins:02d}:00:00,in\n"
        self._take("late log", name, rows + f"GATE,{number},{day} {begins + 3:02d}:{minutes:02d}:{seconds:02d},out\n")

    def rate(self) -> None:
        person, first = self.rng.choice(["P1", "P2"]), self.rng.choice(PERIODS)
        self._take("rate", "rates.csv", f"person,valid_from,amount\n{person},{first},{self.rng.randrange(15, 40)}\n")

    def bonus(self) -> None:
        first = self.rng.choice(PERIODS)
        last = first + timedelta(days=self.rng.choice([6, 13]))
        person, amount = self.rng.choice(["P1", "P2"]), self.rng.randrange(10, 99)
        row = f"{person},{first},{min(last, date(2026, 11, 21))},bonus,{amount}"
        self._take("bonus", "bonus.csv", f"person,earned_from,earned_to,kind,amount\n{row}\n")

    def bonus_of(self, first: date) -> None:
        """Have P1 earn a bonus in one week."""
        row = f"P1,{first},{first + timedelta(days=6)},bonus,50"
        self._take("bonus", "bonus.csv", f"person,earned_from,earned_to,kind,amount\n{row}\n")

    def roster(self) -> None:
        self._take("roster", "people.csv", PEOPLE.replace("7315", self.rng.choice(["7315", "7399"])))

    def back(self) -> None:
        if self.takes:
            take_back(self.mill, self.takes.pop(), author="Ada", reason="a mistake", as_of=NOW)
            self.met["take-back"] += 1

    def correction(self) -> None:
        day = self.rng.choice(PERIODS) + timedelta(days=self.rng.randrange(1, 6))
        at = civil_instant(self.mill, "P1", f"{day}T{self.rng.randrange(17, 20)}:{self.rng.randrange(60):02d}")
        for direction, when in (("in", at), ("out", at + timedelta(minutes=self.rng.randrange(5, 50)))):
            asked = CorrectionRequest("add", "P1", "Ada", "stayed", at=when, direction=direction)
            correct(self.mill, asked, as_of=NOW)
        self.met["correction"] += 1

    def hand(self, most: int = 2) -> None:
        done = set(self._files()["first_day"])
        if left := [one for one in PERIODS[:most] if one not in done]:
            hand_off(
                self.mill,
                reckon_period(self.mill, NOW, left[0]),
                as_of=NOW,
                period_day=left[0],
                author="Ada",
                despite=True,
            )
            self.met["hand-off"] += 1

    def replace(self, day: date | None = None) -> None:
        if done := self._files()["first_day"].to_list():
            self._replace(day or self.rng.choice(done))
            self.met["replacement"] += 1

    def adjust(self) -> None:
        reckoning = reckon_period(self.mill, NOW)
        for one in closed_periods(reckoning):
            if one.changes.height:
                people = sorted(set(one.changes["person"]))
                some = self.rng.sample(people, self.rng.randrange(1, len(people) + 1))
                adjust(self.mill, reckoning, one.first, people=some, author="Ada", reason="so", as_of=NOW)
                self.met["adjustment"] += 1
                self.met["reverted change"] += (one.changes["seconds_after"] < one.changes["seconds_before"]).any()
                return

    def finish(self) -> None:
        """Hand off what is left; the last file carries all that has changed and waits."""
        for _ in range(2):
            self.hand()
        for first in PERIODS[:2]:
            reckoning = reckon_period(self.mill, NOW)
            if any(one.first == first and one.changes.height for one in closed_periods(reckoning)):
                adjust(self.mill, reckoning, first, author="Ada", reason="so", as_of=NOW)
        self.hand(most=3)

    def _replace(self, day: date) -> None:
        reckoning = reckon_period(self.mill, NOW, day)
        of_week = reckoning.snapshot.handed_off_lines.filter(pl.col("workweek") == day)
        self.met["replacement of what was adjusted"] += of_week["carrier"].count() > 0
        why = f"so {self.met['replacement']}"  # the same file again for the same reason is refused
        hand_off(self.mill, reckoning, as_of=NOW, period_day=day, author="Ada", despite=True, replace_why=why)

    def _take(self, kind: str, name: str, text: str) -> None:
        file = self.mill.directory.parent / name
        file.write_text(text)
        [receipt] = take_files(self.mill, [file])
        if kind in ("late log", "bonus") and receipt.taken:
            self.takes.append(receipt.take)
        self.met[kind] += 1

    def _files(self) -> Frame:
        with self.mill.store.reading() as conn:
            return in_force(frames.handoffs(conn))

    def told(self) -> Told:
        """Return what the files in force say, added up by person and week; read from the files alone."""
        sums: Told = {}
        for name in self._files()["file"]:
            for row in csv.DictReader((self.mill.handoff / name).read_text(encoding="utf-8-sig").splitlines()):
                figures = tuple(Decimal(row[column] or 0) for column in FIGURES)
                before = sums.get((row["Person"], row["Week"]), (Decimal(0),) * len(FIGURES))
                sums[row["Person"], row["Week"]] = tuple(a + b for a, b in zip(before, figures, strict=True))
        return {key: figures for key, figures in sums.items() if any(figures)}

    def owed(self) -> Told:
        """Return what is owed at the end, from hours and pay themselves."""
        reckoning = reckon_period(self.mill, NOW)
        found: Told = {}
        for first in PERIODS:
            last = first + timedelta(days=6)
            hours, paid = reckoning.hours_between(first, last), reckoning.pay_between(first, last)
            spent = {(row["person"], str(row["workweek"])): row for row in hours.weeks.iter_rows(named=True)}
            pays = {(row["person"], str(row["workweek"])): row["total_pay"] for row in paid.weeks.iter_rows(named=True)}
            for key in spent.keys() | pays.keys():
                week = spent.get(key, {"ordinary_s": 0, "overtime_s": 0})
                ordinary, overtime = Decimal(week["ordinary_s"]), Decimal(week["overtime_s"])
                hours = (
                    (seconds / 3600).quantize(Decimal("0.01"), "ROUND_HALF_UP")
                    for seconds in (ordinary, overtime, ordinary + overtime)
                )
                figures = (ordinary, overtime, *hours, pays.get(key, Decimal(0)))
                found[key] = figures
        return {key: figures for key, figures in found.items() if any(figures)}

    def is_right(self) -> bool:
        """Whether what was told is what is owed; of a week whose pay is not known, in time."""
        told, owed = self.told(), self.owed()
        for key, figures in owed.items():
            if figures[-1] is None:
                self.met["pay not known"] += 1
                owed[key], told[key] = figures[:-1], told.get(key, (Decimal(0),) * len(FIGURES))[:-1]
        return told == owed


def run(folder: Path, seed: int, steps: int = 14) -> Sequence:
    """Return a sequence that has come to its end; without steps, one of two periods handed off and nothing changed."""
    folder.mkdir()
    mill = copied(folder, "closed-mill", _make)
    write_settings(mill.settings_file, replace(mill.settings, handoff_columns=COLUMNS))
    one = Sequence(mill, Random(seed))
    one.hand()
    for _ in range(steps):
        one.step()
    if steps:
        one.finish()
    else:
        one.hand()
    return one


SEEDS = range(int(os.environ.get("SEQUENCES", "3")))
KINDS = ("late log", "correction", "rate", "bonus", "roster", "take-back", "hand-off", "replacement", "adjustment")


def test_what_files_in_force_tell_is_what_is_owed_at_the_end(tmp_path: Path) -> None:
    met = Counter[str]()
    for seed in SEEDS:
        one = run(tmp_path / str(seed), seed)
        assert one.is_right(), f"seed {seed}: {dict(one.met)}"
        assert not any(period.changes.height for period in closed_periods(reckon_period(one.mill, NOW)))
        one.mill.close()
        met += one.met
    print(dict(met))
    assert [kind for kind in KINDS if not met[kind]] == [], dict(met)


def _nothing_beside(*given: object, **named: object) -> object:
    return HANDED_OFF_LINES.empty()


@pytest.mark.parametrize(
    "fault", ["what other files told is forgotten", "an adjustment is decided and never carried", "carried twice"]
)
def test_a_planted_fault_is_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fault: str) -> None:
    from evenhand.jobs import handoff

    if fault == "what other files told is forgotten":
        monkeypatch.setattr(handoff, "told_of", _nothing_beside)
    real: Callable[..., object] = closed.pending
    if fault == "an adjustment is decided and never carried":
        monkeypatch.setattr(handoff, "pending", lambda reckoning, day: real(reckoning, date.min))
    if fault == "carried twice":
        monkeypatch.setattr(
            handoff,
            "_carried",
            lambda reckoning, before, first: reckoning.snapshot.handed_off_lines.filter(
                closed.pl.col("adjustment").is_not_null()
            ),
        )

    is_replaced = fault != "an adjustment is decided and never carried"  # which a file that replaces would tell itself
    assert _adjusted(tmp_path / "fault", is_replaced=is_replaced).is_right() is False


@pytest.mark.parametrize("is_replaced", [False, True])
def test_without_a_fault_the_same_is_right(tmp_path: Path, is_replaced: bool) -> None:
    assert _adjusted(tmp_path / "none", is_replaced=is_replaced).is_right()


def _adjusted(folder: Path, *, is_replaced: bool) -> Sequence:
    """Return a sequence in which a file carries an adjustment; then both periods' files may be replaced."""
    one = run(folder, 0, steps=0)
    one.bonus_of(SECOND)
    one.adjust()
    one.hand(most=3)
    if is_replaced:
        one.replace(SECOND)
        one.replace(THIRD)
    return one
