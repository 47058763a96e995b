"""What the passes made of the punches, as the frames that leave the room."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import polars as pl

from evenhand.law.classing import Change, step_rows
from evenhand.law.codes import ASKS, LONG_SPAN, NOTHING
from evenhand.law.site import Site
from evenhand.law.spans import Column, Owed, Spans
from evenhand.terms.columns import Frame
from evenhand.terms.stretches import HALF_SHIFT_S
from evenhand.terms.tables import CLASSED, PREMIUMS, QUESTIONS, STEPS, WEEKS

__all__ = ["Names", "classed_frame", "premiums_frame", "questions_frame", "steps_frame", "weeks_frame"]

AMOUNTS = ("recorded_s", "ordinary_s", "overtime_s", "double_s", "questions")


@dataclass(frozen=True)
class Names:
    """What the codes stand for: people by code, the stored punch of each row."""

    people: pl.Series
    punches: Column


def classed_frame(spans: Spans, site: Site, names: Names) -> Frame:
    """Return paid spans in one class each (CLASSED)."""
    paid = spans.paid
    parts = [
        ("ordinary", paid.starts, paid.overtime_from),
        ("overtime", paid.overtime_from, paid.double_from),
        ("double", paid.double_from, paid.ends),
    ]
    kept = [np.flatnonzero(starts < ends) for _, starts, ends in parts]
    piece = np.concatenate(kept)
    act = paid.act[piece]
    frame = CLASSED.frame(
        {
            "person": names.people.gather(spans.person[act]),
            "shift": spans.shift[act],
            "workweek": pl.Series(site.week_dates).gather(paid.week[piece]),
            "starts": np.concatenate([starts[rows] for (_, starts, _), rows in zip(parts, kept, strict=True)]),
            "ends": np.concatenate([ends[rows] for (_, _, ends), rows in zip(parts, kept, strict=True)]),
            "pay_class": pl.Series(
                [name for (name, _, _), rows in zip(parts, kept, strict=True) for _ in range(len(rows))],
                dtype=pl.String,
            ),
            "punch_in": names.punches[spans.row[act]],
            "punch_out": names.punches[spans.row[act + 1]],
        }
    )
    return frame.sort("person", "starts")


def questions_frame(spans: Spans, site: Site, names: Names) -> Frame:
    """Return what the punches leave open (QUESTIONS)."""
    people = len(names.people)
    work = spans.recorded
    length = (work.ends - work.starts).astype(np.float64)
    owner = spans.person[work.act]
    spans_of_each = np.bincount(spans.person[np.unique(work.act)], minlength=people)
    total = np.bincount(owner, weights=length, minlength=people)
    usual = np.where(spans_of_each > 0, total / np.maximum(spans_of_each, 1), HALF_SHIFT_S)
    act = np.flatnonzero(spans.asks != NOTHING)
    asks = spans.asks[act]
    doubt = usual[spans.person[act]]
    long = asks == LONG_SPAN
    doubt[long] = np.maximum(0, spans.at[act[long] + 1] - spans.at[act[long]] - doubt[long])
    return QUESTIONS.frame(
        {
            "person": names.people.gather(spans.person[act]),
            "kind": pl.Series([ASKS[ask] for ask in asks], dtype=pl.String),
            "at": spans.at[act],
            "workweek": _week_dates(site, spans.at[act]),
            "punch": names.punches[spans.row[act]],
            "minutes": np.rint(doubt / 60).astype(np.int64),
        }
    )


def _week_dates(site: Site, instants: Column) -> pl.Series:
    return pl.Series(site.week_dates).gather(np.searchsorted(site.week_bounds, instants, side="right") - 1)


def weeks_frame(spans: Spans, site: Site, names: Names, questions: Frame) -> Frame:
    """Return each person's workweeks (WEEKS)."""

    def tally(act: Column, week: Column, seconds: Column, name: str) -> Frame:
        return pl.select(
            person=names.people.gather(spans.person[act]),
            workweek=pl.Series(site.week_dates).gather(week),
            name=pl.lit(name),
            amount=pl.Series(seconds),
        )

    paid, work = spans.paid, spans.recorded
    tallies = pl.concat(
        [
            tally(work.act, work.week, work.ends - work.starts, "recorded_s"),
            tally(paid.act, paid.week, paid.overtime_from - paid.starts, "ordinary_s"),
            tally(paid.act, paid.week, paid.double_from - paid.overtime_from, "overtime_s"),
            tally(paid.act, paid.week, paid.ends - paid.double_from, "double_s"),
            questions.select("person", "workweek", name=pl.lit("questions"), amount=pl.lit(1, pl.Int64)),
        ]
    )
    amounts = {name: pl.col("amount").filter(pl.col("name") == name).sum() for name in AMOUNTS}
    weeks = tallies.group_by("person", "workweek").agg(**amounts).sort("person", "workweek")
    return WEEKS.frame({name: weeks[name] for name in WEEKS.names})


def premiums_frame(spans: Spans, site: Site, names: Names) -> Frame:
    """Return what is owed beside time worked (PREMIUMS)."""
    rows = [row for owed in spans.owed for row in _owed_rows(owed, spans, site, names)]
    return PREMIUMS.rows(rows).sort("person", "workday", "kind")


def _owed_rows(owed: Owed, spans: Spans, site: Site, names: Names) -> Iterator[dict[str, Any]]:
    cites = "; ".join(citation.where for citation in owed.cites)
    for k, act in enumerate(owed.act):
        zone, day = site.zone_names[spans.zone[act]], int(owed.day[k])
        words = {word: _in_words(word, int(column[k]), zone) for word, column in owed.words.items()}
        yield {
            "person": names.people[int(spans.person[act])],
            "workweek": site.week_dates[day // 7],
            "workday": site.day_dates[day],
            "kind": owed.kind,
            "hours": (Decimal(int(owed.seconds[k])) / 3600).quantize(Decimal("0.0001")),
            "says": owed.says[int(owed.reason[k])].format(**words),
            "cites": cites,
            "punch": int(names.punches[spans.row[act]]),
        }


def steps_frame(changes: list[Change], spans: Spans, site: Site, names: Names) -> Frame:
    """Return each thing a rule did (STEPS)."""

    def row(step: dict[str, Any]) -> dict[str, Any]:
        act = step["act"]
        row_a = step.get("row_a", int(spans.row[act]))
        row_b = step.get("row_b", int(spans.row[step["other"]]) if "other" in step else None)
        zone = site.zone_names[spans.zone[act]]
        words = {word: _in_words(word, value, zone) for word, value in step["words"].items()}
        return step | {
            "person": names.people[int(spans.person[act])],
            "workweek": site.week_dates[step["week"]],
            "punch_a": int(names.punches[row_a]),
            "punch_b": None if row_b is None else int(names.punches[row_b]),
            "says": step["says"].format(**words),
        }

    return STEPS.rows(row(step) for step in step_rows(changes, site)).sort("person", "starts", maintain_order=True)


def _in_words(word: str, value: Any, zone: str) -> Any:
    """Write what a sentence wants said: `was` and `now` are instants, words that end in `_for` seconds."""
    if word.endswith("_for"):
        hours, minutes = divmod(int(value) // 60, 60)
        return f"{hours} h {minutes} min" if hours and minutes else f"{hours} h" if hours else f"{minutes} min"
    if word not in {"was", "now"}:
        return value
    stamp = datetime.fromtimestamp(value, ZoneInfo(zone))
    return f"{stamp:%Y-%m-%d %H:%M:%S}" if stamp.second else f"{stamp:%Y-%m-%d %H:%M}"
