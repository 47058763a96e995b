"""Draw a person's days: punches as flags, spans as blocks, on one axis of civil time."""

from __future__ import annotations

from markupsafe import Markup

from evenhand.terms.columns import Frame
from evenhand.terms.words import as_clock, as_duration
from evenhand.web.marks import WAYS, Lane, Span, Tick, hour_marks, timeline

__all__ = ["draw_day", "paid_spans", "punch_ticks", "seconds_of"]


def seconds_of(spans: Frame) -> int:
    """Return the seconds that spans hold."""
    return int((spans["ends"] - spans["starts"]).sum())


def draw_day(punches: Frame, classed: Frame, questions: Frame, window: tuple[int, int], zone: str, says: str) -> Markup:
    """Return one lane: what is paid, the punches over it, and a diamond where something is open."""
    ticks = [*punch_ticks(punches, zone), *doubt_ticks(questions, zone)]
    lane = Lane("", paid_spans(classed, zone), ticks)
    return timeline([lane], window, hour_marks(window, zone, 3), says)


def punch_ticks(punches: Frame, zone: str) -> list[Tick]:
    """Return a flag per punch; it points right at the start of something and left at its end."""
    return [
        Tick(at, way or "unsaid", f"{as_clock(at, zone)} {WAYS[way]}, {reader or 'added by a correction'}")
        for at, way, reader in punches.select("at", "direction", "reader").iter_rows()
    ]


def doubt_ticks(questions: Frame, zone: str) -> list[Tick]:
    """Return a diamond per open question."""
    return [Tick(at, "doubt", f"open question at {as_clock(at, zone)}") for at in questions["at"].to_list()]


def paid_spans(classed: Frame, zone: str) -> list[Span]:
    """Return a block per stretch of one class, whatever punches lie within it."""
    stretches: list[tuple[int, int, str]] = []
    for starts, ends, kind in classed.sort("starts").select("starts", "ends", "pay_class").iter_rows():
        if stretches and stretches[-1][1:] == (starts, kind):
            starts = stretches.pop()[0]  # noqa: PLW2901
        stretches.append((starts, ends, kind))
    return [
        Span(
            starts,
            ends,
            kind,
            f"{kind}, {as_clock(starts, zone)} to {as_clock(ends, zone)}: {as_duration(ends - starts)}",
            as_duration(ends - starts),
        )
        for starts, ends, kind in stretches
    ]
