"""Who could have meant a keyed number, and by which kind of error: found by index, not by trying everybody."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from evenhand.numbers.keypad import TELEPHONE
from evenhand.numbers.own_numbers import by_heart, dates_as_keyed, house_numbers, phone_ends
from evenhand.numbers.typing_errors import NEIGHBOUR_SHARE, likelihoods, one_slip_away
from evenhand.terms.columns import Frame
from evenhand.terms.tables import EXPLANATIONS

__all__ = ["explain"]


def explain(
    keyed: Iterable[str],
    people: Frame,
    *,
    neighbour_share: float | None = NEIGHBOUR_SHARE,
    grid: tuple[str, ...] = TELEPHONE,
) -> Frame:
    """Return EXPLANATIONS: each keyed number with everybody who could have meant it, by kind of error.

    `likelihood` is P(keyed | the person, the kind). A person whose number it is has the kind `own`. Numbers
    that no kind leads to are left out; their likelihood is that of a number drawn at random, ten to the power
    of minus its digits.
    """
    wanted = list(dict.fromkeys(keyed))
    holders = _holders(people)
    lengths = {len(number) for number in holders}
    known = _known_by_heart(people, frozenset(wanted))
    rows: dict[str, list[Any]] = {name: [] for name in EXPLANATIONS.names}
    for number in wanted:
        for person, kind, meant, chance in _of(number, holders, lengths, known, neighbour_share, grid):
            for name, value in zip(EXPLANATIONS.names, (number, person, kind, meant, chance), strict=True):
                rows[name].append(value)
    return EXPLANATIONS.frame(rows) if rows["keyed"] else EXPLANATIONS.empty()


Known = dict[str, list[tuple[str, dict[str, float]]]]


def _of(
    number: str,
    holders: dict[str, list[str]],
    lengths: set[int],
    known: Known,
    neighbour_share: float | None,
    grid: tuple[str, ...],
) -> Iterator[tuple[str, str, str, float]]:
    for person in holders.get(number, ()):
        yield person, "own", number, 1.0
    for meant in {other for other in one_slip_away(number, lengths) if other in holders and other != number}:
        for kind, chance in likelihoods(number, meant, neighbour_share=neighbour_share, grid=grid).items():
            for person in holders[meant]:
                yield person, kind, meant, chance
    for person, kinds in known.get(number, ()):
        for kind, chance in kinds.items():
            yield person, kind, number, chance


def _holders(people: Frame) -> dict[str, list[str]]:
    holders: dict[str, list[str]] = {}
    for person, number in people.select("person", "number").iter_rows():
        if number and number.strip():
            holders.setdefault(number.strip(), []).append(person)
    return holders


def _known_by_heart(people: Frame, wanted: frozenset[str]) -> Known:
    known: Known = {}
    for person, phone, address, hired_on in people.select("person", "phone", "address", "hired_on").iter_rows():
        # most people know none of the numbers, and finding that out is cheaper than counting what they know
        if wanted.isdisjoint((*phone_ends(phone), *house_numbers(address), *dates_as_keyed(hired_on))):
            continue
        for number, kinds in by_heart(phone, address, hired_on).items():
            if number in wanted:
                known.setdefault(number, []).append((person, kinds))
    return known
