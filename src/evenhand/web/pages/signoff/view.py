"""What Sign-off shows: everybody's hours of a period by who may approve them, and a person's own at a reader."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

from evenhand.jobs.disputes import DisputeListed, list_disputes
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.signed_hours import digest_of_hours, hours_to_sign
from evenhand.jobs.signed_period import PeriodSigned, PersonSigned, period_signed
from evenhand.jobs.signing import confirmation_of
from evenhand.jobs.statement_codes import CodeFound
from evenhand.terms.closing import item_in_words
from evenhand.terms.languages import told
from evenhand.terms.words import as_figures, called

__all__ = ["DepartmentSigned", "OwnHours", "SignedView", "own_hours", "period_view"]


@dataclass(frozen=True)
class DepartmentSigned:
    """People of one department at one site, and who may approve them, but not themselves: identifiers with names."""

    place: str
    supervisors: Sequence[tuple[str, str]]
    people: Sequence[PersonSigned]

    @property
    def confirmed(self) -> int:
        """Return how many have confirmed the hours as they are."""
        return sum(one.confirmed == "yes" for one in self.people)

    @property
    def disputed(self) -> int:
        """Return how many dispute something that is not answered yet."""
        return sum(one.disputes > 0 for one in self.people)

    @property
    def waiting(self) -> int:
        """Return how many wait for an approval."""
        return sum(one.waits for one in self.people)

    @property
    def silent(self) -> int:
        """Return how many have neither confirmed nor disputed."""
        return sum(one.is_silent for one in self.people)


@dataclass(frozen=True)
class SignedView:
    """A period's sign-off: its groups and the one looked at, disputes that wait, days of the periods beside it."""

    signed: PeriodSigned
    groups: Sequence[DepartmentSigned]
    chosen: DepartmentSigned | None
    disputes: Sequence[DisputeListed]
    before: date
    after: date | None
    zone: str


def period_view(reckoning: Reckoning, day: date | None, place: str) -> SignedView:
    """Return how far the hours of the period that holds `day` are signed, by group; `place` names the one looked at."""
    of, signed = reckoning.snapshot, period_signed(reckoning, day)

    def by(one: PersonSigned) -> tuple[str, str]:
        return one.site or "", one.department or ""

    groups = [
        _group(of.names, ", ".join(filter(None, (department, site))) or told("no site"), tuple(people))
        for (site, department), people in groupby(sorted(signed.people, key=by), key=by)
    ]
    chosen = next((one for one in groups if one.place == place), groups[0] if len(groups) == 1 else None)
    last_closed = reckoning.period().first
    after = signed.last + timedelta(days=1) if signed.first < last_closed else None
    return SignedView(
        signed, groups, chosen, list_disputes(of), signed.first - timedelta(days=1), after, reckoning.zone
    )


def _group(names: Mapping[str, str], place: str, people: Sequence[PersonSigned]) -> DepartmentSigned:
    supervisors = dict.fromkeys(who for one in people for who in one.supervisors)
    return DepartmentSigned(place, [(who, called(names.get(who), who)) for who in supervisors], people)


@dataclass(frozen=True)
class OwnHours:
    """A person's hours of the period on their statement: each day in words, and what names these very hours."""

    name: str
    first: date
    last: date
    days: Sequence[tuple[date, Sequence[str]]]
    seen: str
    is_as_printed: bool
    is_confirmed: bool


def own_hours(reckoning: Reckoning, found: CodeFound) -> OwnHours:
    """Return what a person sees of their own hours; nothing of anybody else is in it."""
    hours = hours_to_sign(reckoning, found.person, found.first, found.last)
    days: dict[date, list[str]] = {}
    for (day, item), seconds in hours.items():
        said = told("{item} {time}", item=item_in_words(item), time=as_figures(seconds))
        days.setdefault(day, []).append(said)
    every = (found.first + timedelta(days=at) for at in range((found.last - found.first).days + 1))
    seen = digest_of_hours(hours)
    return OwnHours(
        reckoning.snapshot.names.get(found.person, found.person),
        found.first,
        found.last,
        [(day, days.get(day, [told("nothing")])) for day in sorted({*every, *days})],
        seen,
        seen == found.digest,
        confirmation_of(reckoning, found.person, (found.first, found.last), seen) is not None,
    )
