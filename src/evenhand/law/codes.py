"""The small numbers that columns of punches carry: the same in every pass, compiled or not."""

from __future__ import annotations

__all__ = [
    "ASKS",
    "IN",
    "LONG_SPAN",
    "MISSING_IN",
    "MISSING_OUT",
    "NOTHING",
    "OFF",
    "OUT",
    "REST",
    "SAME_TIME",
    "UNMARKED",
    "WORK",
]

UNMARKED, IN, OUT = 0, 1, 2
"""Which way a punch went; a mark as recorded, a reading once pairing has decided."""

OFF, REST, WORK = 0, 1, 2
"""What the time from one punch to the person's next one is: not paid, a paid rest break, work."""

NOTHING, MISSING_IN, MISSING_OUT, LONG_SPAN, SAME_TIME = 0, 1, 2, 3, 4
"""What a punch leaves open."""

ASKS = ("", "missing_in", "missing_out", "long_span", "same_time")
"""The names of the open questions, by their code."""
