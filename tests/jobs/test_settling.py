"""Findings settled, opened again, and settled again: the last word counts, every word stays."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.settling import list_settled, open_again, settle
from evenhand.jobs.today import find_today
from evenhand.store import frames
from evenhand.terms.records import Refusal
from tests.jobs.asked import hand_off
from tests.jobs.workplaces import made

NOW = datetime(2026, 11, 9, 15, tzinfo=UTC)
KEY = "missing_punch/P3/2026-11-04"
BY = {"author": "Ada", "reason": "was ill"}


def test_a_finding_that_is_opened_again_blocks_pay_as_before(tmp_path: Path) -> None:
    mill = made(tmp_path)

    def blocking() -> list[str]:
        return [one.key for one in find_today(reckon_period(mill, NOW)).blockers]

    assert blocking() == [KEY]
    with pytest.raises(Refusal, match=f'^no finding "{KEY}" is settled; `evenhand settled` lists those that are.'):
        open_again(mill, KEY, **BY, as_of=NOW)
    said = settle(mill, reckon_period(mill, NOW), [KEY], **BY, as_of=NOW)[0].says
    assert blocking() == []
    with pytest.raises(Refusal, match=f'^"{KEY}" is settled already, by Ada: was ill; nothing was changed'):
        settle(mill, reckon_period(mill, NOW), [KEY], **BY, as_of=NOW)
    with pytest.raises(Refusal, match="give both"):
        open_again(mill, KEY, author="Zoe", reason=" ", as_of=NOW)
    opened = open_again(mill, KEY, author=" Zoe ", reason="came in after all", as_of=NOW)
    assert (opened.says, opened.is_settled, opened.title) == (said, False, "A punch is missing")
    assert blocking() == [KEY]
    with pytest.raises(Refusal, match="finding"):
        hand_off(mill, as_of=NOW)
    settle(mill, reckon_period(mill, NOW), [KEY], **BY, as_of=NOW)
    assert blocking() == []
    with mill.store.reading() as conn:
        assert frames.settled(conn)["is_withdrawn"].to_list() == [False, True, False]
    [listed], zone = list_settled(mill)
    assert zone == "America/New_York"
    assert [(one.author, one.reason, one.is_withdrawn) for one in listed.answers] == [
        ("Ada", "was ill", False),
        ("Zoe", "came in after all", True),
        ("Ada", "was ill", False),
    ]
    mill.close()


def test_a_finding_of_an_earlier_period_is_settled_where_that_period_is_named(tmp_path: Path) -> None:
    mill, later, earlier = made(tmp_path), NOW + timedelta(weeks=2), date(2026, 11, 4)

    def blocking() -> list[str]:
        looked = find_today(reckon_period(mill, later, earlier), earlier)
        return [one.key for one in looked.blockers]

    assert KEY in blocking()
    with pytest.raises(Refusal, match="each pay period its own"):
        settle(mill, reckon_period(mill, later), [KEY], **BY, as_of=later)
    settle(mill, reckon_period(mill, later, earlier), [KEY], **BY, as_of=later, period_day=earlier)
    assert KEY not in blocking()
    mill.close()


def test_several_are_settled_with_one_reason_and_opened_again_one_by_one(tmp_path: Path) -> None:
    mill = made(tmp_path)
    keys = [one.key for one in find_today(reckon_period(mill, NOW)).findings][:3]
    assert len(keys) == 3

    def still_open() -> list[str]:
        return [one.key for one in find_today(reckon_period(mill, NOW)).findings if one.key in keys]

    # One that is not open leaves the others open, and so does one that is named twice.
    for named, says in (([*keys, "no/such"], 'no open finding "no/such"'), ([*keys, keys[1]], "is named twice")):
        with pytest.raises(Refusal, match=says):
            settle(mill, reckon_period(mill, NOW), named, **BY, as_of=NOW)
        assert still_open() == keys
    before = reckon_period(mill, NOW)
    assert [one.key for one in settle(mill, before, keys, **BY, as_of=NOW)] == keys
    assert still_open() == []
    with mill.store.reading() as conn:
        assert frames.settled(conn)["finding"].to_list() == keys
    open_again(mill, keys[1], **BY, as_of=NOW)
    assert still_open() == [keys[1]]
    # From a look of before, of which two are settled meanwhile: none is settled.
    with pytest.raises(Refusal, match="is settled already"):
        settle(mill, before, keys[1:], **BY, as_of=NOW)
    assert still_open() == [keys[1]]
    mill.close()
