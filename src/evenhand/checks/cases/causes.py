"""Which cause each finding tells of, by what it holds as evidence: persons, readers, numbers, days; never its words.

A finding either tells of a cause by itself (it is an anchor of it) or may be explained by one that others tell of. It
goes to the first of its causes that has an anchor, and its own come last. To part what belongs together costs a second
look; to put together what does not would answer for somebody who was never asked, and is the worse mistake.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import NamedTuple

from evenhand.terms.records import Finding

__all__ = ["Cause", "NumbersAndLogs", "causes_of", "known"]


class Cause(NamedTuple):
    """A cause: its kind, and what it is about."""

    kind: str
    about: tuple[str, ...]

    @property
    def key(self) -> str:
        """Return its stable name, such as `other_number/Mill/4281`."""
        return "/".join((self.kind, *self.about))


Days = tuple[date, date]


@dataclass(frozen=True)
class NumbersAndLogs:
    """What the findings together tell of numbers and logs.

    `meant` is whose hand stands under a number at a reader, '' where nobody can tell, and `leavers` whose number it
    was; `short` the file that lost a number's zeros; `silent` the days that the logs of a reader, or of a site, lack.
    `exchanged` is the number under which hands under each other's numbers are told of at a reader, by each of these.
    """

    sites: Mapping[str, str]
    meant: Mapping[tuple[str, str], str]
    leavers: Mapping[tuple[str, str], str]
    short: Mapping[str, str]
    silent: Mapping[str, Sequence[Days]]
    exchanged: Mapping[tuple[str, str], str]

    def hand_under(self, reader: str, number: str) -> Cause:
        """Return the cause of punches under a number at a reader that are not its holder's.

        One number at several readers of a site is one person's (common practice, no source) unless two are meant.
        """
        number = self.exchanged.get((reader, number), number)
        if number in self.short:
            return Cause("file_lost_zeros", (self.short[number],))
        if (reader, number) in self.leavers:
            return Cause("hand_to_go", (self.leavers[reader, number],))
        site = self.sites.get(reader, reader)
        people = {
            person
            for (at, other), person in self.meant.items()
            if other == number and person and self.sites.get(at, at) == site
        }
        whose = self.meant.get((reader, number), "")
        return Cause("other_number", (site, number, whose) if len(people) > 1 else (site, number))

    def lacks(self, place: str, first: date, last: date) -> bool:
        """Whether the logs of a reader or a site lack one of these days."""
        return any(first <= until and since <= last for since, until in self.silent.get(place, ()))


def known(findings: Sequence[Finding], sites: Mapping[str, str]) -> NumbersAndLogs:
    """Return what findings tell of numbers and logs; `sites` are the readers'."""
    meant: dict[tuple[str, str], str] = {}
    leavers: dict[tuple[str, str], str] = {}
    short: dict[str, str] = {}
    silent: dict[str, list[Days]] = {}
    exchanged: dict[tuple[str, str], str] = {}
    for one in findings:
        match one.code:
            case "wrong_number" | "lost_zeros":
                for reader in one.details["readers"]:
                    meant[reader, one.number or ""] = one.person or ""
            case "unattributed_punches" if one.details["leaver"]:
                leavers[one.reader or "", one.number or ""] = one.details["leaver"]
            case "unattributed_punches":
                meant.setdefault((one.reader or "", one.number or ""), one.details["proposed"] or "")
            case "shared_number" if one.reader:
                exchanged |= {(one.reader, hand["number"]): one.number or "" for hand in one.hands}
            case "file_lost_zeros":
                short |= dict.fromkeys([*one.details["numbers"], *one.details["meant"]], one.subject)
            case "log_missing":
                until = date.fromisoformat(one.details["until"])
                silent.setdefault(one.reader or one.details["site"], []).append((one.day or until, until))
            case "log_ends_early" | "reader_quiet" if one.day is not None:
                silent.setdefault(one.reader or "", []).append((one.day, _last_silent(one)))
    return NumbersAndLogs(sites, meant, leavers, short, silent, exchanged)


def _last_silent(one: Finding) -> date:
    """Return the last day of a reader's silence: that of a quiet day itself, else no end is known."""
    assert one.day is not None
    return one.day if one.details.get("seen") else date.max - timedelta(days=1)


Told = Iterator[tuple[Cause, bool]]
"""Causes in the order in which they count, each with whether the finding is an anchor of it."""


def causes_of(one: Finding, of: NumbersAndLogs) -> Told:
    """Yield the causes that a finding may have; the last is its own."""
    yield from _told(one, of)
    yield Cause(one.code, tuple(one.key.split("/")[1:])), True


