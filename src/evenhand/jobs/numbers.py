"""Look at the numbers people key: which are confusable today, which are safe, and what moving to safer ones takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

import numpy as np
import polars as pl

from evenhand import numbers
from evenhand.jobs.period import RECENT
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.workspace import Workspace
from evenhand.numbers import Scheme
from evenhand.store import frames
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.terms.workplace import not_left

__all__ = [
    "NumberDesign",
    "Scheme",
    "allocate_numbers",
    "confusable_now",
    "design_numbers",
    "design_of",
    "hand_out",
    "plan_migration",
]

YEARS = 10
DEFAULT_LIMIT = 6


@dataclass(frozen=True)
class NumberDesign:
    """Schemes for a roster that grows, with the chance that a slip lands on somebody else today.

    `people_later` is the roster in ten years; `max_digits` the shortest limit among the readers.
    """

    people: int
    people_later: int
    max_digits: int
    today: numbers.Chance
    options: tuple[numbers.Option, ...]


def confusable_now(reckoning: Reckoning) -> Frame:
    """Return the pairs of numbers one slip apart, those that share readers and hours first (numbers.CONFUSABLE)."""
    as_of = reckoning.as_of

    def pairs() -> Frame:
        recent = pl.col("at").is_between(int((as_of - RECENT).timestamp()), int(as_of.timestamp()))
        attributed = reckoning.attribution.attributed.filter(recent)
        return numbers.confusable_pairs(reckoning.snapshot.people.filter(not_left(as_of.date())), attributed)

    return reckoning.part("confusable numbers", pairs)


def design_numbers(workspace: Workspace, as_of: datetime) -> NumberDesign:
    """Return the schemes worth considering, the one to choose first."""
    with workspace.store.reading() as conn:
        people, readers = frames.people(conn), frames.readers(conn)
    return design_of(people.filter(not_left(as_of.date())), readers)


def design_of(people: Frame, readers: Frame, *, growth: float = 0.03) -> NumberDesign:
    """Return the schemes for these people (PEOPLE) at these readers (READERS); `growth` is the roster's a year."""
    later = round(people.height * (1 + growth) ** YEARS)
    limit = readers["max_digits"].min()
    max_digits = int(limit) if limit is not None else DEFAULT_LIMIT  # type: ignore[arg-type]
    return NumberDesign(
        people=people.height,
        people_later=later,
        max_digits=max_digits,
        today=numbers.chance_of_landing(number for number in people["number"] if number),
        options=numbers.design(people.height, people_later=later, max_digits=max_digits),
    )


def allocate_numbers(
    workspace: Workspace, count: int, as_of: datetime, *, scheme: Scheme | None = None, seed: int | None = None
) -> tuple[numbers.Allocated, ...]:
    """Return numbers for `count` new people, far from every number in use, enrolled, or seen in the last weeks.

    Without a scheme they have the commonest length of today. Raises Refusal where there are too few free numbers.
    """
    if count < 1:
        raise Refusal(told("{count} numbers cannot be handed out; ask for one or more.", count=count))
    with workspace.store.reading() as conn:
        everybody, enrolled = frames.people(conn), frames.enrolments(conn)
        seen = frames.recorded(conn, since=int((as_of - RECENT).timestamp()))["number"]
    return hand_out(count, everybody, enrolled, seen, scheme=scheme, seed=seed)


def hand_out(
    count: int, everybody: Frame, enrolled: Frame, seen: pl.Series, *, scheme: Scheme | None, seed: int | None
) -> tuple[numbers.Allocated, ...]:
    """Return new numbers that nobody on the roster (PEOPLE) has, no reader lists (ENROLMENTS) and none were `seen`."""
    taken = {*everybody["number"].drop_nulls(), *enrolled["number"], *seen.unique()}
    return numbers.allocate(
        count,
        scheme or Scheme(_usual_length(everybody["number"].drop_nulls().to_list())),
        taken=taken,
        avoid=numbers.known_by_heart(everybody),
        rng=np.random.default_rng(seed),
    )


def plan_migration(
    workspace: Workspace, as_of: datetime, *, scheme: Scheme | None = None, seed: int | None = None
) -> numbers.Migration:
    """Return the move with the fewest enrolments: onto `scheme`, or only as far as no two numbers are confusable."""
    with workspace.store.reading() as conn:
        people, enrolled = frames.people(conn).filter(not_left(as_of.date())), frames.enrolments(conn)
    rng = np.random.default_rng(seed)
    if scheme is not None:
        return numbers.migrate(people, enrolled, scheme, rng=rng)
    return numbers.part_confusable(people, enrolled, _usual_length(people["number"].drop_nulls().to_list()), rng=rng)


def _usual_length(held: Sequence[str]) -> int:
    lengths = [len(number) for number in held]
    return max(set(lengths), key=lengths.count) if lengths else 4
