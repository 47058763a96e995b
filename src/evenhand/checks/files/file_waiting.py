"""A file in the watched folder was not taken by itself."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.facts import Check, Facts
from evenhand.terms.records import Finding, Stake, WaitingFile
from evenhand.terms.words import as_zoned_moment

CHECK = Check(
    code="file_waiting",
    title="A file waits to be looked at",
    why="In the watched folder only what a layout fits that a person has confirmed is taken by itself. Whatever else "
    "lies there has not been taken: its punches, people or readers are missing from everything shown here.",
    next_step="Look at the file on Files and take it, or take it out of the folder.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per file."""
    yield from (_of_file(facts, one) for one in facts.watched.waiting)


def _of_file(facts: Facts, one: WaitingFile) -> Finding:
    return Finding(
        code=CHECK.code,
        subject=f"{one.file}/{one.since}",  # another file of that name is another finding
        says=f"{one.file} waits in the watched folder and has not been taken.",
        evidence=(one.why, f"It lies in {facts.watched.path} since {as_zoned_moment(one.since, facts.zone)}."),
        stake=Stake(),
        next_step=f"On Files, look at {one.file} and take it, or take it out of the folder.",
        details={"waiting": one.key},
    )
