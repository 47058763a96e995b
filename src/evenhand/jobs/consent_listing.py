"""List how people stand with the policy on hands, the versions, and one person's history."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

import polars as pl

from evenhand.jobs.consent_versions import policy_versions
from evenhand.jobs.consents import consent_history, consent_states
from evenhand.jobs.retention import place_of_site
from evenhand.jobs.snapshot import Snapshot
from evenhand.records.consent import ConsentLaw, laws_on
from evenhand.terms.columns import Frame
from evenhand.terms.consent import CONSENT_STATES, IN_FORCE, stands_in_words
from evenhand.terms.languages import sentence, told

__all__ = [
    "SAID_IN_WORDS",
    "ConsentLine",
    "LawShown",
    "PersonConsent",
    "PolicyListed",
    "laws_shown",
    "list_consents",
    "list_policies",
    "person_consent",
]

SAID_IN_WORDS = {
    "agree": sentence("agreed"),
    "refuse": sentence("did not agree"),
    "withdraw": sentence("withdrew the release"),
    "other_way": sentence("chose another way to clock"),
    "take_back": sentence("took a row back"),
}
HOW = {
    "paper": sentence("on paper"),
    "phone": sentence("at the reader, by their own hand"),
    "desk": sentence("at the desk"),
}


@dataclass(frozen=True)
class PolicyListed:
    """A version as it is listed; `in_force` says whether it is the last one of its name that has begun."""

    policy: int
    called: str
    in_force_from: date
    renew_by: date | None
    in_force: bool
    languages: tuple[str, ...]
    forms: tuple[str, ...]
    digest: str
    author: str
    made_at: int


@dataclass(frozen=True)
class LawShown:
    """A law, and the sites whose place it binds; none is no word that another law does not."""

    law: ConsentLaw
    sites: tuple[str, ...]


@dataclass(frozen=True)
class ConsentLine:
    """One row of a person's history: what was said, when, how, and where that is known from.

    `is_standing` is false for a row that was taken back, and for the row that took it back.
    """

    said_on: date
    said_at: int | None
    says: str
    called: str
    source: str
    decision: int | None
    is_standing: bool
    author: str | None
    made_at: int | None


@dataclass(frozen=True)
class PersonConsent:
    """How a person stands and all that is known of it; `readers` list their number."""

    person: str
    name: str
    number: str | None
    site: str | None
    kind: str
    stands: str
    may_be_enrolled: bool
    other_way: str | None
    readers: tuple[str, ...]
    history: tuple[ConsentLine, ...]


def laws_shown(snapshot: Snapshot, on: date) -> list[LawShown]:
    """Return what laws want before an enrolment, those first that bind a site on the roster by its place."""
    places = {site: place_of_site(snapshot, site) for site in snapshot.people["site"].drop_nulls().unique().sort()}
    shown = [LawShown(law, tuple(site for site, place in places.items() if law.binds(place))) for law in laws_on(on)]
    return sorted(shown, key=lambda one: not one.sites)


def list_policies(snapshot: Snapshot, on: date) -> list[PolicyListed]:
    """Return the versions, the last added first."""
    versions = policy_versions(snapshot)
    begun: dict[str, Any] = {}
    for one in sorted(versions, key=lambda one: one.as_version.place):
        if one.in_force_from <= on:
            begun[one.file.name] = one.policy
    return [
        PolicyListed(
            policy=one.policy,
            called=one.called,
            in_force_from=one.in_force_from,
            renew_by=one.renew_by,
            in_force=begun.get(one.file.name) == one.policy,
            languages=tuple(one.file.words),
            forms=one.file.forms,
            digest=one.digest,
            author=one.author,
            made_at=one.made_at,
        )
        for one in reversed(versions)
    ]


def list_consents(
    snapshot: Snapshot,
    on: date,
    *,
    kinds: Sequence[str] = (),
    site: str | None = None,
    states: Frame | None = None,
) -> Frame:
    """Return how those here on a day stand (CONSENT_STATES), by site and name; `states` are all, where known."""
    here = snapshot.here(on).select("person", "name")
    states = (consent_states(snapshot, on) if states is None else states).join(here, on="person")
    if kinds:
        states = states.filter(pl.col("kind").is_in(list(kinds)))
    if site is not None:
        states = states.filter(pl.col("site").fill_null("") == site)
    return CONSENT_STATES.check(states.sort("site", "name", "person", nulls_last=True).select(CONSENT_STATES.names))


def person_consent(snapshot: Snapshot, person: str, on: date) -> PersonConsent:
    """Return one person's state and history, latest first; raises Unknown where nobody answers to `person`."""
    who = snapshot.find_person(person)
    state = consent_states(snapshot, on).filter(pl.col("person") == who["person"]).row(0, named=True)
    there = snapshot.enrolments.filter(pl.col("number") == who["number"])["reader"].sort().to_list()
    return PersonConsent(
        person=who["person"],
        name=who["name"] or who["person"],
        number=who["number"],
        site=who["site"],
        kind=state["kind"],
        stands=stands_in_words(state),
        may_be_enrolled=state["kind"] in IN_FORCE or (state["kind"] == "nothing" and not state["is_required"]),
        other_way=state["other_way"],
        readers=tuple(there),
        history=tuple(_lines(snapshot, who["person"])),
    )


def _lines(snapshot: Snapshot, person: str) -> list[ConsentLine]:
    """Return the standing history, latest first, then what was taken back, with the rows that took it back."""
    called = {one.policy: one.called for one in policy_versions(snapshot)}
    files = dict(snapshot.takes.select("take", "file").iter_rows())
    standing = consent_history(snapshot).filter(pl.col("person") == person).rows(named=True)
    lines = [
        ConsentLine(
            said_on=row["said_on"],
            said_at=row["said_at"],
            says=_says(row),
            called=called.get(row["policy"]) or (told("form {form}", form=row["form"]) if row["form"] else ""),
            source=files.get(row["take"]) or told("a file") if row["how"] == "file" else _how(row),
            decision=row["decision"],
            is_standing=True,
            author=row["author"],
            made_at=row["made_at"],
        )
        for row in reversed(standing)
    ]
    known = {line.decision for line in lines}
    recorded = snapshot.consent_decisions.filter(pl.col("person") == person).sort("decision", descending=True)
    lines += [
        ConsentLine(
            said_on=row["said_on"],
            said_at=row["said_at"],
            says=told("took row {number} back: {reason}", number=row["takes_back"], reason=row["reason"])
            if row["takes_back"]
            else _says(row),
            called=called.get(row["policy"], ""),
            source=_how(row),
            decision=row["decision"],
            is_standing=False,
            author=row["author"],
            made_at=row["made_at"],
        )
        for row in recorded.iter_rows(named=True)
        if row["decision"] not in known
    ]
    return lines


def _says(row: dict[str, Any]) -> str:
    if not row["other_way"]:
        return told(SAID_IN_WORDS[row["action"]])
    return told("chose another way to clock: {way:again}", way=row["other_way"])


def _how(row: dict[str, Any]) -> str:
    how = told(HOW[row["how"]])
    if row["stood_by"]:
        return told("{how} beside {name}, recorded by {author}", how=how, name=row["stood_by"], author=row["author"])
    return told("{how}, recorded by {author}", how=how, author=row["author"])
