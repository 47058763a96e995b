"""Why a period is not handed off: written already, by somebody for the same reason, or not ready."""

from __future__ import annotations

from collections.abc import Sequence

import polars as pl

from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.today import Today
from evenhand.terms.closing import ClosedPeriod
from evenhand.terms.languages import DaySpan, Moment, told
from evenhand.terms.records import Finding, Refusal
from evenhand.terms.settings import Period

__all__ = ["refuse_replaced", "refuse_twice", "refuse_unready"]


def refuse_twice(before: ClosedPeriod | None, period: Period, replace_why: str | None) -> None:
    """Raise Refusal where a period was handed off and nobody says why again, or it is to replace what is not there."""
    if before is None and replace_why is not None:
        raise Refusal(
            told(
                "{days} was not handed off, so that nothing of it can be replaced.",
                days=DaySpan(period.first, period.last),
            )
        )
    if before is not None and not (replace_why or "").strip():
        what = (
            told("{count:# person has|# people have} changed since", count=before.changes["person"].n_unique())
            if before.changes.height
            else told("nothing has changed since")
        )
        raise Refusal(
            told(
                "{days} was handed off already, in {file}, and {what}; replace that file, "
                "or have the next one carry what changed, on Hand-off or with `evenhand handoff settle`.",
                days=DaySpan(period.first, period.last),
                file=before.file,
                what=what,
            )
        )


def refuse_replaced(of: Snapshot, before: ClosedPeriod | None, author: str, replace_why: str | None) -> None:
    """Refuse to replace a file again that the same person wrote for the same reason, and of which nothing changed."""
    if before is None or replace_why is None or before.changes.height:
        return
    said = {"author": author, "reason": replace_why.strip(), "handoff": before.handoff}
    same = of.handoffs.filter(
        *(pl.col(name) == value for name, value in said.items()), pl.col("replaces").is_not_null()
    )
    if same.height:
        raise Refusal(
            told(
                "{file} was written by {author} for this reason already, and nothing has changed since; "
                "nothing was written. Where it is to be written once more, say why.",
                file=before.file,
                author=author,
            )
        )


def refuse_unready(today: Today, blockers: Sequence[Finding], *, despite: bool) -> None:
    """Raise Refusal where the period has not ended, or findings keep it back that nobody overrules."""
    period = today.period
    if not today.has_ended:
        raise Refusal(
            told(
                "the period {days} has not ended, the last workweek that begins in it "
                "ends on {at:zoned}; hand it off after that.",
                days=DaySpan(period.first, period.last),
                at=Moment(today.ends, today.zone),
            )
        )
    if blockers and not despite:
        raise Refusal(
            told(
                "{count:# finding keeps|# findings keep} {days} from payroll, the first: {says} "
                "See `evenhand today "
                "--period {begins}`; settle or correct them, or say that it is written despite them.",
                count=len(blockers),
                days=DaySpan(period.first, period.last),
                begins=period.first.isoformat(),
                says=blockers[0].says,
            )
        )
    today.hours.refuse_failing()
