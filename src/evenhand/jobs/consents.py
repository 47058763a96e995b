"""How everybody stands with the policy on hands: the versions, one history per person, whose hand is withheld."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from typing import Any

import polars as pl

from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.records.consent import (
    ConsentLaw,
    PolicyFile,
    Version,
    early_enrolments,
    history_of,
    in_force,
    laws_on,
    read_policy,
    states_of,
)
from evenhand.store import frames
from evenhand.terms.civil_days import civil_days
from evenhand.terms.columns import Frame
from evenhand.terms.consent import EARLY_ENROLMENTS, ENROLLED_AT, IN_FORCE, OTHER_WAY
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.rounds import LANGUAGES
from evenhand.terms.settings import Settings
from evenhand.terms.words import as_day
from evenhand.terms.zones import civil_date

__all__ = [
    "ConsentsOnFile",
    "HandsGiven",
    "OnFile",
    "PolicyVersion",
    "another_way",
    "consent_history",
    "consent_states",
    "consents_on_file",
    "early_hands",
    "hands_given",
    "laws_shown",
    "people_asked",
    "policy_asked",
    "policy_of",
    "policy_versions",
    "stands_in_words",
    "withheld",
]


@dataclass(frozen=True)
class PolicyVersion:
    """A policy version: its running number, which of its name it is, its days, its digest and what it says."""

    policy: int
    version: int
    in_force_from: date
    renew_by: date | None
    digest: str
    author: str
    made_at: int
    file: PolicyFile
    text: str

    @property
    def called(self) -> str:
        """Return what it is called, such as `Hands, version 2`."""
        return f"{self.file.name}, version {self.version}"

    @property
    def as_version(self) -> Version:
        """Return it as it bears on releases."""
        return Version(self.policy, self.in_force_from, self.renew_by)

    def agreed_to(self, snapshot: OnFile) -> frozenset[int]:
        """Return the versions of its name that a release for this one is of: this one and those after it."""
        later = (one for one in policy_versions(snapshot) if one.file.name == self.file.name)
        return frozenset(one.policy for one in later if one.as_version.place >= self.as_version.place)


@dataclass(frozen=True)
class ConsentsOnFile:
    """What is on file of consent, as a Snapshot holds it, without anything else of the store."""

    where: str
    settings: Settings
    people: Frame
    readers: Frame
    consent: Frame
    consent_takes: Frame
    consent_policies: Frame
    consent_decisions: Frame

    @property
    def names(self) -> dict[str, str]:
        """Return everybody's name by identifier."""
        return dict(self.people.select("person", "name").iter_rows())


OnFile = Snapshot | ConsentsOnFile


@dataclass(frozen=True)
class HandsGiven:
    """How everybody stands on a day (CONSENT_STATES), and hands that came before their release (EARLY_ENROLMENTS)."""

    states: Frame
    early: Frame

    @property
    def another_way(self) -> dict[str, str]:
        """Return who clocks another way by their own word, with that word."""
        return another_way(self.states)


def consents_on_file(workspace: Workspace) -> ConsentsOnFile:
    """Return what is on file of consent now, which is read at every tap at a reader."""
    names = ("people", "readers", "consent", "consent_takes", "consent_policies", "consent_decisions")
    with workspace.store.reading() as conn:
        read: dict[str, Frame] = {name: getattr(frames, name)(conn) for name in names}
    return ConsentsOnFile(where=str(workspace.settings_file), settings=workspace.settings, **read)


def policy_versions(snapshot: OnFile) -> list[PolicyVersion]:
    """Return the policy versions, in the order they were added."""
    found: list[PolicyVersion] = []
    for row in snapshot.consent_policies.iter_rows(named=True):
        file = _read(row["text"], f"policy {row['policy']}")
        version = 1 + sum(one.file.name == row["name"] for one in found)
        kept = {name: row[name] for name in ("policy", "in_force_from", "renew_by", "digest", "author", "made_at")}
        found.append(PolicyVersion(version=version, file=file, text=row["text"], **kept))
    return found


@lru_cache(maxsize=64)
def _read(text: str, name: str) -> PolicyFile:
    return read_policy(text, name, LANGUAGES)


