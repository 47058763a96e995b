"""Put every finding into exactly one case, that of its cause, the most at stake first."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime

from evenhand.checks.cases.causes import Cause, causes_of, known
from evenhand.checks.cases.stakes import stake_of
from evenhand.checks.cases.stories import tell
from evenhand.checks.facts import Facts
from evenhand.checks.find import rank
from evenhand.terms.cases import Case
from evenhand.terms.records import Finding

__all__ = ["by_cause", "gather"]


def gather(findings: Sequence[Finding], facts: Facts) -> tuple[Case, ...]:
    """Return the cases of findings, which are the most urgent first, as are those of each case."""
    as_of = datetime.fromtimestamp(facts.as_of, UTC)
    cases = [_case(cause, theirs, facts) for cause, theirs in by_cause(findings, facts).items()]
    return tuple(sorted(cases, key=lambda case: _urgency(case, as_of)))


def by_cause(findings: Sequence[Finding], facts: Facts) -> dict[Cause, list[Finding]]:
    """Return the findings by their cause, each under exactly one, in the order of their first."""
    of = known(findings, facts.reader_sites)
    told = [list(causes_of(one, of)) for one in findings]
    anchored = {cause for causes in told for cause, is_anchor in causes if is_anchor}
    chosen = [next(cause for cause, _ in causes if cause in anchored) for causes in told]
    # where every anchor of a cause went to another one, so does whatever rests on it
    stays = {cause for cause, causes in zip(chosen, told, strict=True) if (cause, True) in causes}
    moved: dict[Cause, Cause] = {}
    for cause, causes in zip(chosen, told, strict=True):
        for other, is_anchor in causes:
            if is_anchor and other not in stays:
                moved.setdefault(other, cause)
    found: dict[Cause, list[Finding]] = {}
    for cause, one in zip(chosen, findings, strict=True):
        found.setdefault(_end(cause, moved), []).append(one)
    return found


def _end(cause: Cause, moved: dict[Cause, Cause]) -> Cause:
    seen = {cause}
    while cause in moved and moved[cause] not in seen:
        cause = moved[cause]
        seen.add(cause)
    return cause


def _case(cause: Cause, findings: list[Finding], facts: Facts) -> Case:
    told = tell(cause, findings, facts)
    return Case(
        key=cause.key,
        kind=cause.kind,
        title=told.title,
        story=told.story,
        stake=stake_of(findings, facts),
        findings=tuple(findings),
        steps=tuple(told.steps),
        person=_shared([one.person for one in findings]),
        reader=_shared([one.reader for one in findings]),
        number=_shared([one.number for one in findings]),
    )


def _shared(values: Sequence[str | None]) -> str | None:
    """Return the one value that findings name, if there is but one."""
    named = {value for value in values if value}
    return named.pop() if len(named) == 1 else None


def _urgency(case: Case, as_of: datetime) -> tuple[bool, float, int, int, str]:
    """Return the sort key of a case: that of a finding with its stake, in all periods together."""
    stake = case.stake
    minutes = stake.minutes + stake.closed_minutes
    return rank(stake.deadline, minutes, stake.people, case.key, as_of)
