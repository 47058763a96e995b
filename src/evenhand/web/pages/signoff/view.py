"""What Sign-off shows: everybody's hours of a period by who may approve them, and a person's own at a reader."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

from evenhand.jobs.disputes import DisputeListed, list_disputes
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.signed_hours import digest_of_hours, hours_to_sign
from evenhand.jobs.signing import PeriodSigned, PersonSigned, period_signed
from evenhand.jobs.statement_codes import CodeFound
from evenhand.terms.closing import item_in_words
from evenhand.terms.words import as_figures, as_long_day, called

__all__ = ["Group", "OwnHours", "SignedView", "own_hours", "period_view"]


@dataclass(frozen=True)
class Group:
    """People whose hours the same supervisors may approve; `supervisors` are identifiers with what they are called."""

    place: str
    supervisors: Sequence[tuple[str, str]]
    people: Sequence[PersonSigned]

    @property
    def waiting(self) -> int:
        """Return how many wait for an approval."""
        return sum(one.approved != "yes" for one in self.people)

    @property
    def silent(self) -> int:
        """Return how many have neither confirmed nor disputed."""
        return sum(one.is_silent for one in self.people)


@dataclass(frozen=True)
class SignedView:
    """A period's sign-off: its groups, the disputes that wait, and the days of the periods beside it."""

    signed: PeriodSigned
    groups: Sequence[Group]
    disputes: Sequence[DisputeListed]
    before: date
    after: date | None
    zone: str


def period_view(reckoning: Reckoning, day: date | None) -> SignedView:
    """Return how far the hours of the period that holds `day` are signed, group by group."""
    of, signed = reckoning.snapshot, period_signed(reckoning, day)

    def by(one: PersonSigned) -> tuple[str, str, tuple[str, ...]]:
        return one.site or "", one.department or "", one.supervisors

    groups = [
        Group(
            ", ".join(filter(None, (department, site))) or "no site",
            [(who, called(of.names.get(who), who)) for who in supervisors],
            tuple(people),
        )
        for (site, department, supervisors), people in groupby(sorted(signed.people, key=by), key=by)
    ]
    last_closed = reckoning.period().first
    after = signed.last + timedelta(days=1) if signed.first < last_closed else None
    return SignedView(signed, groups, list_disputes(of), signed.first - timedelta(days=1), after, reckoning.zone)


@dataclass(frozen=True)
class OwnHours:
    """A person's hours of the period on their statement: each day in words, and what names these very hours."""

    name: str
    first: date
    last: date
    days: Sequence[tuple[date, str, str]]
    seen: str
    is_as_printed: bool
    is_confirmed: bool


def own_hours(reckoning: Reckoning, found: CodeFound) -> OwnHours:
    """Return what a person sees of their own hours; nothing of anybody else is in it."""
    hours = hours_to_sign(reckoning, found.person, found.first, found.last)
    days: dict[date, list[str]] = {}
    for (day, item), seconds in hours.items():
        days.setdefault(day, []).append(f"{item_in_words(item)} {as_figures(seconds)}")
    every = (found.first + timedelta(days=at) for at in range((found.last - found.first).days + 1))
    states: Mapping[str, PersonSigned] = {one.person: one for one in period_signed(reckoning, found.first).people}
    mine = states.get(found.person)
    seen = digest_of_hours(hours)
    return OwnHours(
        reckoning.snapshot.names.get(found.person, found.person),
        found.first,
        found.last,
        [(day, as_long_day(day), ", ".join(days.get(day, ["nothing"]))) for day in sorted({*every, *days})],
        seen,
        seen == found.digest,
        mine is not None and mine.confirmed == "yes",
    )
