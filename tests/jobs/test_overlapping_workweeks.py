"""A day in the last old and in the first new workweek is explained and paid where it counts, whichever that is.

Source: 29 CFR 778.301, 778.302: counted in the one workweek, then in the other, the person gets the better of the two.
"""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path

import pytest
from click.testing import CliRunner

from evenhand.cli import evenhand
from evenhand.jobs.reckoning import reckon_day
from evenhand.jobs.take import take_files
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.store.settings import write_settings
from evenhand.terms.settings import SiteRules
from evenhand.terms.words import as_day

NOW, SUNDAY = datetime(2026, 5, 26, 17, tzinfo=UTC), date(2026, 5, 17)
OLD = SiteRules("Mill", "America/Chicago", workweek_day=0)
MOVED = replace(OLD, changes=(replace(OLD, workweek_day=6, since=SUNDAY),))


@pytest.fixture
def mill(tmp_path: Path) -> Workspace:
    # Forty hours before the Sunday of both weeks and five on it; Bo works twenty and has forty after it.
    shifts = {"41": (8, 5, 0), "42": (4, 5, 8)}
    rows = ["reader,number,time,direction"]
    for number, (before, on, after) in shifts.items():
        for day, hours in (*((d, before) for d in range(11, 16)), (17, on), *((d, after) for d in range(18, 23))):
            if hours:
                at = f"GATE,{number},2026-05-{day}"
                rows += [f"{at} 08:00:00,in", f"{at} {8 + hours:02}:00:00,out"]
    files = {
        "readers.csv": "reader,site,zone\nGATE,Mill,America/Chicago\n",
        "people.csv": "person,name,number,site,hourly_rate\nP1,Ada Quill,41,Mill,20\nP2,Bo Rook,42,Mill,20\n",
        "punches.csv": "\n".join(rows) + "\n",
    }
    for name, text in files.items():
        (tmp_path / name).write_text(text)
    made = create_workspace(tmp_path / "workspace", "Mill")
    take_files(made, [tmp_path / name for name in files])
    write_settings(made.settings_file, replace(made.settings, sites={"Mill": MOVED}))
    return made


@pytest.mark.parametrize(
    ("person", "counts_in", "ends"),
    [
        ("P1", date(2026, 5, 11), "both come to 5 h overtime; in that of 2026-05-17, to 0 min overtime"),
        ("P2", SUNDAY, "both come to 5 h overtime; in that of 2026-05-11, to 0 min overtime"),
    ],
)
def test_the_day_in_both_weeks_says_where_it_counts_and_what_the_other_would_make_of_it(
    mill: Workspace, person: str, counts_in: date, ends: str
) -> None:
    seen = reckon_day(mill, NOW, SUNDAY).person_day(person, SUNDAY)
    assert (seen.recorded_s, seen.paid_s) == (5 * 3600, 5 * 3600)
    assert [week.workweek for week in seen.weeks] == [date(2026, 5, 11), SUNDAY]
    assert set(seen.classed["workweek"]) == {counts_in}
    for words in (("hours", "why", person, str(SUNDAY)), ("pay", person, str(counts_in))):
        called = ["--workspace", str(mill.directory), *words]
        shown = " ".join(CliRunner().invoke(evenhand, called).stdout.split())
        assert f"counted in that of {as_day(counts_in)}, both come to" in shown
        assert "29 CFR 778.301, 778.302" in shown
        told = json.loads(CliRunner().invoke(evenhand, [*called, "--json"]).stdout)
        said = told["in_two_workweeks"] if words[0] == "pay" else [one["says"] for one in told["steps"]]
        assert any(ends in one for one in said)


def test_a_day_in_one_week_says_nothing_of_another(mill: Workspace) -> None:
    seen = reckon_day(mill, NOW, date(2026, 5, 18)).person_day("P2", date(2026, 5, 18))
    assert [week.workweek for week in seen.weeks] == [SUNDAY]
    assert not [step for step in seen.steps if step.rule == "workweek_moved"]


def test_pay_is_that_of_the_better_workweek(mill: Workspace) -> None:
    # 40 h at 20.00 and 5 h at 30.00 in the one, 29 CFR 778.302; five hours at 20.00 would be 100.00 in the other.
    assert reckon_day(mill, NOW, SUNDAY).person_pay("P1", date(2026, 5, 11)).total == Decimal("950.00")
    assert reckon_day(mill, NOW, SUNDAY).person_pay("P2", SUNDAY).total == Decimal("950.00")
