"""What hours are signed, and whose sign-off a change undoes: what was signed is held against what follows now."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date
from typing import Any

import polars as pl

from evenhand import pay
from evenhand.jobs.closed import zones_of_people
from evenhand.jobs.hours import WorkedHours
from evenhand.jobs.reckoning import Reckoning
from evenhand.records.signing import Hours, differences, digest_of, hours_by_person, hours_of, read_hours
from evenhand.records.standing import standing_signoffs
from evenhand.terms.columns import Frame
from evenhand.terms.languages import DaySpan, Sentence, sentence, told
from evenhand.terms.signing import UNDONE_SIGNOFFS
from evenhand.terms.words import called, listed

__all__ = [
    "digest_of_hours",
    "hours_as_they_follow",
    "hours_signed",
    "hours_to_sign",
    "standing_of",
    "undone_by",
    "undone_signoffs",
]

MOST_DAYS = 3
UNTOLD = {
    "confirm": sentence(
        "Whether this undoes the confirmation of the hours of {who}, {days}, cannot be told: the workweek of "
        "{weeks:listed 3} does not add up, which is a fault of this program."
    ),
    "approve": sentence(
        "Whether this undoes the approval of the hours of {who}, {days}, cannot be told: the workweek of "
        "{weeks:listed 3} does not add up, which is a fault of this program."
    ),
}


def standing_of(reckoning: Reckoning) -> Frame:
    """Return the sign-offs (SIGNOFFS) that stand."""
    signoffs = reckoning.snapshot.signoffs
    return reckoning.part("standing sign-offs", lambda: standing_signoffs(signoffs))


def hours_to_sign(reckoning: Reckoning, person: str, first: date, last: date) -> Hours:
    """Return one person's hours of the workweeks that begin from `first` to `last`, as they follow now.

    Raises Refusal where a week fails, since nobody signs what does not add up.
    """
    theirs = reckoning.person_hours(person).in_weeks(first, last)
    theirs.refuse_failing()
    return hours_as_they_follow(reckoning, theirs)


def hours_as_they_follow(reckoning: Reckoning, hours: WorkedHours) -> Hours:
    """Return one person's hours as payroll's lines have them; a week that fails is not among them."""
    return hours_of(_lines(reckoning, hours))


def digest_of_hours(hours: Hours) -> str:
    """Return what names these very hours."""
    return digest_of(hours)


def hours_signed(reckoning: Reckoning, first: date, last: date, people: Collection[str]) -> dict[str, Hours]:
    """Return the same for some people at once, without those who have none."""

    def make(some: Collection[str] | None) -> Frame:
        hours = reckoning.hours if some is None else reckoning.hours.of(some)
        return _lines(reckoning, hours.in_weeks(first, last))

    lines = reckoning.frame_by_person(("signed lines", first, last), make)
    return hours_by_person(lines.filter(pl.col("person").is_in(list(people))))


def _lines(reckoning: Reckoning, hours: WorkedHours) -> Frame:
    return pay.owed_lines(hours.classed, hours.premiums, hours.differentials, None, zones_of_people(reckoning))


def undone_signoffs(reckoning: Reckoning) -> Frame:
    """Return the standing sign-offs of the periods that the reckoning reaches whose hours are others now, in order."""
    return reckoning.part("undone sign-offs", lambda: UNDONE_SIGNOFFS.rows(_undone(reckoning)))


def _undone(reckoning: Reckoning) -> Iterator[dict[str, Any]]:
    of, standing = reckoning.snapshot, standing_of(reckoning)
    for (first, last), rows in standing.group_by("first_day", "last_day", maintain_order=True):
        assert isinstance(first, date)
        assert isinstance(last, date)
        if not of.covers(first, last):
            continue
        now = hours_signed(reckoning, first, last, rows["person"].to_list())
        for row in rows.iter_rows(named=True):
            hours = now.get(row["person"], {})
            if digest_of(hours) != row["digest"]:
                differs, seconds = differences(read_hours(row["hours"]), hours)
                yield {**row, "differs": listed(differs, MOST_DAYS), "seconds": seconds}


def undone_by(before: Reckoning, after: Reckoning, people: Collection[str] | None = None) -> tuple[str, ...]:
    """Return in words whose sign-offs a change from one reckoning to the other undoes: of these people's, or of all.

    Of a period that the reckonings do not reach over, what changes in the part that they do reach counts. Of hours of
    which a week fails it is said that nobody can tell.
    """
    standing = standing_of(before)
    if people is not None:
        standing = standing.filter(pl.col("person").is_in(list(people)))
    of, said = before.snapshot, []
    for (first, last), rows in standing.group_by("first_day", "last_day", maintain_order=True):
        assert isinstance(first, date)
        assert isinstance(last, date)
        since, until = max(first, of.first), last if of.last is None else min(last, of.last)
        if since > until:
            continue
        signers = rows["person"].unique(maintain_order=True).to_list()
        was, now = (_hours(one, since, until, signers, alone=people is not None) for one in (before, after))
        failing = _failing(before, after, since, until, signers) if people is not None else {}
        for row in rows.iter_rows(named=True):
            had, has = was.get(row["person"], {}), now.get(row["person"], {})
            if row["person"] in failing:
                said.append(_say_untold(of.names, row, failing[row["person"]]))
                continue
            stood = (since, until) != (first, last) or digest_of(had) == row["digest"]
            if stood and had != has:
                said.append(_say(of.names, row))
    return tuple(said)


def _hours(reckoning: Reckoning, first: date, last: date, people: Sequence[str], *, alone: bool) -> dict[str, Hours]:
    if alone:
        theirs = {person: reckoning.person_hours(person).in_weeks(first, last) for person in people}
        return {person: hours_as_they_follow(reckoning, hours) for person, hours in theirs.items()}
    return hours_signed(reckoning, first, last, people)


def _failing(
    before: Reckoning, after: Reckoning, first: date, last: date, people: Sequence[str]
) -> dict[str, list[date]]:
    """Return the workweeks that fail before the change or after it, of whom some do."""
    found = {
        person: sorted({week for one in (before, after) for week in _failing_weeks(one, person, first, last)})
        for person in people
    }
    return {person: weeks for person, weeks in found.items() if weeks}


def _failing_weeks(reckoning: Reckoning, person: str, first: date, last: date) -> list[date]:
    return reckoning.person_hours(person).in_weeks(first, last).failing["workweek"].to_list()


def _say_untold(names: Mapping[str, str], row: Mapping[str, Any], weeks: Sequence[date]) -> Sentence:
    return told(
        UNTOLD[row["action"]],
        who=called(names.get(row["person"]), row["person"]),
        days=DaySpan(row["first_day"], row["last_day"]),
        weeks=weeks,
    )


def _say(names: Mapping[str, str], row: Mapping[str, Any]) -> Sentence:
    given: dict[str, Any] = {
        "who": called(names.get(row["person"]), row["person"]),
        "days": DaySpan(row["first_day"], row["last_day"]),
    }
    if row["action"] == "confirm":
        return told("This undoes the confirmation of {days} by {who}, who is asked again.", **given)
    if not row["supervisor"]:
        return told(
            "This undoes the approval of {who}, {days}, by a supervisor no longer on file, who is asked again.", **given
        )
    by = called(names.get(row["supervisor"]), row["supervisor"])
    return told("This undoes the approval of {who}, {days}, by {by}, who is asked again.", by=by, **given)
