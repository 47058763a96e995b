"""Decisions of and about people: what they said of their hand, signed and disputed, and holds on their records."""

from __future__ import annotations

import polars as pl

from evenhand import reconcile
from evenhand.jobs.decision_log.columns import day_in_words, is_last, logged, taken_back
from evenhand.jobs.holds import standing_holds
from evenhand.jobs.snapshot import Snapshot
from evenhand.records.standing import standing_answers
from evenhand.terms.columns import Frame
from evenhand.terms.suggestions import SUGGESTED

__all__ = ["consents", "disputes", "holds", "signoffs", "suggestions"]

SAID = {
    "agree": "agreed to the policy on hands",
    "refuse": "said no to the policy on hands",
    "withdraw": "withdrew their consent",
}


def consents(of: Snapshot) -> Frame:
    """Return what people said of their hand, as it was recorded (LOG)."""
    rows = of.consent_decisions
    back = _undone(rows, "decision", "takes_back")
    says = (
        pl.when(pl.col("action") == "take_back")
        .then(pl.format("what was recorded as {} was recorded by mistake", "takes_back"))
        .when(pl.col("action") == "other_way")
        .then(pl.format("chose another way to clock: {}", pl.col("other_way").fill_null("none said")))
        .otherwise(pl.col("action").replace(SAID))
    )
    return logged(
        rows.with_columns(back),
        "consent",
        "consent_decisions",
        "decision",
        author=pl.col("author"),
        person=pl.col("person"),
        day=pl.col("said_on"),
        says=pl.format("{}, {}", says, "how"),
        reason=pl.col("reason"),
        stands=pl.col("undone_by").is_null(),
        taken_back_by=pl.col("undone_by"),
    )


def signoffs(of: Snapshot) -> Frame:
    """Return which hours were confirmed and approved, and what was taken back of that (LOG)."""
    rows = of.signoffs
    back = _undone(rows, "signoff", "withdraws")
    period = pl.format("hours of {} to {}", day_in_words("first_day"), day_in_words("last_day"))
    says = (
        pl.when(pl.col("action") == "confirm")
        .then(pl.format("{} confirmed, {}", period, "way"))
        .when(pl.col("action") == "approve")
        .then(pl.format("{} approved by {}", period, pl.col("supervisor").fill_null("a supervisor")))
        .otherwise(pl.format("sign-off {} taken back", pl.col("withdraws").fill_null(0)))
    )
    return logged(
        rows.with_columns(back),
        "sign-off",
        "signoffs",
        "signoff",
        author=pl.col("author"),
        person=pl.col("person"),
        says=says,
        reason=pl.col("reason"),
        stands=pl.col("undone_by").is_null(),
        taken_back_by=pl.col("undone_by"),
    )


def disputes(of: Snapshot) -> Frame:
    """Return what people said is wrong, and what was answered (LOG)."""
    opened = logged(
        of.disputes,
        "dispute",
        "disputes",
        "dispute",
        author=pl.col("author"),
        person=pl.col("person"),
        day=pl.col("day"),
        says=pl.format("dispute {} opened, about {}", "dispute", pl.col("kind")),
        reason=pl.col("says"),
    )
    whose = of.disputes.select("dispute", "person", about_day="day")
    answered = pl.col("outcome").replace(
        {
            "accepted": "the person is right",
            "rejected": "the person is not right",
            "withdrawn": "the person takes it back",
        }
    )
    says = pl.format(
        "dispute {} answered: {}",
        "dispute",
        pl.when(pl.col("outcome") == "extended")
        .then(pl.format("answered by {}", day_in_words("answer_by").fill_null("later")))
        .otherwise(answered),
    )
    answers = logged(
        of.dispute_answers.join(whose, on="dispute", how="left"),
        "dispute",
        "dispute_answers",
        "answer",
        author=pl.col("author"),
        person=pl.col("person"),
        day=pl.col("about_day"),
        says=says,
        reason=pl.col("reason"),
        stands=is_last("dispute", number="answer"),
    )
    return pl.concat([opened, answers])


def suggestions(of: Snapshot) -> Frame:
    """Return what supervisors said of open questions, and what was made of it (LOG)."""
    made = logged(
        of.suggestions,
        "suggestion",
        "suggestions",
        "suggestion",
        author=pl.col("author"),
        person=pl.col("person"),
        day=pl.col("day"),
        says=pl.format("suggestion {}: {}", "suggestion", pl.col("action").replace(SUGGESTED)),
        reason=pl.col("says"),
    )
    whose = of.suggestions.select("suggestion", "person", "day")
    stands = standing_answers(of.suggestion_answers, reconcile.undone(of.corrections))
    answers = logged(
        of.suggestion_answers.join(whose, on="suggestion", how="left"),
        "suggestion",
        "suggestion_answers",
        "answer",
        author=pl.col("author"),
        person=pl.col("person"),
        day=pl.col("day"),
        says=pl.format("suggestion {} {}", "suggestion", "outcome"),
        reason=pl.col("reason"),
        stands=pl.col("answer").is_in(stands["answer"].implode()),
    )
    return pl.concat([made, answers])


def holds(of: Snapshot) -> Frame:
    """Return which legal holds were placed and lifted (LOG)."""
    return logged(
        of.holds,
        "legal hold",
        "holds",
        "hold",
        author=pl.col("author"),
        person=pl.col("person"),
        says=pl.when(pl.col("lifts").is_not_null())
        .then(pl.format("legal hold {} lifted", "lifts"))
        .when("is_lifted")
        .then(pl.lit("legal hold lifted"))
        .otherwise(pl.format("legal hold {} placed", "hold")),
        reason=pl.col("reason"),
        stands=pl.col("is_lifted") | pl.col("hold").is_in(standing_holds(of.holds)["hold"].to_list()),
    )


def _undone(rows: Frame, number: str, takes_back: str) -> pl.Expr:
    undone = taken_back(dict(rows.drop_nulls(takes_back).select(number, takes_back).iter_rows()))
    return pl.col(number).replace_strict(undone, default=None, return_dtype=pl.Int64).alias("undone_by")
