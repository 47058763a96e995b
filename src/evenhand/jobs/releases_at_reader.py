"""What a round needs of releases: whose hand is not to be enrolled now, and what a person reads and signs there."""

from __future__ import annotations

import hmac
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

import polars as pl

from evenhand.jobs.consent import record_consents
from evenhand.jobs.consent_foreseen import ConsentAsked
from evenhand.jobs.consent_versions import (
    ConsentsOnFile,
    PolicyVersion,
    consents_on_file,
    policy_asked,
    sheet_secrets,
)
from evenhand.jobs.consents import consent_states, withheld
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.statement_codes import find_code
from evenhand.jobs.workspace import Workspace
from evenhand.records.consent import PolicyWords, code_of, is_name_of, read_code
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.terms.workplace import workplace_zone
from evenhand.terms.zones import civil_date

__all__ = ["NotTheirs", "PolicyToRead", "policy_to_read", "sign_at_reader", "unreleased_enrolments", "unreleased_items"]


class NotTheirs(Refusal):
    """A code that is none of the person's who signs."""


@dataclass(frozen=True)
class PolicyToRead:
    """What one person reads before their turn: the version in force at their site, in a language.

    `secret` is what the codes on its sheets are made with; '' where they were printed before codes had one.
    """

    person: str
    name: str
    version: PolicyVersion
    words: PolicyWords
    secret: str


def unreleased_items(workspace: Workspace, states: Frame, *, as_of: datetime) -> dict[str, str]:
    """Return the items (STATES) at which no hand may be enrolled now, and why."""
    enrolling = _enrolling(states)
    if enrolling.is_empty():
        return {}
    on_file = consents_on_file(workspace, enrolling["person"].unique().to_list())
    at = int(as_of.timestamp())
    why = withheld(on_file, consent_states(on_file, _day(on_file, at), at))
    return {item: why[person] for item, person in enrolling.select("item", "person").iter_rows() if person in why}


def unreleased_enrolments(
    workspace: Workspace, states: Frame, said: Sequence[Mapping[str, Any]], *, as_of: datetime
) -> dict[str, str]:
    """Return which items (STATES) are said to be enrolled without a release in force, and why that cannot be.

    A release counts that was in force when it was tapped, or is in force now: phones' clocks may say anything.
    """
    tapped = {str(one.get("item")): one.get("made_at") for one in said if one.get("result") == "enrolled"}
    if not tapped:
        return {}
    lacking = unreleased_items(workspace, states.filter(pl.col("item").is_in(list(tapped))), as_of=as_of)
    if not lacking:
        return {}
    people = dict(states.select("item", "person").iter_rows())
    return {
        item: told("{why} Take the number off the reader.", why=why)
        for item, why in lacking.items()
        if not _was_released(consents_on_file(workspace, [people[item]]), tapped[item])
    }


def _was_released(on_file: ConsentsOnFile, at: object) -> bool:
    if not isinstance(at, int) or isinstance(at, bool) or not 0 <= at < 1 << 35:
        return False
    return not withheld(on_file, consent_states(on_file, _day(on_file, at), at))


def _enrolling(states: Frame) -> Frame:
    return states.filter(pl.col("action") != "remove", pl.col("person").is_not_null())


def _day(on_file: ConsentsOnFile, at: int) -> date:
    return civil_date(workplace_zone(on_file.settings, on_file.readers), at)


def policy_to_read(workspace: Workspace, states: Frame, item: str, language: str, *, as_of: datetime) -> PolicyToRead:
    """Return what the person of an item reads; raises Refusal where nobody is to, or there is no policy to read."""
    rows = _enrolling(states).filter(pl.col("item") == item).rows(named=True)
    if not rows:
        raise Refusal(told("{item} enrols nobody here; go back to the round.", item=item))
    on_file = consents_on_file(workspace, [rows[0]["person"]])
    who = on_file.people.rows(named=True)
    version = policy_asked(on_file, who[0]["site"], _day(on_file, int(as_of.timestamp()))) if who else None
    if version is None:
        raise Refusal(
            told(
                "there is no policy to read here, so a form is signed on paper; ask at the desk, where "
                "`evenhand consent policy add` adds one."
            )
        )
    name = who[0]["name"] or who[0]["person"]
    secret = sheet_secrets(on_file)[version.policy]
    return PolicyToRead(who[0]["person"], name, version, version.file.spoken(language), secret)


