"""What is proposed and decided of strays, and where probabilities are rough, so that a word stands for them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from evenhand.linkage.words import Part
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told

__all__ = [
    "NOBODY",
    "PLAIN",
    "PLAIN_ROUGH",
    "Candidate",
    "Decided",
    "Part",
    "StrayProposal",
    "StrayPunch",
    "Strays",
    "plain_from",
    "rough_word",
    "said_roughly",
    "why_rough",
]

NOBODY = ""
PLAIN = 0.99
FEWEST_PLAIN = 0.5
"""The share of strays that are plain, above which what is said of the others has held (docs/strays.md)."""
MUCH = 0.02
"""The chance of somebody who was not looked at from which it matters."""
MOST_SCHEDULED = 0.5
"""The share of people with a schedule below which being silent tells too little (docs/strays.md)."""
HARDLY, MOST_ROUGH, PLAIN_ROUGH = 0.05, 0.95, 0.999
"""Where probabilities are rough: the chance below which somebody is hardly whose punches they are; the most that is
said of nobody, who was right less often than was said; and from which on a person is plain (docs/strays.md)."""


@dataclass(frozen=True)
class Candidate:
    """Who may have made a stray's punches: how likely, the evidence in parts that add up to `bits`, what is not theirs.

    `impossible` are punches the person cannot have made; they are left out when the stray is confirmed.
    """

    person: str
    name: str
    probability: float
    bits: float
    parts: tuple[Part, ...]
    is_best_together: bool
    impossible: frozenset[int]


class StrayPunch(NamedTuple):
    """One punch of a stray: its number, when, and which way it went, where that is known."""

    punch: int
    at: int
    direction: str | None


@dataclass(frozen=True)
class StrayProposal:
    """One stray with its candidates, the likeliest first; `nobody` is the probability that they are nobody's here.

    `others` is the probability that they are somebody's on the roster who was not looked at one by one. Where it
    `is_rough`, what is said below 99.9 % has not been seen to hold: a word stands for it (`rough_word`), and `nobody`
    and `others` are 95 % at most.

    `holder` is whose number it is, where the punches are attributed but fit somebody else better. `swapped_with` names
    the stray of the other half, where two people's numbers are exchanged at a reader; '' where they are not.
    """

    stray: str
    reader: str
    zone: str
    number: str
    holder: str
    holder_name: str
    minutes: int
    shifts: int
    nobody: float
    others: float
    punches: tuple[StrayPunch, ...]
    candidates: tuple[Candidate, ...]
    note: str
    swapped_with: str = ""
    is_rough: bool = False

    @property
    def best(self) -> Candidate | None:
        """Return the likeliest candidate; None where nobody here, or somebody not looked at, is likelier."""
        first = self.candidates[0] if self.candidates else None
        return first if first is not None and first.probability > max(self.nobody, self.others) else None

    @property
    def is_plain(self) -> bool:
        """Return whether the likeliest person is as good as certain, so that many such may be confirmed at once."""
        return self.best is not None and self.best.probability >= plain_from(is_rough=self.is_rough)


@dataclass(frozen=True)
class Decided:
    """Punches under one number at one reader that were given to somebody by hand.

    `holder` is whose number it is by a roster taken since, which asks again whose the punches are; else ''.
    """

    stray: str
    reader: str
    number: str
    person: str
    name: str
    punches: tuple[int, ...]
    author: str
    reason: str
    made_at: int
    holder: str = NOBODY
    holder_name: str = ""


@dataclass(frozen=True)
class Strays:
    """What was found: `proposals`, most minutes of pay first, and `decided` strays, with the frames they rest on.

    `why_rough` says why probabilities are, in a sentence; '' where what they say has been seen to hold.
    """

    proposals: tuple[StrayProposal, ...]
    decided: tuple[Decided, ...]
    why_rough: str
    people: Frame
    readers: Frame
    enrolments: Frame
    recorded: Frame
    schedules: Frame
    attributed: Frame
    impossible: Frame


def why_rough(proposals: Sequence[StrayProposal], *, scheduled: float = 1.0) -> str:
    """Return why the probabilities are rough, in a sentence; '' where what they say has been seen to hold.

    What makes a stray somebody's is learned from those that are plain, with thousands not everybody is looked at, and
    whoever has neither a schedule nor punches of their own is silent always: `scheduled` is the share with a schedule.
    """
    if not proposals:
        return ""
    if any(one.others >= MUCH for one in proposals):
        return told(
            "There are too many to look at everybody one by one: take every probability below 99.9 % as rough, and ask "
            "before you confirm or leave punches to nobody."
        )
    plain = sum(
        max(one.nobody, *(candidate.probability for candidate in one.candidates), 0.0) >= PLAIN for one in proposals
    )
    if plain < FEWEST_PLAIN * len(proposals):
        return told(
            "Most of these strays fit several people or nobody: take every probability below 99.9 % as rough, and ask "
            "before you confirm or leave punches to nobody."
        )
    if scheduled < MOST_SCHEDULED:
        return told(
            "Most people have no schedule, so that being away tells little: take every probability below 99.9 % as "
            "rough, and ask before you confirm or leave punches to nobody."
        )
    return ""


def plain_from(*, is_rough: bool) -> float:
    """Return the probability from which a person is as good as certain."""
    return PLAIN_ROUGH if is_rough else PLAIN


def said_roughly(proposal: StrayProposal) -> StrayProposal:
    """Return a stray as it is told where probabilities are rough: that it is nobody's is never as good as certain."""
    return replace(
        proposal, is_rough=True, nobody=min(proposal.nobody, MOST_ROUGH), others=min(proposal.others, MOST_ROUGH)
    )


def rough_word(chance: float) -> str:
    """Return what is said for a probability where they are rough; '' for one that holds there too (docs/strays.md)."""
    if chance >= PLAIN_ROUGH:
        return ""
    return told("may be") if chance >= HARDLY else told("hardly")