def policy_of(snapshot: OnFile, policy: int) -> PolicyVersion:
    """Return the version of this running number; raises Unknown where there is none."""
    found = next((one for one in policy_versions(snapshot) if one.policy == policy), None)
    if found is None:
        raise Unknown(f"there is no policy {policy}; `evenhand consent policies` lists them.")
    return found


def _of_site(snapshot: OnFile, versions: list[PolicyVersion], site: str | None) -> list[PolicyVersion]:
    rules = snapshot.settings.consent
    names = {one.file.name for one in versions}
    wanted = rules.at(site).policy
    if wanted and names and wanted not in names:
        raise Refusal(
            f'{snapshot.where}, consent: policy "{wanted}" is none that was added; name one of '
            f"{', '.join(sorted(names))}, or add it with `evenhand consent policy add`."
        )
    asked = rules.named(site, names)
    return [one for one in versions if one.file.name in asked]


def policy_asked(snapshot: OnFile, site: str | None, on: date) -> PolicyVersion | None:
    """Return the version that is in force at a site on a day; None where there is none."""
    there = _of_site(snapshot, policy_versions(snapshot), site)
    found = in_force([one.as_version for one in there], on)
    return next((one for one in there if found is not None and one.policy == found.policy), None)


def people_asked(snapshot: OnFile, version: PolicyVersion, on: date) -> Frame:
    """Return who is here on a day (PEOPLE) at the sites that ask for a version's policy, with a release required."""
    rules, versions = snapshot.settings.consent, policy_versions(snapshot)
    here = snapshot.people.filter(pl.col("left_on").is_null() | (pl.col("left_on") >= on))
    sites = [
        site
        for site in here["site"].unique().to_list()
        if rules.at(site).is_required and version.policy in {one.policy for one in _of_site(snapshot, versions, site)}
    ]
    return here.filter(pl.col("site").is_in(sites, nulls_equal=True))


def consent_history(snapshot: OnFile) -> Frame:
    """Return all that is known of what people said (CONSENT_HISTORY): of a form's versions the last one counts."""
    forms = {form.casefold(): one.policy for one in policy_versions(snapshot) for form in one.file.forms}
    return history_of(snapshot.consent, snapshot.consent_takes, snapshot.consent_decisions, forms)


def consent_states(snapshot: OnFile, on: date, at: int | None = None, *, history: Frame | None = None) -> Frame:
    """Return how everybody on the roster stands on a civil day, or at an instant of it (CONSENT_STATES)."""
    versions, rules = policy_versions(snapshot), snapshot.settings.consent
    sites: list[str | None] = snapshot.people["site"].unique().to_list()
    by_site = {site: [one.as_version for one in _of_site(snapshot, versions, site)] for site in sites}
    required = {site: rules.at(site).is_required for site in sites}
    said = consent_history(snapshot) if history is None else history
    return states_of(snapshot.people, said, by_site, required, on=on, at=at)


def hands_given(reckoning: Reckoning) -> HandsGiven:
    """Return how everybody stands on the day of the reckoning, and whose hand came before their release."""

    def make() -> HandsGiven:
        history = consent_history(reckoning.snapshot)
        states = consent_states(reckoning.snapshot, reckoning.day, history=history)
        return HandsGiven(states, early_hands(reckoning.snapshot, history, states))

    return reckoning.part(("hands given", reckoning.day), make)


def early_hands(snapshot: Snapshot, history: Frame, states: Frame) -> Frame:
    """Return the hands enrolled or first presented before a release that is in force now (EARLY_ENROLMENTS)."""
    agreed = states.filter(pl.col("is_required"), pl.col("kind").is_in(IN_FORCE)).select("person")
    if agreed.is_empty():
        return EARLY_ENROLMENTS.empty()
    return early_enrolments(history, _enrolled(snapshot).join(agreed, on="person", how="semi"))


