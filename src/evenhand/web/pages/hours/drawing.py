"""Draw a person's days: punches as flags, spans as blocks, on one axis of civil time."""

from __future__ import annotations

from markupsafe import Markup

from evenhand.terms.columns import Frame
from evenhand.terms.languages import Speech, clock_told, sentence, told
from evenhand.terms.open_punches import say_punch
from evenhand.terms.words import as_duration
from evenhand.web.marks import Lane, Span, Tick, hour_marks, timeline

__all__ = ["draw_day", "paid_spans", "punch_ticks", "seconds_of"]

PAID_AS = {
    "ordinary": sentence("ordinary, {starts} to {ends}: {time:duration}"),
    "overtime": sentence("overtime, {starts} to {ends}: {time:duration}"),
    "double": sentence("double, {starts} to {ends}: {time:duration}"),
}


def seconds_of(spans: Frame) -> int:
    """Return the seconds that spans hold."""
    return int((spans["ends"] - spans["starts"]).sum())


def draw_day(
    punches: Frame,
    classed: Frame,
    questions: Frame,
    window: tuple[int, int],
    zone: str,
    says: str,
    speech: Speech,
) -> Markup:
    """Return one lane: what is paid, the punches over it, and a diamond where something is open."""
    ticks = [*punch_ticks(punches, zone, speech), *doubt_ticks(questions, zone, speech)]
    lane = Lane("", paid_spans(classed, zone, speech), ticks)
    return timeline([lane], window, hour_marks(window, zone, 3), speech.said(says))


def punch_ticks(punches: Frame, zone: str, speech: Speech) -> list[Tick]:
    """Return a flag per punch; it points right at the start of something and left at its end."""
    return [
        Tick(at, way or "unsaid", speech.said(say_punch(at, zone, way, reader)))
        for at, way, reader in punches.select("at", "direction", "reader").iter_rows()
    ]


def doubt_ticks(questions: Frame, zone: str, speech: Speech) -> list[Tick]:
    """Return a diamond per open question."""
    return [
        Tick(at, "doubt", speech.said(told("open question at {at}", at=clock_told(at, zone))))
        for at in questions["at"].to_list()
    ]


def paid_spans(classed: Frame, zone: str, speech: Speech) -> list[Span]:
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
            speech.said(
                told(
                    PAID_AS[kind],
                    starts=clock_told(starts, zone),
                    ends=clock_told(ends, zone),
                    time=ends - starts,
                )
            ),
            as_duration(ends - starts),
        )
        for starts, ends, kind in stretches
    ]
