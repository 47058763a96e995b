"""The pictures of Hands, drawn as inline SVG in the style of the marks: one person's scores, and a trade-off.

Each has its words for those who cannot see it, and its data can be had as a file.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from markupsafe import Markup, escape

from evenhand.web.marks import image

__all__ = ["Point", "score_chart", "tradeoff_chart"]

WIDTH, HEIGHT, LEFT, BOTTOM, TOP = 720, 240, 44, 28, 20
# where the axes of a trade-off carry marks: shares, and their normal deviates
SHARES = ((0.001, -3.090), (0.01, -2.326), (0.05, -1.645), (0.1, -1.282), (0.2, -0.842), (0.4, -0.253))
SIDE, FAR, NEAR = 320, 0.0, -3.3


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
) -> Markup:
    """Return a person's scores by day: a bar from the median to the highest, filled dots where all were accepted."""
    first, last = window
    span = max((last - first).days, 1)
    most = max([point.highest for point in points] + [1.15 * threshold if threshold else 0.0, 1.0])

    def across(day: date) -> float:
        return LEFT + (WIDTH - LEFT - 8) * (day - first).days / span

    def up(score: float) -> float:
        return HEIGHT - BOTTOM - (HEIGHT - BOTTOM - TOP) * min(score, most) / most

    pieces = [_axis(most, up), *_days(first, span, across)]
    if threshold:
        y = f"{up(threshold):.1f}"
        pieces.append(f'<line class="limit" x1="{LEFT}" x2="{WIDTH}" y1="{y}" y2="{y}"/>')
        pieces.append(f'<text class="limit" x="{WIDTH}" y="{up(threshold) - 4:.1f}" text-anchor="end">threshold</text>')
    for day, text in changes:
        pieces.append(_upright("change", across(day), text))
    for day, text in enrolments:
        if first <= day <= last:
            pieces.append(_upright("enrolled", across(day), text))
    pieces.extend(_point(point, across(point.day), up) for point in points)
    return image("scores", says, "".join(pieces), f' viewBox="0 0 {WIDTH} {HEIGHT}"')


def _axis(most: float, up: Callable[[float], float]) -> str:
    marks = (0.0, most / 2, most)
    return "".join(
        f'<line class="hour" x1="{LEFT}" x2="{WIDTH}" y1="{up(mark):.1f}" y2="{up(mark):.1f}"/>'
        f'<text x="{LEFT - 6}" y="{up(mark) + 4:.1f}" text-anchor="end">{mark:.3g}</text>'
        for mark in marks
    )


def _days(first: date, span: int, across: Callable[[date], float]) -> list[str]:
    step = max(span // 5, 1)
    days = [date.fromordinal(first.toordinal() + offset) for offset in range(0, span + 1, step)]
    return [
        f'<text x="{across(day):.1f}" y="{HEIGHT - 8}" text-anchor="middle">{day.day} {day:%b}</text>' for day in days
    ]


def _point(point: Point, x: float, up: Callable[[float], float]) -> str:
    middle, top = up(point.median), up(point.highest)
    kind = "refused" if point.refused else "accepted"
    says = f"{point.day.day} {point.day:%b}, {point.reader}: median {point.median:.1f}, highest {point.highest:.1f}"
    says += f", {point.refused} refused" if point.refused else ""
    return (
        f'<g class="{kind}"><title>{escape(says)}</title><line x1="{x:.1f}" x2="{x:.1f}" y1="{middle:.1f}" '
        f'y2="{top:.1f}"/><circle cx="{x:.1f}" cy="{middle:.1f}" r="3"/></g>'
    )


def _upright(kind: str, x: float, says: str) -> str:
    return (
        f'<g class="{kind}"><title>{escape(says)}</title><line x1="{x:.1f}" x2="{x:.1f}" y1="{TOP}" '
        f'y2="{HEIGHT - BOTTOM}"/><text x="{x:.1f}" y="{TOP - 6}" text-anchor="middle">{kind}</text></g>'
    )


def tradeoff_chart(curve: Sequence[tuple[float, float]], chosen: tuple[float, float] | None, says: str) -> Markup:
    """Return the trade-off, false non-match rate over false match rate, both on normal-deviate axes.

    `curve` and `chosen` are pairs (false match deviate, false non-match deviate).
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
    if chosen:
        pieces.append(f'<circle class="chosen" cx="{across(chosen[0]):.1f}" cy="{up(chosen[1]):.1f}" r="5"/>')
    pieces.append(f'<text x="{SIDE // 2 + 20}" y="{SIDE - 6}" text-anchor="middle">wrong hands that pass</text>')
    return image("tradeoff", says, "".join(pieces), f' viewBox="0 0 {SIDE} {SIDE}"')