def _enrolled(snapshot: Snapshot) -> Frame:
    """Return when hands were enrolled, by the readers' lists and by rounds, or first presented (ENROLLED_AT)."""
    here = snapshot.people.filter(pl.col("left_on").is_null()).drop_nulls("number")
    alone = here.unique("number", keep="none").select("person", "number", "hired_on")
    listed = snapshot.enrolments.join(alone, on="number")
    dated = listed.drop_nulls("enrolled_on").rows(named=True)
    rows = [{"tells": "reader's list", "day": row["enrolled_on"], **_where(row)} for row in dated]
    zones = dict(snapshot.readers.select("reader", "zone").iter_rows())
    rows += _first_presented(snapshot, listed.filter(pl.col("enrolled_on").is_null()), zones)
    tapped = snapshot.outcomes.filter(pl.col("result") == "enrolled").join(snapshot.round_items, on="item")
    rows += [
        {
            "tells": "round",
            "at": row["made_at"],
            "day": civil_date(zones.get(row["reader"]) or snapshot.zone, row["made_at"]),
            **_where(row),
        }
        for row in tapped.drop_nulls("person").rows(named=True)
    ]
    return ENROLLED_AT.rows(rows)


def _first_presented(snapshot: Snapshot, undated: Frame, zones: Mapping[str, str]) -> list[dict[str, Any]]:
    """Return the first presentation in the logs read under numbers whose enrolment the reader's list does not date.

    Only from the day on which the person was hired: before it the number may have been somebody else's.
    """
    known = undated.drop_nulls("hired_on").select("person", "number", "reader", "hired_on")
    if known.is_empty():
        return []
    accepted = pl.col("outcome").fill_null("accepted") == "accepted"
    seen = snapshot.recorded.filter(accepted).select("reader", "number", "at").join(known, on=["reader", "number"])
    days = civil_days(seen["at"], seen["reader"].replace_strict(zones, default=snapshot.zone))
    theirs = seen.with_columns(day=days).filter(pl.col("day") >= pl.col("hired_on")).sort("at")
    first = theirs.unique(["reader", "number"], keep="first", maintain_order=True)
    return [
        {"tells": "first presentation", "at": row["at"], "day": row["day"], **_where(row)}
        for row in first.rows(named=True)
    ]


def _where(row: Mapping[str, Any]) -> dict[str, Any]:
    return {name: row[name] for name in ("person", "number", "reader")}


def laws_shown(on: date) -> tuple[ConsentLaw, ...]:
    """Return what laws want before an enrolment, as far as they are on record here and in force on a day."""
    return laws_on(on)


def another_way(states: Frame) -> dict[str, str]:
    """Return who clocks another way by their own word (CONSENT_STATES), with that word as half a sentence."""
    said = states.filter(pl.col("kind").is_in(OTHER_WAY))
    return {row["person"]: stands_in_words(row) for row in said.iter_rows(named=True)}


def withheld(snapshot: OnFile, states: Frame) -> dict[str, str]:
    """Return whose hand must not be enrolled (CONSENT_STATES), with what is missing and the way out.

    Whoever said no gives no hand anywhere; whoever said nothing gives none where a release is required.
    """
    found = {}
    for row in states.filter(~pl.col("kind").is_in(IN_FORCE)).iter_rows(named=True):
        person, kind = row["person"], row["kind"]
        if kind not in OTHER_WAY and not row["is_required"]:
            continue
        name = snapshot.names.get(person) or person
        if kind in OTHER_WAY:
            way = "offer another way to clock, such as the number alone; punctuality is judged alike"
        else:
            way = f"print the sheet (`evenhand consent sheets --person {person}`), or offer another way to clock"
        found[person] = (
            f"{name} has no release in force ({stands_in_words(row)}); nobody is enrolled without it: {way}."
        )
    return found


def stands_in_words(row: Mapping[str, Any]) -> str:
    """Return how somebody stands (a row of CONSENT_STATES) as half a sentence."""
    on, until = (as_day(row[name]) if row[name] else "" for name in ("said_on", "due_by"))
    return {
        "agreed": f"agreed on {on}",
        "due": f"agreed to an earlier version on {on}, which counts until {until}",
        "lapsed": f"agreed to an earlier version on {on}, which no longer counts",
        "refused": f"did not agree on {on}",
        "withdrawn": f"withdrew the release on {on}",
        "other_way": f"chose another way to clock on {on}",
        "nothing": "nothing was said so far",
    }[row["kind"]]
