"""One snapshot and one reckoning: read once, worked out once, and after a decision the same as from nothing."""

from __future__ import annotations

import gc
import weakref
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import polars as pl
import pytest
import sqlalchemy as sa
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from evenhand.jobs.correct import CorrectionRequest, correct
from evenhand.jobs.demo import demonstrate
from evenhand.jobs.following import hours_after
from evenhand.jobs.hands import find_hands
from evenhand.jobs.reckoning import Reckoning, reckon_period, renewed
from evenhand.jobs.score_watch import watch_of
from evenhand.jobs.snapshot import take_snapshot
from evenhand.jobs.strays import find_strays
from evenhand.jobs.take import take_files
from evenhand.jobs.today import find_standing, find_today
from evenhand.jobs.workspace import Workspace, open_workspace
from evenhand.store import decisions
from evenhand.store.settings import write_settings
from evenhand.terms.columns import Frame
from evenhand.terms.settings import Settings
from evenhand.terms.sources import SCHEDULES
from evenhand.terms.wages import EARNINGS, RATES
from tests.jobs.workplaces import made

NOW = datetime(2026, 11, 9, 15, tzinfo=UTC)
ADDED: dict[str, Any] = {
    "action": "add",
    "person": "P3",
    "at": int(datetime(2026, 11, 4, 21, tzinfo=UTC).timestamp()),
    "direction": "out",
    "author": "a",
    "reason": "r",
    "made_at": int(NOW.timestamp()),
}
ADD_OUT = CorrectionRequest("add", "P3", "a", "r", at=datetime(2026, 11, 4, 21, tzinfo=UTC), direction="out")
FRAMES = ("classed", "weeks", "questions", "premiums", "differentials")


@pytest.fixture
def mill(tmp_path: Path) -> Iterator[Workspace]:
    opened = made(tmp_path)
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def twin(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Workspace, Reckoning]]:
    shown = demonstrate(tmp_path_factory.mktemp("twin") / "demo", 1)
    opened = open_workspace(shown.workspace)
    reckoning = reckon_period(opened, shown.today.as_of)
    find_today(reckoning)
    yield opened, reckoning
    opened.close()


def alike(one: Frame, other: Frame) -> bool:
    """Whether two frames hold the same rows; a shift's running number counts within a run and is left aside."""
    names = [name for name in one.columns if name != "shift"]
    return one.select(names).sort(names).equals(other.select(names).sort(names))


def assert_same(followed: Reckoning, fresh: Reckoning) -> None:
    period = fresh.period()
    assert alike(followed.attribution.attributed, fresh.attribution.attributed)
    assert alike(followed.attribution.unattributed, fresh.attribution.unattributed)
    for name in FRAMES:
        assert alike(getattr(followed.hours, name), getattr(fresh.hours, name)), name
    span = period.first, period.last
    assert alike(followed.pay_between(*span).weeks, fresh.pay_between(*span).weeks)
    standing, anew = find_standing(followed, period), find_standing(fresh, period)
    assert alike(standing.discrepancies, anew.discrepancies)
    assert alike(standing.steps, anew.steps)
    assert find_today(followed).findings == find_today(fresh).findings
    assert find_strays(followed).proposals == find_strays(fresh).proposals


def rows_of(reckoning: Reckoning, chosen: list[tuple[str, int, int]]) -> list[dict[str, Any]]:
    """Corrections of every kind, at the punches and people that the numbers choose."""
    of, made_at = reckoning.snapshot, int(reckoning.as_of.timestamp())
    punches, people = of.recorded["punch"].to_list(), of.people["person"].to_list()
    owners = dict(reckoning.attribution.attributed.select("punch", "person").iter_rows())
    rows = []
    for action, which, whose in chosen:
        punch, person = punches[which % len(punches)], people[whose % len(people)]
        row: dict[str, Any] = {"action": action, "author": "a", "reason": "r", "made_at": made_at, "person": person}
        if action == "add":
            row |= {"at": made_at - 86_400 - which, "direction": ("in", "out", None)[whose % 3]}
        elif action == "attribute":
            row |= {"punch": punch, "person": person if whose % 4 else ""}
        else:
            row |= {"punch": punch, "person": owners.get(punch, person)}
            row |= {"direction": ("in", "out")[whose % 2]} if action == "direct" else {}
        rows.append(row)
    return rows


