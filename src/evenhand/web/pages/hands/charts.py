"""The pictures of Hands, drawn as inline SVG in the style of the marks: one person's scores, and a trade-off.

Each has its words for those who cannot see it, and its data can be had as a file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil, floor, log10

from markupsafe import Markup, escape

from evenhand.terms.languages import ENGLISH, Speech, sentence
from evenhand.web.marks import image

__all__ = ["Point", "round_marks", "score_chart", "score_strip", "tradeoff_chart"]

HEIGHT, BOTTOM, TOP = 260, 28, 28
BESIDE = 4.0
"""Per cent of the width that stay free at either side, so that no day lies on the marks of the scores."""
LEFT = 60
STRIP = 72
"""How high a small picture is."""
# where the axes of a trade-off carry marks: shares, and their normal deviates
SHARES = ((0.001, -3.090), (0.01, -2.326), (0.05, -1.645), (0.1, -1.282), (0.2, -0.842), (0.4, -0.253))
SIDE, FAR, NEAR = 320, 0.0, -3.3
MARKED = {"change": sentence("change"), "enrolled": sentence("enrolled")}
"""What stands above an upright line, by its class."""


@dataclass(frozen=True)
class Point:
    """One day of one person at one reader: median and highest score, and how many were refused."""

    day: date
    reader: str
    median: float
    highest: float
    refused: int


def score_chart(
    points: Sequence[Point],
    window: tuple[date, date],
    *,
    threshold: float | None,
    changes: Sequence[tuple[date, str]],
    enrolments: Sequence[tuple[date, str]],
    says: str,
    say: Speech = ENGLISH,
) -> Markup:
    """Return a person's scores by day: a bar from the median to the highest, filled dots where all were accepted.

    Places along it are percentages, so that it fills whatever width there is and its letters keep their size.
    """
    first, last = window
    span = max((last - first).days, 1)
    marks = round_marks(max([point.highest for point in points] + [1.15 * threshold if threshold else 0.0, 1.0]))

    def across(day: date) -> str:
        return f"{BESIDE + (100 - 2 * BESIDE) * (day - first).days / span:.2f}%"

    def up(score: float) -> float:
        return HEIGHT - BOTTOM - (HEIGHT - BOTTOM - TOP) * min(score, marks[-1]) / marks[-1]

    pieces = [*_axis(marks, up, say), *_days(first, span, across, say)]
    if threshold:
        y = up(threshold)
        pieces.append(f'<line class="limit" x1="0" x2="100%" y1="{y:.1f}" y2="{y:.1f}"/>')
        limit = escape(say("threshold {threshold:g}", threshold=threshold))
        pieces.append(f'<text class="limit" x="100%" y="{y - 4:.1f}" text-anchor="end">{limit}</text>')
    for day, text in changes:
        pieces.append(_upright("change", across(day), text, say))
    for day, text in enrolments:
        if first <= day <= last:
            pieces.append(_upright("enrolled", across(day), text, say))
    pieces.extend(_point(point, across(point.day), up, say) for point in points)
    return image("scores", says, "".join(pieces), f' height="{HEIGHT}"')


def score_strip(
    points: Sequence[Point], window: tuple[date, date], most: float, *, threshold: float | None, says: str
) -> Markup:
    """Return a person's scores by day as a small picture without axes, to stand beside others of the same scale.

    `most` is the score at its top.
    """
    first, last = window
    span = max((last - first).days, 1)

    def up(score: float) -> float:
        return STRIP - 4 - (STRIP - 8) * min(score, most) / most

    pieces = [f'<line class="hour" x1="0" x2="100%" y1="{STRIP - 4}" y2="{STRIP - 4}"/>']
    if threshold:
        pieces.append(f'<line class="limit" x1="0" x2="100%" y1="{up(threshold):.1f}" y2="{up(threshold):.1f}"/>')
    for point in points:
        x = f"{2 + 96 * (point.day - first).days / span:.2f}%"
        kind = "refused" if point.refused else "accepted"
        pieces.append(
            f'<g class="{kind}"><line x1="{x}" x2="{x}" y1="{up(point.median):.1f}" y2="{up(point.highest):.1f}"/>'
            f'<circle cx="{x}" cy="{up(point.median):.1f}" r="2"/></g>'
        )
    return image("scores strip", says, "".join(pieces), f' height="{STRIP}"')


def round_marks(most: float) -> list[float]:
    """Return four to seven marks from 0 to at least `most`, a step of 1, 2 or 5 times a power of ten apart.

    Source: Heckbert (1990), Nice numbers for graph labels, Graphics Gems (from memory).
    """
    third = most / 3 * (1 + 1e-9)  # so that no rounding makes a step just too long
    power = 10.0 ** floor(log10(third))
    step = max(times * power for times in (1, 2, 5) if times * power <= third)
    return [round(step * count, 10) for count in range(ceil(round(most / step, 9)) + 1)]


def _axis(marks: Sequence[float], up: Callable[[float], float], say: Speech) -> Iterator[str]:
    for mark in marks:
        yield f'<line class="hour" x1="0" x2="100%" y1="{up(mark):.1f}" y2="{up(mark):.1f}"/>'
        says = escape(say("{mark:g} score", mark=mark)) if mark == marks[-1] else f"{mark:g}"
        yield f'<text x="0" y="{up(mark) - 3:.1f}">{says}</text>'


def _days(first: date, span: int, across: Callable[[date], str], say: Speech) -> Iterator[str]:
    """Yield the days below: a week, or weeks, apart, every other of them left out where there is little room."""
    step = 7 * max(1, round(span / 7 / 8)) if span >= 14 else max(1, span // 7)
    for position, offset in enumerate(range(0, span + 1, step)):
        day = first + timedelta(days=offset)
        x, minor = across(day), ' class="minor"' if position % 2 else ""
        yield f'<text{minor} x="{x}" y="{HEIGHT - 6}" text-anchor="middle">{_day_of_month(day, say)}</text>'


def _day_of_month(day: date, say: Speech) -> str:
    """Return `4 Mar`, or `4 mar`: a short day without its weekday."""
    return say.short_day(day).partition(" ")[2]


def _point(point: Point, x: str, up: Callable[[float], float], say: Speech) -> str:
    middle, top = up(point.median), up(point.highest)
    kind = "refused" if point.refused else "accepted"
    says = say(
        "{day}, {reader}: median {median:.1f}, highest {highest:.1f}",
        day=_day_of_month(point.day, say),
        reader=point.reader,
        median=point.median,
        highest=point.highest,
    )
    says += say(", {count} refused", count=point.refused) if point.refused else ""
    return (
        f'<g class="{kind}"><title>{escape(says)}</title><line x1="{x}" x2="{x}" y1="{middle:.1f}" '
        f'y2="{top:.1f}"/><circle cx="{x}" cy="{middle:.1f}" r="4"/></g>'
    )


def _upright(kind: str, x: str, says: str, say: Speech) -> str:
    marked = escape(say(MARKED[kind]))
    return (
        f'<g class="{kind}"><title>{escape(says)}</title><line x1="{x}" x2="{x}" y1="{TOP}" '
        f'y2="{HEIGHT - BOTTOM}"/><text x="{x}" y="{TOP - 6}" text-anchor="middle">{marked}</text></g>'
    )


def tradeoff_chart(
    curve: Sequence[tuple[float, float]],
    marks: Sequence[tuple[tuple[float, float], str, str]],
    says: str,
    say: Speech = ENGLISH,
) -> Markup:
    """Return the trade-off, false non-match rate over false match rate, both on normal-deviate axes.

    `curve` holds pairs (false match deviate, false non-match deviate), `marks` such a pair with its class and words.
    What lies beyond the axes is drawn on their edge.
    Source: Martin et al. (1997), Eurospeech, for the axes (from memory).
    """
    scale = (SIDE - LEFT - 10) / (FAR - NEAR)

    def across(deviate: float) -> float:
        return LEFT + scale * (min(max(deviate, NEAR), FAR) - NEAR)

    def up(deviate: float) -> float:
        return SIDE - LEFT - scale * (min(max(deviate, NEAR), FAR) - NEAR)

    pieces = []
    for share, deviate in SHARES:
        x, y, label = across(deviate), up(deviate), f"{100 * share:g} %"
        pieces.append(f'<line class="hour" x1="{x:.1f}" x2="{x:.1f}" y1="10" y2="{SIDE - LEFT}"/>')
        pieces.append(f'<line class="hour" x1="{LEFT}" x2="{SIDE - 10}" y1="{y:.1f}" y2="{y:.1f}"/>')
        pieces.append(f'<text x="{x:.1f}" y="{SIDE - LEFT + 16}" text-anchor="middle">{label}</text>')
        pieces.append(f'<text x="{LEFT - 4}" y="{y + 4:.1f}" text-anchor="end">{label}</text>')
    steps = " ".join(f"{across(match):.1f},{up(miss):.1f}" for match, miss in curve)
    pieces.append(f'<polyline class="curve" points="{steps}"/>')
    for (match, miss), kind, called in marks:
        x, y, words = across(match), up(miss), escape(say.said(called))
        size = 5 if kind == "chosen" else 8
        pieces.append(f'<circle class="{kind}" cx="{x:.1f}" cy="{y:.1f}" r="{size}"><title>{words}</title></circle>')
    passing, refused = escape(say("wrong hands that pass")), escape(say("own hands refused"))
    pieces.append(f'<text x="{SIDE // 2 + 20}" y="{SIDE - 6}" text-anchor="middle">{passing}</text>')
    middle = (SIDE - LEFT) // 2
    turned = f'x="10" y="{middle}" transform="rotate(-90 10 {middle})"'
    pieces.append(f'<text {turned} text-anchor="middle">{refused}</text>')
    return image("tradeoff", says, "".join(pieces), f' viewBox="0 0 {SIDE} {SIDE}"')
