"""Small marks, drawn as inline SVG: bars, sparklines and timelines, each with its words for those who cannot see it.

Positions along a bar or a timeline are percentages, so that a mark fills whatever width it is given and its letters
keep their size. Colour never stands alone: classes differ in pattern or height as well (see the style sheet).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from markupsafe import Markup, escape

__all__ = [
    "HATCHING",
    "HOUR_S",
    "WAYS",
    "Lane",
    "Span",
    "Tick",
    "bar",
    "hour_marks",
    "image",
    "qr_code",
    "sparkline",
    "timeline",
]

HOUR_S = 3600
WAYS = {"in": "in", "out": "out", None: "way not said"}
SPARK_WIDTH, SPARK_HEIGHT = 140, 28
LANE_HEIGHT, NAMED_HEIGHT, LABEL_HEIGHT, AXIS_HEIGHT = 34, 32, 6, 18

# Hatching, so that classes are told apart without colour; the patterns stand once in every page's frame.
HATCHING = {"overtime": ' fill="url(#hatched)"', "double": ' fill="url(#crossed)"'}


@dataclass(frozen=True)
class Span:
    """A stretch of a lane from `starts` to `ends` (instants); `kind` is its class, `label` is seen, `says` told."""

    starts: int
    ends: int
    kind: str
    says: str
    label: str = ""


@dataclass(frozen=True)
class Tick:
    """A moment on a lane; `kind` is its class: `in`, `out`, `unsaid` for punches, `now` for a line."""

    at: int
    kind: str
    says: str


@dataclass(frozen=True)
class Lane:
    """One row of a timeline."""

    name: str
    spans: Sequence[Span] = ()
    ticks: Sequence[Tick] = ()


def bar(parts: Sequence[tuple[float, str]], most: float, says: str) -> Markup:
    """Return a bar of stacked (amount, class) parts on a track as long as `most`."""
    drawn, x = [], 0.0
    for amount, kind in parts:
        width = 100 * amount / most if most > 0 else 0
        if width > 0:
            pattern = HATCHING.get(kind, "")
            drawn.append(f'<rect class="{kind}"{pattern} x="{x:.2f}%" y="0" width="{width:.2f}%" height="100%"/>')
        x += width
    return image("bar", says, "".join(drawn), ' height="10"')


def sparkline(values: Sequence[float], says: str) -> Markup:
    """Return one column per value, as high as its share of the highest; an empty mark where there are none."""
    most = max(values, default=0)
    step = SPARK_WIDTH / max(len(values), 1)
    columns = []
    for position, value in enumerate(values):
        height = (SPARK_HEIGHT - 2) * value / most if most else 0
        kind = "column" if value else "nought"
        height = max(height, 1)
        columns.append(
            f'<rect class="{kind}" x="{position * step:.1f}" y="{SPARK_HEIGHT - height:.1f}" '
            f'width="{max(step - 1, 1):.1f}" height="{height:.1f}"/>'
        )
    size = f' width="{SPARK_WIDTH}" height="{SPARK_HEIGHT}" viewBox="0 0 {SPARK_WIDTH} {SPARK_HEIGHT}"'
    return image("spark", says, "".join(columns), size)


def timeline(
    lanes: Sequence[Lane], window: tuple[int, int], hours: Sequence[tuple[int, str]], says: str, *, named: bool = False
) -> Markup:
    """Return lanes over one another above an axis; `hours` are (instant, label) and every other label may be hidden.

    `named` writes each lane's name over it and leaves room for labels, for a timeline that stands alone.
    """
    above = NAMED_HEIGHT if named else 0
    below = LABEL_HEIGHT if named else 0
    step = above + LANE_HEIGHT + below
    height = step * len(lanes)
    pieces = []
    for position, (instant, label) in enumerate(hours):
        x = _x(instant, window)
        minor = " minor" if position % 2 else ""
        anchor = "start" if instant == window[0] else "end" if instant == window[1] else "middle"
        pieces.append(
            f'<line class="hour{minor}" x1="{x}" x2="{x}" y1="0" y2="{height}"/>'
            f'<text class="hour{minor}" x="{x}" y="{height + AXIS_HEIGHT - 4}" text-anchor="{anchor}">'
            f"{escape(label)}</text>"
        )
    for position, lane in enumerate(lanes):
        top = position * step
        if named:
            pieces.append(f'<text class="lane" x="0" y="{top + 14}">{escape(lane.name)}</text>')
        pieces.append(_lane(lane, window, top + above + LANE_HEIGHT // 2))
    return image("timeline", says, "".join(pieces), f' height="{height + AXIS_HEIGHT}"')


def hour_marks(window: tuple[int, int], zone: str, every: int) -> list[tuple[int, str]]:
    """Return the instants in the window at which the wall shows a full hour divisible by `every`, with its label.

    An hour that the wall shows twice is told apart by the letters of its zone.
    """
    first, last = window
    wall = ZoneInfo(zone)
    marks = []
    for instant in range(-(-first // HOUR_S) * HOUR_S, last + 1, HOUR_S):
        at = datetime.fromtimestamp(instant, wall)
        if at.minute == 0 and at.hour % every == 0:
            label = "24:00" if instant == last and at.hour == 0 else f"{at:%H:%M}"
            twice = at.replace(fold=0).utcoffset() != at.replace(fold=1).utcoffset()
            marks.append((instant, f"{label} {at:%Z}" if twice else label))
    return marks


# Which half of the lane a kind fills, as (top, height) from its middle: what a rule gives rises, what it takes sinks.
FULL, HALVES = (-10, 20), {"given": (-10, 10), "taken": (0, 10), "gap": (-5, 10)}
# Where the label stands, from the middle to its foot: a gap's below what a rule took beside it, so that neither covers.
BESIDE = {"given": -14, "taken": 24, "gap": 37}
WIDE_ENOUGH = 12  # per cent of the timeline that a label needs to stand inside its span


def _lane(lane: Lane, window: tuple[int, int], middle: int) -> str:
    pieces = [f'<line class="base" x1="0" x2="100%" y1="{middle}" y2="{middle}"/>']
    for span in lane.spans:
        left, right = _share(span.starts, window), _share(span.ends, window)
        top, height = HALVES.get(span.kind, FULL)
        pieces.append(
            f'<rect class="{span.kind}"{HATCHING.get(span.kind, "")} x="{left:.3f}%" y="{middle + top}" '
            f'width="{max(right - left, 0.2):.3f}%" height="{height}"><title>{escape(span.says)}</title></rect>'
        )
        if span.label:
            pieces.append(_label(span, (left, right), middle))
    pieces.extend(_tick(tick, window, middle) for tick in lane.ticks)
    return "".join(pieces)


def _label(span: Span, place: tuple[float, float], middle: int) -> str:
    left, right = place
    if span.kind in HALVES:
        inside, y = "outside", middle + BESIDE[span.kind]
    elif right - left >= WIDE_ENOUGH:
        inside, y = "inside", middle + 4
    else:
        return ""
    x = (left + right) / 2
    anchor = "start" if x < 4 else "end" if x > 96 else "middle"
    return f'<text class="{inside} {span.kind}" x="{x:.3f}%" y="{y}" text-anchor="{anchor}">{escape(span.label)}</text>'


# A nested drawing is placed by percentage and drawn in its own units, so that its shape never stretches.
SHAPES = {
    "in": '<path d="M0 -13 V13"/><path class="flag" d="M0 -13 h7 l-3.5 4.5 l3.5 4.5 h-7 z"/>',
    "out": '<path d="M0 -13 V13"/><path class="flag" d="M0 13 h-7 l3.5 -4.5 l-3.5 -4.5 h7 z"/>',
    "unsaid": '<path d="M0 -13 V13"/><circle class="flag" cx="0" cy="0" r="3.5"/>',
    "now": '<path d="M0 -17 V17"/>',
    "doubt": '<path class="flag" d="M0 -9 L9 0 L0 9 L-9 0 z"/><path class="stroke" d="M0 -5 V1.5 M0 3.5 V5"/>',
}


def _tick(tick: Tick, window: tuple[int, int], middle: int) -> str:
    x = _x(tick.at, window)
    return (
        f'<svg class="tick {tick.kind}" x="{x}" y="{middle}" width="1" height="1" overflow="visible">'
        f"<title>{escape(tick.says)}</title>{SHAPES[tick.kind]}</svg>"
    )


def _share(instant: int, window: tuple[int, int]) -> float:
    first, last = window
    return min(100.0, max(0.0, 100 * (instant - first) / (last - first)))


def _x(instant: int, window: tuple[int, int]) -> str:
    return f"{_share(instant, window):.3f}%"


def image(kind: str, says: str, drawn: str, size: str) -> Markup:
    """Return what is `drawn` as a mark of its kind, with what it `says` for those who cannot see it."""
    words = escape(says)
    return Markup(
        f'<svg class="mark {kind}" role="img" aria-label="{words}" focusable="false"{size}>'
        f"<title>{words}</title>{drawn}</svg>"
    )


def qr_code(address: str) -> Markup:
    """Return a QR code of the address as SVG, dark on light whatever the page's colours are, as cameras expect it.

    Source: ISO/IEC 18004, as segno writes it.
    """
    import segno

    drawn = segno.make(address, error="m", micro=False)
    return Markup(drawn.svg_inline(light="#fff", dark="#000", border=4, omitsize=True))