ACTIONS = st.sampled_from(["add", "leave_out", "direct", "attribute"])
CHOICES = st.lists(st.tuples(ACTIONS, st.integers(0, 200_000), st.integers(0, 5_000)), min_size=1, max_size=6)


@given(st.lists(CHOICES, min_size=1, max_size=2))
@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_after_corrections_everything_is_as_if_worked_out_from_nothing(
    twin: tuple[Workspace, Reckoning], batches: list[list[tuple[str, int, int]]]
) -> None:
    _, reckoning = twin
    followed = reckoning
    for chosen in batches:
        followed = followed.with_corrections(rows_of(reckoning, chosen))
        followed.hours  # noqa: B018  (worked out, so that the next one starts from it)
    assert_same(followed, Reckoning(followed.snapshot, followed.as_of))


def test_a_bonus_that_comes_with_a_correction_reaches_also_those_whom_nobody_corrected(
    twin: tuple[Workspace, Reckoning],
) -> None:
    _, reckoning = twin
    period = reckoning.period()
    span = period.first, period.last
    paid = reckoning.pay_between(*span).weeks.filter(pl.col("total_pay").is_not_null())
    corrected, other = paid["person"].unique(maintain_order=True)[:2]
    bonus = {"person": other, "earned_from": period.first, "earned_to": period.last, "kind": "bonus", "amount": 90}
    earned = EARNINGS.rows([bonus | {"label": "full week"}])
    both = reckoning.snapshot.with_corrections([ADDED | {"person": corrected, "at": int(NOW.timestamp()) - 9 * 86_400}])
    both = replace(both, earnings=pl.concat([both.earnings, earned]))
    followed, fresh = reckoning.following(both, reckoning.as_of), Reckoning(both, reckoning.as_of)
    assert alike(followed.pay_between(*span).weeks, fresh.pay_between(*span).weeks)
    mine = pl.col("person") == other
    assert not alike(followed.pay_between(*span).weeks.filter(mine), reckoning.pay_between(*span).weeks.filter(mine))


SHIFT = {"person": "P1", "starts_at": ADDED["at"] - 86_400, "ends_at": ADDED["at"] - 50_000}
RATE = {"person": "P2", "valid_from": date(2026, 1, 1), "plan": "hourly", "amount": 40}
BONUS = {"person": "P2", "earned_from": date(2026, 11, 1), "earned_to": date(2026, 11, 7), "kind": "bonus"}
TAKEN: dict[str, Frame] = {
    "schedules": SCHEDULES.rows([SHIFT]),
    "rates": RATES.rows([RATE]),
    "earnings": EARNINGS.rows([BONUS | {"amount": 90, "label": "full week"}]),
}


@pytest.mark.parametrize("corrected", [False, True])
@pytest.mark.parametrize(
    "name", ["people", "readers", "enrolments", "recorded", *TAKEN, "first", "settings", "as_of", "day"]
)
def test_whatever_changes_beside_a_correction_or_alone_everything_is_as_if_worked_out_from_nothing(
    mill: Workspace, name: str, *, corrected: bool
) -> None:
    before = reckon_period(mill, NOW)
    find_today(before)
    # once with a correction that nobody asked after, so that parts wait to be brought up to date
    before = before.with_corrections([ADDED | {"at": ADDED["at"] - 7_200, "direction": "in"}])
    of, as_of = before.snapshot, NOW
    if name in TAKEN:
        of = replace(of, **{name: TAKEN[name]})
    elif name == "first":
        of = replace(of, first=of.first + timedelta(days=7))
    elif name == "settings":
        policy = replace(of.settings.policy, meal_s=45 * 60)
        of = replace(of, settings=replace(of.settings, policy=policy))
    elif name in ("as_of", "day"):
        as_of += timedelta(minutes=15) if name == "as_of" else timedelta(days=1)
    else:
        of = replace(of, **{name: getattr(of, name).slice(1)})
    of = of.with_corrections([ADDED]) if corrected else of
    assert_same(before.following(of, as_of), Reckoning(of, as_of))


