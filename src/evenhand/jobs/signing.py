"""Sign off hours: a person confirms their own, a supervisor approves their people's, either is taken back.

A sign-off is bound to the very hours that were seen. It waives nothing: who confirms hours that were short is owed the
rest all the same (Brooklyn Savings Bank v. O'Neil, 324 U.S. 697 (1945)), and nobody is paid later for not confirming
(Cal. Lab. Code 206.5).
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

import polars as pl

from evenhand.jobs.closed import refuse_overtaken
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.signed_hours import hours_signed, hours_to_sign, standing_of
from evenhand.jobs.statement_codes import CodeFound, has_ended, refuse_running
from evenhand.jobs.workspace import Workspace
from evenhand.records.signing import Hours, digest_of, written
from evenhand.records.standing import open_disputes
from evenhand.records.supervising import supervisors_of
from evenhand.store import decisions, frames
from evenhand.terms.columns import Frame
from evenhand.terms.payroll import WORKED_ITEMS
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.settings import Period
from evenhand.terms.signing import UNAPPROVED
from evenhand.terms.words import as_span_of_days, called, counted, listed

__all__ = [
    "Approved",
    "Confirmed",
    "PeriodSigned",
    "PersonSigned",
    "SignOffTakenBack",
    "approve",
    "confirm",
    "confirmation_of",
    "period_signed",
    "take_sign_off_back",
    "unapproved",
]


@dataclass(frozen=True)
class PersonSigned:
    """How far a person's hours of a period are signed: each of the two is `yes`, `undone` or `no`.

    `seen` names the hours as they are now; `worked_s` and `premium_s` are their seconds. `supervisors` may approve.
    """

    person: str
    name: str
    site: str | None
    department: str | None
    supervisors: tuple[str, ...]
    worked_s: int
    premium_s: int
    confirmed: str
    approved: str
    confirmation: int | None
    approval: int | None
    disputes: int
    seen: str

    @property
    def has_hours(self) -> bool:
        """Whether there is anything to sign."""
        return bool(self.worked_s or self.premium_s)

    @property
    def waits(self) -> bool:
        """Whether there is something for a supervisor to approve, also where approved hours have gone since."""
        return self.approved == "undone" or (self.approved == "no" and self.has_hours)

    @property
    def is_silent(self) -> bool:
        """Whether the person has neither confirmed these hours nor disputes any."""
        return self.confirmed != "yes" and not self.disputes


@dataclass(frozen=True)
class PeriodSigned:
    """How far everybody with hours in a period has signed; `has_ended` tells whether they can."""

    first: date
    last: date
    has_ended: bool
    people: tuple[PersonSigned, ...]

    @property
    def says(self) -> str:
        """Return in one sentence how many signed and how many did not."""
        count = [
            (sum(one.confirmed == "yes" for one in self.people), "confirmed by the person"),
            (sum(one.approved == "yes" for one in self.people), "approved by a supervisor"),
            (sum(one.disputes > 0 for one in self.people), "disputed and not answered yet"),
            (sum("undone" in (one.confirmed, one.approved) for one in self.people), "changed since they were signed"),
            (sum(one.is_silent for one in self.people), "without a word of the person"),
        ]
        said = ", ".join(f"{number} {what}" for number, what in count)
        return f"Of the hours of {counted(len(self.people), 'person', 'people')}: {said}."


@dataclass(frozen=True)
class Confirmed:
    """A confirmation with its number; `is_known` says that these very hours had been confirmed before."""

    signoff: int
    person: str
    name: str
    first: date
    last: date
    is_known: bool


@dataclass(frozen=True)
class Approved:
    """Whose hours a supervisor approved, each with the sign-off's number."""

    supervisor: str
    first: date
    last: date
    people: tuple[Confirmed, ...]


@dataclass(frozen=True)
class SignOffTakenBack:
    """A sign-off that counts no longer."""

    signoff: int
    action: str
    person: str
    first: date
    last: date


