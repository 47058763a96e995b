"""A confirmed stray is asked again when the roster says otherwise; nobody is given their own instants unasked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import polars as pl
import pytest

from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.stray_decisions import confirm_above, confirm_stray
from evenhand.jobs.take import take_files
from evenhand.jobs.today import find_today
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.terms.records import Refusal
from tests.jobs.asked import decide, find_strays, person_hours, preview_confirmation
from tests.jobs.test_strays import AS_OF, SAID, taken
from tests.jobs.workplaces import made

WEEK = date(2026, 11, 1)
STRAY = "GATE/4281"


@pytest.fixture
def mill(tmp_path: Path) -> Iterator[Workspace]:
    opened = taken(tmp_path)
    yield opened
    opened.close()


def take(mill: Workspace, folder: Path, name: str, text: str) -> None:
    (folder / name).write_text(text)
    take_files(mill, [folder / name])


def asked(mill: Workspace) -> list[str]:
    found = find_today(reckon_period(mill, AS_OF)).findings
    return [one.subject for one in found if one.code == "attribution_overtaken"]


def whose(mill: Workspace) -> set[str]:
    attributed = reckon_period(mill, AS_OF).attribution.attributed
    with mill.store.reading() as conn:
        punches = frames.recorded(conn).filter(pl.col("number") == "4281")["punch"]
    return set(attributed.filter(pl.col("punch").is_in(punches.implode()))["person"])


NEW = "person,name,number,site,hired_on\nP30,Nia Comer,4281,Mill,2020-01-01\n"


@pytest.mark.parametrize("again", ["P1", "P30"])
def test_a_roster_that_gives_the_number_to_another_asks_again_until_somebody_answers(
    mill: Workspace, tmp_path: Path, again: str
) -> None:
    decide(confirm_stray, mill, STRAY, "P1", **SAID)
    with mill.store.reading() as conn:
        assert set(frames.corrections(conn)["holder"]) == {""}  # nobody's number then
    assert asked(mill) == []
    take(mill, tmp_path, "new.csv", NEW)
    assert asked(mill) == [f"{STRAY}/P1/P30"]
    assert whose(mill) == {"P1"}  # nothing moves by itself
    [decided] = find_strays(mill, AS_OF).decided
    assert (decided.person, decided.holder, decided.holder_name) == ("P1", "P30", "Nia Comer")
    seen = preview_confirmation(mill, STRAY, again, as_of=AS_OF)
    assert {one.person for one in seen.periods} == (set() if again == "P1" else {"P1", "P30"})
    decide(confirm_stray, mill, STRAY, again, **SAID)
    assert whose(mill) == {again}
    assert asked(mill) == []
    assert [one.holder for one in find_strays(mill, AS_OF).decided] == [""]


def test_a_number_that_is_given_to_whoever_has_the_punches_asks_nothing(mill: Workspace, tmp_path: Path) -> None:
    decide(confirm_stray, mill, STRAY, "P1", **SAID)
    take(mill, tmp_path, "new.csv", "person,name,number,site,hired_on\nP1,Ida Marlow,4281,Mill,2020-01-01\n")
    assert asked(mill) == []


def test_whoever_has_punches_at_the_same_instants_is_given_none_unasked(mill: Workspace, tmp_path: Path) -> None:
    take(mill, tmp_path, "own.csv", "reader,number,at,direction\nGATE,4821,2026-11-02 07:56:00,in\n")
    seen = preview_confirmation(mill, STRAY, "P1", as_of=AS_OF)
    assert len(seen.same_times) == 1
    assert any("beside that at" in says for says in seen.warnings)
    with pytest.raises(Refusal, match="Ida Marlow has 1 punch of their own at the same instants as GATE/4281"):
        decide(confirm_stray, mill, STRAY, "P1", **SAID)
    assert STRAY not in {one.stray for one in decide(confirm_above, mill, 0.8, **SAID)}
    decide(confirm_stray, mill, STRAY, "P1", **SAID, same_times=True)
    assert whose(mill) == {"P1"}


def test_a_confirmation_tells_time_and_pay_by_period_as_it_then_is(mill: Workspace) -> None:
    seen = preview_confirmation(mill, STRAY, "P1", as_of=AS_OF)
    [one] = seen.periods
    before = person_hours(mill, "P1", WEEK, WEEK).weeks["ordinary_s"].sum()
    decide(confirm_stray, mill, STRAY, "P1", **SAID)
    after = person_hours(mill, "P1", WEEK, WEEK).weeks
    assert (one.before.ordinary_s, one.after.ordinary_s) == (before, after["ordinary_s"].sum())
    assert one.after.overtime_s == after["overtime_s"].sum()
    assert (one.first, one.file) == (WEEK, None)
    assert replace(one, before=one.after).before == one.after


def test_the_last_night_of_a_leaver_is_paid_to_its_end(tmp_path: Path) -> None:
    night = ["GATE,2290,2026-11-05 22:00:00,in", "GATE,2290,2026-11-06 06:00:00,out"]
    mill = made(tmp_path, ["reader,number,at,direction", *night])
    take(mill, tmp_path, "left.csv", "person,name,number,site,left_on\nP3,Lena Fisk,2290,Mill,2026-11-05\n")
    reckoning = reckon_period(mill, AS_OF)
    assert reckoning.attribution.unattributed.is_empty()
    assert reckoning.hours.weeks.filter(pl.col("person") == "P3")["ordinary_s"].to_list() == [8 * 3600]
    # and at 17.00 an hour, though the person is employed no longer on the day on which six of them lie
    assert [str(one) for one in reckoning.pay_between(WEEK, WEEK).weeks["total_pay"]] == ["136.0000"]
    mill.close()
