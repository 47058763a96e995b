"""The versions of the policy on hands, and which of them is asked for where."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

import polars as pl

from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.records.consent import PolicyFile, Version, in_force, read_policy
from evenhand.store import frames
from evenhand.terms.columns import Frame
from evenhand.terms.languages import LANGUAGES, told
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.settings import Settings

__all__ = [
    "ConsentsOnFile",
    "OnFile",
    "PolicyVersion",
    "consents_on_file",
    "people_asked",
    "policies_at",
    "policy_asked",
    "policy_of",
    "policy_versions",
    "sheet_secrets",
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
        return told("{policy}, version {number}", policy=self.file.name, number=self.version)

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
    earlier_last_days: Frame

    @property
    def names(self) -> dict[str, str]:
        """Return everybody's name by identifier."""
        return dict(self.people.select("person", "name").iter_rows())


OnFile = Snapshot | ConsentsOnFile


def consents_on_file(workspace: Workspace, people: Collection[str]) -> ConsentsOnFile:
    """Return what is on file now of some people's consent, which is read at every tap at a reader."""
    of_people = ("people", "consent", "consent_takes", "consent_decisions", "earlier_last_days")
    with workspace.store.reading() as conn:
        read: dict[str, Frame] = {name: getattr(frames, name)(conn, people) for name in of_people}
        read |= {name: getattr(frames, name)(conn) for name in ("readers", "consent_policies")}
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


def sheet_secrets(snapshot: OnFile) -> dict[int, str]:
    """Return what the codes on each version's sheets are made with (`code_of`); '' for versions of before."""
    return {policy: secret or "" for policy, secret in snapshot.consent_policies.select("policy", "secret").iter_rows()}


@lru_cache(maxsize=64)
def _read(text: str, name: str) -> PolicyFile:
    return read_policy(text, name, LANGUAGES)


def policy_of(snapshot: OnFile, policy: int) -> PolicyVersion:
    """Return the version of this running number; raises Unknown where there is none."""
    found = next((one for one in policy_versions(snapshot) if one.policy == policy), None)
    if found is None:
        raise Unknown(told("there is no policy {number}; `evenhand consent policies` lists them.", number=policy))
    return found


def policies_at(snapshot: OnFile, versions: list[PolicyVersion], site: str | None) -> list[PolicyVersion]:
    """Return the versions of the policy that a site asks for; raises Refusal where the settings name another."""
    rules = snapshot.settings.consent
    names = {one.file.name for one in versions}
    wanted = rules.at(site).policy
    if wanted and names and wanted not in names:
        raise Refusal(
            told(
                '{where}, consent: policy "{wanted}" is none that was added; name one of {names:or}, or add it with '
                "`evenhand consent policy add`.",
                where=snapshot.where,
                wanted=wanted,
                names=sorted(names),
            )
        )
    asked = rules.named(site, names)
    return [one for one in versions if one.file.name in asked]


def policy_asked(snapshot: OnFile, site: str | None, on: date) -> PolicyVersion | None:
    """Return the version that is in force at a site on a day; None where there is none."""
    there = policies_at(snapshot, policy_versions(snapshot), site)
    found = in_force([one.as_version for one in there], on)
    return next((one for one in there if found is not None and one.policy == found.policy), None)


def people_asked(snapshot: Snapshot, version: PolicyVersion, on: date) -> Frame:
    """Return who is here on a day (PEOPLE) at the sites that ask for a version's policy, with a release required."""
    rules, versions = snapshot.settings.consent, policy_versions(snapshot)
    here = snapshot.here(on)
    sites = [
        site
        for site in here["site"].unique().to_list()
        if rules.at(site).is_required and version in policies_at(snapshot, versions, site)
    ]
    return here.filter(pl.col("site").is_in(sites, nulls_equal=True))
