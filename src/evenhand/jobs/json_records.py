"""What commands print with `--json` beyond the records that jobs return: each as a declared record."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path
from typing import Any, TypedDict

from evenhand.jobs.consequences import Foreseen
from evenhand.jobs.correct import CorrectionPreview
from evenhand.jobs.handoff import HandedOff
from evenhand.jobs.history import DayDecision
from evenhand.jobs.premiums import PremiumPreview
from evenhand.jobs.stray_decisions import Confirmation
from evenhand.jobs.stray_proposals import Decided, StrayProposal
from evenhand.jobs.take import Receipt, RefusedFile
from evenhand.jobs.takes import TakeListed
from evenhand.jobs.today import FindingListed
from evenhand.scores.rates.tradeoff import ThresholdAdvice
from evenhand.scores.screening import DataIssue
from evenhand.terms.records import Step

__all__ = [
    "Corrected",
    "DayExplained",
    "Demonstrated",
    "HandsFound",
    "PremiumSaid",
    "RoundPlanned",
    "RoundingAudited",
    "StatementWritten",
    "StrayRejected",
    "StrayReturned",
    "StraysConfirmed",
    "StraysFound",
    "TakeDecided",
    "ThresholdWeighed",
    "WeekPaid",
    "WeekTotals",
]


class WeekTotals(TypedDict):
    """The paid seconds of a person's workweek, by class and together."""

    workweek: date
    ordinary_s: int
    overtime_s: int
    double_s: int
    paid_s: int


class DayExplained(TypedDict):
    """A person's day: its punches, each step from recorded to paid time, what is open, and the totals of its weeks.

    `struck` are the decisions by which hours that the record alone would owe for the day are not owed.
    """

    person: str
    name: str
    day: date
    zone: str
    starts: int
    ends: int
    recorded_s: int
    paid_s: int
    punches: Any
    steps: list[Step]
    classed: Any
    differentials: Any
    premiums: Any
    struck: Any
    questions: Any
    proposals: Any
    weeks: list[WeekTotals]
    history: list[DayDecision]


class WeekPaid(TypedDict):
    """A person's pay of a workweek, line by line; `total` is null where a rate is missing.

    `struck` are the decisions by which hours that the record alone would owe in the week are not owed, and
    `in_two_workweeks` says what lies in another workweek too, since the site's moved; `asks` what law somebody must
    look up.
    """

    person: str
    name: str
    workweek: date
    total: Decimal | None
    lines: Any
    week: Any
    faults: Any
    struck: Any
    in_two_workweeks: list[str]
    asks: list[str]
    open: list[str]


class StatementWritten(TypedDict):
    """A statement that was written; `total` is the pay of the period, null where it is not known.

    `code` is what the person keys to confirm its hours; empty while the period runs.
    """

    file: Path
    person: str
    name: str
    first: date
    last: date
    total: Decimal | None
    code: str


class StraysFound(TypedDict):
    """Whose punches arrive under numbers nobody holds: proposals, and what was decided.

    `why_rough` says why probabilities are rough, '' where they are not; there nobody's is 0.95 at most.
    """

    proposals: list[StrayProposal]
    decided: list[Decided]
    why_rough: str


@dataclass(frozen=True)
class StrayShown(StrayProposal):
    """A stray with its candidates; `why_rough` says why probabilities are rough, '' where they are not."""

    why_rough: str = ""


class StraysConfirmed(TypedDict):
    """All strays that were confirmed at once."""

    confirmed: list[Confirmation]


class StrayRejected(TypedDict):
    """A stray after somebody was rejected for it; `proposal` is null where nobody is proposed any longer."""

    stray: str
    proposal: StrayProposal | None


class StrayReturned(TypedDict):
    """A stray whose punches were returned."""

    stray: str
    punches: list[int]


class Corrected(TypedDict):
    """A correction that was made, with what it changed."""

    correction: int
    foreseen: CorrectionPreview


class PremiumSaid(TypedDict):
    """What was decided about hours owed, with what it changed."""

    decision: int
    foreseen: PremiumPreview


class HandsFound(TypedDict):
    """What scores and refusals tell of hands and readers."""

    findings: list[FindingListed]
    issues: list[DataIssue]
    alarms: Any
    forecasts: Any
    reader_health: Any
    refused_hands: Any


class ThresholdWeighed(TypedDict):
    """Both error rates at every threshold, and the one that costs least."""

    curve: Any
    advice: ThresholdAdvice


class RoundingAudited(TypedDict):
    """What rounding gave or took from the first to the last day."""

    first: date
    last: date
    rows: Any


class RoundPlanned(TypedDict):
    """A round as planned: its items, who is left out, and how good the plan is, in weighted minutes away.

    `lacking` says in words where hands are enrolled with nobody standing by who can.
    """

    round: str
    items: Any
    left_out: Any
    lacking: list[str]
    minutes: int
    bound: float
    gap: float


class TakeDecided(TypedDict):
    """A take after a decision about it, with what the decision did."""

    take: TakeListed
    foreseen: Foreseen


class Demonstrated(TypedDict):
    """What the demonstration made; `findings` is the file that holds them."""

    workspace: Path
    as_of: datetime
    handed_off: HandedOff
    receipts: list[Receipt | RefusedFile]
    findings: Path
