"""Two presentations of one person seconds apart are one punch.

Source: common practice, no source. Of marked starts the earliest stays and of marked ends the latest, which
favours the worker; of unmarked ones the first. A start and an end are never one punch.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from evenhand.law.codes import OUT, UNMARKED
from evenhand.law.compiling import run_pass
from evenhand.law.jurisdiction import Pass, changed
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Spans
from evenhand.terms.languages import sentence
from evenhand.terms.records import Citation

__all__ = ["RULE"]

NAME = "recorded.repeats"
CITES = (Citation("common practice, no source"),)
SAYS = (sentence("the presentation at {was} is one punch with the one at {now}, {apart} s apart, and counts once"),)


def merge_repeats(
    person: Any,
    at: Any,
    mark: Any,
    zone: Any,
    repeat_gap_s: int,
    into: Any,
    kept: Any,
    punch_person: Any,
    punch_at: Any,
    punch_mark: Any,
    punch_zone: Any,
) -> int:
    """Fill each row's punch, and each punch's kept row with its columns; return the number of punches."""
    punches = 0
    for i in range(len(at)):
        joins = False
        if i > 0 and person[i] == person[i - 1] and at[i] - at[i - 1] < repeat_gap_s:
            so_far = punch_mark[punches - 1]
            joins = so_far == UNMARKED or mark[i] == UNMARKED or so_far == mark[i]
        if joins:
            if punch_mark[punches - 1] == UNMARKED:
                punch_mark[punches - 1] = mark[i]
            if punch_mark[punches - 1] == OUT:
                kept[punches - 1], punch_at[punches - 1], punch_zone[punches - 1] = i, at[i], zone[i]
        else:
            kept[punches], punch_person[punches] = i, person[i]
            punch_at[punches], punch_mark[punches], punch_zone[punches] = at[i], mark[i], zone[i]
            punches += 1
        into[i] = punches - 1
    return punches


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with one punch for presentations closer than `policy.repeat_gap_s`."""
    rows = len(spans.at)
    columns = (spans.person, spans.at, spans.mark, spans.zone)
    into, kept = np.empty(rows, np.int32), np.empty(rows, np.int32)
    filled = (into, kept, *(np.empty_like(column) for column in columns))
    punches = run_pass(merge_repeats, (*columns, site.policy.repeat_gap_s), filled, large=site.large)
    kept, person, at, mark, zone = (column[:punches] for column in filled[1:])
    return replace(spans, person=person, at=at, mark=mark, zone=zone, row=kept, into=into, pay_at=at)


def changes(before: Spans, after: Spans, site: Site) -> Changes:
    """Return one row per presentation that counts with another."""
    kept_rows = after.row[after.into]
    row = np.flatnonzero(kept_rows != np.arange(len(kept_rows)))
    kept = kept_rows[row]
    was, now = before.at[row], before.at[kept]
    words = {"was": was, "now": now, "apart": np.abs(now - was)}
    return changed(after.into[row], np.minimum(was, now), np.maximum(was, now), SAYS, words, rows=(row, kept))


RULE = Pass(NAME, CITES, "reads", apply, changes)
