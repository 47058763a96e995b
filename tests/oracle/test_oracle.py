"""Over a thousand random person-weeks against the oracle, as `make oracle` runs a million; planted faults are seen."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise, product
from random import Random
from typing import Any

import numpy as np
import polars as pl
import pytest

from evenhand.law import hours as hours_room
from evenhand.law.site import Site
from evenhand.pay import compute
from evenhand.pay.due.regular_rate import Due
from tests.oracle import __main__ as oracle
from tests.oracle.classes import LAWS
from tests.oracle.held import Differing, hold, smaller, told_of
from tests.oracle.invented import Batch, invent
from tests.oracle.punches import Press, _cheapest

SEEDS, PEOPLE = range(18), 25


@pytest.fixture(scope="module")
def held() -> Counter[str]:
    """Return how many person-weeks of each kind agree."""
    counted: Counter[str] = Counter()
    for seed in SEEDS:
        batch, differing = hold(invent(seed, PEOPLE))
        assert differing is None, "\n".join(told_of(smaller(differing)))
        counted += batch
    return counted


def test_over_a_thousand_weeks_agree_and_everything_is_met(held: Counter[str]) -> None:
    assert held["weeks"] > 1000
    assert held["with overtime"] > 300
    assert held["paid"] > 700
    assert all(held[law] > 20 for law in LAWS), held
    for plan in ("hourly", "salary_fixed", "salary_fluctuating", "piece", "day", "job"):
        assert held[f"paid by: {plan}"] > 20, held
    assert all(held[f"breaches: {kind}"] > 5 for kind in ("daily_rest", "weekly_rest", "break")), held
    for kind in ("meal", "rest", "split_shift", "reporting", "call_back"):
        assert held[f"premiums: {kind}"] > 5, held
    for part in ("straight", "overtime", "premium", "reopened", "excluded"):
        assert held[f"lines: {part}"] > 20, held


Plant = Callable[[pytest.MonkeyPatch], None]


def second_later(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let each limit of a day or week hold a second more."""
    by_day, by_week = Site.by_day, Site.by_week

    def later(limits: Callable[..., Any]) -> Callable[..., Any]:
        def more(site: Site, rule: str, name: str, unit: int = 1) -> Any:
            return limits(site, rule, name, unit) + (1 if name in {"weekly_limit", "daily_limit"} else 0)

        return more

    monkeypatch.setattr(Site, "by_day", later(by_day))
    monkeypatch.setattr(Site, "by_week", later(by_week))


def wrong_week(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let each workweek begin a minute late."""
    bind_site = hours_room.bind_site

    def late(rules: Any, *rest: Any, **beside: Any) -> Site:
        return bind_site(replace(rules, workweek_s=rules.workweek_s + 60), *rest, **beside)

    monkeypatch.setattr(hours_room, "bind_site", late)


def rate_of_other_week(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let each week be owed at the regular rate of the one before it."""
    weeks_due = compute.weeks_due

    def shifted(weeks: Any, earned: Any) -> Due:
        due = weeks_due(weeks, earned)
        return replace(due, rate=due.rate.take(np.roll(np.arange(weeks.height), 1)))

    monkeypatch.setattr(compute, "weeks_due", shifted)


def premium_twice(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pay somebody's last premium hour a second time."""
    premiums_due = compute.premiums_due

    def twice(owed: Any, *rest: Any) -> Any:
        return premiums_due(pl.concat([owed, owed.tail(1)]), *rest)

    monkeypatch.setattr(compute, "premiums_due", twice)


def found_within(weeks: int) -> tuple[Batch, Differing] | None:
    """Return the first batch in which somebody differs, before so many person-weeks agree."""
    agreed = 0
    for seed in range(500, 600):
        batch = invent(seed, 8)
        counted, differing = hold(batch)
        agreed += counted["weeks"]
        if differing or agreed > weeks:
            return (batch, differing) if differing else None
    return None


@pytest.mark.parametrize("plant", [second_later, wrong_week, rate_of_other_week, premium_twice])
def test_a_planted_fault_is_seen_within_two_hundred_weeks(plant: Plant, monkeypatch: pytest.MonkeyPatch) -> None:
    plant(monkeypatch)
    assert found_within(200) is not None


def test_what_differs_is_made_smaller_and_told(monkeypatch: pytest.MonkeyPatch) -> None:
    wrong_week(monkeypatch)
    found = found_within(200)
    assert found is not None
    batch, differing = found
    least = smaller(differing)
    (one,) = least.batch.people
    assert len(one.presses) <= min(6, len(batch.people[differing.person].presses))
    told = list(told_of(least))
    assert any(line.startswith("expected") for line in told)
    assert sum(" at R" in line for line in told) == len(one.presses)


def test_a_run_says_how_far_it_came_and_goes_on_from_a_seed(capsys: pytest.CaptureFixture[str]) -> None:
    few = ["--weeks", "20", "--people", "6", "--processes", "1", "--seed"]
    assert oracle.main([*few, "70"]) == 0
    told = capsys.readouterr().out
    *before, last = (int(seed) for seed in re.findall("person-weeks agree, seed ([0-9]+)", told))
    assert f"seeds 70 to {last}" in told
    assert before[0] == 70
    assert oracle.main([*few, str(last)]) == 0
    assert re.findall("agree, seed ([0-9]+)", capsys.readouterr().out)[0] == str(last)


def test_a_run_may_take_several_processes(capsys: pytest.CaptureFixture[str]) -> None:
    assert oracle.main(["--weeks", "10", "--people", "4", "--processes", "2", "--seed", "90"]) == 0
    assert "person-weeks agree, seeds 90 to 9" in capsys.readouterr().out


def test_the_cheapest_reading_is_that_of_all_readings_tried_one_by_one() -> None:
    # The oracle's own shortcut, against every reading of up to seven punches.
    rng = Random(7)
    for _ in range(200):
        at, part = 0, []
        for _ in range(rng.randint(1, 7)):
            at += rng.choice([5, 20, 60, 61, 240, 299, 300, 301, 480, 800])
            part.append(Press(at, rng.choice(["", "", "in", "out"]), "R1", at))
        odd = {way: [rng.choice([0, 0, 3600, 86_400]) for _ in part] for way in ("in", "out")}
        options = product(*([act.way] if act.way else ["in", "out"] for act in part))
        assert _cheapest(part, odd, 300) == list(min(options, key=lambda ways: priced(ways, part, odd))), part


def priced(ways: tuple[str, ...], part: list[Press], odd: dict[str, list[int]]) -> tuple[Any, ...]:
    """Return what a reading supposes missing, how unusual it is [s], and what decides between equal ones."""
    missing = (ways[0] == "out") + (ways[-1] == "in")
    unusual = sum(odd[way][k] for k, way in enumerate(ways) if not part[k].way)
    for k, (before, after) in enumerate(pairwise(part)):
        gap, pair = after.at - before.at, (ways[k], ways[k + 1])
        if pair == ("out", "in"):
            unusual += 60 * max(0, gap - 60) if gap <= 300 else 0
        else:
            missing += pair != ("in", "out")
            unusual += 60 * (gap if gap > 300 else max(0, 60 - gap))
    return missing, unusual, ways[-1] == "out", *(way == "in" for way in reversed(ways[:-1]))
