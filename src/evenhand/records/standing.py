"""Which sign-offs stand: the last of each kind for a person's period that nobody took back."""

from __future__ import annotations

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.signing import DISPUTES, OPEN_DISPUTES

__all__ = ["open_disputes", "open_suggestions", "standing_signoffs"]


def standing_signoffs(signoffs: Frame) -> Frame:
    """Return the sign-offs (SIGNOFFS) that stand, in order: one at most of each kind, person and period."""
    taken_back = signoffs["withdraws"].drop_nulls().implode()
    made = signoffs.filter(pl.col("action") != "withdraw", ~pl.col("signoff").is_in(taken_back)).sort("signoff")
    return made.unique(["person", "first_day", "last_day", "action"], keep="last", maintain_order=True)


def open_suggestions(suggestions: Frame, answers: Frame) -> Frame:
    """Return the suggestions (SUGGESTIONS) that nobody has decided on, in order; `answers` are SUGGESTION_ANSWERS."""
    return suggestions.join(answers, on="suggestion", how="anti").sort("suggestion")


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
