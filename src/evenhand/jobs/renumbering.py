"""Give somebody a number, or another one: what that means is shown first, then a file of it waits to be taken.

So it stands beside every other file: with a preview, with who takes it in the ledger, and to be taken back. The number
that the roster told before stays known as theirs until then.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

import polars as pl

from evenhand.jobs.number_hub import numbers_near
from evenhand.jobs.numbering import as_file
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.workspace import Workspace
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal, WaitingFile

__all__ = ["NumberForeseen", "foresee_number", "give_number"]

LONGEST = 20


@dataclass(frozen=True)
class NumberForeseen:
    """What it means that somebody keys `number` from now on in place of `had`, '' for none.

    `listed` are the readers that list it already, each with the name beside it; `both` of them list `had` too, and
    `lacking` list `had` alone, where the hand is to be enrolled anew. `waiting` are accepted punches under it that are
    nobody's yet. `near` are numbers of others that one slip leads to; `too_long_at` the readers of the site that take
    no number as long. `told_by` is the file that the roster's number is from (take, name), `is_padded` whether it lacks
    only zeros.
    """

    person: str
    name: str
    site: str
    had: str
    number: str
    listed: Sequence[tuple[str, str]]
    both: Sequence[str]
    lacking: Sequence[str]
    waiting: int
    near: Sequence[tuple[str, str, str, str]]
    too_long_at: Sequence[str]
    told_by: tuple[int, str] | None
    is_padded: bool


def foresee_number(reckoning: Reckoning, person: str, number: str) -> NumberForeseen:
    """Return what giving a number to somebody on the roster would mean; nothing is given.

    `person` is an identifier, a number or a name that only one has. Raises Refusal where it is no number, where they
    have it already, and where somebody else on the roster has it.
    """
    of = reckoning.snapshot
    who = of.find_person(person)
    written, had = number.strip(), who["number"] or ""
    if not (written.isascii() and written.isdigit()) or len(written) > LONGEST:
        raise Refusal(
            told(
                '"{written}" is no number that readers take; write it in figures, with the zeros in front.',
                written=written,
            )
        )
    if written == had:
        raise Refusal(told("{name} has the number {written} already.", name=who["name"], written=written))
    if of.listed.filter(pl.col("person") == who["person"]).is_empty():
        raise Refusal(
            told("{name} is on the roster no longer; a roster that lists them gives them a number.", name=who["name"])
        )
    holders = of.here(reckoning.day).filter(pl.col("number") == written).select("name", "person").rows()
    if holders:
        name, other = holders[0]
        raise Refusal(
            told(
                "{written} is the number of {name} ({other}); give them another first, or choose another here.",
                written=written,
                name=name,
                other=other,
            )
        )
    under = of.enrolments.filter(pl.col("number") == written).sort("reader")
    before = set(of.enrolments.filter(pl.col("number") == had)["reader"])
    readers = of.readers.filter(pl.col("site") == who["site"], pl.col("max_digits") < len(written))
    files = of.numbers_told.filter(pl.col("table") == "people", pl.col("number") == had).join(of.takes, on="take")
    return NumberForeseen(
        person=who["person"],
        name=who["name"],
        site=who["site"] or "",
        had=had,
        number=written,
        listed=[(reader, name or "") for reader, name in under.select("reader", "name").iter_rows()],
        both=sorted(before & set(under["reader"])),
        lacking=sorted(before - set(under["reader"])),
        waiting=reckoning.attribution.unattributed.filter(pl.col("number") == written).height,
        near=[one for one in numbers_near(of.people, reckoning.day, written) if one[1] != who["person"]],
        too_long_at=readers["reader"].sort().to_list(),
        told_by=next(files.select("take", "file").iter_rows(), None),
        is_padded=bool(had) and had.lstrip("0") == written.lstrip("0"),
    )


def give_number(workspace: Workspace, foreseen: NumberForeseen, as_of: datetime) -> WaitingFile:
    """Have the number wait as a file of people, to be looked at and taken; see `as_file`."""
    return as_file(workspace, [(foreseen.person, foreseen.name, foreseen.number)], as_of)
