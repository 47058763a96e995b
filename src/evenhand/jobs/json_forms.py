"""What each command prints with `--json`, as declared records from which its JSON Schema is made."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

from evenhand.enrolment.coverage import EXTRA, GROWTH, STRANDED
from evenhand.enrolment.proof import PROOF
from evenhand.enrolment.queueing.shift_change import RUSHES
from evenhand.enrolment.rounds import STATES
from evenhand.enrolment.tables import LEFT_OUT
from evenhand.jobs.access_printed import AccessWritten
from evenhand.jobs.approving import Approved
from evenhand.jobs.campaign import CAMPAIGN
from evenhand.jobs.closed import Adjusted, ClosedPeriodListed
from evenhand.jobs.consent import ConsentRecorded
from evenhand.jobs.consent_listing import PersonConsent, PolicyListed
from evenhand.jobs.consent_policies import PolicyForeseen
from evenhand.jobs.decision_log import LOG
from evenhand.jobs.disputes import DisputeListed
from evenhand.jobs.erasable import Erasable
from evenhand.jobs.erasure import Erased
from evenhand.jobs.find import Search
from evenhand.jobs.handoff import HandedOff
from evenhand.jobs.hands import DAILY, PersonHands
from evenhand.jobs.holds import HoldListed
from evenhand.jobs.invent import Invented
from evenhand.jobs.json_records import (
    Corrected,
    DayExplained,
    Demonstrated,
    HandsFound,
    PremiumSaid,
    RoundingAudited,
    RoundPlanned,
    StatementWritten,
    StrayRejected,
    StrayReturned,
    StraysConfirmed,
    StraysFound,
    StrayShown,
    TakeDecided,
    ThresholdWeighed,
    WeekPaid,
)
from evenhand.jobs.leavers import Leaver
from evenhand.jobs.ledger import HeadShown, LedgerVerified
from evenhand.jobs.listing_layouts import LayoutFit, LayoutListed
from evenhand.jobs.missing import OpenDay
from evenhand.jobs.numbers import NumberDesign
from evenhand.jobs.overview import PersonSeen, ReaderSeen
from evenhand.jobs.payroll_sample import SampleChecked
from evenhand.jobs.practice import PracticeKept
from evenhand.jobs.queues import BY_TIME, CoverageSeen, QueueSeen
from evenhand.jobs.rebuild import Rebuilt
from evenhand.jobs.removal_rounds import RemovalRound
from evenhand.jobs.schedule import Schedule
from evenhand.jobs.settling import SettledFinding
from evenhand.jobs.signed_period import PeriodSigned
from evenhand.jobs.signing import Confirmed, SignOffTakenBack
from evenhand.jobs.stray_decisions import Confirmation
from evenhand.jobs.succession import Succession
from evenhand.jobs.suggestions import SuggestionListed
from evenhand.jobs.take import Receipt, RefusedFile, Seen
from evenhand.jobs.takes import TakeListed
from evenhand.jobs.taking_off import KNOWN_BEFORE
from evenhand.jobs.teaching import SupervisorWork
from evenhand.jobs.teaching_cover import ReaderCover
from evenhand.jobs.today import FindingListed
from evenhand.numbers import Allocated, Migration
from evenhand.numbers.confusable import CONFUSABLE
from evenhand.scores.rates.tradeoff import TRADEOFF
from evenhand.scores.tables import ALARMS, ERROR_RATES, EXPLAINED, FORECASTS, READER_HEALTH, REFUSED_HANDS
from evenhand.store.ledger_entries import LedgerEntry
from evenhand.terms.cases import CaseListed
from evenhand.terms.columns import Column
from evenhand.terms.consent import CONSENT_STATES
from evenhand.terms.hours import CLASSED, DIFFERENTIALS, PREMIUMS, PROPOSALS, QUESTIONS, WEEKS
from evenhand.terms.json_form import Either, Row, RowsOf, json_schema
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.terms.rounds import JUDGED, ROUND_ITEMS, ROUNDS
from evenhand.terms.sources import PEOPLE
from evenhand.terms.supervision import SUCCESSORS, SUPERVISION
from evenhand.terms.tables import ATTRIBUTED, PREMIUM_DECISIONS, READER_STEPS
from evenhand.terms.wages import PAY_FAULTS, PAY_LINES, PAY_WEEKS, ROUNDING

__all__ = ["FORMS", "schema_of"]

NAME = Column("name", "text", "The person's name; empty where the roster has none")
OTHER_NAME = Column("other_name", "text", "The other's name; empty where the roster has none")
PAID = Column("paid_s", "seconds", "Paid seconds: ordinary, overtime and double time together", required=True)
QUALITY = tuple(replace(JUDGED.column(name), required=False) for name in ("advice", "leave_out", "expected", "says"))


TOLD: dict[tuple[str, str], Any] = {
    ("DayExplained", "punches"): RowsOf(ATTRIBUTED),
    ("DayExplained", "classed"): RowsOf(CLASSED),
    ("DayExplained", "differentials"): RowsOf(DIFFERENTIALS),
    ("DayExplained", "premiums"): RowsOf(PREMIUMS),
    ("DayExplained", "struck"): RowsOf(PREMIUM_DECISIONS),
    ("DayExplained", "questions"): RowsOf(QUESTIONS),
    ("DayExplained", "proposals"): RowsOf(PROPOSALS),
    ("WeekPaid", "lines"): RowsOf(PAY_LINES),
    ("WeekPaid", "week"): Either((Row(PAY_WEEKS), None)),
    ("WeekPaid", "faults"): RowsOf(PAY_FAULTS),
    ("WeekPaid", "struck"): RowsOf(PREMIUM_DECISIONS),
    ("CorrectionPreview", "person"): Row(PEOPLE),
    ("HandsFound", "alarms"): RowsOf(ALARMS, more=(NAME,)),
    ("HandsFound", "forecasts"): RowsOf(FORECASTS, more=(NAME,)),
    ("HandsFound", "reader_health"): RowsOf(READER_HEALTH),
    ("HandsFound", "refused_hands"): RowsOf(REFUSED_HANDS, more=(NAME,)),
    ("PersonHands", "alarms"): RowsOf(ALARMS),
    ("PersonHands", "forecast"): Either((Row(FORECASTS), None)),
    ("PersonHands", "rates"): RowsOf(ERROR_RATES),
    ("PersonHands", "explained"): RowsOf(EXPLAINED),
    ("ThresholdWeighed", "curve"): RowsOf(TRADEOFF),
    ("RoundingAudited", "rows"): RowsOf(ROUNDING),
    ("ReaderSuccession", "successors"): RowsOf(SUCCESSORS),
    ("RemovalRound", "items"): RowsOf(ROUND_ITEMS),
    ("RoundPlanned", "items"): RowsOf(ROUND_ITEMS),
    ("RoundPlanned", "left_out"): RowsOf(LEFT_OUT),
    ("CoverageSeen", "stranded"): RowsOf(STRANDED, more=(NAME,)),
    ("CoverageSeen", "growth"): RowsOf(GROWTH),
    ("Covered", "extra"): RowsOf(EXTRA, more=(NAME,)),
    ("QueueSeen", "rushes"): RowsOf(RUSHES),
    ("QueueSeen", "by_time"): RowsOf(BY_TIME),
    ("PersonHands", "daily"): RowsOf(DAILY),
}

FORMS: dict[str, Any] = {
    "demo": Demonstrated,
    "take": list[Receipt | RefusedFile | Seen],
    "layouts": list[LayoutListed],
    "layouts show": LayoutListed,
    "layouts fit": LayoutFit,
    "layouts remove": LayoutListed,
    "takes": list[TakeListed],
    "takes back": TakeDecided,
    "takes again": TakeDecided,
    "rebuild": Rebuilt,
    "ledger": list[LedgerEntry],
    "ledger decisions": RowsOf(LOG, more=(NAME,)),
    "ledger show": LedgerEntry,
    "ledger head": HeadShown,
    "ledger verify": LedgerVerified,
    "ledger proof": list[Path],
    "ledger consistency": list[Path],
    "today": list[FindingListed] | list[CaseListed],
    "find": Search,
    "people": list[PersonSeen],
    "supervisors": RowsOf(SUPERVISION),
    "supervisors succession": Succession,
    "teaching": list[SupervisorWork],
    "teaching cover": list[ReaderCover],
    "teaching record": PracticeKept,
    "teaching take-back": PracticeKept,
    "readers": Either((list[ReaderSeen], RowsOf(READER_STEPS, more=KNOWN_BEFORE))),
    "hands": HandsFound,
    "hands findings": list[FindingListed],
    "hands person": PersonHands,
    "hands rates": RowsOf(ERROR_RATES),
    "hands threshold": ThresholdWeighed,
    "hands export": list[Path],
    "hours": RowsOf(WEEKS, more=(NAME, PAID)),
    "hours why": DayExplained,
    "pay": WeekPaid,
    "statement": StatementWritten,
    "signoff list": PeriodSigned,
    "signoff confirm": list[Confirmed],
    "signoff approve": Approved,
    "signoff withdraw": SignOffTakenBack,
    "signoff print": list[StatementWritten],
    "access": AccessWritten,
    "dispute open": DisputeListed,
    "dispute answer": DisputeListed,
    "dispute list": list[DisputeListed],
    "strays": StraysFound,
    "strays list": StraysFound,
    "strays show": StrayShown,
    "strays confirm": Confirmation | StraysConfirmed,
    "strays reject": StrayRejected,
    "strays undo": StrayReturned,
    "numbers": NumberDesign,
    "numbers confusable": RowsOf(CONFUSABLE, more=(NAME, OTHER_NAME)),
    "numbers allocate": list[Allocated],
    "numbers plan": Migration,
    "correct add": Corrected,
    "correct leave-out": Corrected,
    "correct direct": Corrected,
    "correct withdraw": Corrected,
    "correct change": Corrected,
    "missing list": list[OpenDay],
    "missing answers": list[SuggestionListed],
    "missing suggest": list[SuggestionListed],
    "missing suggestions": list[SuggestionListed],
    "missing decide": list[SuggestionListed],
    "premium": PremiumSaid,
    "settle": list[FindingListed] | SettledFinding,
    "settled": list[SettledFinding],
    "rounding": RoundingAudited,
    "handoff": HandedOff,
    "handoff changes": list[ClosedPeriodListed],
    "handoff settle": HandedOff | Adjusted,
    "handoff check": SampleChecked,
    "consent list": RowsOf(CONSENT_STATES, more=(NAME,)),
    "consent show": PersonConsent,
    "consent record": list[ConsentRecorded],
    "consent say": list[ConsentRecorded],
    "consent take-back": list[ConsentRecorded],
    "consent campaign": RowsOf(CAMPAIGN),
    "consent sheets": RowsOf(CAMPAIGN),
    "consent policies": list[PolicyListed],
    "consent policy add": PolicyForeseen,
    "leavers": list[Leaver],
    "leavers show": Leaver,
    "leavers round": RemovalRound,
    "hold list": list[HoldListed],
    "hold place": HoldListed,
    "hold lift": HoldListed,
    "retention schedule": Schedule,
    "erase": list[Erasable] | list[Erased],
    "enrol plan": RoundPlanned,
    "enrol change": RoundPlanned,
    "enrol list": RowsOf(ROUNDS),
    "enrol show": RowsOf(STATES, more=(*KNOWN_BEFORE, *QUALITY)),
    "enrol prove": RowsOf(PROOF),
    "enrol coverage": CoverageSeen,
    "enrol queue": QueueSeen,
    "twin": Invented,
}


def schema_of(command: str) -> dict[str, Any]:
    """Return the JSON Schema of what a command prints with `--json`; raises Refusal for one that prints none."""
    if command not in FORMS:
        raise Refusal(
            told(
                '"{command}" prints no JSON; these do: {known:listed 99}.',
                command=command,
                known=[*FORMS],
            )
        )
    return json_schema(FORMS[command], f"evenhand {command} --json", TOLD)
