"""Missing punches decided together: which are offered, what all of it does, all or none, and taken back in one go."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from evenhand.jobs.correct import CorrectionRequest, preview_correction
from evenhand.jobs.reckoning import Reckoning, reckon_period
from evenhand.jobs.today import find_today
from evenhand.jobs.together import (
    ProposedCorrection,
    chosen_of,
    correct_together,
    foresee_together,
    proposed_corrections,
    take_back_together,
)
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.terms.columns import Frame
from evenhand.terms.records import Refusal
from tests.jobs.asked import correct
from tests.jobs.test_proposed import BEFORE, NOW
from tests.jobs.workplaces import PUNCHES, made

NEXT_DAY = "GATE,2290,2026-11-05 08:00:00,in"
SAID = {"author": "Ada", "reason": "asked the shift's supervisor"}


@pytest.fixture
def workspace(tmp_path: Path) -> Iterator[Workspace]:
    """P3 usually works from 08:00 to 16:00 and did not punch out on 4 and 5 November."""
    opened = made(tmp_path, [*PUNCHES, *BEFORE, NEXT_DAY])
    yield opened
    opened.close()


def offered(workspace: Workspace) -> tuple[Reckoning, list[ProposedCorrection]]:
    reckoning = reckon_period(workspace, NOW)
    return reckoning, proposed_corrections(find_today(reckoning).findings)


def corrections(workspace: Workspace) -> Frame:
    with workspace.store.reading() as conn:
        return frames.corrections(conn)


def test_what_is_proposed_for_each_day_is_seen_and_made_at_once(workspace: Workspace) -> None:
    reckoning, both = offered(workspace)
    assert [(one.asked.person, one.asked.action, one.asked.direction) for one in both] == [("P3", "add", "out")] * 2
    asked = [one.asked for one in both]
    foreseen = foresee_together(reckoning, asked, as_of=NOW)
    alone = [preview_correction(reckoning, one, as_of=NOW) for one in asked]
    [of_week] = foreseen.changes
    gained = [one.ordinary_after_s - one.ordinary_before_s for one in alone]
    assert of_week.after.ordinary_s - of_week.before.ordinary_s == sum(gained) > 0
    assert of_week.before.questions - of_week.after.questions == 2
    numbers = correct_together(workspace, reckoning, asked, **SAID, as_of=NOW)
    stand = corrections(workspace)
    assert stand["correction"].to_list() == numbers
    assert set(stand["author"]) == {"Ada"}
    after, left = offered(workspace)
    assert left == []
    assert after.person_hours("P3").classed["ends"].sum() > reckoning.person_hours("P3").classed["ends"].sum()
    take_back_together(workspace, after, numbers, author="Ada", reason="too soon", as_of=NOW)
    again, back = offered(workspace)
    assert [one.seen for one in back] == [one.seen for one in both]
    assert again.person_hours("P3").classed.equals(reckoning.person_hours("P3").classed)


def test_none_is_made_where_somebody_has_corrected_one_of_them_meanwhile(workspace: Workspace) -> None:
    reckoning, both = offered(workspace)
    at = datetime(2026, 11, 4, 22, tzinfo=UTC)
    correct(workspace, CorrectionRequest("add", "P3", "Bo", "saw them", at=at, direction="out"), as_of=NOW)
    with pytest.raises(Refusal, match="Bo has corrected P3's"):
        correct_together(workspace, reckoning, [one.asked for one in both], **SAID, as_of=NOW)
    assert corrections(workspace)["author"].to_list() == ["Bo"]
    _, left = offered(workspace)
    with pytest.raises(Refusal, match="has changed since this was shown"):
        chosen_of(left, [one.seen for one in both])
    with pytest.raises(Refusal, match="mark what is right"):
        chosen_of(both, [])
    assert chosen_of(both, [both[1].seen] * 2) == [both[1]]
