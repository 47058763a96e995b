"""The public retention schedule: what is kept, why, how long and by which law, for this workplace's own places."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from datetime import date, datetime
from importlib import resources
from pathlib import Path

from evenhand.jobs.languages import say_in, words_said
from evenhand.jobs.retention import own_laws, place_of_site
from evenhand.jobs.snapshot import Snapshot
from evenhand.records.retention import Law, laws_of
from evenhand.store.faults import refusing
from evenhand.store.replacing import replace_file
from evenhand.terms import cautions
from evenhand.terms.languages import Speech, sentence, told
from evenhand.terms.papers import PAPER_SIZES

__all__ = ["ALWAYS", "PARTS", "KeptKind", "Schedule", "ScheduleLine", "schedule_of", "schedule_text", "write_schedule"]


@dataclass(frozen=True)
class ScheduleLine:
    """What a law of a place says: how long something is kept at most (`destroy`) or at least (`keep`)."""

    place: str
    clock: str
    keeps: str
    rule: str
    law: str
    since: date
    reading: str
    checked: str


@dataclass(frozen=True)
class KeptKind:
    """A kind of record that is kept: what it is, what for, and when it goes."""

    what: str
    why: str
    until: str


@dataclass(frozen=True)
class Schedule:
    """The schedule of a workplace as of a day; `sites` are the sites of each place."""

    workplace: str
    on: date
    places: tuple[tuple[str, tuple[str, ...]], ...]
    kinds: tuple[KeptKind, ...]
    lines: tuple[ScheduleLine, ...]
    caution: str


KINDS = (
    KeptKind(
        sentence("Hand geometry on a reader"),
        sentence(
            "To recognise whoever lays a hand down when work begins and ends. It stays in the reader; it is never "
            "copied into this workplace's records, sold, or passed on."
        ),
        sentence(
            "Taken off every reader on the day on which its purpose ends (the last day of work, or consent withdrawn), "
            "and at the latest by the earliest day below. The reader's own list afterwards is the proof."
        ),
    ),
    KeptKind(
        sentence("Comparison scores, and how often a hand was laid down to enrol it"),
        sentence("To see whose hand is refused and to enrol it again."),
        sentence("Erased once no reader holds the hand."),
    ),
    KeptKind(
        sentence("Times of presentations, corrections, hours and pay"),
        sentence("To pay people for the time they worked, and to show how it was worked out."),
        sentence("Kept through the latest day below, then erased."),
    ),
    KeptKind(
        sentence("Consent, its withdrawal, and the proof that a hand was taken off"),
        sentence("To show that consent came first and that the hand is gone."),
        sentence("Kept as long as a claim may be brought, then erased."),
    ),
    KeptKind(
        sentence("Totals of files handed to payroll, without names"),
        sentence("To check what was handed to payroll."),
        sentence("Stay."),
    ),
)


PARTS = {"destroy": sentence("A hand is gone at the latest"), "keep": sentence("Records are kept at least")}
OR, AND = sentence("{one}, or {other}"), sentence("{one}, and {other}")
FIRST_OF, LAST_OF = sentence("{rule}, whichever is first"), sentence("{rule}, whichever is later")
ALWAYS = (
    sentence(
        "Whoever works in several places is bound by all of them: the earliest day to be gone, the latest to be kept."
    ),
    sentence(
        "A suit, a charge or an audit stops the disposal of time records; it does not by itself allow keeping a hand."
    ),
)


def schedule_of(of: Snapshot, *, as_of: datetime) -> Schedule:
    """Return the schedule for the places of the workplace's sites and readers, as its settings are in a snapshot."""
    sites = sorted({*of.readers["site"], *of.people["site"].drop_nulls(), *of.settings.sites})
    by_place: dict[str, list[str]] = {}
    for site in sites or [""]:
        by_place.setdefault(place_of_site(of, site), []).append(site)
    own = own_laws(of.settings)
    lines = [_line(place, law) for place in sorted(by_place) for law in laws_of(place, own=own)]
    return Schedule(
        of.settings.workplace,
        as_of.date(),
        tuple((place, tuple(named)) for place, named in sorted(by_place.items())),
        KINDS,
        tuple(dict.fromkeys(sorted(lines, key=lambda one: (one.clock, one.place, one.law)))),
        cautions.CALCULATION,
    )


