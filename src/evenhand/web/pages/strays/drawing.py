"""Draw the evidence as a waterfall that adds up, and the stray's days beside the candidate's."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import accumulate

import polars as pl
from markupsafe import Markup

from evenhand.jobs.stray_proposals import Candidate, Part, StrayProposal, Strays
from evenhand.terms.languages import ENGLISH, Moment, Speech
from evenhand.terms.zones import civil_date, day_start
from evenhand.web.marks import HATCHING, WAYS, Lane, Span, Tick, hour_marks, image, timeline

__all__ = ["draw_days", "waterfall"]

HEIGHT = 20
MOST_DAYS = 4


def waterfall(parts: Sequence[Part], say: Speech = ENGLISH) -> list[tuple[Part, float, Markup]]:
    """Return every part with the running sum after it and its step, all drawn on one scale from lowest to highest."""
    sums = list(accumulate((part.bits for part in parts), initial=0.0))
    low, high = min(sums), max(sums)
    return [
        (
            part,
            after,
            _step(before, after, low, high, say("{bits:+.1f} bits, {sum:.1f} so far", bits=part.bits, sum=after)),
        )
        for part, before, after in zip(parts, sums[:-1], sums[1:], strict=True)
    ]


def _step(before: float, after: float, low: float, high: float, says: str) -> Markup:
    reach = high - low or 1.0

    def x(bits: float) -> float:
        return 2 + 96 * (bits - low) / reach

    kind = "ordinary" if after >= before else "overtime"
    left, right = sorted((x(before), x(after)))
    drawn = (
        f'<line class="nought" x1="{x(0):.2f}%" x2="{x(0):.2f}%" y1="0" y2="{HEIGHT}"/>'
        f'<rect class="{kind}"{HATCHING.get(kind, "")} x="{left:.2f}%" y="3" '
        f'width="{max(right - left, 0.4):.2f}%" height="{HEIGHT - 6}"/>'
    )
    return image("spread", says, drawn, f' height="{HEIGHT}"')


def draw_days(
    found: Strays, proposal: StrayProposal, candidate: Candidate | None, say: Speech = ENGLISH
) -> list[tuple[date, Markup]]:
    """Return the latest days of the stray, each with the candidate's own punches and schedule below."""
    zone = proposal.zone
    days = sorted({civil_date(zone, at) for _, at, _ in proposal.punches})[-MOST_DAYS:]
    return [(day, _day(found, proposal, candidate, day, zone, say)) for day in days]


def _day(
    found: Strays, proposal: StrayProposal, candidate: Candidate | None, day: date, zone: str, say: Speech
) -> Markup:
    window = day_start(zone, day), day_start(zone, day + timedelta(days=1))
    within = [(at, way) for _, at, way in proposal.punches if window[0] <= at < window[1]]
    under = say("Under {number} at {reader}", number=proposal.number, reader=proposal.reader)
    lanes = [Lane(under, (), _ticks(within, zone, proposal.reader, say))]
    text = say(
        "{day:short}: {count:# punch|# punches} under {number}", day=day, count=len(within), number=proposal.number
    )
    if candidate is not None:
        stray = [punch for punch, _, _ in proposal.punches]
        attributed = found.attributed.filter(
            pl.col("person") == candidate.person,
            pl.col("at").is_between(*window, closed="left"),
            ~pl.col("punch").is_in(stray),
        )
        own = _ticks(list(attributed.select("at", "direction").iter_rows()), zone, candidate.name, say)
        # The heading above names the candidate; a name here would run off a phone, since drawn letters do not wrap.
        lanes.append(Lane(say("Schedule and own punches"), _planned(found, candidate, window, zone, say), own))
        text += say("; {count:# punch|# punches} of {name}'s own", count=len(own), name=candidate.name)
    return timeline(lanes, window, hour_marks(window, zone, 3), text, named=True)


def _planned(found: Strays, candidate: Candidate, window: tuple[int, int], zone: str, say: Speech) -> list[Span]:
    rows = found.schedules.filter(
        pl.col("person") == candidate.person, pl.col("starts_at") < window[1], pl.col("ends_at") > window[0]
    )
    return [
        Span(
            max(starts, window[0]),
            min(ends, window[1]),
            "recorded",
            say("scheduled {starts:clock} to {ends:clock}", starts=Moment(starts, zone), ends=Moment(ends, zone)),
            say("scheduled"),
        )
        for starts, ends in rows.select("starts_at", "ends_at").iter_rows()
    ]


def _ticks(punches: Sequence[tuple[int, str | None]], zone: str, of: str, say: Speech) -> list[Tick]:
    return [Tick(at, way or "unsaid", f"{say.clock(at, zone)} {say(WAYS[way])}, {of}") for at, way in punches]
