"""Which sign-offs stand: the last of each kind for a person's period that nobody took back."""

from __future__ import annotations

from collections.abc import Collection

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.signing import DISPUTES, OPEN_DISPUTES

__all__ = ["open_disputes", "open_suggestions", "standing_answers", "standing_signoffs"]


def standing_signoffs(signoffs: Frame) -> Frame:
    """Return the sign-offs (SIGNOFFS) that stand, in order: one at most of each kind, person and period."""
    taken_back = signoffs["withdraws"].drop_nulls().implode()
    made = signoffs.filter(pl.col("action") != "withdraw", ~pl.col("signoff").is_in(taken_back)).sort("signoff")
    return made.unique(["person", "first_day", "last_day", "action"], keep="last", maintain_order=True)


def standing_answers(answers: Frame, undone: Collection[int]) -> Frame:
    """Return what was made of suggestions (SUGGESTION_ANSWERS) and stands, in order: one at most of each.

    What was accepted stands no longer where its correction is among the `undone`, which were taken back.
    """
    last = answers.sort("answer").unique("suggestion", keep="last", maintain_order=True)
    was_undone = (pl.col("outcome") == "accepted") & pl.col("correction").is_in(list(undone))
    return last.filter(~was_undone.fill_null(value=False))


def open_suggestions(suggestions: Frame, answers: Frame, undone: Collection[int]) -> Frame:
    """Return the suggestions (SUGGESTIONS) that wait, in order: those of which no answer stands, see above."""
    return suggestions.join(standing_answers(answers, undone), on="suggestion", how="anti").sort("suggestion")


def open_disputes(disputes: Frame, answers: Frame) -> Frame:
    """Return the disputes that wait for an answer (OPEN_DISPUTES), in order, with the day that the last word set."""
    last = answers.sort("answer").unique("dispute", keep="last").select("dispute", "outcome", later="answer_by")
    waiting = disputes.join(last, on="dispute", how="left").filter(
        pl.col("outcome").is_null() | (pl.col("outcome") == "extended")
    )
    is_extended = (pl.col("outcome") == "extended").fill_null(value=False)
    told = waiting.with_columns(is_extended=is_extended, answer_by=pl.coalesce("later", "answer_by"))
    assert set(told.columns) >= set(DISPUTES.names)
    return told.select(OPEN_DISPUTES.names).sort("dispute")