def period_signed(reckoning: Reckoning, day: date | None = None) -> PeriodSigned:
    """Return how far the hours of the period that holds `day` are signed, by name; of everybody who has some."""
    period = reckoning.period(day)
    return reckoning.part(
        ("period signed", period),
        lambda: PeriodSigned(
            period.first,
            period.last,
            has_ended(reckoning, period),
            tuple(_people(reckoning, period.first, period.last)),
        ),
    )


def _people(reckoning: Reckoning, first: date, last: date) -> list[PersonSigned]:
    of = reckoning.snapshot
    everybody = of.people["person"].to_list()
    hours = hours_signed(reckoning, first, last, everybody)
    standing = standing_of(reckoning).filter(pl.col("first_day") == first, pl.col("last_day") == last)
    signed = {(row["person"], row["action"]): row for row in standing.iter_rows(named=True)}
    inside = (pl.col("day").is_null() & (pl.col("made") >= first)) | pl.col("day").is_between(first, last)
    waiting = open_disputes(of.disputes, of.dispute_answers).with_columns(
        made=pl.from_epoch("made_at", time_unit="s").dt.date()
    )
    disputed = dict(waiting.filter(inside).group_by("person").len().iter_rows())
    supervisors = supervisors_of(of.people, first)
    named = {*hours, *disputed, *(person for person, _ in signed)}
    rows = of.people.filter(pl.col("person").is_in(list(named))).sort("name", "person")
    return [
        _person(row, hours.get(row["person"], {}), signed, disputed.get(row["person"], 0), supervisors[row["person"]])
        for row in rows.iter_rows(named=True)
    ]


def _person(
    row: Mapping[str, Any],
    hours: Hours,
    signed: Mapping[tuple[str, str], Mapping[str, Any]],
    disputes: int,
    supervisors: tuple[str, ...],
) -> PersonSigned:
    digest, person = digest_of(hours), row["person"]
    made = [signed.get((person, action)) for action in ("confirm", "approve")]
    states = ["no" if one is None else "yes" if one["digest"] == digest else "undone" for one in made]
    worked = sum(seconds for (_, item), seconds in hours.items() if item in WORKED_ITEMS)
    beside = sum(
        seconds
        for (_, item), seconds in hours.items()
        if item not in WORKED_ITEMS and not item.startswith("differential:")
    )
    return PersonSigned(
        person=person,
        name=row["name"] or person,
        site=row["site"],
        department=row["department"],
        supervisors=supervisors,
        worked_s=worked,
        premium_s=beside,
        confirmed=states[0],
        approved=states[1],
        confirmation=made[0]["signoff"] if made[0] else None,
        approval=made[1]["signoff"] if made[1] else None,
        disputes=disputes,
        seen=digest,
    )


def unapproved(reckoning: Reckoning, period: Period) -> Frame:
    """Return whose hours (UNAPPROVED) the settings want approved and nobody has; none while the period runs."""
    if not reckoning.snapshot.settings.approval_demanded or not has_ended(reckoning, period):
        return UNAPPROVED.empty()
    waiting = (one for one in period_signed(reckoning, period.first).people if one.waits and one.has_hours)
    return UNAPPROVED.rows({"person": one.person, "supervisors": " ".join(one.supervisors)} for one in waiting)