def _told(one: Finding, of: NumbersAndLogs) -> Told:
    match one.code:
        case "no_punches" | "missing_punch" | "long_span":
            yield from _of_absence(one, of)
        case "unattributed_punches" | "wrong_number" | "attribution_overtaken" | "shared_number" if one.reader:
            yield of.hand_under(one.reader, one.number or ""), True
        case "lost_zeros":
            for reader in one.details["readers"]:
                yield of.hand_under(reader, one.number or ""), True
        case "unknown_enrolment" if one.number:
            yield of.hand_under(one.reader or "", one.number), False
        case "file_lost_zeros":
            yield Cause("file_lost_zeros", (one.subject,)), True
        case "leaver_enrolled" | "release_ended" | "hand_overdue" | "supervisor_leaving":
            yield Cause("hand_to_go", (one.person or "",)), True
        case "gone_from_roster" if one.person:
            yield Cause("hand_to_go", (one.person,)), True
        case "log_missing" | "log_ends_early" | "reader_quiet":
            yield from _of_log(one, of)
        case "not_enrolled" | "no_number" | "too_long" if one.person:
            yield Cause("not_enrolled", (one.person,)), True
        case "reader_clock_off" | "zone_changed":
            yield Cause("clock", (one.reader or "",)), True
        case _:
            yield from _of_hands(one)
            yield from _of_readers(one, of)
            yield from _of_settings(one)


def _of_absence(one: Finding, of: NumbersAndLogs) -> Told:
    """Punches that are missing: under another number, in a log that is missing, refused, or for nobody knows why."""
    person, day = one.person or "", one.day
    assert day is not None
    for reader, number in one.details.get("strays", ()):
        yield of.hand_under(reader, number), False
    if one.code == "no_punches":
        yield Cause("not_enrolled", (person,)), False
    refused_at = one.details.get("refused_at", ())
    if refused_at:
        yield Cause("hand", (person,)), False
        yield from ((Cause("reader", (reader,)), False) for reader in refused_at)
    if one.code == "no_punches":
        last = date.fromisoformat(one.details["until"])
        yield from ((Cause("log", (place,)), False) for place in _places(one, of) if of.lacks(place, day, last))
        yield Cause("hand_to_go", (person,)), False
        yield Cause("away", (one.details["site"],)), True
        return
    night = day + timedelta(days=1)
    yield from ((Cause("log", (place,)), False) for place in _places(one, of) if of.lacks(place, day, night))
    yield Cause("asked", (person,)), True


def _places(one: Finding, of: NumbersAndLogs) -> list[str]:
    readers = list(one.details.get("readers", ()))
    return [*dict.fromkeys(of.sites.get(reader, reader) for reader in readers), *readers]


def _of_log(one: Finding, of: NumbersAndLogs) -> Told:
    if one.reader is None:
        yield Cause("log", (one.details["site"],)), True
        return
    site = of.sites.get(one.reader, "")
    if one.day is not None and of.lacks(site, one.day, one.day):
        yield Cause("log", (site,)), False
    yield Cause("log", (one.reader,)), True


def _of_hands(one: Finding) -> Told:
    match one.code:
        case "hand_changed":
            if one.details["cause"] in ("reader", "both") and one.reader:
                yield Cause("reader", (one.reader,)), False
            yield Cause("hand", (one.person or "",)), True
        case "enrol_again":
            yield Cause("hand", (one.person or "",)), True
        case "many_refusals" if one.number:
            if one.person:
                yield Cause("hand", (one.person,)), False
            yield Cause("reader", (one.reader or "",)), False
            yield Cause("hand", (one.person or f"{one.reader}/{one.number}",)), True
        case "reader_changed" | "refusal_burst" | "reader_scores_high" | "many_refusals":
            yield Cause("reader", (one.reader or "",)), True
        case _:
            return


def _of_readers(one: Finding, of: NumbersAndLogs) -> Told:
    match one.code:
        case "few_supervisors" | "supervisors_unproved" | "supervisor_mismatch":
            for left_out in one.details.get("not_counted", ()):
                if left_out["kind"] == "leaver_enrolled":
                    yield Cause("hand_to_go", (left_out["person"] or "",)), False
                else:
                    yield of.hand_under(one.reader or "", left_out["number"]), False
            yield Cause("supervisors", (one.reader or "",)), True
        case _:
            return


def _of_settings(one: Finding) -> Told:
    match one.code:
        case "rate_missing":
            yield from ((Cause("rates", (lacks,)), True) for lacks in one.details["lacks"])
        case "rounding_not_neutral" | "law_of_place":
            yield Cause(one.code, (one.details["site"],)), True
        case "consent_due" if one.details["due_by"]:
            yield Cause("consent_due", (one.details["due_by"],)), True
        case "closed_period_changed" if one.day:
            yield Cause("closed", (one.day.isoformat(),)), True
        case "signature_undone" if one.day:
            yield Cause("closed", (one.day.isoformat(),)), False
        case "dispute_open":
            yield Cause("asked", (one.person or "",)), False
        case _:
            return
