"""How far the hours of a period are signed: who confirmed, whose supervisor approved, and who has said nothing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any

import polars as pl

from evenhand.jobs.period import last_closed
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.signed_hours import hours_signed, standing_of
from evenhand.jobs.statement_codes import has_ended
from evenhand.records.signing import Hours, digest_of
from evenhand.records.standing import open_disputes
from evenhand.records.supervising import supervisors_of
from evenhand.terms.columns import Frame
from evenhand.terms.languages import Sentence, pattern_of, told
from evenhand.terms.payroll import WORKED_ITEMS
from evenhand.terms.settings import Period
from evenhand.terms.signing import UNAPPROVED

__all__ = ["PeriodSigned", "PersonSigned", "period_signed", "unapproved"]


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
    def says(self) -> Sentence:
        """Return in one sentence how many signed and how many did not."""
        return told(
            pattern_of(
                "Of the hours of {count} person: {confirmed} confirmed by the person, {approved} approved by a "
                "supervisor, {disputed} disputed and not answered yet, {undone} changed since they were signed, "
                "{silent} without a word of the person.",
                "Of the hours of {count:,} people: {confirmed} confirmed by the person, {approved} approved by a "
                "supervisor, {disputed} disputed and not answered yet, {undone} changed since they were signed, "
                "{silent} without a word of the person.",
                len(self.people),
            ),
            count=len(self.people),
            confirmed=sum(one.confirmed == "yes" for one in self.people),
            approved=sum(one.approved == "yes" for one in self.people),
            disputed=sum(one.disputes > 0 for one in self.people),
            undone=sum("undone" in (one.confirmed, one.approved) for one in self.people),
            silent=sum(one.is_silent for one in self.people),
        )


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
    disputed = Counter(
        row["person"]
        for row in open_disputes(of.disputes, of.dispute_answers).iter_rows(named=True)
        if first <= _disputed_of(reckoning, row) <= last
    )
    supervisors = supervisors_of(of.people, first, of.gone_people["person"])
    named = {*hours, *disputed, *(person for person, _ in signed)}
    rows = of.people.filter(pl.col("person").is_in(list(named))).sort("name", "person")
    return [
        _person(row, hours.get(row["person"], {}), signed, disputed[row["person"]], supervisors[row["person"]])
        for row in rows.iter_rows(named=True)
    ]


def _disputed_of(reckoning: Reckoning, row: Mapping[str, Any]) -> date:
    """Return the day that is disputed; without one, the first of the period that payroll waited for as it was said."""
    day: date | None = row["day"]
    if day is not None:
        return day
    said = datetime.fromtimestamp(row["made_at"], UTC)
    return last_closed(reckoning.snapshot.settings.period, reckoning.zone, said).first


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
