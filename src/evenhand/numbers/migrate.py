"""From today's numbers to better ones, with the fewest hands enrolled again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
import polars as pl

from evenhand.numbers.allocate import allocate, known_by_heart
from evenhand.numbers.chance import Chance, chance_of_landing
from evenhand.numbers.design import strings
from evenhand.numbers.schemes import Scheme, members, obvious
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.likeness.slips import slips_toward
from evenhand.terms.records import Refusal

__all__ = ["Migration", "NumberChange", "migrate", "part_confusable"]

MOST_PAIRS, MOST_EACH = 2_500, 4
"""Of numbers with more confusable pairs, and more than these each, no smallest cover is found within minutes (measured
on numbers drawn at random: 1,000 of four digits take a second, 1,200 do not end), nor is there room to part them."""


@dataclass(frozen=True)
class NumberChange:
    """One person's new number, and the readers at which the hand must be enrolled under it."""

    person: str
    name: str
    number: str | None
    new_number: str
    readers: tuple[str, ...]
    why: str


@dataclass(frozen=True)
class Migration:
    """The changes, how many people keep their number, and the chance of a slip before and after."""

    scheme: Scheme
    changes: tuple[NumberChange, ...]
    kept: int
    enrolments: int
    before: Chance
    after: Chance


def migrate(people: Frame, enrolments: Frame, scheme: Scheme, *, rng: np.random.Generator) -> Migration:
    """Return the move of everybody onto `scheme`; a spaced scheme gets the remainder that keeps most enrolments.

    People whose number is in the scheme already, alone and not an obvious one, keep it. `people` are those to
    be moved; `enrolments` (ENROLMENTS) say where each number is enrolled now.
    """
    enrolled = _readers_by_number(enrolments)
    if scheme.step > 1:
        scheme = replace(scheme, remainder=_best_remainder(people, scheme, enrolled))
    allowed = set(strings(members(scheme).tolist(), scheme.digits))
    allowed -= set(strings(obvious(scheme.digits).tolist(), scheme.digits))
    holders = Counter(number for number in people["number"] if number)
    why = {
        person: _why(number, holders, allowed, scheme)
        for person, number in people.select("person", "number").iter_rows()
        if not (number and number in allowed and holders[number] == 1)
    }
    return _moved(people, why, scheme, enrolled, rng)


def part_confusable(people: Frame, enrolments: Frame, digits: int, *, rng: np.random.Generator) -> Migration:
    """Return the fewest enrolments after which no two numbers lie one slip apart (by exact minimisation).

    Choosing who changes is a smallest weighted vertex cover over the confusable pairs, each person weighing the
    readers at which they are enrolled. Raises Refusal where numbers lie so close that new ones could not be apart.
    Source: solved as a mixed-integer program by HiGHS through scipy.optimize.milp.
    """
    enrolled = _readers_by_number(enrolments)
    numbers = [number for number in people["number"] if number]
    holders = Counter(numbers)
    held = pl.Series(list(holders), dtype=pl.String)
    slips = slips_toward(held, held).select(
        pl.min_horizontal("keyed", "meant"), other=pl.max_horizontal("keyed", "meant")
    )
    pairs = slips.unique().sort("keyed", "other").rows()
    if len(pairs) > MOST_PAIRS and 2 * len(pairs) > MOST_EACH * held.len():
        raise Refusal(
            told(
                "{count:# pair|# pairs} of numbers lie one slip apart, so numbers of {digits} digits are too close "
                "together to be parted by a few changes; choose a longer or wider spacing to move to.",
                count=len(pairs),
                digits=digits,
            )
        )
    moving = _smallest_cover(pairs, {number: 1 + len(enrolled.get(number, ())) for number in holders})
    nearest = {number: other for pair in pairs for number, other in (pair, pair[::-1])}
    why = {
        person: told("{number} is one slip from {nearest}", number=number, nearest=nearest[number])
        for person, number in people.select("person", "number").iter_rows()
        if number in moving
    }
    return _moved(people, why, Scheme(digits), enrolled, rng)


def _moved(
    people: Frame,
    why: Mapping[str, str],
    scheme: Scheme,
    enrolled: Mapping[str, tuple[str, ...]],
    rng: np.random.Generator,
) -> Migration:
    today = [number for number in people["number"] if number]
    given = iter(allocate(len(why), scheme, taken=set(today), avoid=known_by_heart(people), rng=rng))
    rows = people.select("person", "name", "number").iter_rows()
    changes = tuple(
        NumberChange(person, name, number, next(given).number, enrolled.get(number or "", ()), why[person])
        for person, name, number in rows
        if person in why
    )
    renewed = {change.person: change.new_number for change in changes}
    after = [renewed.get(person, number) for person, number in people.select("person", "number").iter_rows()]
    return Migration(
        scheme=scheme,
        changes=changes,
        kept=people.height - len(changes),
        enrolments=sum(len(change.readers) for change in changes),
        before=chance_of_landing(today),
        after=chance_of_landing(number for number in after if number),
    )


def _readers_by_number(enrolments: Frame) -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for reader, number in enrolments.select("reader", "number").iter_rows():
        found.setdefault(number, []).append(reader)
    return {number: tuple(sorted(readers)) for number, readers in found.items()}


def _best_remainder(people: Frame, scheme: Scheme, enrolled: Mapping[str, tuple[str, ...]]) -> int:
    weights = [0] * scheme.step
    for number in people["number"]:
        if number and len(number) == scheme.digits and number.isdigit():
            weights[int(number) % scheme.step] += 1 + len(enrolled.get(number, ()))
    # a remainder of 0 would make 0000 a number
    return max(range(1, scheme.step), key=weights.__getitem__)


def _why(number: str | None, holders: Mapping[str, int], allowed: set[str], scheme: Scheme) -> str:
    if not number:
        return told("has no number")
    if holders[number] > 1:
        return told("{number} is held by {holders} people", number=number, holders=holders[number])
    if number not in allowed and len(number) == scheme.digits:
        return told("{number} is not one of {says}", number=number, says=scheme.says)
    return told("{number} has {count} digits, not {digits}", number=number, count=len(number), digits=scheme.digits)


def _smallest_cover(pairs: list[tuple[str, str]], weights: Mapping[str, int]) -> set[str]:
    if not pairs:
        return set()
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    nodes = sorted({number for pair in pairs for number in pair})
    places = {number: at for at, number in enumerate(nodes)}
    rows = np.repeat(np.arange(len(pairs)), 2)
    columns = np.array([places[number] for pair in pairs for number in pair])
    covers = csr_array((np.ones(len(rows)), (rows, columns)), shape=(len(pairs), len(nodes)))
    answer = milp(
        c=np.array([weights[number] for number in nodes], dtype=float),
        integrality=np.ones(len(nodes)),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(covers, lb=1),
    )
    return {number for number, chosen in zip(nodes, answer.x, strict=True) if chosen > 0.5}
