"""What one request sees, and what the next one does."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions
from evenhand.web.desk import Desk, Reckonings
from tests.jobs.test_reckoning import ADDED, NOW
from tests.jobs.workplaces import made


@pytest.fixture
def mill(tmp_path: Path) -> Iterator[Workspace]:
    opened = made(tmp_path)
    yield opened
    opened.close()


def test_a_request_sees_one_state_of_things_and_the_next_one_what_was_decided_since(mill: Workspace) -> None:
    reckonings = Reckonings(mill, lambda: NOW)
    first = Desk(reckonings)
    before = first.reckoning.person_hours("P3")
    with mill.store.writing() as conn:
        decisions.add_correction(conn, **ADDED, punch=None)
    assert first.reckoning_of(NOW.date()).person_hours("P3") is before
    assert Desk(reckonings).reckoning.snapshot.corrections.height == 1
    assert first.today.as_of == NOW


def test_pages_go_on_from_a_decision_only_where_nobody_has_gone_on_meanwhile(mill: Workspace) -> None:
    reckonings = Reckonings(mill, lambda: NOW)
    before = reckonings.current()
    foreseen = before.with_corrections([ADDED])
    reckonings.decided(foreseen, before)
    assert reckonings.current() is before
    hours = foreseen.person_hours("P3")
    with mill.store.writing() as conn:
        decisions.add_correction(conn, **ADDED, punch=None)
    reckonings.decided(before, foreseen)
    assert reckonings.current().person_hours("P3") is hours
