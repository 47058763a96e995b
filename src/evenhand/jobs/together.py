"""Decide several missing punches together: what is proposed for each, what all of it does, and making it at once."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from typing import Any

from evenhand.jobs.correct import CorrectionRequest, whom_it_is_about
from evenhand.jobs.correction_rows import rows_of
from evenhand.jobs.effects import PeriodChange, period_changes
from evenhand.jobs.hours import workweek_of
from evenhand.jobs.misfits import misfits
from evenhand.jobs.overtaken import (
    corrections_since,
    refuse_both,
    refuse_corrected,
    refuse_twice,
    refuse_withdrawn,
)
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.signed_hours import undone_by
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions, frames
from evenhand.terms.cases import Case
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Refusal
from evenhand.terms.zones import civil_date

__all__ = [
    "ProposedCorrection",
    "TogetherForeseen",
    "chosen_of",
    "correct_together",
    "foresee_together",
    "open_absences",
    "open_proposals",
    "open_questions",
    "proposed_corrections",
    "take_back_together",
]

BY_NOBODY = ("nobody yet", "nothing yet")

SAID = ("kind", "way", "at", "suspect")


@dataclass(frozen=True)
class ProposedCorrection:
    """A missing punch of which one correction is proposed: the finding, the correction, how sure, and what it rests on.

    `asked` is by nobody and for nothing until somebody decides. `at` is when the punch is
    [s since 1970-01-01T00:00:00Z], `likely` how often what is proposed so is right, None where that is not known.
    """

    finding: Finding
    asked: CorrectionRequest
    at: int
    zone: str
    likely: float | None
    says: str

    @property
    def seen(self) -> str:
        """Return a mark of this very proposal, so that what is confirmed is what was shown."""
        said = (self.finding.key, self.asked.action, self.asked.punch, self.at, self.asked.direction)
        return hashlib.sha256(repr(said).encode()).hexdigest()[:16]


@dataclass(frozen=True)
class TogetherForeseen:
    """What corrections made together do to time and pay, by person and period; what does not fit, what it undoes."""

    changes: tuple[PeriodChange, ...]
    warnings: tuple[str, ...]
    undoes: tuple[str, ...]


def open_questions(cases: Iterable[Case]) -> list[Finding]:
    """Return the missing punches that nothing but the day itself explains.

    Where a number, a stray or a reader's clock explains one, its own case says what comes first.
    """
    return _of_cases(cases, "asked", "missing_punch")


def open_absences(cases: Iterable[Case]) -> list[Finding]:
    """Return those who left no punch and of whom nothing else explains it, site by site."""
    return _of_cases(cases, "away", "no_punches")


def open_proposals(cases: Iterable[Case]) -> list[ProposedCorrection]:
    """Return what is proposed for the missing punches that nothing else explains, as `proposed_corrections`."""
    return proposed_corrections(open_questions(cases))


def _of_cases(cases: Iterable[Case], kind: str, code: str) -> list[Finding]:
    return [one for case in cases if case.kind == kind for one in case.findings if one.code == code]


def proposed_corrections(findings: Iterable[Finding]) -> list[ProposedCorrection]:
    """Return the missing punches of which one correction is proposed: a punch at a time, another way, or one too many.

    The surest come first. A day with several proposals, or one without a time, is for somebody to look at by itself.
    """
    offered = {one.asked: one for finding in findings if (one := _proposed(finding)) is not None}
    return sorted(
        offered.values(), key=lambda one: (-(one.likely or 0.0), one.finding.day or date.min, one.finding.key)
    )


def _proposed(finding: Finding) -> ProposedCorrection | None:
    if finding.code != "missing_punch" or finding.person is None:
        return None
    # two punches the same way in a row ask twice, and one answer is proposed for both
    proposals = {tuple(one[name] for name in SAID): one for one in finding.details["proposals"]}
    if len(proposals) != 1:
        return None
    [one] = proposals.values()
    match one["kind"]:
        case "wrong_way" if one["suspect"] is not None and one["way"]:
            at, asked = one["suspect_at"], _asked("direct", finding.person, punch=one["suspect"], direction=one["way"])
        case "too_many" if one["suspect"] is not None:
            at, asked = one["suspect_at"], _asked("leave_out", finding.person, punch=one["suspect"])
        case "wrong_way" | "too_many":
            return None
        case _ if one["at"] is not None and one["way"]:
            at = one["at"]
            asked = _asked("add", finding.person, at=datetime.fromtimestamp(at, UTC), direction=one["way"])
        case _:
            return None
    return ProposedCorrection(finding, asked, at, finding.details["zone"], one["likely"], one["says"])


def _asked(
    action: str, person: str, *, punch: int | None = None, at: datetime | None = None, direction: str | None = None
) -> CorrectionRequest:
    return CorrectionRequest(action, person, *BY_NOBODY, punch=punch, at=at, direction=direction)


def chosen_of(offered: Collection[ProposedCorrection], marks: Sequence[str]) -> list[ProposedCorrection]:
    """Return the proposals whose marks were chosen; raises Refusal where one is offered no longer as it was shown."""
    if not marks:
        raise Refusal(told("mark what is right; nothing was changed."))
    by_mark = {one.seen: one for one in offered}
    if any(mark not in by_mark for mark in marks):
        raise Refusal(told("what is proposed has changed since this was shown; nothing was changed: look again."))
    return [by_mark[mark] for mark in dict.fromkeys(marks)]


def foresee_together(reckoning: Reckoning, asked: Sequence[CorrectionRequest], *, as_of: datetime) -> TogetherForeseen:
    """Return what corrections would do if they were all made, writing nothing; raises Refusal where one cannot be."""
    rows: list[dict[str, Any]] = []
    touched: dict[str, set[date]] = {}
    for one in asked:
        made = rows_of(reckoning, one, one.person, as_of)
        rules = reckoning.snapshot.rules_of(reckoning.snapshot.find_person(one.person)["site"])
        touched.setdefault(one.person, set()).add(workweek_of(rules, civil_date(rules.zone, made.at)))
        rows += made.rows
    after = reckoning.with_corrections(rows)
    people = list(touched)
    return TogetherForeseen(
        changes=period_changes(reckoning, after, people, touched),
        warnings=tuple(says for person in people for says in misfits(reckoning, after, person)),
        undoes=undone_by(reckoning, after, people),
    )


def correct_together(
    workspace: Workspace,
    reckoning: Reckoning,
    asked: Sequence[CorrectionRequest],
    *,
    author: str,
    reason: str,
    as_of: datetime,
) -> list[int]:
    """Make the corrections, all or none, with who and why, and return their numbers.

    Each is a correction of its own, and is taken back by itself. Raises Refusal where one cannot be made, and where
    somebody has corrected one of the people since the reckoning was taken.
    """
    signed = [replace(one, author=author, reason=reason) for one in asked]
    rows = [row for one in signed for row in rows_of(reckoning, one, one.person, as_of).rows]
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        made = frames.corrections(conn)
        for person in dict.fromkeys(one.person for one in signed):
            refuse_corrected(
                reckoning.snapshot,
                reckoning.snapshot.find_person(person),
                corrections_since(reckoning.snapshot, person, made),
            )
        for row in rows:
            refuse_withdrawn(made, row)
            refuse_both(made, row)
            refuse_twice(made, row)
        return decisions.add_corrections(conn, rows)


def take_back_together(
    workspace: Workspace,
    reckoning: Reckoning,
    corrections: Sequence[int],
    *,
    author: str,
    reason: str,
    as_of: datetime,
) -> list[int]:
    """Take corrections back that were made together, all or none, and return the numbers of what takes them back."""
    asked = [
        CorrectionRequest("withdraw", whom_it_is_about(reckoning, one), *BY_NOBODY, correction=one)
        for one in dict.fromkeys(corrections)
    ]
    return correct_together(workspace, reckoning, asked, author=author, reason=reason, as_of=as_of)
