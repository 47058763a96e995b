"""What Together shows: the corrections that are proposed, and what may be settled for one reason."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from evenhand.jobs.stray_proposals import StrayProposal
from evenhand.jobs.today import Today
from evenhand.jobs.together import ProposedCorrection, open_absences, open_proposals, open_questions
from evenhand.terms.languages import Sentence, told
from evenhand.terms.open_punches import as_told
from evenhand.terms.records import Finding
from evenhand.web.words import share_of

__all__ = ["ProposalShown", "TogetherView", "corrected_in_words", "view"]

SURE = 0.99
"""What is at least as often right is marked from the start; the others wait for somebody's word."""
MOST = 100
"""As many as one look and one form hold; the others come when these are decided."""


@dataclass(frozen=True)
class ProposalShown:
    """A correction that is proposed, in words; `is_marked` where it is as good as certain."""

    of: ProposedCorrection
    does: Sentence
    is_marked: bool

    @property
    def right(self) -> str:
        """Return how often such a proposal is right, never rounded up to certainty; '' where that is not known."""
        likely = self.of.likely
        if likely is None:
            return ""
        if likely >= SURE:
            return told("right over 99 % of the time")
        return told("right {share} of the time", share=share_of(likely, 1))


@dataclass(frozen=True)
class TogetherView:
    """What may be decided together in a period: corrections, who was away by site, days without a proposal, strays."""

    first: date
    last: date
    proposed: Sequence[ProposalShown]
    away: Sequence[tuple[str, Sequence[Finding]]]
    asked: Sequence[Finding]
    strays: Sequence[StrayProposal]
    unlisted: int

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing to decide together."""
        return not (self.proposed or self.away or self.asked or self.strays)


def view(today: Today, strays: Sequence[StrayProposal] = ()) -> TogetherView:
    """Return what of a period may be decided together, with the `strays` whose owners are as good as certain."""
    offered = open_proposals(today.cases)
    with_proposal = {one.finding.key for one in offered}
    away = open_absences(today.cases)
    asked = [one for one in open_questions(today.cases) if one.key not in with_proposal]
    return TogetherView(
        first=today.period.first,
        last=today.period.last,
        proposed=[ProposalShown(one, corrected_in_words(one), (one.likely or 0.0) >= SURE) for one in offered[:MOST]],
        away=_by_case(today, away[:MOST]),
        asked=asked[:MOST],
        strays=strays[:MOST],
        unlisted=sum(max(0, len(every) - MOST) for every in (offered, away, asked, strays)),
    )


def corrected_in_words(one: ProposedCorrection) -> Sentence:
    """Return what a proposed correction does, such as that a punch is added."""
    assert one.finding.day is not None
    at = as_told(one.at, one.zone, one.finding.day)
    match one.asked.action, one.asked.direction:
        case "add", "in":
            return told("add {at}, in", at=at)
        case "add", _:
            return told("add {at}, out", at=at)
        case "direct", "in":
            return told("{at} went in", at=at)
        case "direct", _:
            return told("{at} went out", at=at)
    return told("leave out {at}", at=at)


def _by_case(today: Today, findings: Iterable[Finding]) -> list[tuple[str, list[Finding]]]:
    """Return findings under the story of their case, in the order of the cases."""
    wanted = {one.key for one in findings}
    grouped = [(case.story[0], [one for one in case.findings if one.key in wanted]) for case in today.cases]
    return [(story, theirs) for story, theirs in grouped if theirs]
