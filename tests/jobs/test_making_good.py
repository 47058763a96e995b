"""Several closed periods are made good at once, each in its own way; a refusal says what was done before it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from evenhand.jobs.closed import Adjusted, list_closed
from evenhand.jobs.handoff import HandedOff
from evenhand.jobs.making_good import ChangeMadeGood, make_good
from evenhand.jobs.reckoning import Reckoning, reckon_period
from evenhand.jobs.workspace import Workspace
from evenhand.terms.records import Refusal
from tests.jobs import test_closed
from tests.jobs.test_closed import FIRST, LATER, SECOND, changed, handed, log, take
from tests.jobs.workplaces import copied


@pytest.fixture
def mill(tmp_path: Path) -> Workspace:
    """A mill of which two periods were handed off, and whose P1 worked a Saturday in each that came late."""
    mill = copied(tmp_path, "closed-mill", test_closed._make)
    for day in (FIRST, SECOND):
        handed(mill, day)
    take(mill, "late.csv", log([date(2026, 11, 7), date(2026, 11, 14)], ["0042"], ends="12:00:00"))
    return mill


def made(mill: Workspace, *asked: ChangeMadeGood) -> list[HandedOff | Adjusted]:
    def reckon() -> Reckoning:
        return reckon_period(mill, LATER)

    return make_good(mill, reckon, asked, author="Ada", reason="the log came late", as_of=LATER)


def seen(mill: Workspace) -> dict[date, str]:
    return {one.first: one.seen for one in list_closed(reckon_period(mill, LATER))}


def test_two_periods_are_made_good_in_one_go_each_in_its_way(mill: Workspace) -> None:
    of = seen(mill)
    first, second = (
        ChangeMadeGood(FIRST, "adjust", of[FIRST]),
        ChangeMadeGood(SECOND, "replace", of[SECOND], despite=True),
    )
    replaced, carried = made(mill, first, second)  # the file is written first
    assert isinstance(replaced, HandedOff)
    assert isinstance(carried, Adjusted)
    assert (replaced.first, carried.first, carried.seconds) == (SECOND, FIRST, 4 * 3600)
    assert changed(mill) == {FIRST: [], SECOND: []}


def test_none_is_made_good_where_one_has_changed_since_it_was_shown(mill: Workspace) -> None:
    before = changed(mill)
    stale = ChangeMadeGood(SECOND, "adjust", "000000000000")
    with pytest.raises(Refusal, match="has changed again since this was shown"):
        made(mill, ChangeMadeGood(FIRST, "adjust", seen(mill)[FIRST]), stale)
    assert changed(mill) == before


def test_a_refusal_that_comes_later_says_what_was_made_good_before_it(mill: Workspace) -> None:
    of = seen(mill)
    nobody = ChangeMadeGood(SECOND, "adjust", of[SECOND], people=["P2"])  # of whom nothing has changed
    with pytest.raises(Refusal) as refused:
        made(mill, nobody, ChangeMadeGood(FIRST, "adjust", of[FIRST]))
    assert str(refused.value).startswith("Sun 1 to Sat 7 Nov 2026 was made good; then: nothing has changed in")
    assert [bool(changes) for changes in changed(mill).values()] == [False, True]
