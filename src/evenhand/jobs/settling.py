"""Settle findings, list what is settled, and open one again: each a row with who decided and why."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

import polars as pl

from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import settled_now
from evenhand.jobs.today import find_today, titles_of_checks
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions, frames
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Finding, Refusal
from evenhand.terms.workplace import workplace_zone

__all__ = [
    "ANSWERED_ELSEWHERE",
    "Answer",
    "SettledFinding",
    "list_settled",
    "open_again",
    "open_all_again",
    "settle",
    "settled_findings",
]


ANSWERED_ELSEWHERE = {
    "closed_period_changed": sentence(
        "what changed in a period that was handed off is settled on Hand-off, or with `evenhand handoff settle`, so "
        "that it is told to payroll once."
    ),
    "dispute_open": sentence(
        "a dispute is answered on Sign-off, or with `evenhand dispute answer`, since the person waits for it."
    ),
}


@dataclass(frozen=True)
class Answer:
    """One word on a finding: that it may stand, or (`is_withdrawn`) that it is open again."""

    is_withdrawn: bool
    author: str
    reason: str
    made_at: int


@dataclass(frozen=True)
class SettledFinding:
    """A finding that was answered, with every answer in order; `says` is what it said when it was settled last.

    `is_settled` tells whether the last word lets it stand. `title` is that of its check, `says` null where it was not
    kept.
    """

    key: str
    code: str
    title: str
    says: str | None
    is_settled: bool
    answers: tuple[Answer, ...]


def settle(
    workspace: Workspace,
    reckoning: Reckoning,
    keys: Sequence[str],
    *,
    author: str,
    reason: str,
    as_of: datetime,
    period_day: date | None = None,
) -> list[Finding]:
    """Put findings aside, with who decided and why: a row each, so that each is opened again by itself.

    They are those of the period that holds `period_day`, or of the one that payroll waits for.
    Raises Refusal, and settles none, where a key is no open finding's or is named twice.
    """
    _check_said(author, reason, told("settled"))
    named = {finding.key: finding for finding in find_today(reckoning, period_day).findings}
    for key in keys:
        _check_open(key, named, reckoning.snapshot.settled_now)
    if repeated := [key for at, key in enumerate(keys) if key in keys[:at]]:
        raise Refusal(told('"{key}" is named twice; name each finding once. Nothing was settled.', key=repeated[0]))
    found = [named[key] for key in keys]

    def refuse(settled: Frame) -> None:
        for key in keys:
            _check_open(key, named, settled)

    _answer(workspace, {one.key: one.says for one in found}, refuse, author, reason, as_of)
    return found


def _check_open(key: str, named: Mapping[str, Finding], settled: Frame) -> None:
    answered = settled.filter(pl.col("finding") == key)
    if answered.height and (key not in named or named[key].code != "closed_period_changed"):
        raise Refusal(
            told(
                '"{key}" is settled already, by {author}: {reason}; nothing was changed. `evenhand '
                "settle --take-back` opens it again.",
                key=key,
                author=answered["author"][-1],
                reason=answered["reason"][-1],
            )
        )
    if key not in named:
        raise Refusal(
            told(
                'there is no open finding "{key}"; `evenhand today` lists them with their keys, each pay '
                "period its own.",
                key=key,
            )
        )
    if named[key].code in ANSWERED_ELSEWHERE:
        raise Refusal(told(ANSWERED_ELSEWHERE[named[key].code]))


def open_again(workspace: Workspace, key: str, *, author: str, reason: str, as_of: datetime) -> SettledFinding:
    """Open a settled finding again, as `open_all_again`."""
    return open_all_again(workspace, [key], author=author, reason=reason, as_of=as_of)[0]


def open_all_again(
    workspace: Workspace, keys: Sequence[str], *, author: str, reason: str, as_of: datetime
) -> list[SettledFinding]:
    """Open settled findings again, all or none; they are listed, and keep pay back, as before they were settled.

    Raises Refusal where no finding of such a key is settled.
    """
    _check_said(author, reason, "opened again")

    def refuse(settled: Frame) -> None:
        for key in keys:
            if key not in settled["finding"]:
                raise Refusal(told('no finding "{key}" is settled; `evenhand settled` lists those that are.', key=key))

    _answer(workspace, dict.fromkeys(keys), refuse, author, reason, as_of, is_withdrawn=True)
    of_key = {one.key: one for one in list_settled(workspace)[0]}
    return [of_key[key] for key in keys]


def list_settled(workspace: Workspace) -> tuple[list[SettledFinding], str]:
    """Return every finding that was ever answered, as `settled_findings`, and the zone of the workplace."""
    with workspace.store.reading() as conn:
        return settled_findings(frames.settled(conn)), workplace_zone(workspace.settings, frames.readers(conn))


def settled_findings(settled: Frame) -> list[SettledFinding]:
    """Return every finding that was ever answered (SETTLED), those that stand settled first, then the latest first."""
    titles = titles_of_checks()
    by_key: dict[str, list[Mapping[str, Any]]] = {}
    for row in settled.iter_rows(named=True):
        by_key.setdefault(row["finding"], []).append(row)
    listed = [
        SettledFinding(
            key=key,
            code=key.split("/")[0],
            title=titles.get(key.split("/")[0], (key.split("/")[0], ""))[0],
            says=next((row["says"] for row in reversed(rows) if row["says"]), None),
            is_settled=not rows[-1]["is_withdrawn"],
            answers=tuple(Answer(*(row[name] for name in Answer.__dataclass_fields__)) for row in rows),
        )
        for key, rows in by_key.items()
    ]
    return sorted(listed, key=lambda one: (not one.is_settled, -one.answers[-1].made_at, one.key))


def _answer(
    workspace: Workspace,
    says: Mapping[str, str | None],
    refuse: Callable[[Frame], None],
    author: str,
    reason: str,
    as_of: datetime,
    *,
    is_withdrawn: bool = False,
) -> None:
    """Add an answer to each finding that `says` names, all or none."""
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        refuse(settled_now(frames.settled(conn)))
        for key, said in says.items():
            decisions.add_settled(
                conn,
                finding=key,
                author=author.strip(),
                reason=reason.strip(),
                made_at=int(as_of.timestamp()),
                says=said,
                is_withdrawn=is_withdrawn,
            )


def _check_said(author: str, reason: str, done: str) -> None:
    if not author.strip() or not reason.strip():
        raise Refusal(told("a finding is {done} by somebody and for a reason; give both.", done=done))