def confirm(
    workspace: Workspace,
    reckoning: Reckoning,
    found: CodeFound,
    *,
    seen: str = "",
    way: str,
    author: str = "",
    as_of: datetime,
) -> Confirmed:
    """Keep that a person confirms the hours on their statement, or those they were shown, whose digest is `seen`.

    `author` keyed it in for them; empty where they did so themselves. The same hours are confirmed once. Raises Refusal
    where the hours are no longer those.
    """
    of, period = reckoning.snapshot, (found.first, found.last)
    name = of.names.get(found.person, found.person)
    hours = hours_to_sign(reckoning, found.person, *period)
    if digest_of(hours) != (seen or found.digest):
        raise Refusal(
            f"the hours of {as_span_of_days(*period)} are no longer those on this statement, so nothing was confirmed; "
            "print it again, with its new code."
        )
    known = confirmation_of(reckoning, found.person, period, digest_of(hours))
    if known is not None:
        return Confirmed(known, found.person, name, *period, is_known=True)
    row = _row("confirm", found.person, period, hours, way, author.strip() or found.person, as_of)
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        refuse_overtaken(conn, reckoning)
        number = decisions.add_row(conn, "signoffs", row)
    return Confirmed(number, found.person, name, *period, is_known=False)


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
        raise Refusal("an approval is entered by somebody; say who with --author.")
    of, period = reckoning.snapshot, reckoning.period(day)
    by = str(of.find_person(supervisor)["person"])
    refuse_running(reckoning, period)
    signed = {one.person: one for one in period_signed(reckoning, day).people}
    asked = [str(of.find_person(one)["person"]) for one in people]
    theirs = _theirs(of.names, by, signed, asked)
    waiting = [one for one in theirs if one.waits]
    if not waiting:
        raise Refusal(f"nothing of {period.first} to {period.last} is left for {_called(of.names, by)} to approve.")
    for one in waiting:
        if seen is not None and seen.get(one.person) != one.seen:
            raise Refusal(f"the hours of {one.name} have changed since they were shown; look again. None was approved.")
    span = (period.first, period.last)
    hours = hours_signed(reckoning, *span, [one.person for one in waiting])
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        refuse_overtaken(conn, reckoning)
        made = []
        for one in waiting:
            row = _row("approve", one.person, span, hours.get(one.person, {}), "desk", author.strip(), as_of)
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
            raise Refusal(f"{_called(names, person)} has no hours in the period, so that there is nothing to approve.")
        if by not in signed[person].supervisors:
            who = [_called(names, one) for one in signed[person].supervisors]
            whose = f"but for {listed(who)}" if who else "and no other supervisor is on the roster: name one on People"
            raise Refusal(
                f"the hours of {_called(names, person)} are not for {_called(names, by)} to approve, {whose}; none was "
                "approved."
            )
    return [one for one in theirs if not asked or one.person in asked]


def take_sign_off_back(
    workspace: Workspace, number: int, *, author: str, reason: str, as_of: datetime
) -> SignOffTakenBack:
    """Take a confirmation or an approval back; raises Refusal where it does not stand, and where nobody says why."""
    if not author.strip() or not reason.strip():
        raise Refusal("a sign-off is taken back by somebody and for a reason; give both.")
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        made = frames.signoffs(conn)
        rows = made.filter(pl.col("signoff") == number, pl.col("action") != "withdraw")
        if rows.is_empty():
            raise Unknown(f"there is no sign-off {number}; `evenhand signoff list` lists those of a period.")
        row = rows.row(0, named=True)
        if number in made["withdraws"]:
            raise Refusal(f"sign-off {number} was taken back already.")
        kept = {name: row[name] for name in ("person", "digest", "hours", "supervisor", "way")}
        dates = {name: row[name].isoformat() for name in ("first_day", "last_day")}
        said = {"author": author.strip(), "reason": reason.strip(), "made_at": int(as_of.timestamp())}
        decisions.add_row(conn, "signoffs", {**kept, **dates, **said, "action": "withdraw", "withdraws": number})
    return SignOffTakenBack(number, row["action"], row["person"], row["first_day"], row["last_day"])


def confirmation_of(reckoning: Reckoning, person: str, period: tuple[date, date], digest: str) -> int | None:
    """Return the number of the standing confirmation of these very hours; None where the person has not confirmed."""
    standing = standing_of(reckoning).filter(
        pl.col("action") == "confirm",
        pl.col("person") == person,
        pl.col("first_day") == period[0],
        pl.col("last_day") == period[1],
        pl.col("digest") == digest,
    )
    return standing["signoff"].to_list()[-1] if standing.height else None


def _row(
    action: str, person: str, period: tuple[date, date], hours: Hours, way: str, author: str, as_of: datetime
) -> dict[str, Any]:
    return {
        "action": action,
        "person": person,
        "first_day": period[0].isoformat(),
        "last_day": period[1].isoformat(),
        "digest": digest_of(hours),
        "hours": written(hours),
        "way": way,
        "author": author,
        "made_at": int(as_of.timestamp()),
    }


def _called(names: Mapping[str, str], person: str) -> str:
    return called(names.get(person), person)
