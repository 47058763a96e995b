"""What is worked out side by side is what one thing after another would give, and a refusal in it reaches who asked."""

from __future__ import annotations

from datetime import UTC, date, datetime
from threading import Barrier, get_ident
from typing import Any

import polars as pl
import pytest

from evenhand.jobs import hours, reckoning
from evenhand.jobs.cores import on_all_cores
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.today import find_today
from evenhand.jobs.workspace import Workspace
from evenhand.law import ordering
from evenhand.terms.records import Refusal
from tests.jobs.asked import hours_between

NOW, WEEK = datetime(2026, 11, 9, 15, tzinfo=UTC), date(2026, 11, 1)


@pytest.fixture
def two_cores(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pl, "thread_pool_size", lambda: 2)


@pytest.mark.usefixtures("two_cores")
def test_parts_are_worked_on_at_once_and_come_back_in_order() -> None:
    met = Barrier(2, timeout=20)  # broken, were the second part to wait for the first

    def work(part: int) -> tuple[int, int]:
        met.wait()
        return part * 10, get_ident()

    found = on_all_cores(work, range(4))
    assert [part for part, _ in found] == [0, 10, 20, 30]
    assert len({thread for _, thread in found}) == 2


@pytest.mark.usefixtures("two_cores")
def test_one_part_needs_no_thread_and_none_no_work() -> None:
    assert on_all_cores(lambda _: get_ident(), [1]) == [get_ident()]
    assert on_all_cores(lambda _: get_ident(), []) == []


@pytest.mark.usefixtures("two_cores")
def test_what_one_part_refuses_is_refused() -> None:
    def work(part: int) -> int:
        if part:
            raise Refusal("the second part cannot be.")
        return part

    with pytest.raises(Refusal, match="the second part cannot be"):
        on_all_cores(work, [0, 1])


@pytest.mark.usefixtures("two_cores")
def test_hours_are_the_same_however_people_are_parted(shared: Workspace, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = hours_between(shared, WEEK, WEEK)
    parted: list[int] = []

    def counted(work: Any, blocks: Any) -> list[Any]:
        blocks = list(blocks)
        parted.append(len(blocks))
        return on_all_cores(work, blocks)

    monkeypatch.setattr(ordering, "BLOCK_WEEKS", 1)
    monkeypatch.setattr(hours, "on_all_cores", counted)
    again = hours_between(shared, WEEK, WEEK)
    assert max(parted) > 1
    for name in hours.IN_WEEKS:
        assert getattr(again, name).drop("shift", strict=False).equals(getattr(whole, name).drop("shift", strict=False))


def test_today_is_the_same_with_its_parts_made_side_by_side(shared: Workspace, monkeypatch: pytest.MonkeyPatch) -> None:
    after_another = find_today(reckon_period(shared, NOW))
    made: list[int] = []

    def noted(*given: Any, **asked: Any) -> hours.WorkedHours:
        made.append(get_ident())
        return hours.compute_hours(*given, **asked)

    monkeypatch.setattr(reckoning, "MANY", 0)
    monkeypatch.setattr(reckoning, "compute_hours", noted)
    side_by_side = find_today(reckon_period(shared, NOW))
    assert side_by_side.findings == after_another.findings
    assert side_by_side.findings
    assert len(made) == 1  # two of the parts ask for everybody's hours
    assert made[0] != get_ident()


def test_what_a_part_of_today_refuses_is_refused(shared: Workspace, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*given: Any, **asked: Any) -> None:
        raise Refusal("these hours cannot be.")

    monkeypatch.setattr(reckoning, "MANY", 0)
    monkeypatch.setattr(reckoning, "compute_hours", refuse)
    with pytest.raises(Refusal, match="these hours cannot be"):
        find_today(reckon_period(shared, NOW))
