"""What a correction may say, how far around it one looks, and what may be said again."""

from __future__ import annotations

import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import polars as pl
import pytest

from evenhand.jobs import correct as corrections
from evenhand.jobs.correct import CorrectionRequest, reckon_around
from evenhand.jobs.take import take_files
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.settings import write_settings
from evenhand.terms.records import Refusal
from evenhand.terms.settings import SiteRules
from tests.jobs.asked import civil_instant, correct, preview_correction, without_pay
from tests.jobs.workplaces import made

NOW = datetime(2026, 11, 9, 14, tzinfo=UTC)
H = 3600
OUT = CorrectionRequest("leave_out", "P1", "Ada", "a colleague's", punch=1)
ADDED = CorrectionRequest("add", "P3", "Ada", "forgot", at=NOW, direction="out")


@pytest.fixture(scope="module")
def mill(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workspace]:
    """For tests that only look."""
    opened = made(tmp_path_factory.mktemp("mill"))
    yield opened
    opened.close()


def punch_at(workspace: Workspace, text: str) -> int:
    at = datetime.fromisoformat(text).replace(tzinfo=ZoneInfo("America/New_York")).timestamp()
    with workspace.store.reading() as conn:
        [punch] = frames.recorded(conn).filter(pl.col("at") == int(at))["punch"]
    return int(punch)


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        (replace(ADDED, reason=" "), "a correction is made by somebody and for a reason; give both."),
        (replace(ADDED, author=" "), "a correction is made by somebody and for a reason; give both."),
        (replace(ADDED, at=None), "to add a punch, give the time it should have, and no punch."),
        (replace(ADDED, punch=1), "to add a punch, give the time it should have, and no punch."),
        (
            replace(ADDED, at=datetime(2026, 11, 9, 15, tzinfo=UTC)),
            "2026-11-09T15:00:00+00:00 lies in the future; only a punch that has happened can be added.",
        ),
        (replace(OUT, punch=None), "to leave a punch out or direct it, give the punch's number, and no time."),
        (replace(OUT, at=NOW), "to leave a punch out or direct it, give the punch's number, and no time."),
        (replace(OUT, direction="in"), "a direction, in or out, is given when a punch is directed, and only then."),
        (replace(OUT, action="direct"), "a direction, in or out, is given when a punch is directed, and only then."),
        (replace(OUT, punch=9999), "punch 9999 is not one of P1's; `evenhand hours why` lists theirs."),
    ],
)
def test_a_correction_that_cannot_be_made_is_refused_in_one_sentence(
    mill: Workspace, asked: CorrectionRequest, sentence: str
) -> None:
    with pytest.raises(Refusal) as refused:
        preview_correction(mill, asked, as_of=NOW)
    assert str(refused.value) == sentence


def test_a_time_is_the_one_on_the_wall_of_the_persons_site(tmp_path: Path) -> None:
    mill = made(tmp_path)
    (tmp_path / "more.csv").write_text("person,name,number,site\nP7,Ona Reed,7001,Quarry\n")
    take_files(mill, [tmp_path / "more.csv"])
    quarry = {**mill.settings.sites, "Quarry": SiteRules("Quarry", "America/Denver")}
    write_settings(mill.settings_file, replace(mill.settings, sites=quarry))
    eastern, mountain = (civil_instant(mill, person, " 2026-11-04T16:00 ") for person in ("P3", "Ona"))
    # from 1 November on New York is five hours behind, Denver seven (15 USC 261, 260a)
    assert eastern == datetime(2026, 11, 4, 21, tzinfo=UTC)
    assert mountain == datetime(2026, 11, 4, 23, tzinfo=UTC)
    assert (eastern.tzinfo, mountain.tzinfo) == (ZoneInfo("America/New_York"), ZoneInfo("America/Denver"))
    mill.close()


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("ten past", '"ten past" is no time; write it as 2026-11-12T17:02.'),
        (
            "2026-03-08T02:30",
            "clocks in America/New_York skipped 02:30 on Sun 8 Mar 2026; give a time that they showed.",
        ),
        (
            "2026-11-01T01:30",
            "clocks in America/New_York showed 01:30 twice on Sun 1 Nov 2026; "
            "write 2026-11-01T01:30-04:00 or 2026-11-01T01:30-05:00.",
        ),
    ],
)
def test_a_time_that_says_no_instant_is_refused_in_one_sentence(mill: Workspace, text: str, sentence: str) -> None:
    with pytest.raises(Refusal) as refused:
        civil_instant(mill, "P3", text)
    assert str(refused.value) == sentence


