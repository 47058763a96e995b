"""Marks draw what they say."""

from __future__ import annotations

import re
from datetime import date
from xml.etree import ElementTree

from hypothesis import given
from hypothesis import strategies as st

from evenhand.terms.zones import day_start
from evenhand.web import marks


def parts(drawn: str, kind: str) -> list[dict[str, str]]:
    return [node.attrib for node in ElementTree.fromstring(str(drawn)).iter() if node.get("class") == kind]


def test_a_bar_is_as_long_as_its_share_of_the_longest() -> None:
    bar = marks.bar([(30, "ordinary"), (10, "overtime")], 80, "40 of 80")
    # 30 of 80 is 37.5 per cent, and 10 of 80 follows with 12.5 per cent.
    assert parts(bar, "ordinary")[0]["width"] == "37.50%"
    assert (parts(bar, "overtime")[0]["x"], parts(bar, "overtime")[0]["width"]) == ("37.50%", "12.50%")


def test_a_bar_without_a_measure_is_empty() -> None:
    assert "<rect" not in marks.bar([(0, "ordinary")], 0, "nothing")


def test_the_highest_column_fills_the_sparkline_and_half_of_it_half() -> None:
    heights = [float(column["height"]) for column in parts(marks.sparkline([2, 4], "two days"), "column")]
    assert heights == [13.0, 26.0]


def test_every_mark_has_its_words_escaped() -> None:
    for mark in (marks.bar([], 1, "<a&b>"), marks.sparkline([], "<a&b>"), marks.timeline([], (0, 10), [], "<a&b>")):
        root = ElementTree.fromstring(str(mark))
        assert root.get("role") == "img"
        assert root.get("aria-label") == "<a&b>"
        assert root[0].text == "<a&b>"


def test_a_span_stands_where_its_time_lies_in_the_window() -> None:
    lane = marks.Lane("Paid", [marks.Span(150, 200, "ordinary", "half")], [marks.Tick(125, "in", "in")])
    drawn = marks.timeline([lane], (100, 200), [(100, "00:00"), (200, "24:00")], "a day")
    span = parts(drawn, "ordinary")[0]
    assert (span["x"], span["width"]) == ("50.000%", "50.000%")
    assert parts(drawn, "tick in")[0]["x"] == "25.000%"


@given(st.lists(st.tuples(st.integers(-500, 500), st.integers(0, 500)), max_size=8))
def test_nothing_is_drawn_outside_the_window(spans: list[tuple[int, int]]) -> None:
    lane = marks.Lane("", [marks.Span(start, start + length, "recorded", "") for start, length in spans])
    drawn = marks.timeline([lane], (0, 100), [], "clipped")
    for x, width in re.findall(r'class="recorded" x="([-\d.]+)%".*?width="([\d.]+)%"', str(drawn)):
        assert 0 <= float(x) <= 100
        assert float(x) + float(width) <= 100.2001


def test_an_hour_that_the_wall_shows_twice_is_told_apart_on_the_axis() -> None:
    zone = "America/New_York"  # clocks go back from 02:00 to 01:00 on 1 November 2026 (15 USC 260a)
    window = day_start(zone, date(2026, 11, 1)), day_start(zone, date(2026, 11, 1)) + 4 * marks.HOUR_S
    labels = [label for _, label in marks.hour_marks(window, zone, 1)]
    assert labels == ["00:00", "01:00 EDT", "01:00 EST", "02:00", "03:00"]
