"""A case: the findings of one cause, their story, what is at stake and the way out."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Literal

from evenhand.terms.records import Finding

__all__ = ["Case", "CaseListed", "CaseStake", "CaseStep", "StepState", "as_listed"]

StepState = Literal["to_do", "waits", "done"]


@dataclass(frozen=True)
class CaseStep:
    """One step of the way out of a case: what to do and how far it is.

    `kind` names what is done, so that a door can lead to it: give_punches, ask_day, reader_steps, round, proof, number,
    files, settings, settle, consent, leavers, handoff, signoff, hands, look. A step `waits` where somebody else has
    to move, whom `waits_for` names, and is `done` where the records show it. `round` names the one it is on.
    """

    kind: str
    says: str
    state: StepState = "to_do"
    waits_for: str = ""
    person: str | None = None
    reader: str | None = None
    number: str | None = None
    day: date | None = None
    round: str | None = None


@dataclass(frozen=True)
class CaseStake:
    """What is at stake in a case: minutes of pay in doubt in the period, and in periods that were handed off already.

    The same hours are counted once, also where several findings tell of them. `amount` is the money that has changed in
    periods handed off, None where none has. `people` are those concerned, `deadline` the earliest.
    """

    minutes: int = 0
    closed_minutes: int = 0
    amount: Decimal | None = None
    people: int = 0
    deadline: datetime | None = None
    law: str = ""


@dataclass(frozen=True)
class Case:
    """Findings of one cause: `key` names it tomorrow too, `story` tells it in two sentences.

    `kind` is that of the cause and `title` its words; `findings` are the most urgent first, `steps` the way out in
    order. `person`, `reader` and `number` are those it is about, where it is about one.
    """

    key: str
    kind: str
    title: str
    story: tuple[str, str]
    stake: CaseStake
    findings: tuple[Finding, ...]
    steps: tuple[CaseStep, ...]
    person: str | None = None
    reader: str | None = None
    number: str | None = None

    @property
    def blocks_pay(self) -> bool:
        """Whether it keeps the period from payroll."""
        return any(finding.blocks_pay for finding in self.findings)

    @property
    def waits_for(self) -> str:
        """Return for whom it waits; '' while something of it is to be done here."""
        if any(step.state == "to_do" for step in self.steps):
            return ""
        return next((step.waits_for for step in self.steps if step.state == "waits"), "")


@dataclass(frozen=True)
class CaseListed:
    """A case as it is listed for scripts, its findings by their keys."""

    key: str
    kind: str
    title: str
    story: tuple[str, str]
    stake: CaseStake
    blocks_pay: bool
    waits_for: str
    findings: tuple[str, ...]
    steps: tuple[CaseStep, ...]
    person: str | None
    reader: str | None
    number: str | None


def as_listed(case: Case) -> CaseListed:
    """Return a case with the keys of its findings in their place."""
    told = {name: getattr(case, name) for name in CaseListed.__dataclass_fields__ if name != "findings"}
    return CaseListed(**told, findings=tuple(finding.key for finding in case.findings))
