"""Approve hours: a supervisor says that the hours of their people are what they worked, all or none."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from evenhand.jobs.closed import refuse_overtaken
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.signed_hours import hours_signed
from evenhand.jobs.signed_period import PersonSigned, period_signed
from evenhand.jobs.signing import Confirmed, sign_off_row
from evenhand.jobs.statement_codes import refuse_running
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions
from evenhand.terms.languages import DaySpan, sentence, told
from evenhand.terms.records import Refusal
from evenhand.terms.words import called

__all__ = ["Approved", "approve"]

NOT_THEIRS = sentence("the hours of {person} are not for {by} to approve, but for {others:listed}; none was approved.")
NOBODYS = sentence(
    "the hours of {person} are not for {by} to approve, and no other supervisor is on the roster: name one on People; "
    "none was approved."
)


@dataclass(frozen=True)
class Approved:
    """Whose hours a supervisor approved, each with the sign-off's number."""

    supervisor: str
    first: date
    last: date
    people: tuple[Confirmed, ...]


def approve(
    workspace: Workspace,
    reckoning: Reckoning,
    supervisor: str,
    people: Sequence[str] = (),
    *,
    day: date | None = None,
    seen: Mapping[str, str] | None = None,
    author: str,
    as_of: datetime,
) -> Approved:
    """Keep that a supervisor approves the hours of `people`, or of all their people, in the period that holds `day`.

    `seen` holds the digests of the hours that they were shown. Raises Refusal, approving none, where somebody is not
    theirs, where hours have changed since, where the period has not ended and where nobody enters it.
    """
    if not author.strip():
        raise Refusal(told("an approval is entered by somebody; say who."))
    of, period = reckoning.snapshot, reckoning.period(day)
    by = str(of.find_person(supervisor)["person"])
    refuse_running(reckoning, period)
    signed = {one.person: one for one in period_signed(reckoning, day).people}
    asked = [str(of.find_person(one)["person"]) for one in people]
    theirs = _theirs(of.names, by, signed, asked)
    waiting = [one for one in theirs if one.waits]
    if not waiting:
        raise Refusal(
            told(
                "nothing of {days} is left for {who} to approve.",
                days=DaySpan(period.first, period.last),
                who=_called(of.names, by),
            )
        )
    for one in waiting:
        if seen is not None and seen.get(one.person) != one.seen:
            raise Refusal(
                told(
                    "the hours of {name} have changed since they were shown; look again. None was approved.",
                    name=one.name,
                )
            )
    span = (period.first, period.last)
    hours = hours_signed(reckoning, *span, [one.person for one in waiting])
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        refuse_overtaken(conn, reckoning)
        made = []
        for one in waiting:
            row = sign_off_row("approve", one.person, span, hours.get(one.person, {}), "desk", author.strip(), as_of)
            number = decisions.add_row(conn, "signoffs", row | {"supervisor": by})
            made.append(Confirmed(number, one.person, one.name, *span, is_known=False))
    return Approved(by, *span, tuple(made))


def _theirs(
    names: Mapping[str, str], by: str, signed: Mapping[str, PersonSigned], asked: Collection[str]
) -> list[PersonSigned]:
    """Return whose hours `by` approves, of those asked for; raises Refusal where somebody is another's."""
    theirs = [one for one in signed.values() if by in one.supervisors]
    for person in asked:
        if person not in signed:
            raise Refusal(
                told(
                    "{who} has no hours in the period, so that there is nothing to approve.", who=_called(names, person)
                )
            )
        if by not in signed[person].supervisors:
            who = [_called(names, one) for one in signed[person].supervisors]
            raise Refusal(
                told(
                    NOT_THEIRS if who else NOBODYS,
                    person=_called(names, person),
                    by=_called(names, by),
                    others=who,
                )
            )
    return [one for one in theirs if not asked or one.person in asked]


def _called(names: Mapping[str, str], person: str) -> str:
    return called(names.get(person), person)
