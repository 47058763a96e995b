"""Record what people say of having their hand enrolled: a release, a refusal, a withdrawal, another way."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

import polars as pl

from evenhand.jobs.consent_foreseen import NUMBER_ALONE, ConsentAsked, ConsentForeseen, foresee_consent
from evenhand.jobs.consent_versions import policy_versions, sheet_secrets
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.records.consent import code_of, read_code
from evenhand.store import decisions, frames
from evenhand.terms.columns import Frame
from evenhand.terms.languages import pattern_of, told
from evenhand.terms.records import Refusal, Unknown

__all__ = ["ConsentRecorded", "asked_by_code", "record_consents"]


@dataclass(frozen=True)
class ConsentRecorded:
    """The row that was recorded, or that said so already (`is_new` false), and what was foreseen of it."""

    decision: int
    is_new: bool
    foreseen: ConsentForeseen


def asked_by_code(
    snapshot: Snapshot, codes: Sequence[str], action: str, author: str, said_on: date | None = None
) -> list[ConsentAsked]:
    """Return what signed sheets say, by the codes on them; raises Refusal naming every code that is on no sheet."""
    known: dict[str, list[tuple[str, int]]] = {}
    with_secrets = sheet_secrets(snapshot)
    for version in policy_versions(snapshot):
        for person in snapshot.people["person"]:
            code = code_of(version.digest, person, with_secrets[version.policy])
            known.setdefault(code, []).append((person, version.policy))
    sheets = {keyed: known.get(read_code(keyed) or "", []) for keyed in codes}
    bad = [keyed for keyed, found in sheets.items() if len(found) != 1]
    if bad:
        raise Unknown(
            told(
                pattern_of(
                    "{codes:listed}: no sheet bears this code; look again, or print the sheet anew. Nothing was "
                    "recorded.",
                    "{codes:listed}: no sheet bears these codes; look again, or print the sheet anew. Nothing was "
                    "recorded.",
                    len(bad),
                ),
                codes=bad,
            )
        )
    # a sheet keyed twice, once in small letters, is one sheet
    said = dict.fromkeys(sheet for (sheet,) in sheets.values())
    return [
        ConsentAsked(action, person, author, "paper", policy=policy, said_on=said_on, other_way=_way(action))
        for person, policy in said
    ]


def _way(action: str) -> str | None:
    return NUMBER_ALONE if action == "other_way" else None


def record_consents(
    workspace: Workspace,
    snapshot: Snapshot,
    asked: Sequence[ConsentAsked],
    *,
    as_of: datetime,
    last_seen: int | None = None,
) -> list[ConsentRecorded]:
    """Record all of it or nothing; what is recorded already adds nothing.

    Raises Refusal also where something was recorded of one of them since the row `last_seen`, which is the snapshot's
    last where it is not given.
    """
    foreseen = [foresee_consent(snapshot, one, as_of) for one in asked]
    people = {one.person for one, _ in foreseen}
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        seen = int(snapshot.consent_decisions["decision"].max() or 0) if last_seen is None else last_seen  # type: ignore[arg-type]
        _refuse_news(seen, frames.consent_decisions(conn), people, snapshot)
        made = []
        for one, row in foreseen:
            is_new = one.known is None
            number = decisions.add_row(conn, "consent_decisions", _stored(row)) if is_new else one.known
            assert number is not None
            made.append(ConsentRecorded(number, is_new, one))
    return made


def _refuse_news(seen: int, now: Frame, people: Collection[str], snapshot: Snapshot) -> None:
    since = now.filter(pl.col("decision") > seen, pl.col("person").is_in(list(people)))
    if since.height:
        name = snapshot.names.get(since["person"][0], since["person"][0])
        raise Refusal(told("something was recorded of {name} just now; look again. Nothing was recorded.", name=name))


def _stored(row: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in row.items() if name != "decision"} | {"said_on": row["said_on"].isoformat()}
