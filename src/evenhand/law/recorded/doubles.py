"""Two presentations of one person seconds apart are one act, and one punch.

Source: common practice, no source. Of marked starts the earliest stays and of marked ends the latest, which
favours the worker; of unmarked ones the first. A start and an end are never one act.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from evenhand.law.codes import OUT, UNMARKED
from evenhand.law.compiling import run_pass
from evenhand.law.site import Site
from evenhand.law.spans import Spans
from evenhand.terms.records import Citation

__all__ = ["CITES", "NAME", "SAYS", "apply", "steps"]

NAME = "recorded.doubles"
CITES = (Citation("common practice, no source"),)
SAYS = "the presentation at {was} is one act with the one at {now}, {apart} s apart, and counts once"


def merge_doubles(person: Any, at: Any, mark: Any, double_s: int, into: Any, kept: Any, act_mark: Any) -> int:
    """Fill each row's act, each act's kept row and its mark; return the number of acts."""
    acts = 0
    for i in range(len(at)):
        joins = False
        if i > 0 and person[i] == person[i - 1] and at[i] - at[i - 1] < double_s:
            so_far = act_mark[acts - 1]
            joins = so_far == UNMARKED or mark[i] == UNMARKED or so_far == mark[i]
        if joins:
            if act_mark[acts - 1] == UNMARKED:
                act_mark[acts - 1] = mark[i]
            if act_mark[acts - 1] == OUT:
                kept[acts - 1] = i
        else:
            kept[acts] = i
            act_mark[acts] = mark[i]
            acts += 1
        into[i] = acts - 1
    return acts


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with one act for presentations closer than `policy.double_s`."""
    rows = len(spans.at)
    into, kept, mark = np.empty(rows, np.int32), np.empty(rows, np.int32), np.empty(rows, np.int8)
    inputs = (spans.person, spans.at, spans.mark, site.policy.double_s)
    acts = run_pass(merge_doubles, inputs, (into, kept, mark), large=site.large)
    if acts == rows:
        return replace(spans, row=kept, into=into, pay_at=spans.at)
    kept = kept[:acts]
    at = spans.at[kept]
    return replace(
        spans,
        person=spans.person[kept],
        at=at,
        mark=mark[:acts],
        zone=spans.zone[kept],
        row=kept,
        into=into,
        pay_at=at,
    )


def steps(before: Spans, after: Spans, site: Site) -> Iterator[dict[str, Any]]:
    """Yield one step per presentation that counts with another."""
    kept_rows = after.row[after.into]
    for row in np.flatnonzero(kept_rows != np.arange(len(kept_rows))):
        kept = kept_rows[row]
        was, now = int(before.at[row]), int(before.at[kept])
        yield {
            "act": int(after.into[row]),
            "starts": min(was, now),
            "ends": max(was, now),
            "seconds": 0,
            "row_a": int(row),
            "row_b": int(kept),
            "says": SAYS,
            "words": {"was": was, "now": now, "apart": abs(now - was)},
        }
