"""A workplace of one reader, one person or one week is watched as far as its scores go, and told what cannot be yet."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product

import polars as pl
import pytest

from evenhand.scores.watch import Charts
from tests.scores.invented import FIRST_AT, rows

SCORES: dict[str, Callable[[int, int, int], float | None]] = {
    "the same": lambda person, reader, count: 30.0,
    "of the person": lambda person, reader, count: 20.0 + person,
    "of the reader": lambda person, reader, count: 20.0 + reader,
    "nothing": lambda person, reader, count: 0.0,
    "two values": lambda person, reader, count: 20.0 + count % 2,
    "of the day": lambda person, reader, count: 20.0 + count // 48,
    "one other": lambda person, reader, count: 20.0 + (count == 3),
    "many values": lambda person, reader, count: 20.0 + (7 * count + 3 * person) % 11,
    "at one reader only": lambda person, reader, count: 20.0 + count % 5 if reader == 0 else None,
    "none": lambda person, reader, count: None,
}


def charts(
    people: int, readers: int, days: int, score: str, *, refuses: bool = False, hides: bool = False, turns: int = 6
) -> Charts:
    """Everybody comes `turns` times a day, to the readers in turn; where the reader `refuses`, every seventh time."""
    made = []
    for count, (day, turn, person) in enumerate(product(range(days), range(turns), range(people))):
        reader, is_refused = (person + turn + day) % readers, refuses and count % 7 == 0
        made.append(
            {
                "person": f"P{person}",
                "reader": f"R{reader}",
                "at": 86_400 * day + 3600 * (7 + turn) + 60 * person,
                "is_refused": is_refused,
                "score": None if is_refused and hides else SCORES[score](person, reader, count),
            }
        )
    return Charts(rows(*made), {f"R{reader}": "Mill" for reader in range(readers)}, FIRST_AT + 86_400 * days)


@pytest.mark.parametrize("score", SCORES)
@pytest.mark.parametrize(("refuses", "hides"), [(False, False), (True, False), (True, True)])
@pytest.mark.parametrize("days", [1, 5, 12])
def test_no_workplace_is_too_small_to_be_watched(days: int, refuses: bool, hides: bool, score: str) -> None:
    for people, readers in product((1, 2, 8), (1, 2)):
        found = charts(people, readers, days, score, refuses=refuses, hides=hides)
        shown = (found.alarms, found.forecasts, found.offsets, found.rates, found.explained(), found.group_levels({}))
        for frame in shown:
            numbers = frame.select(pl.selectors.float())
            assert not numbers.select(pl.any_horizontal(pl.all().is_nan() | pl.all().is_infinite()).any()).item()
        assert found.issues == () or all(issue.says.endswith(".") for issue in found.issues)


def test_a_week_at_one_reader_has_charts_of_hands_only_and_says_so() -> None:
    week = charts(8, 1, 5, "many values", turns=2)
    assert week.design
    assert {"hand"} == {chart for chart in week.design.limits if "refusals" not in chart}
    assert week.alarms.is_empty()
    assert [issue.says for issue in week.issues if issue.code == "too_few_days"] == [
        "No reader has a chart of scores yet: it begins when somebody has 8 scores at a reader and then comes there on "
        "two more days."
    ]


def test_the_chart_of_a_reader_begins_when_it_is_said_to() -> None:
    # two scores a day: the eighth on the fourth day, two more days after it
    for days, begins in ((5, False), (6, True)):
        found = charts(8, 1, days, "many values", turns=2)
        assert found.design
        assert ("reader" in found.design.limits) is begins
        assert ("too_few_days" in {issue.code for issue in found.issues}) is not begins


def test_a_few_scores_are_said_to_be_too_few() -> None:
    said = {issue.code: issue.says for issue in charts(2, 1, 1, "many values").issues}
    assert said["too_few_scores"] == "No chart of scores can be drawn yet: 12 scores can be used, and it takes 30."
    alike = {issue.code: issue.says for issue in charts(8, 2, 1, "nothing").issues}
    assert alike["too_few_scores"] == (
        "No chart of scores can be drawn yet: nobody's scores at a reader ever differ, in 48."
    )
    assert "too_few_scores" not in {issue.code for issue in charts(2, 1, 1, "none").issues}