def test_an_added_punch_that_is_left_out_again_is_gone(mill: Workspace) -> None:
    before = reckon_period(mill, NOW)
    find_today(before)
    said = {"author": "a", "reason": "r", "made_at": int(NOW.timestamp()), "person": "P3"}
    at = int(datetime(2026, 11, 4, 21, tzinfo=UTC).timestamp())
    added = before.with_corrections([{**said, "action": "add", "at": at, "direction": "out"}])
    assert added.hours.weeks.filter(pl.col("person") == "P3")["questions"].to_list() == [0]
    taken_back = added.with_corrections([{**said, "action": "leave_out", "punch": -1}])
    assert alike(taken_back.hours.weeks, before.hours.weeks)
    assert_same(taken_back, Reckoning(taken_back.snapshot, NOW))


def test_a_correction_made_as_it_was_foreseen_is_not_worked_out_again(mill: Workspace) -> None:
    before = reckon_period(mill, NOW)
    find_today(before)
    made_so = correct(mill, before, ADD_OUT, as_of=NOW)
    foreseen = made_so.after.person_hours("P3")
    now = renewed(mill, made_so.after)
    assert now.person_hours("P3") is foreseen
    assert now.snapshot.corrections.height == 1
    assert_same(now, reckon_period(mill, NOW))


def test_a_correction_made_after_another_that_nobody_foresaw_is_worked_out_with_it(mill: Workspace) -> None:
    before = reckon_period(mill, NOW)
    find_today(before)
    for_another = replace(ADD_OUT, person="P1", at=datetime(2026, 11, 5, 23, tzinfo=UTC))
    correct(mill, before, for_another, as_of=NOW)
    made_so = correct(mill, before, ADD_OUT, as_of=NOW)  # foreseen as the first correction, and the second
    assert made_so.number == 2
    assert_same(renewed(mill, made_so.after), reckon_period(mill, NOW))


