"""Add a version of the policy on hands, and see what that asks of whom."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from datetime import date, datetime
from importlib import resources

import polars as pl

from evenhand.jobs.consent_versions import PolicyVersion, policy_of, policy_versions
from evenhand.jobs.consents import consent_history, consent_states
from evenhand.jobs.period import RECENT
from evenhand.jobs.snapshot import Snapshot, take_snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.records.consent import digest_of, read_policy
from evenhand.store import decisions, frames
from evenhand.terms.consent import IN_FORCE
from evenhand.terms.languages import LANGUAGES, told
from evenhand.terms.records import Refusal

__all__ = ["PolicyAsked", "PolicyForeseen", "add_policy", "consents_now", "example_policy", "preview_policy"]


@dataclass(frozen=True)
class PolicyAsked:
    """A version to be added: its file's text, its first day, and until when releases of earlier versions count.

    One of `renew_by` and `go_on` is wanted where there are any, since nobody but counsel can tell.
    """

    text: str
    file: str
    in_force_from: date
    author: str
    renew_by: date | None = None
    go_on: bool = False


@dataclass(frozen=True)
class PolicyForeseen:
    """What a version does: what it is called, its digest, whose releases are earlier, and who of them is asked again.

    `policy` is its running number where it is there already, and then nothing is added.
    """

    called: str
    digest: str
    languages: tuple[str, ...]
    in_force_from: date
    renew_by: date | None
    earlier: int
    asked_again: int
    policy: int | None


def example_policy() -> str:
    """Return an example of a policy file, marked as one: counsel must approve the text before anybody signs it."""
    return resources.files("evenhand.jobs").joinpath("consent_policy.toml").read_text(encoding="utf-8")


def consents_now(workspace: Workspace, as_of: datetime) -> Snapshot:
    """Return the workspace as it is now, with some weeks of punches."""
    return take_snapshot(workspace, as_of.date() - RECENT)


def preview_policy(snapshot: Snapshot, asked: PolicyAsked) -> PolicyForeseen:
    """Return what adding the version does, writing nothing; raises Refusal where it cannot be added as asked."""
    if not asked.author.strip():
        raise Refusal(told("a policy is added by somebody; say who."))
    file = read_policy(asked.text, asked.file, LANGUAGES)
    digest, versions = digest_of(asked.text), policy_versions(snapshot)
    same = [one for one in versions if (one.digest, one.in_force_from) == (digest, asked.in_force_from)]
    if asked.renew_by is not None and asked.go_on:
        raise Refusal(told("earlier releases go on counting, or count until a day; say one of the two."))
    if asked.renew_by is not None and asked.renew_by < asked.in_force_from:
        raise Refusal(
            told(
                "earlier releases cannot end on {ends}, before the version is in force on {begins}; give that day or a "
                "later one.",
                ends=asked.renew_by,
                begins=asked.in_force_from,
            )
        )
    earlier = _earlier(snapshot, file.forms, asked.in_force_from)
    if earlier and not same and asked.renew_by is None and not asked.go_on:
        raise Refusal(
            told(
                "{count:# person|# people} agreed to something earlier; say until when that counts, or that it goes "
                "on counting. Counsel knows whether what changed asks for new releases.",
                count=earlier,
            )
        )
    number = 1 + sum(one.file.name == file.name for one in versions)
    return PolicyForeseen(
        called=same[-1].called if same else told("{policy}, version {number}", policy=file.name, number=number),
        digest=digest,
        languages=tuple(file.words),
        in_force_from=asked.in_force_from,
        renew_by=same[-1].renew_by if same else asked.renew_by,
        earlier=earlier,
        asked_again=0 if asked.renew_by is None else earlier,
        policy=same[-1].policy if same else None,
    )


def _earlier(snapshot: Snapshot, forms: tuple[str, ...], on: date) -> int:
    """Return how many people on the roster stand agreed to something else than these forms."""
    named = {form.casefold() for form in forms}
    by_form = (
        consent_history(snapshot)
        .filter(pl.col("action") == "agree")
        .unique("person", keep="last", maintain_order=True)
        .filter(pl.col("form").str.to_lowercase().is_in(list(named)).fill_null(value=False))
    )
    standing = consent_states(snapshot, on).filter(pl.col("kind").is_in(IN_FORCE))
    return standing.join(snapshot.here(on), on="person", how="semi").join(by_form, on="person", how="anti").height


def add_policy(workspace: Workspace, asked: PolicyAsked, *, as_of: datetime) -> PolicyVersion:
    """Add the version and return it; one that is there already is returned as it is."""
    snapshot = consents_now(workspace, as_of)
    foreseen = preview_policy(snapshot, asked)
    policy = foreseen.policy
    if policy is None:
        with workspace.store.writing() as conn:
            decisions.decide_alone(conn)
            if frames.consent_policies(conn).height != snapshot.consent_policies.height:
                raise Refusal(told("a policy was added just now; look again. Nothing was added."))
            row = {
                "name": read_policy(asked.text, asked.file, LANGUAGES).name,
                "text": asked.text,
                "digest": foreseen.digest,
                "in_force_from": asked.in_force_from.isoformat(),
                "renew_by": None if asked.renew_by is None else asked.renew_by.isoformat(),
                "author": asked.author.strip(),
                "made_at": int(as_of.timestamp()),
                "secret": secrets.token_hex(32),
            }
            policy = decisions.add_row(conn, "consent_policies", row)
    return policy_of(consents_now(workspace, as_of), policy)