def test_four_weeks_on_either_side_are_looked_at(mill: Workspace) -> None:
    late = datetime(2027, 6, 30, 23, tzinfo=UTC)
    four = timedelta(days=28)

    def reached(**given: Any) -> tuple[date, date | None]:
        of = reckon_around(mill, as_of=late, **given).snapshot
        return of.first, of.last

    assert reached(at="2026-11-02T23:59") == (date(2026, 11, 2) - four, date(2026, 11, 2) + four)
    # the punch of the third at 16:00 in New York, 21:00 in UTC
    assert reached(punch=punch_at(mill, "2026-11-03T16:00")) == (date(2026, 11, 3) - four, date(2026, 11, 3) + four)
    for given in ({}, {"at": "no time"}, {"punch": 9999}, {"punch": -9999}):
        assert reached(**given) == (late.date() - four, late.date() + four)
    # the time decides where both are given
    assert reached(at="2026-12-01T08:00", punch=punch_at(mill, "2026-11-03T16:00"))[0] == date(2026, 12, 1) - four


def test_the_machines_own_zone_decides_nothing(mill: Workspace, monkeypatch: pytest.MonkeyPatch) -> None:
    punch = punch_at(mill, "2026-11-03T16:00")
    try:
        monkeypatch.setenv("TZ", "Pacific/Kiritimati")  # fourteen hours ahead of UTC: the fourth already
        time.tzset()
        of = reckon_around(mill, punch=punch, as_of=NOW).snapshot
        assert of.last == date(2026, 11, 3) + timedelta(days=28)
        assert civil_instant(mill, "P3", "2026-11-04T16:00") == datetime(2026, 11, 4, 21, tzinfo=UTC)
    finally:
        monkeypatch.undo()
        time.tzset()


def test_a_preview_works_out_money_and_making_a_correction_does_not(tmp_path: Path) -> None:
    mill = made(tmp_path)
    asked = replace(OUT, punch=punch_at(mill, "2026-11-02T17:00"))
    around = reckon_around(mill, punch=asked.punch, as_of=NOW)
    seen = corrections.preview_correction(around, asked, as_of=NOW)
    # 40 h at 18.25 and 5 at one and a half times; after, 38 h
    assert (str(seen.pay_before), str(seen.pay_after)) == ("866.88", "693.50")
    done = corrections.correct(mill, around, asked, as_of=NOW)
    assert done.foreseen == without_pay(seen)
    assert done.number == 1
    mill.close()


def test_what_was_said_may_be_said_again_once_something_else_stands(tmp_path: Path) -> None:
    mill = made(tmp_path)
    punch = punch_at(mill, "2026-11-02T17:00")
    out, inward, outward = (
        replace(OUT, punch=punch),
        replace(OUT, action="direct", punch=punch, direction="in"),
        replace(OUT, action="direct", punch=punch, direction="out"),
    )
    said = [correct(mill, asked, as_of=NOW)[0] for asked in (out, inward, outward, inward, out)]
    assert said == [1, 2, 3, 4, 5]
    for_another_reason = replace(out, author="Bo", reason="as Ida says")
    with pytest.raises(Refusal) as refused:
        correct(mill, for_another_reason, as_of=NOW + timedelta(hours=1))
    assert str(refused.value) == "correction 5 says this already; nothing was changed."
    # another punch's last word is not this one's
    correct(mill, replace(out, punch=punch_at(mill, "2026-11-03T17:00")), as_of=NOW)

    forgot = replace(ADDED, at=datetime(2026, 11, 4, 21, tzinfo=UTC))
    number, _ = correct(mill, forgot, as_of=NOW)
    with pytest.raises(Refusal, match=f"^correction {number} says this already"):
        correct(mill, forgot, as_of=NOW)
    # another time, way or person is another punch
    for other in (
        replace(forgot, at=datetime(2026, 11, 4, 22, tzinfo=UTC)),
        replace(forgot, direction="in"),
        replace(forgot, person="P2"),
    ):
        correct(mill, other, as_of=NOW)
    correct(mill, replace(OUT, person="P3", punch=-number), as_of=NOW)
    assert correct(mill, forgot, as_of=NOW)[0] == number + 5
    mill.close()


@pytest.mark.parametrize("far", ["0001-01-01T00:00", "9999-12-31T23:59", "9999-12-31T23:59-05:00"])
def test_a_time_too_far_away_is_refused_in_one_sentence(workspace: Workspace, far: str) -> None:
    with pytest.raises(Refusal, match="lies outside the years 1991 to 2059"):
        reckon_around(workspace, at=far, as_of=NOW)
