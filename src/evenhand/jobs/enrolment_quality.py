"""Judge the enrolments of rounds by the scores noted at the reader, beside the scores usual there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import polars as pl

from evenhand import scores
from evenhand.terms.columns import Frame
from evenhand.terms.rounds import JUDGED

__all__ = ["judge_enrolments"]


def judge_enrolments(states: Frame, recorded: Frame) -> Frame:
    """Return what the scores noted say (JUDGED) of the enrolments done (STATES of rounds), where that can be told.

    Each noted score is that of a presentation against those before it; where one is noted for the first too, it
    compares with nothing and is left aside. What is usual is taken from the scores accepted (RECORDED) at the reader
    before, or at all readers where that one has too few yet. Fewer than three presentations, and more than five,
    are not judged.
    """
    noted = states.filter(pl.col("result") == "enrolled", pl.col("scores").is_not_null())
    if noted.is_empty():
        return JUDGED.empty()
    before = recorded.filter(
        pl.col("outcome").fill_null("accepted") == "accepted", pl.col("score") >= 0, pl.col("at") < noted["at"].min()
    )
    anywhere = scores.estimate_placement(before["score"].to_numpy())
    return JUDGED.rows(_judged(noted, before, anywhere))


def _judged(noted: Frame, before: Frame, anywhere: scores.PlacementNoise | None) -> Iterator[dict[str, Any]]:
    for (reader,), items in noted.group_by("reader", maintain_order=True):
        here = before.filter(pl.col("reader") == reader)["score"].to_numpy()
        placement = scores.estimate_placement(here) or anywhere
        if placement is None:
            continue
        for item in items.iter_rows(named=True):
            found = [float(score) for score in item["scores"].split()]
            compared = found[1:] if len(found) == item["presentations"] else found
            if not 3 <= len(compared) + 1 <= 5:
                continue
            judged = scores.assess_enrolment(np.array(compared), placement.usual, placement.features)
            yield {
                "item": item["item"],
                "presentations": len(compared) + 1,
                "advice": judged.advice,
                "leave_out": None if judged.leave_out is None else judged.leave_out + 1,
                "expected": judged.expected,
                "says": judged.says,
            }
