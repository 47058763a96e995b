"""The people of the workplace and the parts that the planted mistakes give some of them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.twin.names import address, people_names, phone
from evenhand.twin.numbers import WRONG_NUMBERS, roster_numbers, typed_wrong
from evenhand.twin.readers import SITES
from evenhand.twin.shifts import PATTERNS

__all__ = ["FEWEST_PEOPLE", "Staff", "hire"]

Ints = npt.NDArray[np.int64]
Flags = npt.NDArray[np.bool_]

FEWEST_PEOPLE = 100
DEPARTMENTS = ("Baking", "Packing", "Cold store", "Mill", "Loading", "Cleaning", "Maintenance", "Office")
_SITE_SHARES = (0.4, 0.35, 0.25)

# (part, how many, site or None): everybody has one part at most, so that mistakes do not cover each other
_PARTS: tuple[tuple[str, int, int | None], ...] = (
    ("roster_zeros", 3, 2),
    ("long_number", 1, 1),
    ("phone", 2, None),
    *((kind, 1, None) for kind in WRONG_NUMBERS if kind != "phone"),
    ("leaver_listed", 2, None),
    ("leaver_punching", 1, None),
    ("leaver_removed", 2, None),
    ("newcomer", 3, None),
    ("not_enrolled", 3, None),
    ("never_punched", 3, None),
    ("hand_drifts", 4, None),
    ("hand_steps", 2, None),
    ("second_site", 4, None),
    ("no_consent", 5, None),
    ("consent_withdrawn", 1, None),
)


@dataclass(frozen=True)
class Staff:
    """Everybody, as columns (people,); days count from the first day of the period, STAYS is never.

    `wrong` maps a person's index to the kind of wrong number and what was typed at their own reader;
    `parts` maps a part to the people who play it; `works_until` is the last day worked, whatever the roster says.
    """

    person: list[str]
    name: list[str]
    number: list[str]
    site: Ints
    pattern: Ints
    department: list[str]
    is_supervisor: Flags
    hired: Ints
    left: Ints
    works_until: Ints
    phone: list[str]
    address: list[str]
    rate_cents: Ints
    parts: dict[str, Ints]
    wrong: dict[int, tuple[str, str]]


STAYS = 1_000_000


def hire(rng: np.random.Generator, people: int, days: int) -> Staff:
    """Return `people` invented people; raises Refusal for too few to carry every planted mistake."""
    if people < FEWEST_PEOPLE:
        raise Refusal(
            told(
                "The twin needs at least {least} people, not {people}; ask for more.",
                least=FEWEST_PEOPLE,
                people=people,
            )
        )
    site = rng.choice(len(SITES), people, p=_SITE_SHARES)
    is_supervisor = np.zeros(people, dtype=bool)
    for here in range(len(SITES)):
        members = np.flatnonzero(site == here)
        is_supervisor[members[: max(3, len(members) // 20)]] = True
    parts = _cast(rng, site, is_supervisor)
    zero_led = np.zeros(people, dtype=bool)
    zero_led[parts["roster_zeros"]] = zero_led[parts["zero_lost"]] = True
    long = np.zeros(people, dtype=bool)
    long[parts["long_number"]] = True
    number = roster_numbers(rng, zero_led, long)
    hired, left, works_until = _employment(rng, people, days, parts)
    wrong = _typed(rng, number, site, parts)
    last_fours = [f"{value:04d}" for value in rng.integers(0, 10_000, people)]
    houses = [str(value) for value in rng.integers(3, 9900, people)]
    for who, (kind, typed) in wrong.items():
        if kind == "phone":
            last_fours[who] = typed[-4:]
        if kind == "street":
            houses[who] = typed
    exchanges, streets = rng.integers(200, 999, people), rng.integers(0, 99, people)
    first_id = 10 ** len(str(people))
    return Staff(
        person=[f"K{value}" for value in first_id + np.sort(rng.permutation(9 * first_id)[:people])],
        name=people_names(rng, people),
        number=number,
        site=site,
        pattern=np.where(
            is_supervisor, rng.integers(0, 2, people), rng.choice(len(PATTERNS), people, p=[p.share for p in PATTERNS])
        ),
        department=[DEPARTMENTS[i] for i in rng.integers(0, len(DEPARTMENTS), people)],
        is_supervisor=is_supervisor,
        hired=hired,
        left=left,
        works_until=works_until,
        phone=[phone(int(a), b) for a, b in zip(exchanges, last_fours, strict=True)],
        address=[address(a, int(b)) for a, b in zip(houses, streets, strict=True)],
        rate_cents=1700 + 25 * rng.integers(0, 56, people),
        parts=parts,
        wrong=wrong,
    )


def _cast(rng: np.random.Generator, site: Ints, is_supervisor: Flags) -> dict[str, Ints]:
    pool = rng.permutation(np.flatnonzero(~is_supervisor))
    parts = {}
    for part, count, at_site in _PARTS:
        fits = pool if at_site is None else pool[site[pool] == at_site]
        parts[part] = np.sort(fits[:count])
        pool = pool[~np.isin(pool, parts[part])]
    return parts


def _employment(rng: np.random.Generator, people: int, days: int, parts: dict[str, Ints]) -> tuple[Ints, Ints, Ints]:
    hired = -rng.integers(30, 9 * 365, people)
    hired[parts["newcomer"]] = days // 3
    hired[parts["not_enrolled"]] = days - 5
    left = np.full(people, STAYS)
    left[parts["leaver_listed"]] = [-20, days // 2]
    left[parts["leaver_punching"]] = int(days * 0.6)
    left[parts["leaver_removed"]] = [days // 4, days // 2]
    works_until = left.copy()
    works_until[parts["leaver_punching"]] += 8
    return hired, left, works_until


def _typed(
    rng: np.random.Generator, number: list[str], site: Ints, parts: dict[str, Ints]
) -> dict[int, tuple[str, str]]:
    taken = set(number)
    with_part = np.concatenate(list(parts.values()))
    wrong: dict[int, tuple[str, str]] = {}
    for kind in WRONG_NUMBERS:
        for who in parts[kind].tolist():
            if kind == "somebody_else":
                elsewhere = np.setdiff1d(np.flatnonzero(site != site[who]), with_part)
                typed = number[int(rng.choice(elsewhere))]
            else:
                typed = _redrawn(rng, kind, number, who, taken)
            taken.add(typed)
            wrong[who] = (kind, typed)
    return wrong


def _redrawn(rng: np.random.Generator, kind: str, number: list[str], who: int, taken: set[str]) -> str:
    # a number whose every swap belongs to somebody is changed for a neighbour's that has a free one
    while True:
        try:
            return typed_wrong(rng, kind, number[who], taken)
        except ValueError:
            free = str(int(number[who]) + 1).zfill(len(number[who]))
            while free in taken:
                free = str(int(free) + 1).zfill(len(free))
            number[who] = free
            taken.add(free)
