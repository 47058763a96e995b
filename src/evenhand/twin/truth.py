"""The truth kept beside the workplace: what nobody at the workplace can look up."""

from __future__ import annotations

from dataclasses import dataclass

from evenhand.terms.columns import Column, Frame, Table

__all__ = ["CLOCKS", "MISTAKES", "NUMBERS", "OWNERS", "SPANS", "Truth"]

_INSTANT = "s since 1970-01-01T00:00:00Z"

NUMBERS = Table(
    "true_numbers",
    "The number each person was given, before any list lost its zeros",
    (
        Column("person", "text", "The person", required=True),
        Column("number", "text", "The number", required=True),
    ),
    key=("person",),
)

OWNERS = Table(
    "true_owners",
    "Whose hand each row of the punches frame is, row by row",
    (
        Column("row", "count", "The row of the punches frame, from 0", required=True),
        Column("person", "text", "Whose hand it was", required=True),
        Column("at", "instant", "When it truly happened", required=True, unit=_INSTANT),
        Column("direction", "text", "Which way the person truly went", required=True, allowed=("in", "out")),
        Column(
            "planted",
            "text",
            "What is wrong with the row, if anything",
            allowed=("double", "wrong_direction", "other_number"),
        ),
    ),
    key=("row",),
)

SPANS = Table(
    "true_spans",
    "When each person truly worked, punched or not",
    (
        Column("person", "text", "The person", required=True),
        Column("site", "text", "Where", required=True),
        Column("shift", "count", "Counts the shifts of the workplace", required=True),
        Column("starts", "instant", "When work began", required=True, unit=_INSTANT),
        Column("ends", "instant", "When it stopped", required=True, unit=_INSTANT),
    ),
    key=("person", "starts"),
)

MISTAKES = Table(
    "mistakes",
    "Every mistake planted: what, who, where, when",
    (
        Column("kind", "text", "What was planted", required=True),
        Column("person", "text", "Who, where it is a person"),
        Column("reader", "text", "Where, where it is a reader"),
        Column("number", "text", "The number it left behind"),
        Column("starts", "instant", "When it happened or began", unit=_INSTANT),
        Column("ends", "instant", "When it ended", unit=_INSTANT),
        Column("detail", "text", "More about it"),
    ),
)

CLOCKS = Table(
    "true_clocks",
    "How far a reader's clock is off: ahead by `ahead_s` at `starts`, gaining `gains_s` a day",
    (
        Column("reader", "text", "The reader", required=True),
        Column("starts", "instant", "From when", required=True, unit=_INSTANT),
        Column("ends", "instant", "Until when", required=True, unit=_INSTANT),
        Column("ahead_s", "seconds", "Seconds ahead at the start", required=True, unit="s"),
        Column("gains_s", "seconds", "Seconds gained a day", required=True, unit="s"),
    ),
)


@dataclass(frozen=True)
class Truth:
    """What is really so, in frames by the tables of this module."""

    numbers: Frame
    owners: Frame
    spans: Frame
    mistakes: Frame
    clocks: Frame