def _is_their_code(workspace: Workspace, read: PolicyToRead, keyed: str, as_of: datetime) -> bool:
    code = read_code(keyed)
    if code is None:
        return False
    on_sheet = read_code(code_of(read.version.digest, read.person, read.secret))
    if read.secret and on_sheet is not None and hmac.compare_digest(code, on_sheet):
        return True
    try:
        return find_code(workspace, keyed, as_of=as_of).person == read.person
    except Refusal:
        return False


def _refuse_nobodys_supervisor(stood_by: str, supervisors: Collection[str]) -> None:
    """Refuse a name that is none of these supervisors'."""
    if any(is_name_of(stood_by, name) for name in supervisors):
        return
    if not supervisors:
        raise Refusal(
            told(
                "nobody else is known as a supervisor here today, so that nobody can stand by; nothing was kept: have "
                "the sheet signed on paper, or the roster say who supervises."
            )
        )
    raise Refusal(
        told(
            "{name} is no supervisor here today, by the roster or the list of the reader; nothing was kept: go back, "
            "and have one of these stand by and write their name: {names}.",
            name=stood_by.strip(),
            names=", ".join(sorted(supervisors)),
        )
    )


def sign_at_reader(
    workspace: Workspace,
    snapshot: Snapshot,
    read: PolicyToRead,
    action: str,
    signature: str,
    code: str = "",
    stood_by: str = "",
    *,
    supervisors: Collection[str],
    as_of: datetime,
) -> None:
    """Record what a person says by their own hand, under the name they signed with, and who stood by.

    A release takes their own name, a `code` that they were given, on their sheet of this version or on a statement of
    their hours, and who `stood_by`, one of the `supervisors` of that day by name. Saying no takes the name alone.
    Raises Refusal for another name, where nobody else stood by who is a supervisor, or where no code was keyed, and
    NotTheirs for one that is none of theirs. Source: in Illinois an electronic signature is a written release since
    2 August 2024, Public Act 103-0769.
    """
    if action not in ("agree", "refuse", "other_way"):
        raise Refusal(told('"{action}" is nothing that is signed; press one of the buttons.', action=action))
    if not is_name_of(signature, read.name):
        raise Refusal(
            told(
                "this is not the name on the roster; nothing was kept: go back, and write the first and the last name "
                "of {name}, or have the roster put right.",
                name=read.name,
            )
        )
    if action == "agree" and (not stood_by.strip() or is_name_of(stood_by, read.name)):
        raise Refusal(
            told(
                "a release at a reader is signed beside somebody else, who sees who signs; nothing was kept: go back, "
                "and have the supervisor who stands there write their name."
            )
        )
    if action == "agree" and not any(character.isalnum() for character in code):
        raise Refusal(
            told(
                "to agree, the code on the sheet or on the last statement of hours of {name} is keyed; nothing was "
                "kept: go back, and key it.",
                name=read.name,
            )
        )
    if action == "agree":
        _refuse_nobodys_supervisor(stood_by, [name for name in supervisors if name != read.name])
    if action == "agree" and not _is_their_code(workspace, read, code, as_of):
        if not read.secret:
            raise NotTheirs(
                told(
                    "codes on sheets of this version can be worked out, and do not count here. Nothing was kept: key "
                    "the one on the last statement of hours of {name}, or have the sheet signed on paper.",
                    name=read.name,
                )
            )
        raise NotTheirs(
            told(
                "this is no code that {name} was given; nothing was kept: key the one on their sheet or on their last "
                "statement of hours, or have the sheet signed on paper.",
                name=read.name,
            )
        )
    asked = ConsentAsked(
        action=action,
        person=read.person,
        author=signature,
        how="phone",
        policy=read.version.policy,
        said_at=int(as_of.timestamp()),
        language=read.words.language,
        stood_by=stood_by,
    )
    record_consents(workspace, snapshot, [asked], as_of=as_of)
