"""A file in the watched folder was not taken by itself."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.facts import Check, Facts
from evenhand.terms.languages import Moment, told
from evenhand.terms.records import Finding, Stake, WaitingFile

CHECK = Check(
    code="file_waiting",
    title=told("A file waits to be looked at"),
    why=told(
        "In the watched folder only what a layout fits that a person has confirmed is taken by "
        "itself. Whatever else lies there has not been taken: its punches, people or readers are "
        "missing from everything shown here."
    ),
    next_step=told("Look at the file on Files and take it, or take it out of the folder."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per file."""
    yield from (_of_file(facts, one) for one in facts.watched.waiting)


def _of_file(facts: Facts, one: WaitingFile) -> Finding:
    return Finding(
        code=CHECK.code,
        subject=f"{one.file}/{one.since}",  # another file of that name is another finding
        says=told("{file} waits in the watched folder and has not been taken.", file=one.file),
        evidence=(
            told("{says:again}", says=one.why),
            told("It lies in {path} since {at:zoned}.", path=facts.watched.path, at=Moment(one.since, facts.zone)),
        ),
        stake=Stake(),
        next_step=told("On Files, look at {file} and take it, or take it out of the folder.", file=one.file),
        details={"waiting": one.key},
    )
