"""What Strays shows: the list, one stray with its evidence, and what a decision would do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import polars as pl
from markupsafe import Markup

from evenhand.jobs.stray_proposals import Candidate, Decided, Part, StrayProposal, Strays, rough_word
from evenhand.jobs.strays import once_each
from evenhand.terms.columns import Frame
from evenhand.terms.languages import ENGLISH, Speech, told
from evenhand.web.pages.strays.drawing import draw_days, waterfall

__all__ = [
    "CandidateEvidence",
    "Line",
    "RuledOut",
    "StrayEvidence",
    "StrayList",
    "listed",
    "percent",
    "reason_proposed",
    "shown",
]

LEAST_SHOWN = 0.001
NOBODY_HERE = told("Nobody on the roster")
NOT_LOOKED_AT = told("Somebody else on the roster, not looked at")


@dataclass(frozen=True)
class Line:
    """One stray in the list; `first` and `second` are (who, probability) of the two likeliest answers.

    `swapped` is the other half where two people's numbers are exchanged: the two are one line.
    """

    proposal: StrayProposal
    most_minutes: int
    first: tuple[str, float]
    second: tuple[str, float] | None
    swapped: StrayProposal | None = None

    @property
    def last_at(self) -> int:
        """Return when the last punch came."""
        return self.proposal.punches[-1][1]


@dataclass(frozen=True)
class StrayList:
    """The strays, most minutes first, how many may be confirmed at once, and what was confirmed before.

    `rough` says why probabilities are, where they are.
    """

    lines: Sequence[Line]
    sure: int
    decided: Sequence[Decided]
    minutes: int
    rough: str = ""


@dataclass(frozen=True)
class CandidateEvidence:
    """A candidate with the evidence drawn: (part, sum so far, step)."""

    candidate: Candidate
    steps: Sequence[tuple[Part, float, Markup]]


@dataclass(frozen=True)
class StrayEvidence:
    """One stray: the answers ranked, the evidence for the likeliest people, and the days drawn."""

    proposal: StrayProposal
    answers: Sequence[tuple[str, str, float]]
    argued: Sequence[CandidateEvidence]
    days: Sequence[tuple[date, Markup]]
    ruled_out: Sequence[RuledOut]
    rough: str = ""


@dataclass(frozen=True)
class RuledOut:
    """Somebody whose the punches are not, as somebody said."""

    person: str
    name: str
    author: str
    reason: str
    made_at: int


def listed(found: Strays) -> StrayList:
    """Return the list."""
    most = max((proposal.minutes for proposal in found.proposals), default=0)
    sure = [one for one in found.proposals if one.is_plain]
    return StrayList(
        lines=[_line(one, most, other) for one, other in once_each(found.proposals)],
        sure=len(sure),
        decided=found.decided,
        minutes=sum(proposal.minutes for proposal in found.proposals),
        rough=found.why_rough,
    )


def shown(found: Strays, proposal: StrayProposal, rejected: Frame, say: Speech = ENGLISH) -> StrayEvidence:
    """Return one stray, the likeliest three people argued for; `rejected` is REJECTED_ATTRIBUTIONS.

    What is drawn speaks as `say` does."""
    return StrayEvidence(
        proposal=proposal,
        answers=_answers(proposal),
        argued=[CandidateEvidence(one, waterfall(one.parts, say)) for one in proposal.candidates[:3]],
        days=draw_days(found, proposal, proposal.candidates[0] if proposal.candidates else None, say),
        ruled_out=_ruled_out(found, proposal, rejected),
        rough=found.why_rough,
    )


def _ruled_out(found: Strays, proposal: StrayProposal, rejected: Frame) -> list[RuledOut]:
    """Whom the last word on each says that they are not."""
    alike = rejected.filter(pl.col("reader") == proposal.reader, pl.col("number") == proposal.number)
    last = alike.unique("person", keep="last", maintain_order=True).filter(~pl.col("is_withdrawn"))
    names = dict(found.people.select("person", "name").iter_rows())
    return [
        RuledOut(row["person"], names.get(row["person"], row["person"]), row["author"], row["reason"], row["made_at"])
        for row in last.iter_rows(named=True)
    ]


def percent(chance: float, is_rough: bool = False) -> str:
    """Return a probability, never rounded up to certainty; a word where it is rough."""
    if is_rough and (word := rough_word(chance)):
        return word
    if chance > 0.999:
        return told("over 99.9\u00a0%")
    return told("under 0.1\u00a0%") if chance < LEAST_SHOWN else f"{100 * chance:.1f}\u00a0%"


def _answers(proposal: StrayProposal) -> list[tuple[str, str, float]]:
    """(name, person or '', probability), the likeliest first."""
    found = [(one.name, one.person, one.probability) for one in proposal.candidates]
    found.append((NOBODY_HERE, "", proposal.nobody))
    if proposal.others >= LEAST_SHOWN:
        found.append((NOT_LOOKED_AT, "", proposal.others))
    return sorted(found, key=lambda one: -one[2])


def _line(proposal: StrayProposal, most: int, swapped: StrayProposal | None) -> Line:
    ranked = [(name, chance) for name, _, chance in _answers(proposal)]
    second = ranked[1] if len(ranked) > 1 and ranked[1][1] >= LEAST_SHOWN else None
    return Line(proposal, most, ranked[0], second, swapped)


def reason_proposed(found: Strays, stray: str, person: str) -> str:
    """Return the reason that speaks for giving a stray to a person, where that is as good as certain; '' otherwise."""
    proposal = next((one for one in found.proposals if one.stray == stray), None)
    best = proposal.best if proposal else None
    if proposal is None or best is None or best.person != person or not proposal.is_plain:
        return ""
    strongest = max(best.parts, key=lambda part: part.bits)
    if best.probability > 0.999:
        return told("over 99.9 % likely by its evidence, above all: {says}", says=strongest.says)
    share = f"{100 * best.probability:.1f}"
    return told("{share} % likely by its evidence, above all: {says}", share=share, says=strongest.says)
