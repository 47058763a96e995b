"""The workplace's own steps at its kinds of reader: written, kept version by version, found for a reader."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from importlib import resources
from pathlib import Path

from evenhand.enrolment.own_steps import HEADINGS, SECONDS_MOST, OwnSteps, Quick, own_steps_text, read_own_steps
from evenhand.enrolment.paper import print_steps
from evenhand.jobs.at_turn import shown_steps
from evenhand.jobs.round_files import round_stationery
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions, frames
from evenhand.store.database import Connection
from evenhand.store.faults import refusing
from evenhand.store.replacing import replace_file
from evenhand.terms.languages import LANGUAGES, told
from evenhand.terms.lines import as_line
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.words import listed

__all__ = [
    "HEADINGS",
    "SECONDS_MOST",
    "StepsKept",
    "add_own_steps",
    "every_version",
    "form_to_fill_in",
    "own_steps_now",
    "print_own_steps",
    "steps_at",
    "steps_of",
    "steps_sheet",
    "written_as",
]


@dataclass(frozen=True)
class StepsKept:
    """A version of the steps at one kind of reader: its running number, its `number` within its kind, what it says."""

    version: int
    number: int
    steps: OwnSteps
    text: str
    digest: str
    author: str
    reason: str
    made_at: int


def form_to_fill_in() -> str:
    """Return a form with the five headings and nothing under them, to be written in the workplace's own words."""
    return resources.files("evenhand.jobs").joinpath("own_steps.toml").read_text(encoding="utf-8")


def every_version(workspace: Workspace) -> list[StepsKept]:
    """Return every version of every kind, in the order they were written."""
    with workspace.store.reading() as conn:
        return _versions(conn)


def own_steps_now(workspace: Workspace) -> dict[str, StepsKept]:
    """Return the last version of each kind, by its name."""
    return _last(every_version(workspace))


def steps_of(workspace: Workspace, kind: str) -> StepsKept:
    """Return the last version of a kind; raises Unknown where there is none of that name."""
    found = own_steps_now(workspace).get(kind)
    if found is None:
        raise Unknown(
            told('no steps are written for a kind "{kind}"; `evenhand steps list` lists those that are.', kind=kind)
        )
    return found


def steps_at(workspace: Workspace, reader: str) -> OwnSteps | None:
    """Return the steps at a reader, by its kind; None where the workplace has written none."""
    every = own_steps_now(workspace).values()
    return next((one.steps for one in every if reader in one.steps.readers), None)


def add_own_steps(
    workspace: Workspace, written: str | OwnSteps, *, file: str, author: str, reason: str, as_of: datetime
) -> StepsKept:
    """Keep the steps, as the text of a TOML file called `file` or as they are, as the last version of their kind.

    Steps that are kept so already are returned as they are. Raises Refusal at what is not understood, at a reader that
    is not listed, and at one that another kind has.
    """
    text = written if isinstance(written, str) else own_steps_text(written)
    steps = read_own_steps(text, file, LANGUAGES)
    author, reason = as_line(author, "author"), as_line(reason, "reason")
    if not author or not reason:
        raise Refusal(told("steps are written by somebody, for a reason; say who and why."))
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        now = _last(_versions(conn))
        _refuse_readers(conn, steps, now, file)
        before = now.get(steps.kind)
        if before is not None and before.text == text:
            return before
        row = {
            "kind": steps.kind,
            "text": text,
            "digest": hashlib.sha256(text.encode()).hexdigest(),
            "author": author,
            "reason": reason,
            "made_at": int(as_of.timestamp()),
        }
        decisions.add_row(conn, "own_steps", row)
        return _last(_versions(conn))[steps.kind]


def written_as(
    kind: str,
    readers: Collection[str],
    words: Mapping[str, Mapping[str, Sequence[str]]],
    quick: Mapping[str, tuple[int, int]],
) -> OwnSteps:
    """Return the steps as they were written on a page; `quick` has a step and its seconds by heading.

    What is wrong with them is told when they are kept (`add_own_steps`).
    """
    tables = {
        language: {heading: tuple(steps) for heading, steps in table.items()}
        for language, table in words.items()
        if any(table.values())
    }
    return OwnSteps(kind, tuple(readers), tables, {heading: Quick(*one) for heading, one in quick.items()})


def steps_sheet(steps: OwnSteps, *, paper: str = "letter") -> bytes:
    """Return the steps as PDF for the wall beside the readers, a page a language."""
    return print_steps([shown_steps(steps, language) for language in steps.words], round_stationery(), paper=paper)


def print_own_steps(steps: OwnSteps, path: Path, *, paper: str = "letter") -> None:
    """Write the sheet for the wall to a file; raises Refusal where it cannot be written."""
    with refusing(str(path)):
        replace_file(path, steps_sheet(steps, paper=paper))


def _refuse_readers(conn: Connection, steps: OwnSteps, now: Mapping[str, StepsKept], file: str) -> None:
    known = set(frames.readers(conn)["reader"])
    unknown = [reader for reader in steps.readers if reader not in known]
    if unknown:
        raise Refusal(
            told(
                "{file}: readers names {reader}, which is not listed; `evenhand readers` lists them all.",
                file=file,
                reader=unknown[0],
            )
        )
    for kind, kept in now.items():
        both = [reader for reader in steps.readers if reader in kept.steps.readers]
        if kind != steps.kind and both:
            raise Refusal(
                told(
                    "{file}: {readers} is of the kind {kind}; take it out there first.",
                    file=file,
                    readers=listed(both),
                    kind=kind,
                )
            )


def _versions(conn: Connection) -> list[StepsKept]:
    found: list[StepsKept] = []
    for row in frames.own_steps(conn).iter_rows(named=True):
        steps = _read(row["text"], told("version {number} of own steps", number=row["version"]))
        kept = {name: row[name] for name in ("version", "text", "digest", "author", "reason", "made_at")}
        number = 1 + sum(one.steps.kind == steps.kind for one in found)
        found.append(StepsKept(number=number, steps=steps, **kept))
    return found


@lru_cache(maxsize=256)
def _read(text: str, name: str) -> OwnSteps:
    return read_own_steps(text, name, LANGUAGES)


def _last(versions: list[StepsKept]) -> dict[str, StepsKept]:
    return {one.steps.kind: one for one in versions}
