"""A reader's people score, or are refused, otherwise than they used to there."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.changes import open_alarms, set_right
from evenhand.checks.facts import Check, Facts
from evenhand.terms.languages import told
from evenhand.terms.records import Finding

CHECK = Check(
    code="reader_changed",
    title=told("A reader has changed"),
    why=told(
        "What everybody shares at one reader has moved: dirt, wear, a knock, a cleaning or a "
        "calibration. Charts tell it with a known number of false alarms a month (see Hands)."
    ),
    next_step=told("Clean the platen; if that does not help, calibrate the reader."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader whose alarm lasts."""
    for row in open_alarms(facts, "reader"):
        yield set_right(facts, CHECK.code, row, row["reader"])