def _line(place: str, law: Law) -> ScheduleLine:
    first, *others = (term.words for term in law.terms)
    rule: str = first
    for other in others:
        rule = told(OR if law.clock == "destroy" else AND, one=rule, other=other)
    if others:
        rule = told(FIRST_OF if law.clock == "destroy" else LAST_OF, rule=rule)
    return ScheduleLine(law.place or place, law.clock, law.keeps, rule, law.cites, law.since, law.reading, law.checked)


def write_schedule(schedule: Schedule, place: Path, *, paper: str = "letter", language: str = "en") -> None:
    """Write the schedule as PDF in a language; raises Refusal where the place cannot be written."""
    import typst

    say = say_in(language)
    content = {
        "workplace": schedule.workplace,
        "paper": PAPER_SIZES[paper],
        "language": language,
        "words": words_said("schedule")[language],
        "public": _public(schedule, say),
        "kinds": [{name: say.said(text) for name, text in asdict(kind).items()} for kind in schedule.kinds],
        "parts": [
            {
                "title": say(title),
                "lines": [
                    {
                        "place": one.place,
                        "keeps": say.said(one.keeps),
                        "rule": say.said(one.rule),
                        "law": " ".join(_sources(one, say)),
                    }
                    for one in schedule.lines
                    if one.clock == clock
                ],
            }
            for clock, title in PARTS.items()
        ],
        "said": [*_bound(schedule, say), *map(say, ALWAYS)],
        "caution": say(schedule.caution),
    }
    page = resources.files("evenhand.jobs").joinpath("schedule.typ").read_bytes()
    printed = typst.compile(page, format="pdf", sys_inputs={"content": json.dumps(content, ensure_ascii=False)})
    assert isinstance(printed, bytes)
    with refusing(str(place)):
        replace_file(place, printed)


def _public(schedule: Schedule, say: Speech) -> str:
    return say("As of {day}. This schedule is public: anybody may read it and have a copy.", day=schedule.on)


def _sources(one: ScheduleLine, say: Speech) -> Iterator[str]:
    # what stands in where no law is on file is no law, and in force since no day
    if one.checked == one.law:
        yield f"{say.retold(one.law)}."
    else:
        yield say("{law:again}, since {day}.", law=one.law, day=one.since)
    if one.reading:
        yield say("Read so: {reading:again}.", reading=one.reading)
    if one.checked == "memory":
        yield say("From memory: to be looked up before it is relied on.")


def _bound(schedule: Schedule, say: Speech) -> Iterator[str]:
    for place, sites in schedule.places:
        named = [site or say("people without a site") for site in sites]
        yield say("{place} binds {sites:listed 20}.", place=place, sites=named)


def schedule_text(schedule: Schedule, *, language: str = "en") -> str:
    """Return the schedule as plain text in a language, to print and to publish."""
    say = say_in(language)
    lines = [
        say("Retention schedule of {workplace}", workplace=schedule.workplace),
        _public(schedule, say),
        "",
    ]
    for kind in schedule.kinds:
        lines += [say.said(kind.what), f"  {say('What for:')} {say.said(kind.why)}"]
        lines += [f"  {say('How long:')} {say.said(kind.until)}", ""]
    for clock, title in PARTS.items():
        lines.append(f"{say(title)}:")
        for one in schedule.lines:
            if one.clock == clock:
                lines.append(f"  {one.place}  {say.said(one.keeps)}: {say.said(one.rule)}.")
                lines += [f"      {said}" for said in _sources(one, say)]
        lines.append("")
    lines += [*_bound(schedule, say), *map(say, ALWAYS), "", say(schedule.caution)]
    return "\n".join(lines) + "\n"