def test_one_today_reads_the_store_in_one_transaction_and_attributes_once(
    mill: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    from evenhand import law, reconcile

    begun: list[sa.Connection] = []
    sa.event.listen(mill.store.engine, "begin", begun.append)
    counted: dict[str, int] = {}
    for module, name in ((reconcile, "attribute"), (law, "compute_hours"), (reconcile, "compare")):
        original = getattr(module, name)

        def counting(*args: Any, _name: str = name, _original: Any = original, **given: Any) -> Any:
            counted[_name] = counted.get(_name, 0) + 1
            return _original(*args, **given)

        monkeypatch.setattr(module, name, counting)
    reckoning = reckon_period(mill, NOW)
    find_today(reckoning)
    find_today(reckoning)
    find_strays(reckoning)
    assert len(begun) <= 1
    assert counted == {"attribute": 1, "compute_hours": 1, "compare": 1}


def test_a_decision_reads_again_only_what_it_changed(mill: Workspace) -> None:
    first = reckon_period(mill, NOW)
    find_today(first)
    with mill.store.writing() as conn:
        decisions.add_settled(conn, finding="missing_punch/P3/2026-11-04", author="a", reason="r", made_at=1)
    after = renewed(mill, first)
    assert after.snapshot.recorded is first.snapshot.recorded
    assert after.snapshot.people is first.snapshot.people
    assert after.snapshot.settled.height == 1
    assert after.hours is first.hours
    assert not find_today(after).blockers
    assert renewed(mill, after) is after


def test_a_take_is_seen_whole(mill: Workspace, tmp_path: Path) -> None:
    first = reckon_period(mill, NOW)
    find_today(first)
    more = tmp_path / "more.csv"
    more.write_text("reader,number,at,direction\nGATE,2290,2026-11-04 16:30:00,out\n")
    take_files(mill, [more])
    after = renewed(mill, first)
    assert after.snapshot.recorded.height == first.snapshot.recorded.height + 1
    assert_same(after, reckon_period(mill, NOW))


def test_strays_hold_all_day_long(mill: Workspace, tmp_path: Path) -> None:
    late = tmp_path / "late.csv"
    late.write_text("reader,number,at,direction\nGATE,9034,2026-11-09 10:05:00,in\nGATE,9034,2026-11-09 10:10:00,out\n")
    take_files(mill, [late])
    first = reckon_period(mill, NOW)
    find_strays(first)
    later = NOW + timedelta(minutes=15)
    anew = find_strays(Reckoning(first.snapshot, later)).proposals
    assert "GATE/9034" in {one.stray for one in anew}
    assert find_strays(first.following(first.snapshot, later)).proposals == anew


def test_the_watch_looks_as_far_back_whatever_the_snapshot_holds(mill: Workspace, tmp_path: Path) -> None:
    old = tmp_path / "old.csv"
    old.write_text("reader,number,at,score\nGATE,2290,2026-05-10 12:00:00,31\nGATE,2290,2026-05-12 12:00:00,33\n")
    take_files(mill, [old])
    short = reckon_period(mill, NOW)  # 26 weeks before its day is 11 May
    long = Reckoning(take_snapshot(mill, date(2025, 1, 1)), NOW)
    assert long.snapshot.recorded.height == short.snapshot.recorded.height
    seen = [watch_of(reckoning).charts.presented for reckoning in (short, long)]
    assert seen[0].equals(seen[1])
    assert [score for score in seen[0]["score"] if score is not None] == [33]


def test_what_a_decision_has_overtaken_is_let_go_at_once(mill: Workspace) -> None:
    before = reckon_period(mill, NOW)
    find_today(before)
    find_strays(before)
    assert find_hands(before).findings is not None
    gone = weakref.ref(before)
    gc.disable()  # 300 MB may not wait until the collector of cycles comes by
    try:
        after = before.with_corrections([ADDED])
        del before
        assert gone() is None
    finally:
        gc.enable()
    assert after.hours.weeks.height


def test_a_decision_made_while_hours_are_brought_up_to_date_builds_on_the_same_hours(
    mill: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = reckon_period(mill, NOW)
    find_today(before)
    followed = before.with_corrections([ADDED])
    met: list[Reckoning] = []

    def meanwhile(*args: Any) -> Any:
        if not met:
            met.append(followed.with_corrections([{**ADDED, "at": ADDED["at"] + 60}]))
        return hours_after(*args)

    monkeypatch.setattr("evenhand.jobs.reckoning.hours_after", meanwhile)
    followed.hours  # noqa: B018  (asked for, so that the other decision comes in between)
    [later] = met
    fresh = Reckoning(later.snapshot, NOW).hours

    def everybody(*args: Any, **named: Any) -> Any:
        raise AssertionError("everybody's hours are worked out again")

    monkeypatch.setattr("evenhand.jobs.reckoning.compute_hours", everybody)
    assert alike(later.hours.weeks, fresh.weeks)


def test_changed_settings_bind_the_next_reckoning(mill: Workspace) -> None:
    first = reckon_period(mill, NOW)
    week = first.person_week("P1", date(2026, 11, 4))
    changed = mill.settings
    rules = first.snapshot.rules["Mill"]
    site = type(rules)("Mill", rules.zone, rounding_s=900)
    write_settings(mill.settings_file, Settings(changed.workplace, changed.period, sites={"Mill": site}))
    after = renewed(mill, first)
    assert week.rules.rounding_s == 0
    assert after.person_week("P1", date(2026, 11, 4)).rules.rounding_s == 900


def test_a_snapshot_that_reaches_less_far_gives_the_same_weeks(twin: tuple[Workspace, Reckoning]) -> None:
    workspace, whole = twin
    period = whole.period()
    narrow = Reckoning(take_snapshot(workspace, period.first, period.last), whole.as_of)
    for name in ("classed", "weeks", "questions", "premiums", "differentials"):
        one, other = (getattr(of.hours_between(period.first, period.last), name) for of in (narrow, whole))
        assert alike(one, other), name
